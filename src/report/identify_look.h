#ifndef HBK_REPORT_IDENTIFY_LOOK_H
#define HBK_REPORT_IDENTIFY_LOOK_H

#include "base/text.h"
#include "notes/identified.h"

/*
 * What eyes and one blown C tell of layouts that the readings leave open:
 * keys and valves, how the valves work, which keys stand open, what the
 * written C sounds. Only where they differ; a line a layout.
 *
 * Returns false, with nothing added, when all look alike or one is left.
 */
bool hbk_identify_look(const struct hbk_identified *found,
                       struct hbk_text *out);

/* "6 keys", "1 key and 3 valves". */
void hbk_identify_count(const struct hbk_horn *horn, struct hbk_text *out);

/*
 * A word for layout i of those asked about: the name of its file, or the whole
 * path where another file has that name. Borrowed from the horn.
 */
const char *hbk_identify_word(const struct hbk_identified *found, size_t i);

#endif
