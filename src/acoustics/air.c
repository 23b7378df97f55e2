#include "acoustics/air.h"

#include <math.h>

static const double KEEFE_CENTRE_C = 26.85;
static const double KEEFE_COLDEST_C = 17.0;
static const double KEEFE_HOTTEST_C = 37.0;
static const double ZERO_CELSIUS_K = 273.15;
static const double SUTHERLAND_K = 109.10;

enum hbk_air_law hbk_air_law_at(double temperature_c)
{
    const bool within =
        temperature_c >= KEEFE_COLDEST_C && temperature_c <= KEEFE_HOTTEST_C;
    return within ? HBK_AIR_KEEFE : HBK_AIR_WIDE;
}

static struct hbk_air keefe(double temperature_c)
{
    const double dt = temperature_c - KEEFE_CENTRE_C;
    return (struct hbk_air){
        .speed = 347.23 * (1.0 + (0.00166 * dt)),
        .density = 1.1769 * (1.0 - (0.00335 * dt)),
        .viscosity = 1.846e-5 * (1.0 + (0.0025 * dt)),
        .gamma = 1.4017 * (1.0 - (0.00002 * dt)),
        .root_prandtl = 0.8410 * (1.0 - (0.0002 * dt)),
    };
}

enum hbk_status hbk_air_at(double temperature_c, struct hbk_air *air)
{
    /* Written so that NaN is refused as well. */
    if (!(temperature_c >= HBK_AIR_COLDEST &&
          temperature_c <= HBK_AIR_HOTTEST)) {
        return HBK_ERR_DOMAIN;
    }
    const double seam_c =
        fmin(fmax(temperature_c, KEEFE_COLDEST_C), KEEFE_HOTTEST_C);
    struct hbk_air result = keefe(seam_c);
    if (hbk_air_law_at(temperature_c) == HBK_AIR_WIDE) {
        const double kelvin = temperature_c + ZERO_CELSIUS_K;
        const double seam_k = seam_c + ZERO_CELSIUS_K;
        const double ratio = kelvin / seam_k;
        result.speed *= sqrt(ratio);
        result.density /= ratio;
        result.viscosity *= ratio * sqrt(ratio) * (seam_k + SUTHERLAND_K) /
                            (kelvin + SUTHERLAND_K);
    }
    *air = result;
    return HBK_OK;
}

double hbk_speed_of_sound(double temperature_c)
{
    struct hbk_air air = {.speed = (double)NAN};
    return hbk_air_at(temperature_c, &air) == HBK_OK ? air.speed : (double)NAN;
}

bool hbk_air_is_sound(const struct hbk_air *air)
{
    return air->speed >= 100.0 && air->speed <= 1000.0 && air->density >= 0.1 &&
           air->density <= 10.0 && air->viscosity >= 1e-6 &&
           air->viscosity <= 1e-3 && air->gamma > 1.0 && air->gamma <= 2.0 &&
           air->root_prandtl >= 0.3 && air->root_prandtl <= 3.0;
}
