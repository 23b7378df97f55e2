#include "solve/origin.h"

#include "horn/called.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "solve/column.h"
#include "solve/search.h"

#include <math.h>
#include <stdlib.h>

enum { OCTAVE = 12 };

/* Half an octave: further off nobody calls it a fingering of that note. */
static const double wide_cents = 600.0;

/* A resonance counts as that of a fingering within these cents. */
static const double same_cents = 0.01;

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

static int by_size(const void *a, const void *b)
{
    const double *const x = a;
    const double *const y = b;
    return (*x > *y) - (*x < *y);
}

/* What a press does to most of the partials that are used, in cents. */
static double usual_effect(const struct hbk_horn *horn,
                           const struct hbk_peak open[],
                           const struct hbk_peak pressed[])
{
    double effects[HBK_PARTIALS_MAX];
    size_t n = 0;
    for (unsigned p = horn->partials.lowest; p <= horn->partials.highest; p++) {
        if (open[p].hz > 0.0 && pressed[p].hz > 0.0) {
            effects[n++] = hbk_cents(pressed[p].hz, open[p].hz);
        }
    }
    if (n == 0) {
        return (double)NAN;
    }
    qsort(effects, n, sizeof(effects[0]), by_size);
    return 0.5 * (effects[(n - 1) / 2] + effects[n / 2]);
}

/* How far above its maximum a resonance is heard. */
static double lift_of(const struct hbk_peak *peak)
{
    return peak->hz > 0.0 ? hbk_cents(peak->hz, peak->maximum_hz) : 0.0;
}

/* Whether a fingering is that resonance: none is with a trigger half drawn. */
static bool is_peak(const struct hbk_peak *peak,
                    const struct hbk_fingering *fingering)
{
    return peak->hz > 0.0 &&
           fabs(hbk_cents(peak->hz, fingering->hz)) < same_cents;
}

/* The semitones that a key is named for, above the open fundamental. */
static int own_of(const struct hbk_horn *horn, size_t key, int fundamental,
                  int wanted)
{
    const int name = hbk_called_note(horn, key);
    if (horn->controls[key].kind != HBK_KEY || name < 0) {
        return wanted;
    }
    const int up = (((name - fundamental) % OCTAVE) + OCTAVE) % OCTAVE;
    return horn->controls[key].stands_open && up > 0 ? up - OCTAVE : up;
}

/* What is taught, of all that was found from near and far. */
static void find_taught(const struct hbk_note *wide, struct hbk_origin *origin)
{
    for (size_t k = 0; wide != NULL && k < wide->n; k++) {
        const struct hbk_fingering *const f = &wide->fingerings[k];
        if (f->taught == HBK_TAUGHT_YES &&
            (!origin->has_taught ||
             fabs(f->cents) < fabs(origin->taught.cents))) {
            origin->has_taught = true;
            origin->taught = *f;
        }
    }
}

static void find_avoided(const struct hbk_notes *notes,
                         struct hbk_origin *origin)
{
    const struct hbk_note *const note = origin->note;
    for (size_t k = 1; k < note->n && origin->avoided == NULL; k++) {
        const struct hbk_fingering *const f = &note->fingerings[k];
        if (notes->horn->partials.avoid[f->partial] &&
            f->taught != HBK_TAUGHT_YES &&
            fabs(f->cents) <= fabs(origin->first->cents) - HBK_LIP_TOLD_CENTS) {
            origin->avoided = f;
        }
    }
}

enum hbk_status hbk_origin_wide(const struct hbk_notes *notes,
                                const struct hbk_setup *setup,
                                struct hbk_arena *arena, struct hbk_notes *wide,
                                struct hbk_faults *faults)
{
    struct hbk_setting setting = notes->setting;
    setting.lip_cents = wide_cents;
    return hbk_solve_as_set(notes->horn, &setting, setup, arena, wide, faults);
}

/* Where the first fingering comes from: rows of the open horn and with it. */
static void describe(const struct hbk_notes *notes,
                     const struct hbk_peak rows[2 * HBK_PEAK_STRIDE],
                     struct hbk_origin *origin)
{
    const struct hbk_fingering *const first = origin->first;
    const unsigned p = first->partial;
    const struct hbk_peak *const open = &rows[p];
    const struct hbk_peak *const pressed = &rows[HBK_PEAK_STRIDE + p];
    const int fundamental = fundamental_of(notes);
    const int semitones = semitones_of(p);
    origin->open_note = fundamental + semitones;
    const int wanted = origin->note->written - origin->open_note;
    const double wanted_cents = HBK_SEMITONE_CENTS * wanted;
    origin->open_cents =
        open->hz > 0.0
            ? hbk_cents(open->hz, origin->note->target_hz) + wanted_cents
            : (double)NAN;
    origin->natural_cents =
        HBK_OCTAVE_CENTS * log2((double)p) - HBK_SEMITONE_CENTS * semitones;
    origin->open_lift_cents = lift_of(open);
    origin->n_pressed = (size_t)__builtin_popcount(first->press);
    origin->opens = highest_key(notes, first->press);
    origin->alone = origin->n_pressed == 1 ? __builtin_ctz(first->press) : -1;
    origin->own = wanted;
    if (first->press == 0) {
        return;
    }
    origin->press_cents = first->cents - origin->open_cents;
    origin->usual_press_cents =
        usual_effect(notes->horn, rows, &rows[HBK_PEAK_STRIDE]) - wanted_cents;
    if (open->hz > 0.0 && is_peak(pressed, first)) {
        origin->press_lift_cents = lift_of(pressed) - lift_of(open);
    }
    if (origin->alone >= 0) {
        origin->own =
            own_of(notes->horn, (size_t)origin->alone, fundamental, wanted);
    }
}

enum hbk_status
hbk_origin_of(const struct hbk_notes *notes, const struct hbk_notes *wide,
              const struct hbk_setup *setup, const struct hbk_note *note,
              struct hbk_origin *origin, struct hbk_faults *faults)
{
    *origin = (struct hbk_origin){.note = note, .opens = -1, .alone = -1};
    if (note->n == 0 || note->fingerings[0].taught != HBK_TAUGHT_YES) {
        find_taught(hbk_notes_find(wide, note->written), origin);
    }
    if (note->n == 0) {
        return HBK_OK;
    }
    const struct hbk_fingering *const first = &note->fingerings[0];
    const uint32_t held = notes->setting.stuck.held_down;
    const uint32_t presses[2] = {held, first->press | held};
    struct hbk_peak rows[2 * HBK_PEAK_STRIDE];
    HBK_TRY(
        hbk_column_peaks(notes->horn, &setup->rig, 2, presses, rows, faults));
    origin->first = first;
    describe(notes, rows, origin);
    find_avoided(notes, origin);
    return HBK_OK;
}
