#include "notes/origin.h"

#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <string.h>

/* Semitones of a partial above the fundamental, whole ones. */
static int semitones_of(unsigned partial)
{
    return (int)round(12.0 * log2((double)partial));
}

/* The written note of the open fundamental. */
static int fundamental_of(const struct hbk_notes *notes)
{
    const struct hbk_tuned *const tuned = &notes->tuned;
    for (size_t i = 0; tuned->press != 0 && i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        for (size_t k = 0; k < note->n; k++) {
            const struct hbk_fingering *const f = &note->fingerings[k];
            if (f->press == 0 && f->taught == HBK_TAUGHT_YES) {
                return note->written - semitones_of(f->partial);
            }
        }
    }
    return tuned->note - semitones_of(tuned->partial);
}

/*
 * How far a press on a partial is from a written note, in cents, from whatever
 * note it is listed with; NAN where it is with none.
 */
static double cents_of(const struct hbk_notes *notes, uint32_t press,
                       unsigned partial, int written)
{
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        for (size_t k = 0; k < note->n + note->n_idle; k++) {
            const struct hbk_fingering *const f =
                k < note->n ? &note->fingerings[k] : &note->idle[k - note->n];
            if (f->press == press && f->partial == partial) {
                return f->cents +
                       HBK_SEMITONE_CENTS * (note->written - written);
            }
        }
    }
    return (double)NAN;
}

/* The key among those pressed that raises the horn most, or -1. */
static int highest_key(const struct hbk_notes *notes, uint32_t press)
{
    int highest = -1;
    for (size_t i = 0; i < notes->horn->n_controls; i++) {
        const bool is_pressed = (press >> i & 1U) != 0;
        if (is_pressed && notes->horn->controls[i].kind == HBK_KEY &&
            notes->effect_cents[i] > 0.0 &&
            (highest < 0 ||
             notes->effect_cents[i] > notes->effect_cents[highest])) {
            highest = (int)i;
        }
    }
    return highest;
}

struct hbk_origin hbk_origin_of(const struct hbk_notes *notes,
                                const struct hbk_note *note)
{
    struct hbk_origin origin = {.note = note, .control = -1};
    if (note->n == 0) {
        return origin;
    }
    const struct hbk_fingering *const first = &note->fingerings[0];
    const int semitones = semitones_of(first->partial);
    origin.first = first;
    origin.open_note = fundamental_of(notes) + semitones;
    origin.open_cents = cents_of(notes, 0, first->partial, origin.open_note);
    origin.natural_cents = HBK_OCTAVE_CENTS * log2((double)first->partial) -
                           HBK_SEMITONE_CENTS * semitones;
    origin.press_cents =
        first->press == 0 ? 0.0 : first->cents - origin.open_cents;
    origin.control = highest_key(notes, first->press);
    origin.n_pressed = (size_t)__builtin_popcount(first->press);
    for (size_t k = 1; k < note->n && origin.taught == NULL; k++) {
        if (note->fingerings[k].taught == HBK_TAUGHT_YES &&
            first->taught != HBK_TAUGHT_YES) {
            origin.taught = &note->fingerings[k];
        }
    }
    return origin;
}
