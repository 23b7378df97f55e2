#ifndef HBK_TUNE_ABC_ABC_SIGNS_H
#define HBK_TUNE_ABC_ABC_SIGNS_H

#include "tune/abc/abc.h"

/*
 * What says in which order the tune is played: signs and words such as !segno!
 * and "D.C. al Fine", and the parts of P:.
 */

/*
 * A decoration of this name, or a text in quotes with `is_text`, with or
 * without the sign that says where it is drawn. False if it says nothing of the
 * order.
 */
bool hbk_abc_sign(struct hbk_abc *abc, const char *words, bool is_text);

/* Where a note begins in the bar that is open. */
void hbk_abc_signs_at_note(struct hbk_abc *abc);
/* At a bar line or the end of a line of the file. */
void hbk_abc_signs_at_bar_line(struct hbk_abc *abc);
/* At the end of the tune. */
void hbk_abc_signs_end(struct hbk_abc *abc);

/* P: of the header, the order of parts. */
void hbk_abc_part_order(struct hbk_abc *abc, const char *text);
/* P: within the music, the label of a part. */
void hbk_abc_part_label(struct hbk_abc *abc, const char *text);

/* The decoration for words at the end of a bar, or NULL. */
const char *hbk_abc_jump_name(const char *words);

#endif
