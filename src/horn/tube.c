#include "horn/tube.h"

#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>

double hbk_bore_axis_m(const struct hbk_horn *horn)
{
    return horn->bore.stations[horn->bore.n_stations - 1].x_m;
}

double hbk_rest_length(const struct hbk_horn *horn, double speed_m_s)
{
    return isnan(horn->length_m) ? 0.5 * speed_m_s / horn->fundamental_hz
                                 : horn->length_m;
}

double hbk_axis_length(const struct hbk_horn *horn, double speed_m_s)
{
    return horn->model == HBK_MODEL_BORE ? hbk_bore_axis_m(horn)
                                         : hbk_rest_length(horn, speed_m_s);
}

double hbk_loop_length(const struct hbk_site *site, double rest_m)
{
    const struct hbk_loop *const loop = &site->loop;
    const double ratio = hbk_cents_ratio(loop->value);
    switch (loop->measure) {
    case HBK_LOOP_METRES:
        return loop->value;
    case HBK_LOOP_SHARE:
        return loop->value * rest_m;
    case HBK_LOOP_CENTS:
        return site->at_rest ? rest_m * (1.0 - (1.0 / ratio))
                             : rest_m * (ratio - 1.0);
    }
    return 0.0;
}
