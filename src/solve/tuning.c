#include "solve/tuning.h"

#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/bore_column.h"
#include "solve/column.h"
#include "solve/setting.h"

#include <math.h>

/*
 * A press that comes this near gives the tuning note; if none does, the horn
 * is badly out and the wider limit serves. Further off than that it was
 * described wrongly, not built badly.
 */
static const double near_cents = 75.0;
static const double farthest_cents = 150.0;

/* Good enough: a hundredth of what the best ear hears. */
static const double tuned_cents = 0.001;

static double written_hz(int written, int written_c4, double a4_hz)
{
    return hbk_note_hz(written + written_c4 - HBK_NOTE_C4, a4_hz);
}

/* Everything needed to sound the tuning note again and again. */
struct tuner {
    const struct hbk_horn *horn;
    struct hbk_faults *faults;
    struct hbk_rig rig;
    double *draw_m; /* rig.draw_m, writable */
    uint32_t fixed; /* slides that do not move for the tuning */
    double in_m;    /* tube that the main slides can take away, <= 0 */
    double out_m;   /* and add, >= 0 */
    uint32_t press;
    unsigned partial;
    double target_hz;
    struct hbk_bore_slider *slider; /* of a bored horn, for slider_bits */
    uint32_t slider_bits;
    enum hbk_status status;
};

static bool moves(const struct tuner *t, size_t slide)
{
    return (t->fixed >> slide & 1U) == 0;
}

/*
 * Draws the main slides by `tube_m` in all from where they stand, or pushes
 * them in, in the order of the file.
 */
static void draw_slides(struct tuner *t, double tube_m)
{
    const struct hbk_horn *const horn = t->horn;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        if (!moves(t, s)) {
            continue;
        }
        const double in = -slide->stands_out_m * slide->legs;
        const double out =
            (slide->travel_m - slide->stands_out_m) * slide->legs;
        const double here = fmax(fmin(tube_m, out), in);
        t->draw_m[s] = slide->stands_out_m + (here / slide->legs);
        tube_m -= here;
    }
}

/* The resonance itself is gone: nothing can be tuned on it. */
static double lost(struct tuner *t)
{
    if (t->status == HBK_OK) {
        hbk_fault_add(t->faults, (struct hbk_place){.file = t->horn->path},
                      HBK_H_TUNING_NOTE_LOST,
                      "as it is set up, the resonance of the tuning note does "
                      "not show any more; check the crook, the slides and "
                      "the diameters of both");
        t->status = HBK_ERR_INPUT;
    }
    return 0.0;
}

static enum hbk_status make_slider(struct tuner *t)
{
    hbk_bore_slider_finish(t->slider);
    t->slider = NULL;
    t->slider_bits = t->rig.bits;
    const uint32_t all = (UINT32_C(1) << t->horn->n_slides) - 1;
    return hbk_bore_slider_make(t->horn, &t->rig, t->press, all & ~t->fixed,
                                &t->slider, t->faults);
}

/* The resonances of the press as the slides are drawn. */
static enum hbk_status sound_row(struct tuner *t, struct hbk_peak row[])
{
    const bool is_bored = t->horn->model == HBK_MODEL_BORE;
    if (is_bored && (t->slider == NULL || t->slider_bits != t->rig.bits)) {
        HBK_TRY(make_slider(t));
    }
    if (t->slider != NULL && hbk_bore_slider_row(t->slider, t->draw_m, row)) {
        hbk_column_play(t->horn, &t->rig, 1, row);
        return HBK_OK;
    }
    return hbk_column_peaks(t->horn, &t->rig, 1, &t->press, row, t->faults);
}

/* Cents of the tuning note with that much tube drawn. */
static double sound(struct tuner *t, double tube_m)
{
    draw_slides(t, tube_m);
    struct hbk_peak peaks[HBK_PEAK_STRIDE];
    const enum hbk_status status = sound_row(t, peaks);
    if (status != HBK_OK) {
        t->status = status;
        return 0.0;
    }
    return peaks[t->partial].hz > 0.0
               ? hbk_cents(peaks[t->partial].hz, t->target_hz)
               : lost(t);
}

/*
 * The tube between `low_m` (sharp) and `high_m` (flat) that puts the note in
 * tune. The pitch falls nearly evenly with the tube, so the Illinois rule
 * for false position needs three or four soundings.
 */
