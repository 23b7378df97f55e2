#include "fit/bore_shape.h"

#include "base/pi.h"
#include "horn/horn.h"

#include <math.h>

size_t hbk_bore_waves(const struct hbk_horn *horn)
{
    const size_t within = horn->bore.n_stations - 2;
    return within / 2 < HBK_BORE_WAVES ? within / 2 : HBK_BORE_WAVES;
}

void hbk_bore_wave(const struct hbk_horn *horn, struct hbk_station stations[],
                   size_t wave, double by)
{
    const double end_m = stations[horn->bore.n_stations - 1].x_m;
    const double order = (double)(wave + 1);
    for (size_t i = 0; i < horn->bore.n_stations; i++) {
        stations[i].radius_m *=
            exp(by * sin(HBK_PI * order * stations[i].x_m / end_m));
    }
}
