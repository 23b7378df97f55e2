#include "solve/trigger.h"

#include <math.h>

uint32_t hbk_triggers(const struct hbk_horn *horn)
{
    uint32_t mask = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        mask |= horn->controls[i].kind == HBK_TRIGGER ? UINT32_C(1) << i : 0;
    }
    return mask;
}

double hbk_trigger_throw_m(const struct hbk_horn *horn, uint32_t pressed)
{
    double throw_m = 0.0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_LOOP && site->loop.is_drawn &&
            hbk_site_state(site, pressed)) {
            throw_m = fmax(throw_m, site->loop.value / site->loop.legs);
        }
    }
    return throw_m;
}