static double find_tube(struct tuner *t, double low_m, double low_cents,
                        double high_m, double high_cents)
{
    enum { SOUNDINGS_MAX = 60 };
    double low_weight = low_cents;
    double high_weight = high_cents;
    double tube_m = low_m;
    int side = 0;
    for (int i = 0; i < SOUNDINGS_MAX && t->status == HBK_OK; i++) {
        tube_m = ((low_m * high_weight) - (high_m * low_weight)) /
                 (high_weight - low_weight);
        const double cents = sound(t, tube_m);
        if (!(fabs(cents) > tuned_cents)) {
            break;
        }
        if (cents > 0.0) {
            low_m = tube_m;
            low_weight = cents;
            high_weight *= side > 0 ? 0.5 : 1.0;
            side = 1;
        } else {
            high_m = tube_m;
            high_weight = cents;
            low_weight *= side < 0 ? 0.5 : 1.0;
            side = -1;
        }
    }
    return tube_m;
}

/* Draws the slides as well as they go; returns the cents that remain. */
static double draw_to_pitch(struct tuner *t)
{
    const double cents = sound(t, 0.0);
    if (t->status != HBK_OK || !(fabs(cents) > tuned_cents)) {
        return cents;
    }
    const double end_m = cents > 0.0 ? t->out_m : t->in_m;
    if (end_m == 0.0) {
        return cents;
    }
    const double end_cents = sound(t, end_m);
    if (t->status != HBK_OK || (cents > 0.0) == (end_cents >= 0.0)) {
        return end_cents;
    }
    return sound(t, cents > 0.0 ? find_tube(t, 0.0, cents, end_m, end_cents)
                                : find_tube(t, end_m, end_cents, 0.0, cents));
}

/* Tries every set of bits and keeps the best; fewer bits win a tie. */
static double choose_bits(struct tuner *t, double best_cents)
{
    const struct hbk_horn *const horn = t->horn;
    uint32_t best = 0;
    int best_count = 0;
    for (uint32_t bits = 1; bits < UINT32_C(1) << horn->n_bits; bits++) {
        t->rig.bits = bits;
        const double cents = draw_to_pitch(t);
        const int count = __builtin_popcount(bits);
        const double gain = fabs(best_cents) - fabs(cents);
        if (gain > 0.01 || (gain > -0.01 && count < best_count)) {
            best = bits;
            best_count = count;
            best_cents = cents;
        }
    }
    t->rig.bits = best;
    return draw_to_pitch(t);
}

/*
 * How well a press gives the tuning note at home: cents off, and which
 * partial; partials to avoid do not serve to tune on.
 */
static double nearest_partial(const struct hbk_horn *horn,
                              const struct hbk_peak *row, double target_hz,
                              unsigned *partial)
{
    double nearest = INFINITY;
    for (unsigned p = horn->partials.lowest; p <= horn->partials.highest; p++) {
        if (horn->partials.avoid[p] || row[p].hz <= 0.0) {
            continue;
        }
        const double cents = fabs(hbk_cents(row[p].hz, target_hz));
        if (cents < nearest) {
            nearest = cents;
            *partial = p;
        }
    }
    return nearest;
}

/* The presses to look through for the tuning note, and what they sound. */
struct home {
    size_t n;
    const uint32_t *presses;
    const struct hbk_peak *peaks;
    double target_hz;
};

/*
 * Looks for the press of fewest fingers within `limit` cents; returns the
 * nearest that any press comes.
 */
static double press_within(struct tuner *t, const struct home *home,
                           double limit)
{
    double nearest = INFINITY;
    double best = INFINITY;
    int fewest = HBK_CONTROLS_MAX + 1;
    for (size_t i = 0; i < home->n; i++) {
        const int fingers = __builtin_popcount(home->presses[i]);
        unsigned partial = 0;
        const double cents =
            nearest_partial(t->horn, &home->peaks[i * HBK_PEAK_STRIDE],
                            home->target_hz, &partial);
        nearest = fmin(nearest, cents);
        if (cents > limit || fingers > fewest ||
            (fingers == fewest && cents >= best)) {
            continue;
        }
        fewest = fingers;
        best = cents;
        t->press = home->presses[i];
        t->partial = partial;
    }
    return nearest;
}

