#ifndef HBK_LESSON_PUPIL_H
#define HBK_LESSON_PUPIL_H

#include "notes/notes.h"
#include "passage/ease.h"

/*
 * What lessons know of the horn and of who learns it. A pupil's notes are those
 * of a horn in the treble clef: `home` is his C4 (60), whatever clef and octave
 * the horn is written in, so that one order serves all. Everything that is
 * handed out is in written notes.
 */
struct hbk_pupil {
    const struct hbk_notes *notes; /* borrowed */
    struct hbk_keywork keywork;
    int home;      /* hbk_lesson_home() */
    int low, high; /* written: his range */
};

/*
 * Where nobody says another: from so many semitones below hbk_lesson_home() to
 * so many above, G3 to G5 of a horn in the treble clef.
 */
enum { HBK_LESSON_BELOW = 5, HBK_LESSON_ABOVE = 19 };

/* low, high: written notes; both 0 for the usual range of lesson/order.h. */
void hbk_pupil_make(const struct hbk_notes *notes, int low, int high,
                    struct hbk_pupil *pupil);

/*
 * The written note that is to the horn what C4 is to one in the treble clef:
 * there C4 itself. A horn in another clef is written as it sounds; it has the
 * second partial of the tube that it is tuned on.
 */
int hbk_lesson_home(const struct hbk_notes *notes);

/*
 * How long a pupil has for a move: a crotchet at 80 a minute. Our own choice,
 * no source.
 */
#define HBK_PUPIL_S 0.75

/*
 * What needs care costs beside, in squared cents: as much as a note 30 cents
 * off. Our own choice, no source.
 */
#define HBK_PUPIL_CARE 900.0

/* The first choice of the chart; NULL out of reach or out of the range. */
const struct hbk_fingering *hbk_pupil_fingering(const struct hbk_pupil *pupil,
                                                int written);

/* Whether a fingering speaks or tunes badly (notes/verdict.h). */
bool hbk_pupil_needs_care(const struct hbk_fingering *fingering);

/*
 * What a note costs a pupil by its first fingering, in squared cents: what it
 * is off beyond what lips correct without a thought, its fingers by their
 * prices, HBK_PUPIL_CARE. INFINITY for a note without one.
 */
double hbk_pupil_note_price(const struct hbk_pupil *pupil, int written);

/* Between two notes that have a fingering; reasons 0 if hands cannot. */
struct hbk_ease_move hbk_pupil_move(const struct hbk_pupil *pupil, int a,
                                    int b);

/* How many fingers a press takes. */
unsigned hbk_pupil_fingers(const struct hbk_fingering *fingering);

/*
 * The open note above one that is taken by closing a key that is open at rest,
 * on the same partial; -1 for any other note, and one without a fingering.
 */
int hbk_pupil_open_above(const struct hbk_pupil *pupil, int written);

/* Whether a note is of a major key, as sharps for the pupil: 0 his C. */
bool hbk_pupil_is_of_key(const struct hbk_pupil *pupil, int written,
                         int fifths);

/*
 * The signature, as the horn is written, of the major key that has so many
 * sharps (flats negative) for the pupil; -5 to 6.
 */
int hbk_pupil_fifths(int home, int fifths);

/* A written note in a key of so many sharps as the horn is written. */
struct hbk_spelling hbk_spelling_in_key(int written, int fifths);

/* The note as the player reads and names it, with its octave; in `name`. */
char *hbk_pupil_called(const struct hbk_pupil *pupil,
                       struct hbk_spelling written, char name[HBK_NAME_SIZE]);

#endif
