#ifndef HBK_FIT_KNOWN_H
#define HBK_FIT_KNOWN_H

#include "horn/provenance.h"

#include <stddef.h>

struct hbk_horn;

/*
 * What is known of a site of a part of the horn: what its control says of
 * itself, else what the file says of the part.
 */
enum hbk_provenance hbk_known_site(const struct hbk_horn *horn, size_t site,
                                   enum hbk_part part);

/* The same of a hole: its place and its width. */
enum hbk_provenance hbk_known_hole(const struct hbk_horn *horn, size_t site);

#endif
