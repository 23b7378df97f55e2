#ifndef HBK_EDITION_PLACE_H
#define HBK_EDITION_PLACE_H

#include "base/fault.h"
#include "edition/ask.h"
#include "notes/notes.h"
#include "passage/move.h"
#include "passage/placing.h"

/*
 * Where a part is put for a horn and its player.
 *
 * A part that states its transposition, and one whose notes are said to sound,
 * is moved for the horn. Any other is taken as written for it: that is how
 * players have their music. Only music in a bass, tenor or alto clef for a
 * horn that is written in the treble one and transposes sounds as it is
 * written, for so it does on all horns that are read there.
 *
 * An octave that is looked for is that in which most notes are available; of
 * those the one in which the part suits the horn best (passage/suit.h, here
 * with HBK_SUIT_OCTAVE for every octave away); of equals the nearest, then the
 * lower.
 *
 * A key that is looked for is that in which, within the reach, most notes are
 * available; of those the one with the least price, which is the measure of
 * passage/ease.h and HBK_PLACE_SIGN for each sharp or flat in the signature
 * as the player reads it, a mean over the notes; of equals the nearest, then
 * the lower. Where octave and key are looked for, each key has its best octave.
 */

/*
 * What a sign in the signature costs, in squared cents: four of them as much
 * as every other move being awkward. Our own choice, no source.
 */
#define HBK_PLACE_SIGN 25.0

/*
 * tune, notes   borrowed
 * keywork       of the horn
 * placing       result
 *
 * HBK_OK, also where notes of the part would leave what can be named: then
 * found.n_out is SIZE_MAX. HBK_ERR_INPUT with the reason where no signature has
 * the key that is asked for; HBK_ERR_DOMAIN without one where the tune as it is
 * played is too long to be looked through.
 */
enum hbk_status hbk_place(const struct hbk_perform_ask *ask,
                          const struct hbk_tune *tune,
                          const struct hbk_notes *notes,
                          const struct hbk_keywork *keywork,
                          struct hbk_placing *placing,
                          struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
