#ifndef HBK_TUNE_ABC_ABC_FIELD_H
#define HBK_TUNE_ABC_ABC_FIELD_H

#include "tune/abc/abc.h"

/*
 * One field: `letter`, and the text after its colon without the comment.
 * Returns whether the field is known.
 */
bool hbk_abc_field(struct hbk_abc *abc, char letter, const char *text);
/* A tempo whose `beat` counts unit lengths, at the unit that holds now. */
void hbk_abc_set_unit_tempo(struct hbk_abc *abc, struct hbk_tune_tempo tempo);
/* An I: field or %% line. */
void hbk_abc_instruction(struct hbk_abc *abc, const char *text);

#endif
