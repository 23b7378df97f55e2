#ifndef HBK_TUNE_ABC_ABC_FINGERING_H
#define HBK_TUNE_ABC_ABC_FINGERING_H

#include "tune/melody/document.h"

/*
 * Fingerings as ABC has them: annotations "_1-2" before their notes, and a
 * comment in the header that counts them.
 */

/* Adds the text with the signs escaped that mean something in ABC. */
void hbk_abc_escape(struct hbk_text *out, const char *text);

/* Adds the annotations of one note: its grace notes, main, alternates. */
void hbk_abc_put_fingering(struct hbk_text *out, const struct hbk_tune *tune,
                           const struct hbk_tune_fingering *fingerings,
                           size_t event);

/* How many annotations there are in nothing but annotations. */
size_t hbk_abc_count_texts(const char *text);

/*
 * The comment that counts the texts below the notes, without its line end:
 * `others` has the numbers of those that are not ours, NULL for none; the
 * remark, without digits, may be NULL.
 */
void hbk_abc_put_remark(struct hbk_text *out, size_t texts, const char *others,
                        const char *remark);

/* The next number of a remark that ends at `end`, and what follows; or NULL. */
const char *hbk_abc_number_at(const char *at, const char *end, size_t *number);

/* Whether a text reads as a fingering, "1-2", "(k2)", "open", or as words. */
bool hbk_abc_is_fingering(const char *text);

#endif