/* The press and partial of the tuning note on the horn as it was built. */
static enum hbk_status choose_press(struct tuner *t, struct hbk_arena *arena)
{
    /* The rest, then one finger: nobody tunes on a chord of fingers. */
    enum { PRESSES_MAX = HBK_CONTROLS_MAX + 1 };
    const struct hbk_horn *const horn = t->horn;
    uint32_t presses[PRESSES_MAX] = {0};
    struct home home = {
        .n = horn->has_tuning_press ? 1 : horn->n_controls + 1,
        .presses = presses,
        .target_hz =
            written_hz(horn->tuning_note, horn->written_c4_sounds, horn->a4_hz),
    };
    for (size_t i = 0; i < horn->n_controls; i++) {
        presses[i + 1] = UINT32_C(1) << i;
    }
    presses[0] = horn->has_tuning_press ? horn->tuning_press : 0;
    struct hbk_peak *const peaks =
        HBK_ARENA_ARRAY(arena, struct hbk_peak, home.n * HBK_PEAK_STRIDE);
    home.peaks = peaks;
    const struct hbk_rig rig = {.temperature_c = horn->temperature_c,
                                .crook = -1};
    HBK_TRY(hbk_column_peaks(horn, &rig, home.n, presses, peaks, t->faults));
    double nearest = press_within(t, &home, near_cents);
    if (nearest > near_cents) {
        nearest = press_within(t, &home, farthest_cents);
    }
    if (nearest <= farthest_cents) {
        return HBK_OK;
    }
    char name[HBK_NAME_SIZE];
    hbk_note_name(horn->tuning_note, HBK_ASCII, name);
    if (isinf(nearest)) {
        hbk_fault_add(t->faults, (struct hbk_place){.file = horn->path},
                      HBK_H_TUNING_NOTE_ASTRAY,
                      "this tube has no resonance as high as its notes go; "
                      "check its length, written_c4_sounds and the tuning "
                      "note %s",
                      name);
        return HBK_ERR_INPUT;
    }
    hbk_fault_add(t->faults, (struct hbk_place){.file = horn->path},
                  HBK_H_TUNING_NOTE_ASTRAY,
                  "the tuning note %s is %.0f cents from the nearest note "
                  "this tube can sound with no finger or one; check the "
                  "length or fundamental, written_c4_sounds and the tuning "
                  "note",
                  name, nearest);
    return HBK_ERR_INPUT;
}

/*
 * Where everything is before the main slides are moved; what is stuck stays
 * where it is stuck.
 */
static void place_slides(struct tuner *t, const struct hbk_setting *setting,
                         const double *valve_draw_m)
{
    const struct hbk_horn *const horn = t->horn;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        const bool is_valve = slide->valve >= 0;
        const uint32_t bit = UINT32_C(1) << s;
        t->draw_m[s] = is_valve && valve_draw_m != NULL && !setting->raw
                           ? valve_draw_m[s]
                           : slide->stands_out_m;
        if ((setting->stuck.slides & bit) != 0) {
            t->draw_m[s] = setting->stuck.slide_out_m[s];
        }
        if (is_valve || (setting->stuck.slides & bit) != 0) {
            t->fixed |= bit;
            continue;
        }
        t->in_m -= slide->stands_out_m * slide->legs;
        t->out_m += (slide->travel_m - slide->stands_out_m) * slide->legs;
    }
}

static void tell_far_off(const struct hbk_horn *horn, double after,
                         struct hbk_faults *faults)
{
    if (fabs(after) > farthest_cents) {
        hbk_fault_warn(faults, (struct hbk_place){.file = horn->path},
                       HBK_H_TUNING_NOTE_FAR_OFF,
                       "the tuning note is still %.0f cents %s; if that is not "
                       "meant, check the crook, its written_c4_sounds and the "
                       "pitch asked for",
                       fabs(after), after > 0.0 ? "sharp" : "flat");
    }
}

enum hbk_status hbk_tune_horn(const struct hbk_horn *horn,
                              const struct hbk_setting *setting,
                              const double *valve_draw_m,
                              struct hbk_arena *arena, struct hbk_setup *setup,
                              struct hbk_faults *faults)
{
    struct tuner t = {
        .horn = horn,
        .faults = faults,
        .draw_m = HBK_ARENA_ARRAY(arena, double, horn->n_slides + 1),
        .target_hz =
            written_hz(horn->tuning_note, hbk_setting_written_c4(horn, setting),
                       setting->a4_hz),
    };
    t.rig = (struct hbk_rig){.temperature_c = setting->temperature_c,
                             .crook = setting->crook,
                             .mouthpiece = setting->mouthpiece,
                             .draw_m = t.draw_m,
                             .as_played = setting->as_played};
    place_slides(&t, setting, valve_draw_m);
    HBK_TRY(choose_press(&t, arena));
    const double before = sound(&t, 0.0);
    double after = before;
    if (!setting->raw) {
        after = draw_to_pitch(&t);
        if (after > tuned_cents && horn->n_bits > 0) {
            after = choose_bits(&t, after);
        }
    }
    hbk_bore_slider_finish(t.slider);
    if (t.status != HBK_OK) {
        return t.status;
    }
    tell_far_off(horn, after, faults);
    const double left = setting->raw ? 0.0 : after;
    setup->rig = t.rig;
    setup->tuned = (struct hbk_tuned){
        .note = horn->tuning_note,
        .press = t.press,
        .partial = t.partial,
        .before_cents = before,
        .after_cents = after,
        .left_cents = left,
        .pitch_hz = setting->a4_hz * hbk_cents_ratio(left),
        .n_draws = horn->n_slides,
        .draw_m = t.draw_m,
        .bits = t.rig.bits,
    };
    return HBK_OK;
}
