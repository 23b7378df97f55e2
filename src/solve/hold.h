#ifndef HBK_SOLVE_HOLD_H
#define HBK_SOLVE_HOLD_H

#include "notes/notes.h"

/*
 * Fingerings for a note that is held where it must be in tune, in a chord.
 * The price is that of the ranking (solve/ranking.h) with the deviation from
 * where the note should lie, and without what a long note leaves time for:
 *
 *   price = off^2 + partial + untaught
 *
 * off in whole cents, because less is not heard, and `partial` for one that
 * players avoid, as in the ranking: a seventh partial that happens to lie near
 * is no more trusted on a long note than on a short one. `untaught`, for
 * leaving what is taught, counts as in the ranking where a note is held by
 * equal temperament: nothing then asks for it to lie better than usual. In a
 * chord it counts nothing, because the just aim decides. Fingers, evenness of
 * sound and response decide only between equals, for there the order of the
 * ranking stands.
 */
double hbk_hold_price(const struct hbk_horn *horn,
                      const struct hbk_fingering *fingering, double aim_cents,
                      bool is_just);

/*
 * The note with its fingerings in the order of that price.
 *
 * notes      what the note is of
 * note       one of them
 * aim_cents  where it should lie, from equal temperament (music/chord.h)
 * is_just    whether that is the just aim of a chord
 * arena      owns the new fingerings
 *
 * Cents of a fingering stay those from equal temperament, and so does its
 * verdict; its use is what it is good for beside the new first one. Triggers
 * are drawn as far as the aim needs, within their travel; one that serves no
 * other note stays as it was found for this one.
 */
struct hbk_note hbk_hold(const struct hbk_notes *notes,
                         const struct hbk_note *note, double aim_cents,
                         bool is_just, struct hbk_arena *arena);

#endif
