#ifndef HBK_SOLVE_TAUGHT_H
#define HBK_SOLVE_TAUGHT_H

#include "base/status.h"
#include "horn/partials.h"
#include "music/pitch.h"
#include "notes/notes.h"
#include "solve/rig.h"

struct hbk_faults;

/*
 * What players of a horn are taught first: a rule of the trade for each
 * system, applied to what each control of this horn does (common practice, no
 * source, unless said otherwise). No note has an entry anywhere.
 *
 * An open partial p gives the note that lies 12 log2 p semitones, rounded,
 * above the fundamental. Partials more than a quarter of a semitone off that
 * (7, 11, 13, 14) are never taught. Triggers are left out of account: they
 * mend the tuning of whatever is pressed.
 *
 * Valves: each counts for the whole semitones nearest to what it alone lowers
 * or raises the horn by, at the horn's own pitch and without a crook; what it
 * does besides in company, as compensating loops do, only mends tuning. One
 * that moves less than half a semitone tells nothing. Taught of a note is the
 * combination whose semitones lead to it from an open partial that is not to
 * be avoided
 *   with the least tube put in or taken out, in semitones: so from the lowest
 *     partial above the note (C sharp 5 from E5, not from G5);
 *   then with the fewest valves that do alone what two others do together: 1-2
 *     before 3, 2-4 before 1-2-3, 1-2-4 before 3-4. A valve whose two others
 *     are such themselves is none of them: 4 before 1-3;
 *   then with the fewest valves.
 * What is alike in all three is all taught. Independent valves, of which only
 * one is pressed ever ("alone"), are counted from the shortest tube, as the
 * positions of a slide are. Above the eighth partial hands repeat the octave
 * below, so only even partials count there.
 *
 * Keys: nothing pressed, or one key alone, on every partial, those to be
 * avoided too as long as they lie on the note: where two of these give a note,
 * both are taught (B4 of a bugle: 1 or 5; C6: open or 6). A key that stands
 * open lowers the open notes by its step, as their leading note; one that
 * stands open below another does so together with those above it. What a key
 * does is the semitones to the note it is `called` (horn/called.h) from the
 * open fundamental; on a horn by length it is what it `raises`, unless the name
 * lies within a semitone of that (a fitted number may have left its name). A
 * key of a bored horn without a note for its name tells nothing.
 *
 * Keys and one valve: both rules in one; one control alone or none first, then
 * one key with the valve. With two valves or more keys are extras, and only
 * what leaves them alone is taught.
 *
 * What is stuck belongs to the horn: a fingering is taught if what is then
 * down, or what the fingers press, is taught of the sound horn.
 */
struct hbk_taught_rule {
    const struct hbk_horn *horn; /* borrowed */
    uint32_t held_down;
    uint32_t keys, valves, triggers; /* controls of each kind */
    uint32_t unsaid;                 /* keys and valves that tell nothing */
    /* Semitones up: of a valve; of a key with those it counts with. */
    int raises[HBK_CONTROLS_MAX];
    uint32_t with[HBK_CONTROLS_MAX];  /* of a key: itself and those */
    uint32_t stand_ins;               /* valves that two others replace */
    int shortest;                     /* what the shortest tube raises by */
    int open[HBK_PARTIALS_MAX + 1];   /* written; -1 if not to be taught */
    unsigned least[HBK_NOTE_MAX + 1]; /* rank of what is taught of a note */
};

/*
 * The rule for a horn as it is set up.
 *
 * rig     as it is played; stuck, what cannot move
 * c4_hz   what written C4 sounds at the pitch the horn has
 * arena   for the time of the call
 *
 * Returns HBK_OK, or an error of hbk_column_peaks().
 */
enum hbk_status hbk_taught_make(const struct hbk_horn *horn,
                                const struct hbk_rig *rig,
                                const struct hbk_stuck *stuck, double c4_hz,
                                struct hbk_arena *arena,
                                struct hbk_faults *faults,
                                struct hbk_taught_rule *rule) HBK_MUST_CHECK;

/*
 * Whether a press of the fingers on a partial is taught of a written note, 0
 * to HBK_NOTE_MAX; unsaid where a control among it tells nothing.
 */
enum hbk_taught hbk_taught_is(const struct hbk_taught_rule *rule,
                              uint32_t press, unsigned partial, int written);

#endif
