#ifndef HBK_TUNE_ABC_ABC_MARK_H
#define HBK_TUNE_ABC_ABC_MARK_H

#include "tune/abc/abc.h"

/*
 * Marks about the notes: decorations and texts that stand before a note, rest
 * or bar line, and fields that are printed. They wait for what they stand
 * before.
 */

/* A decoration that is no sign of a note itself; `is_known` if it is one. */
void hbk_abc_mark_decoration(struct hbk_abc *abc, const char *name,
                             bool is_known);
/* A sign or words of the played order; `words` NULL for a sign. */
void hbk_abc_mark_jump(struct hbk_abc *abc, const char *name,
                       const char *words);
/*
 * A text in quotes: `sign` is ^ _ < > @ of an annotation, or NUL for one
 * without. Returns whether it is printed, and no fingering.
 */
bool hbk_abc_mark_text(struct hbk_abc *abc, char sign, const char *text);
/* The name of a part: P:, or T: within the music. */
void hbk_abc_mark_part(struct hbk_abc *abc, const char *text);
/* P: in the header: the order of parts, letter by letter if short. */
void hbk_abc_mark_order(struct hbk_abc *abc, const char *text);
/* Q:, with the number that the tune has just got if `has_number`. */
void hbk_abc_mark_tempo(struct hbk_abc *abc, const char *words,
                        bool has_number);

/* The marks that wait stand at this event, of the bar that is open. */
void hbk_abc_marks_to_event(struct hbk_abc *abc, size_t event);
/* What waits stands at a bar line; signs of notes that wait likewise. */
void hbk_abc_marks_to_bar_line(struct hbk_abc *abc);

#endif
