#ifndef HBK_TUNE_MELODY_ORNAMENT_H
#define HBK_TUNE_MELODY_ORNAMENT_H

#include "tune/melody/tune.h"

/* The note that a trill or an ornament plays besides its own. */

/*
 * The note above, of a mordent the one below: as the sign of the ornament has
 * it, without one as the key does. Of an event that is no rest.
 */
struct hbk_spelling hbk_tune_other_note(const struct hbk_tune *tune,
                                        size_t event);

/* How many semitones above its note that is; below, less than 0. */
int hbk_tune_other_interval(const struct hbk_tune *tune, size_t event);

/* HBK_TUNE_SIGN_FLAT and the like for -2 to 2 semitones. */
unsigned hbk_tune_sign_of(int alter);

/*
 * The articulation of an event that was moved with its ornament: `from` in its
 * own tune, and `to` as it stands now in `moved`. Its other note is the same
 * interval away; it gets a sign where it had one, or where the key of `moved`
 * has another note.
 */
unsigned hbk_tune_moved_signs(const struct hbk_tune *from,
                              const struct hbk_tune *moved, size_t event);

#endif
