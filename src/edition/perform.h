#ifndef HBK_EDITION_PERFORM_H
#define HBK_EDITION_PERFORM_H

#include "base/fault.h"
#include "base/text.h"
#include "edition/ask.h"
#include "passage/view.h"

/*
 * A tune as one horn plays it: moved for the horn where that is due, with
 * the fingerings that were found. The view points into the rest, so that it
 * is not to be copied.
 */
struct hbk_performed {
    struct hbk_keywork keywork;
    struct hbk_tune tune; /* as this horn is written */
    struct hbk_tune read; /* the same as its player reads it */
    struct hbk_passage passage;
    struct hbk_passage_view view; /* of all bars */
};

/*
 * Puts the tune where `ask` and the file itself say (edition/place.h) and finds
 * its fingerings. What is read (notes->notation) changes clef, notes and key of
 * what is shown, and no fingering; the clef is always that of the player.
 *
 * tune        borrowed, like the notes; must outlive `performed`
 * arena       receives what was found
 * performed   result; on failure of no use
 *
 * Returns HBK_OK, even with notes out of reach, or the reason in `faults`.
 */
enum hbk_status hbk_perform(const struct hbk_perform_ask *ask,
                            const struct hbk_tune *tune,
                            const struct hbk_notes *notes,
                            struct hbk_arena *arena,
                            struct hbk_performed *performed,
                            struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Narrows the view to bars "23-26" or "23"; NULL leaves it. False with the
 * reason in `why`, to follow the name of what was asked.
 */
bool hbk_perform_bars(struct hbk_performed *performed, const char *bars,
                      struct hbk_text *why);

/*
 * Octaves from where the part stands to the nearest in which the horn has every
 * note of it, of two the lower; 0 for none.
 */
int hbk_perform_fitting(const struct hbk_performed *performed);

/*
 * Adds an error for each note out of reach in the bars shown, with all its
 * bars, and says if the part would fit octaves away.
 */
void hbk_perform_tell_out(const struct hbk_performed *performed,
                          struct hbk_arena *arena, struct hbk_faults *faults);
/*
 * Warns of each fingering of the file that could not be kept in the bars
 * shown.
 */
void hbk_perform_tell_kept(const struct hbk_performed *performed,
                           struct hbk_faults *faults);
/* Warns of ornaments in the bars shown that would need fingerings. */
void hbk_perform_tell_ornaments(const struct hbk_performed *performed,
                                struct hbk_arena *arena,
                                struct hbk_faults *faults);
/*
 * "bar 1, beat 2: D4", the first note out of reach in the bars shown, where
 * there is one.
 */
const char *hbk_perform_first_out(const struct hbk_performed *performed,
                                  struct hbk_arena *arena);

#endif
