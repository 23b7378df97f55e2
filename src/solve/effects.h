#ifndef HBK_SOLVE_EFFECTS_H
#define HBK_SOLVE_EFFECTS_H

#include "base/arena.h"
#include "notes/notes.h"

/*
 * Fills in rest_m, open_m and effect_cents (notes/notes.h) from the notes
 * found, so that they hold for any model. A control does what its press alone
 * changes on the partials that both it and nothing pressed give a note on.
 * With something stuck away from rest this would tell of the stuck horn: then
 * it is what the tubing or the hole that the file gives the control amounts to
 * on the open horn.
 *
 * arena   owns the effects
 */
void hbk_effects_make(struct hbk_notes *notes, struct hbk_arena *arena);

#endif
