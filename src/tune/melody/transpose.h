#ifndef HBK_TUNE_MELODY_TRANSPOSE_H
#define HBK_TUNE_MELODY_TRANSPOSE_H

#include "tune/melody/tune.h"

/* A tune moved to another pitch. */

/*
 * The semitones by which a part must be moved so that a horn whose written
 * C4 sounds `written_c4_sounds` plays the notes that were meant.
 *
 * from_sounding   the notes of the part are the sounding ones, whatever its
 *                 own transposition says
 */
int hbk_tune_shift_for(const struct hbk_tune *tune, int written_c4_sounds,
                       bool from_sounding);

enum hbk_move_spelling {
    HBK_MOVE_PLAINLY, /* the fewest signs; of equals, flats */
    HBK_MOVE_LEANING, /* the fewest signs; of equals, as the interval has it */
    HBK_MOVE_SPELLED  /* the first key as the interval has it; so the others
                         too, up to six signs */
};

/* How a tune is moved. Zero leaves it where it is. */
struct hbk_tune_move {
    int semitones;
    enum hbk_move_spelling spelling;
    int fifths; /* the same interval on the line of fifths (music/fifths.h) */
};

/*
 * A copy of the tune moved by `semitones`, spelled in the key with the
 * fewest signs (flats where two are equal); an octave leaves keys and spelling
 * as they are. Nothing gets a second sign that had not one. Events keep their
 * numbers, so that fingerings of the copy belong to the original. The copy's
 * `transpose` is lessened by `semitones`: it sounds the same.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when a note would leave 0 to 127; `out`
 * is then unchanged.
 */
enum hbk_status hbk_tune_transposed(const struct hbk_tune *tune, int semitones,
                                    struct hbk_arena *arena,
                                    struct hbk_tune *out) HBK_MUST_CHECK;

/* The same, with a say in how it is spelled. */
enum hbk_status hbk_tune_moved(const struct hbk_tune *tune,
                               const struct hbk_tune_move *move,
                               struct hbk_arena *arena,
                               struct hbk_tune *out) HBK_MUST_CHECK;

/* The first key as hbk_tune_moved() would have it. */
struct hbk_tune_key hbk_tune_key_moved(const struct hbk_tune *tune,
                                       const struct hbk_tune_move *move);

/* The note of a key, in octave 4; of an unknown mode as if it were major. */
struct hbk_spelling hbk_tune_tonic(const struct hbk_tune_key *key);

#endif
