#include "acoustics/band.h"

#include "base/pi.h"
#include <assert.h>
#include <math.h>

void hbk_band_set(struct hbk_band *band, const struct hbk_air *air, size_t n,
                  const double freq_hz[])
{
    assert(n >= 1 && n <= HBK_LANES);
    band->air = air;
    band->highest_wave_number = 0.0;
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double omega = (2.0 * HBK_PI) * freq_hz[i < n ? i : n - 1];
        band->omega[i] = omega;
        band->shear[i] = sqrt(omega * air->density / air->viscosity);
        band->highest_wave_number =
            fmax(band->highest_wave_number, omega / air->speed);
    }
}
