#ifndef HBK_LESSON_TUNES_H
#define HBK_LESSON_TUNES_H

#include "lesson/moves.h"
#include "music/clef.h"
#include "tune/melody/tune.h"

/*
 * Tunes for lessons: of a book of easy ones, those that a pupil can play with
 * the notes he has. A tune may be moved by octaves and to another key, and is
 * handed out once.
 */

/*
 * How hard a tune is for a beginner, wherever it lies; 0 for a few long notes
 * by step. Added up are, by our own choice:
 *
 *   1 for each semitone of its compass over a major third;
 *   1 for each semitone of its widest leap over a fourth, and ten times the
 *     mean of what its moves are over a major third;
 *   2 if it has quavers, 5 if it has shorter notes, 2.5 if it has dotted notes
 *     of a beat or less;
 *   2 if the beat is a dotted crotchet, 1 for a bar that begins before the
 *     first beat, 2 if a note has a sign that the key has not;
 *   1 for every two bars that are not as one before them, for that is what
 *     there is to read; 1 for every forty notes, for lips tire.
 */
double hbk_tune_difficulty(const struct hbk_tune *tune);

/* A book of tunes, some of them handed out. */
struct hbk_tune_shelf;

/*
 * tunes   n of them, borrowed as long as the shelf is in use; they are for a
 *         treble clef and a pupil whose lowest open note is C4
 *
 * The arena owns the shelf.
 */
struct hbk_tune_shelf *hbk_tune_shelf_make(const struct hbk_tune *const tunes[],
                                           size_t n, struct hbk_arena *arena);

/* How many have not been handed out. */
size_t hbk_tune_shelf_left(const struct hbk_tune_shelf *shelf);

struct hbk_tune_wish {
    size_t n_known;   /* the notes the pupil has, written, in any order */
    const int *known; /* each 0 to 127 */
    size_t n_new;     /* those of them that a tune had better have; may be 0 */
    const int *added;
    int home;           /* hbk_lesson_home(): the pupil's C4 as it is written */
    enum hbk_clef clef; /* in which the horn is written */
    int leap_most;      /* semitones between two notes; 0 for any */
    /* Hard moves that may be made; NULL where none is barred. */
    const struct hbk_moves *moves;
};

/* A tune as it is handed out. */
struct hbk_lesson_tune {
    struct hbk_tune tune; /* moved, in the clef of the wish */
    size_t which;         /* in the book, from 0 */
    int moved; /* semitones from where it stands for the pupil: 0, or 12 for an
                  octave up; whole octaves leave its key */
    bool has_new; /* it has one of the new notes */
    double difficulty;
};

/*
 * What a tune gains by having a new note, and what it costs to move it: the
 * easiest tune is the one of the least difficulty after these are counted. A
 * new note is worth a move to the pupil's C, F or G, but no key beyond, and no
 * tune that is harder by more than this; our own choice.
 */
#define HBK_TUNE_NEW_NOTE 1.0
#define HBK_TUNE_OCTAVE_COST 0.5
#define HBK_TUNE_KEY_COST 1.0
#define HBK_TUNE_FAR_KEY_COST 8.0 /* more for each sign over one */

enum { HBK_TUNE_SIGNS_MOST = 4, HBK_TUNE_MOVE_MOST = 24 };

/*
 * Takes from the shelf the easiest tune that has no other notes than the known
 * ones and no hard move that is barred, but over a rest, within
 * HBK_TUNE_MOVE_MOST semitones of where it stands and in keys of
 * up to HBK_TUNE_SIGNS_MOST signs as the pupil reads them. Of equals the first
 * in the book. False where none fits; the shelf is then unchanged, and `out`
 * too. The arena owns what is new in `out`, the rest is the book's.
 */
bool hbk_tune_shelf_take(struct hbk_tune_shelf *shelf,
                         const struct hbk_tune_wish *wish,
                         struct hbk_arena *arena, struct hbk_lesson_tune *out);

#endif
