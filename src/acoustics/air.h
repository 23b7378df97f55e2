#ifndef HBK_ACOUSTICS_AIR_H
#define HBK_ACOUSTICS_AIR_H

#include "base/status.h"

#include <stdbool.h>

/* Which formulas gave the constants of the air. */
enum hbk_air_law {
    HBK_AIR_KEEFE, /* linear in temperature, 17 to 37 degrees Celsius */
    HBK_AIR_WIDE   /* ideal gas and Sutherland's viscosity outside that */
};

/*
 * Dry air at rest, the same in the whole tube. `lossless` may be set by the
 * caller: walls then take nothing from the wave (for checks against closed
 * forms); radiation is not touched by it.
 */
struct hbk_air {
    double speed;        /* of sound, m/s */
    double density;      /* kg/m^3 */
    double viscosity;    /* shear, Pa s */
    double gamma;        /* ratio of specific heats */
    double root_prandtl; /* square root of the Prandtl number */
    bool lossless;
};

/* Temperatures the wide law is trusted for, degrees Celsius. */
#define HBK_AIR_COLDEST (-40.0)
#define HBK_AIR_HOTTEST 60.0

/*
 * The law that hbk_air_at uses: HBK_AIR_KEEFE from 17 to 37 degrees Celsius,
 * bounds included, else HBK_AIR_WIDE. Worth a word to the user when wide.
 */
enum hbk_air_law hbk_air_law_at(double temperature_c);

/*
 * The constants of air.
 *
 * From 17 to 37 C: the linear fits of Keefe 1984 about 26.85 C (from memory
 * of the publication). Outside: from Keefe's values at the nearer bound, the
 * speed follows the square root and the density the inverse of the absolute
 * temperature (ideal gas), the viscosity Sutherland's law with the constant
 * 109.10 K of McQuillan, Culham and Yovanovich 1984; gamma and the Prandtl
 * number keep their value at the bound. So nothing jumps at 17 or 37 C.
 *
 * temperature_c  HBK_AIR_COLDEST to HBK_AIR_HOTTEST
 * air            result; lossless is false; untouched on failure
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN.
 *
 * Accuracy of the speed of sound outside Keefe's range: 0.3 cent at 0 C
 * against Cramer 1993.
 */
enum hbk_status hbk_air_at(double temperature_c,
                           struct hbk_air *air) HBK_MUST_CHECK;

/* The speed of sound in that air, m/s; NAN for what hbk_air_at refuses. */
double hbk_speed_of_sound(double temperature_c);

/* Whether every constant is a positive finite number a tube can be full of. */
bool hbk_air_is_sound(const struct hbk_air *air);

#endif
