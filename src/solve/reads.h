#ifndef HBK_SOLVE_READS_H
#define HBK_SOLVE_READS_H

#include "base/fault.h"
#include "notes/notes.h"

/*
 * How far a press lies from the nearest octave of the horn's own C, cents, -600
 * to 600, by the middle of its low partials: slides in, no crook, nothing
 * stuck. False where it has no partials.
 */
bool hbk_open_cents(const struct hbk_horn *horn, uint32_t press, double *cents);

/*
 * The notation of notes->setting, from the horn, its crook and its compass.
 * The open note of a horn whose valves all raise, as independent ones do, is
 * that of its shortest tube.
 *
 * notes    found, but for the notation
 * faults   receives a warning where the notes of such a player lie far off
 *          the staff
 */
struct hbk_notation hbk_notation_for(const struct hbk_notes *notes,
                                     struct hbk_faults *faults);

#endif
