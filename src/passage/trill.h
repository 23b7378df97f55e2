#ifndef HBK_PASSAGE_TRILL_H
#define HBK_PASSAGE_TRILL_H

#include "notes/trills.h"
#include "passage/move.h"
#include "passage/move_words.h"

/*
 * The best way to trill from a written note to the semitone or the whole
 * tone above.
 */

/* How long one note of a trill lasts: our own choice, no source. */
#define HBK_TRILL_S 0.090
/*
 * Both notes are heard half of the time, so half of each deviation counts:
 * our own choice, no source.
 */
#define HBK_TRILL_HEARD 0.5

/*
 * A finger that needs longer than this for a stroke trills little more than
 * four times a second, which is no trill: our own choice, no source. A ring
 * finger alone on a piston needs 88 ms, an index on a pad of 60 mm 112 ms, a
 * ring finger there 141 ms.
 */
#define HBK_TRILL_SLOW_S 0.115

/*
 * The trill of least price among all fingerings of both notes, idle ones
 * included; of equal ones the fingerings ranked first. A note cannot be
 * trilled against itself, so the two never agree in press and partial.
 *
 * main   a fingering that the lower note must have, or NULL for any
 */
struct hbk_trill hbk_trill_find(const struct hbk_keywork *keywork,
                                const struct hbk_notes *notes, int written,
                                int interval, const struct hbk_fingering *main);

/*
 * The trill of two fingerings, borrowed: `main` of the written note, `upper`
 * of the one `interval` above. HBK_TRILL_NONE where hands cannot make one.
 */
struct hbk_trill hbk_trill_between(const struct hbk_keywork *keywork,
                                   int written, int interval,
                                   const struct hbk_fingering *main,
                                   const struct hbk_fingering *upper);

/*
 * The cost of one note of a trill: its deviation counts by half, and nothing
 * is charged for what is not taught of the note alone, since trills are taught
 * by themselves (common practice, no source).
 */
double hbk_trill_heard(const struct hbk_fingering *fingering);

/*
 * The trills of every written note of `notes`, for fingers as they were dealt
 * out there. The arena owns the result, which borrows the notes.
 */
const struct hbk_trills *hbk_trills_of(const struct hbk_notes *notes,
                                       struct hbk_arena *arena);

/*
 * What the player does: "right index finger on valve 1", "right ring finger on
 * key 2; key 1 is held", "the lip alone, partial 8 to 9", "the right ring
 * finger leaves valve 3 while the right middle finger presses valve 2; partial
 * 5 to 6". "" for HBK_TRILL_NONE. Returns `words`.
 */
char *hbk_trill_words(const struct hbk_keywork *keywork,
                      const struct hbk_trill *trill,
                      char words[HBK_MOVE_WORDS_SIZE]);

#endif
