#ifndef HBK_SHEET_BLOCK_SAID_H
#define HBK_SHEET_BLOCK_SAID_H

#include "notes/notes.h"
#include "page/pad.h"

/*
 * What a table of notes says that is not printed in it as words, for whoever
 * has it read out: a row a note, "B4, 1-3, 12 cents flat, lip up". Nothing of
 * it is drawn.
 */

/* A row of heads at `at`: Note, Fingering, Tuning and, if asked, Alternates. */
void hbk_said_heads(struct hbk_pad *pad, struct hbk_point at, bool others);

/* What is drawn next is read as the note's names, and so heads its row. */
void hbk_said_open_name(struct hbk_pad *pad, const struct hbk_notes *notes,
                        int written);
void hbk_said_close_name(struct hbk_pad *pad);

/* What is drawn next is read as the fingering, NULL for "none". */
void hbk_said_open_fingering(struct hbk_pad *pad, const struct hbk_notes *notes,
                             const struct hbk_fingering *fingering);
void hbk_said_close_fingering(struct hbk_pad *pad);

/*
 * The tuning of a note's first fingering, and its alternates up to `others`;
 * without a cell for them when that is 0.
 */
void hbk_said_rest(struct hbk_pad *pad, struct hbk_point at,
                   const struct hbk_notes *notes, const struct hbk_note *note,
                   size_t others);

/* "Staff in the treble clef, from B3 to C6." as the text of its picture. */
const char *hbk_said_staff(struct hbk_arena *arena,
                           const struct hbk_notes *notes, int lowest,
                           int highest);

#endif
