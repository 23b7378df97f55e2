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

/* Of a tune of the book, counted from 0, as of hbk_tune_difficulty(). */
double hbk_tune_shelf_difficulty(const struct hbk_tune_shelf *shelf,
                                 size_t which);

struct hbk_tune_wish {
    size_t n_known;   /* the notes the pupil has, written, in any order */
    const int *known; /* each 0 to 127 */
    size_t n_new;     /* those of them that a tune had better have; may be 0 */
    const int *added;
    /* By written note, the sign it was taught with: -1 a flat, 1 a sharp. In no
       key is a note of the signature written otherwise. NULL for any. */
    const signed char *alters;
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
 * What it costs to move a tune, in the points of its difficulty: the easiest
 * tune is the one of the least difficulty after these are counted. Our own
 * choice, no source. Where a tune is moved for the sake of a new note that its
 * signature has, a sign costs less.
 */
#define HBK_TUNE_OCTAVE_COST 0.5
#define HBK_TUNE_KEY_COST 1.0
#define HBK_TUNE_FAR_KEY_COST 8.0 /* more for each sign over one */
#define HBK_TUNE_NEW_KEY_COST 1.0 /* in place of it for a new note */

enum { HBK_TUNE_SIGNS_MOST = 4, HBK_TUNE_MOVE_MOST = 24 };

/* Where a tune of the book may be played. */
struct hbk_tune_place {
    int moved;
    bool has_new; /* it has one of the new notes there */
    double cost;  /* of the move */
};

/*
 * The place of least cost for a tune of the book, counted from 0: one where it
 * has a new note before any other. It has no other notes there than the known
 * ones and no hard move that is barred, but over a rest; it lies within
 * HBK_TUNE_MOVE_MOST semitones of where it stands and in a key of up to
 * HBK_TUNE_SIGNS_MOST signs as the pupil reads it. False where there is none,
 * and of one that was handed out.
 */
bool hbk_tune_shelf_place(const struct hbk_tune_shelf *shelf, size_t which,
                          const struct hbk_tune_wish *wish,
                          struct hbk_tune_place *place);

/*
 * Hands out a tune at its place. False where it cannot be moved there; the
 * shelf is then unchanged, and `out` too. The arena owns what is new in `out`,
 * the rest is the book's.
 */
bool hbk_tune_shelf_hand_out(struct hbk_tune_shelf *shelf, size_t which,
                             const struct hbk_tune_wish *wish,
                             const struct hbk_tune_place *place,
                             struct hbk_arena *arena,
                             struct hbk_lesson_tune *out);

/*
 * Takes from the shelf the easiest tune that has a place, new notes or not; of
 * equals the first in the book. False where none has one.
 */
bool hbk_tune_shelf_take(struct hbk_tune_shelf *shelf,
                         const struct hbk_tune_wish *wish,
                         struct hbk_arena *arena, struct hbk_lesson_tune *out);

#endif
