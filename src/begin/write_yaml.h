#ifndef HBK_BEGIN_WRITE_YAML_H
#define HBK_BEGIN_WRITE_YAML_H

#include "base/text.h"

/* Words and texts of a file that people are to read and edit. */

/* Words in lines of at most 78 columns, each behind `before`. */
void hbk_write_lines(struct hbk_text *out, const char *before,
                     const char *words);

/* The same of a remark on one name: "#   rest    whether it ...". */
void hbk_write_remark(struct hbk_text *out, const char *name,
                      const char *words);

/*
 * A text as YAML: as it is, or between quotation marks where it must.
 * `in_braces` where it stands within { }.
 */
void hbk_write_scalar(struct hbk_text *out, const char *text, bool in_braces);

/* What sounds, by the name of a key: Ab3, not G#3. In the arena of `out`. */
const char *hbk_write_sounds(const struct hbk_text *out, int note);

#endif
