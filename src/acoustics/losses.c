#include "acoustics/losses.h"

#include "base/cplx.h"

#include <math.h>

/* Above this shear wave number the series is used, below the fraction. */
static const double SERIES_ABOVE = 30.0;

/*
 * Steps of the backward fraction. What the start x = 0 leaves behind shrinks
 * by (|s| / 2m)^2 a step once m > |s| / 2; at |s| = 30, 44 steps leave less
 * than the rounding.
 */
enum { FRACTION_STEPS = 44, SERIES_TERMS = 12 };

/*
 * F(s) = sum over k >= 0 of SERIES[k] r_v^-(k+1), real and imaginary parts,
 * for s = r_v exp(-j pi/4). The quotient J1/J0 = -j (1 + q/2 - q^2/8 + q^3/8 -
 * 25/128 q^4 + 13/32 q^5 - ...), q = j/s, follows from Hankel's series of J1
 * and J0 by division of power series; F is twice that over s.
 */
static const double SERIES[SERIES_TERMS][2] = {
    {1.4142135623730951, -1.4142135623730951},   {0.0, 1.0},
    {0.17677669529663689, 0.17677669529663689},  {0.25, 0.0},
    {0.27621358640099514, -0.27621358640099514}, {0.0, -0.8125},
    {-1.4818858910413391, -1.4818858910413391},  {-6.4375, 0.0},
    {-16.2160249155008, 16.2160249155008},       {0.0, 92.95703125},
    {298.78959638207374, 298.78959638207374},    {2129.3564453125, 0.0},
};

/* F(s) by the series, every lane. */
static void series(const double shear[HBK_LANES], double fr[HBK_LANES],
                   double fi[HBK_LANES])
{
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double u = 1.0 / shear[i];
        double re = SERIES[SERIES_TERMS - 1][0];
        double im = SERIES[SERIES_TERMS - 1][1];
        for (size_t k = SERIES_TERMS - 1; k-- > 0;) {
            re = (re * u) + SERIES[k][0];
            im = (im * u) + SERIES[k][1];
        }
        fr[i] = re * u;
        fi[i] = im * u;
    }
}

/*
 * F(s) by the fraction x_(m-1) = 1 / (2m/s - x_m), every lane. 2/s is
 * g (1 + j) with g = sqrt(2) / r_v, so only real numbers are divided.
 */
static void fraction(const double shear[HBK_LANES], double fr[HBK_LANES],
                     double fi[HBK_LANES])
{
    double g[HBK_LANES];
    double xr[HBK_LANES] = {0.0};
    double xi[HBK_LANES] = {0.0};
    for (size_t i = 0; i < HBK_LANES; i++) {
        g[i] = sqrt(2.0) / shear[i];
    }
    for (int m = FRACTION_STEPS; m > 0; m--) {
        for (size_t i = 0; i < HBK_LANES; i++) {
            const double dr = (m * g[i]) - xr[i];
            const double di = (m * g[i]) - xi[i];
            const double scale = 1.0 / ((dr * dr) + (di * di));
            xr[i] = dr * scale;
            xi[i] = -di * scale;
        }
    }
    for (size_t i = 0; i < HBK_LANES; i++) {
        fr[i] = g[i] * (xr[i] - xi[i]);
        fi[i] = g[i] * (xr[i] + xi[i]);
    }
}

static void shear_function(const double shear[HBK_LANES], double fr[HBK_LANES],
                           double fi[HBK_LANES])
{
    double least = shear[0];
    for (size_t i = 1; i < HBK_LANES; i++) {
        least = shear[i] < least ? shear[i] : least;
    }
    series(shear, fr, fi);
    if (least > SERIES_ABOVE) {
        return;
    }
    double low_r[HBK_LANES];
    double low_i[HBK_LANES];
    fraction(shear, low_r, low_i);
    for (size_t i = 0; i < HBK_LANES; i++) {
        const bool low = shear[i] <= SERIES_ABOVE;
        fr[i] = low ? low_r[i] : fr[i];
        fi[i] = low ? low_i[i] : fi[i];
    }
}

double complex hbk_losses_bessel_ratio(double shear)
{
    double lanes[HBK_LANES];
    double fr[HBK_LANES];
    double fi[HBK_LANES];
    for (size_t i = 0; i < HBK_LANES; i++) {
        lanes[i] = shear;
    }
    shear_function(lanes, fr, fi);
    /* J1/J0 = F s / 2. */
    const double half = 0.5 * shear * sqrt(0.5);
    return hbk_cplx(half * (fr[0] + fi[0]), half * (fi[0] - fr[0]));
}

static void lossless_line(const struct hbk_band *band, struct hbk_line *line)
{
    const struct hbk_air *const air = band->air;
    const double bulk = air->density * air->speed * air->speed;
    for (size_t i = 0; i < HBK_LANES; i++) {
        line->zr[i] = 0.0;
        line->zi[i] = band->omega[i] * air->density;
        line->yr[i] = 0.0;
        line->yi[i] = band->omega[i] / bulk;
    }
}

void hbk_losses_line(const struct hbk_band *band, double radius_m,
                     struct hbk_line *line)
{
    const struct hbk_air *const air = band->air;
    if (air->lossless) {
        lossless_line(band, line);
        return;
    }
    double friction[HBK_LANES];
    double heat[HBK_LANES];
    for (size_t i = 0; i < HBK_LANES; i++) {
        friction[i] = radius_m * band->shear[i];
        heat[i] = air->root_prandtl * friction[i];
    }
    double vr[HBK_LANES];
    double vi[HBK_LANES];
    double tr[HBK_LANES];
    double ti[HBK_LANES];
    shear_function(friction, vr, vi);
    shear_function(heat, tr, ti);
    const double bulk = air->density * air->speed * air->speed;
    const double excess = air->gamma - 1.0;
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double re = 1.0 - vr[i];
        const double inertia =
            band->omega[i] * air->density / ((re * re) + (vi[i] * vi[i]));
        const double spring = band->omega[i] / bulk;
        line->zr[i] = -inertia * vi[i];
        line->zi[i] = inertia * re;
        line->yr[i] = -spring * excess * ti[i];
        line->yi[i] = spring * (1.0 + (excess * tr[i]));
    }
}
