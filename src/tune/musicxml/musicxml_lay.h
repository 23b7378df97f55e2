#ifndef HBK_TUNE_MUSICXML_MUSICXML_LAY_H
#define HBK_TUNE_MUSICXML_MUSICXML_LAY_H

#include "tune/musicxml/score.h"

/* The measures of a part laid out in time, with all their voices. */

/*
 * Fills the items of a measure, a chord as one, each with its onset; on what
 * cannot be an error is recorded. Divisions go on from measure to measure.
 */
void hbk_musicxml_lay_out(struct hbk_musicxml_reader *reader,
                          struct hbk_musicxml_measure *measure);

/* Whether an item is a note, chord or rest. */
bool hbk_musicxml_is_note(const struct hbk_musicxml_item *item);
/* Its notes with pitch, cue notes apart; 0 for a rest. */
size_t hbk_musicxml_notes_in(const struct hbk_musicxml_item *item);
/* Its note of that rank from the top, less than hbk_musicxml_notes_in(). */
xmlNode *hbk_musicxml_note_of_rank(struct hbk_musicxml_reader *reader,
                                   const struct hbk_musicxml_item *item,
                                   size_t rank);
/* How high a note is, in semitones; of no matter for what has no pitch. */
double hbk_musicxml_height(struct hbk_musicxml_reader *reader,
                           const xmlNode *node);

#endif
