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

/*
 * A copy of the tune moved by `semitones`, spelled in the key with the
 * fewest signs (flats where two are equal). Events keep their numbers, so
 * that fingerings of the copy belong to the original. The copy's `transpose`
 * is lessened by `semitones`: it sounds the same.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when a note would leave 0 to 127; `out`
 * is then unchanged.
 */
enum hbk_status hbk_tune_transposed(const struct hbk_tune *tune, int semitones,
                                    struct hbk_arena *arena,
                                    struct hbk_tune *out) HBK_MUST_CHECK;

#endif
