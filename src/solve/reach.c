#include "solve/reach.h"

#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/column.h"
#include "solve/setting.h"

#include <math.h>

enum hbk_status hbk_sound_one(const struct hbk_horn *horn,
                              const struct hbk_rig *rig, uint32_t press,
                              unsigned partial, double *hz,
                              struct hbk_faults *faults)
{
    struct hbk_peak peaks[HBK_PEAK_STRIDE];
    HBK_TRY(hbk_column_peaks(horn, rig, 1, &press, peaks, faults));
    *hz = peaks[partial].hz;
    return HBK_OK;
}

/*
 * The horn with its main slides and bits at one end or the other, but for
 * `margin_m` of the last one; this is the last to get there (solve/tuning.h).
 */
static struct hbk_rig rig_at_end(const struct hbk_horn *horn,
                                 const struct hbk_rig *tuned, uint32_t stuck,
                                 double draw_m[], bool out, double margin_m)
{
    struct hbk_rig rig = *tuned;
    rig.draw_m = draw_m;
    rig.bits = out ? (uint32_t)((UINT64_C(1) << horn->n_bits) - 1) : 0;
    double *last = NULL;
    double kept_m = 0.0;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        const bool stays = slide->valve >= 0 || (stuck >> s & 1U) != 0;
        draw_m[s] = stays ? tuned->draw_m[s] : out ? slide->travel_m : 0.0;
        if (!stays) {
            last = &draw_m[s];
            kept_m = fmin(margin_m, 0.5 * slide->travel_m);
        }
    }
    if (last != NULL) {
        *last += out ? -kept_m : kept_m;
    }
    return rig;
}

/* The first main slide that there is room on, for cents a mm; -1 none. */
static int slide_with_room(const struct hbk_horn *horn, uint32_t stuck,
                           const double draw_m[], double step_m)
{
    int last = -1;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        if (slide->valve >= 0 || (stuck >> s & 1U) != 0) {
            continue;
        }
        last = (int)s;
        if (draw_m[s] + step_m <= slide->travel_m) {
            break;
        }
    }
    return last;
}

/* The change of the tuning note for a small change of the rig. */
static enum hbk_status slopes(const struct hbk_horn *horn,
                              const struct hbk_setup *setup, uint32_t stuck,
                              double draw_m[], struct hbk_reach *reach,
                              struct hbk_faults *faults)
{
    static const double step_m = 0.001;
    static const double step_c = 0.5;
    const struct hbk_rig *const rig = &setup->rig;
    const struct hbk_tuned *const tuned = &setup->tuned;
    double here_hz = 0.0;
    double there_hz = 0.0;
    HBK_TRY(hbk_sound_one(horn, rig, tuned->press, tuned->partial, &here_hz,
                          faults));
    struct hbk_rig other = *rig;
    other.draw_m = draw_m;
    for (size_t s = 0; s < horn->n_slides; s++) {
        draw_m[s] = rig->draw_m[s];
    }
    const int slide = slide_with_room(horn, stuck, draw_m, step_m);
    reach->cents_per_mm = (double)NAN;
    if (slide >= 0) {
        draw_m[slide] += step_m;
        HBK_TRY(hbk_sound_one(horn, &other, tuned->press, tuned->partial,
                              &there_hz, faults));
        reach->cents_per_mm = hbk_cents(there_hz, here_hz);
        draw_m[slide] -= step_m;
    }
    other.temperature_c = rig->temperature_c - step_c;
    HBK_TRY(hbk_sound_one(horn, &other, tuned->press, tuned->partial, &here_hz,
                          faults));
    other.temperature_c = rig->temperature_c + step_c;
    HBK_TRY(hbk_sound_one(horn, &other, tuned->press, tuned->partial, &there_hz,
                          faults));
    reach->cents_per_degree = hbk_cents(there_hz, here_hz) / (2.0 * step_c);
    return HBK_OK;
}

enum hbk_status hbk_reach_of(const struct hbk_horn *horn,
                             const struct hbk_setting *setting,
                             struct hbk_arena *arena, struct hbk_reach *reach,
                             struct hbk_faults *faults)
{
    struct hbk_setup setup;
    /* A pitch out of reach is what is asked about: no warning here. */
    struct hbk_faults *const own = HBK_ARENA_ARRAY(arena, struct hbk_faults, 1);
    const enum hbk_status status =
        hbk_tune_horn(horn, setting, NULL, arena, &setup, own);
    if (status != HBK_OK) {
        hbk_faults_hand_on(own, faults);
        return status;
    }
    const struct hbk_tuned tuned = setup.tuned;
    const uint32_t stuck = setting->stuck.slides;
    double *const draw_m = HBK_ARENA_ARRAY(arena, double, horn->n_slides + 1);
    const int sounding =
        tuned.note + hbk_setting_written_c4(horn, setting) - HBK_NOTE_C4;
    const double per_a4 = hbk_note_hz(sounding, 1.0);
    struct hbk_reach found = {0};
    const struct {
        bool out;
        double margin_m;
        double *hz;
    } ends[] = {{false, 0.0, &found.highest_hz},
                {true, 0.0, &found.lowest_hz},
                {false, HBK_SLIDE_MARGIN_M, &found.kept_highest_hz},
                {true, HBK_SLIDE_MARGIN_M, &found.kept_lowest_hz}};
    for (size_t i = 0; i < sizeof(ends) / sizeof(ends[0]); i++) {
        const struct hbk_rig rig = rig_at_end(horn, &setup.rig, stuck, draw_m,
                                              ends[i].out, ends[i].margin_m);
        HBK_TRY(hbk_sound_one(horn, &rig, tuned.press, tuned.partial,
                              ends[i].hz, faults));
        *ends[i].hz /= per_a4;
    }
    HBK_TRY(slopes(horn, &setup, stuck, draw_m, &found, faults));
    *reach = found;
    return HBK_OK;
}
