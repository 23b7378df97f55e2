#include "solve/setup.h"

#include "horn/horn.h"
#include "solve/mouthpiece.h"
#include "solve/valve_slides.h"

static enum hbk_status draw_valves(const struct hbk_horn *horn,
                                   const struct hbk_setting *setting,
                                   struct hbk_arena *arena, double own_m[],
                                   double draw_m[], struct hbk_faults *faults)
{
    if (setting->valve_slides == HBK_VALVE_SLIDES_HOME) {
        return HBK_OK; /* 0 throughout */
    }
    HBK_TRY(hbk_valve_slides_own(horn, setting, arena, own_m, faults));
    if (setting->valve_slides == HBK_VALVE_SLIDES_BEST) {
        return hbk_valve_slides_best(horn, setting, own_m, arena, draw_m,
                                     faults);
    }
    hbk_valve_slides_within(horn, own_m, draw_m);
    return HBK_OK;
}

static enum hbk_status draw_all(const struct hbk_horn *horn,
                                const struct hbk_setting *setting,
                                struct hbk_arena *arena,
                                struct hbk_setup *setup,
                                struct hbk_faults *faults)
{
    if (setting->raw || !hbk_has_valve_slides(horn)) {
        return hbk_tune_horn(horn, setting, NULL, arena, setup, faults);
    }
    double *const draw_m = HBK_ARENA_ARRAY(arena, double, horn->n_slides + 1);
    double *const own_m = HBK_ARENA_ARRAY(arena, double, horn->n_slides + 1);
    HBK_TRY(draw_valves(horn, setting, arena, own_m, draw_m, faults));
    HBK_TRY(hbk_tune_horn(horn, setting, draw_m, arena, setup, faults));
    if (setting->valve_slides == HBK_VALVE_SLIDES_OWN) {
        setup->tuned.want_m = own_m;
    }
    return HBK_OK;
}

enum hbk_status hbk_set_up(const struct hbk_horn *horn,
                           const struct hbk_setting *setting,
                           struct hbk_arena *arena, struct hbk_setup *setup,
                           struct hbk_faults *faults)
{
    HBK_TRY(draw_all(horn, setting, arena, setup, faults));
    return setting->mouthpiece == 0
               ? HBK_OK
               : hbk_mouthpiece_compare(horn, &setup->rig, &setup->tuned,
                                        setting->stuck.held_down,
                                        &setup->tuned.mouthpiece, faults);
}
