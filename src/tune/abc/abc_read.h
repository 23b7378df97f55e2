#ifndef HBK_TUNE_ABC_ABC_READ_H
#define HBK_TUNE_ABC_ABC_READ_H

#include "tune/melody/document.h"

/*
 * The ABC 2.1 reader (abcnotation.com, December 2011 with errata to 2013),
 * by hand: what a character means depends on what stands around it, and no
 * step over the file as a whole can settle that beforehand.
 */

enum hbk_status hbk_abc_read(const char *name, const char *bytes, size_t length,
                             const struct hbk_tune_options *options,
                             struct hbk_tune_document *document,
                             struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
