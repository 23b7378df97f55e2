#ifndef HBK_ACOUSTICS_BAND_H
#define HBK_ACOUSTICS_BAND_H

#include "acoustics/air.h"

#include <stddef.h>

/*
 * Sixteen frequencies that are worked on together. Everything of the model
 * that depends on frequency is stored as one array of HBK_LANES doubles for
 * the real and one for the imaginary parts, and every loop over them has this
 * fixed length, so that compilers turn it into vector instructions without
 * being allowed to reorder any sum.
 */
enum { HBK_LANES = 16 };

struct hbk_band {
    const struct hbk_air *air;  /* borrowed */
    double omega[HBK_LANES];    /* angular frequency, rad/s, > 0 */
    double shear[HBK_LANES];    /* sqrt(omega rho / eta): times the radius it
                                   is the shear wave number r_v */
    double highest_wave_number; /* largest omega / c, 1/m */
};

/* Highest frequency the model is asked for, Hz. */
#define HBK_HIGHEST_HZ 20000.0
/* Lowest, Hz: below it wall layers outgrow the tube. */
#define HBK_LOWEST_HZ 0.1

/*
 * Fills a band with `n` frequencies (1 to HBK_LANES, Hz, each within
 * HBK_LOWEST_HZ and HBK_HIGHEST_HZ, which the caller has checked); lanes
 * beyond them repeat the last.
 */
void hbk_band_set(struct hbk_band *band, const struct hbk_air *air, size_t n,
                  const double freq_hz[]);

#endif
