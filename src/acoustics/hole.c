#include "acoustics/hole.h"

#include "acoustics/radiation.h"
#include "acoustics/tube.h"
#include "base/pi.h"

#include "base/cplx.h"

#include <math.h>

double hbk_hole_inner_length(double delta)
{
    const double d = delta;
    return 0.822 +
           (d *
            (-0.095 +
             (d * (-1.566 + (d * (2.138 + (d * (-1.640 + (d * 0.502)))))))));
}

double hbk_hole_series_length(double t_per_b, bool open)
{
    return open ? -(0.35 - (0.06 * tanh(2.7 * t_per_b)))
                : -(0.12 + (0.17 * tanh(2.4 * t_per_b)));
}

double hbk_hole_matching_length(double radius_m, double bore_m)
{
    const double delta = radius_m / bore_m;
    return radius_m * delta / 8.0 * (1.0 + (0.207 * delta * delta * delta));
}

/* Growth of t_i of an open hole with frequency, ka of the bore. */
static double inner_growth(double delta, double ka)
{
    const double h = 1.0 - (4.56 * delta) + (6.55 * delta * delta);
    const double i = ka * (0.17 + (ka * (0.92 + (ka * (0.16 - (0.29 * ka))))));
    /* The fit ends near ka = 1; beyond it the quartic would turn negative. */
    return ka <= 1.0 ? 1.0 + (h * i) : 1.0 + (h * 0.96);
}

static enum hbk_rim rim_of(const struct hbk_side_hole *hole)
{
    if (hole->rim != HBK_RIM_AUTO) {
        return hole->rim;
    }
    return hole->chimney_m < 0.5 * hole->radius_m ? HBK_RIM_CYLINDER
                                                  : HBK_RIM_THIN;
}

static double pad_length(const struct hbk_side_hole *hole)
{
    if (!(hole->pad_radius_m > 0.0)) {
        return 0.0;
    }
    const double h = hole->pad_lift_m / hole->radius_m;
    const double w = hole->wall_m / hole->radius_m;
    const double round = 3.5 * pow(h, 0.8) * pow(h + (3.0 * w), -0.4) +
                         30.0 * pow(hole->pad_lift_m / hole->pad_radius_m, 2.6);
    return hole->radius_m / round;
}

/* Length of the low wall that the tube is, over the hole's radius. */
static double cylinder_length(const struct hbk_side_hole *hole, double bore_m)
{
    const double outer_m = bore_m + hole->chimney_m;
    return 0.822 - (0.47 * pow(hole->radius_m / outer_m, 0.8));
}

/* What a wall round a thin chimney adds to the unflanged length, m. */
static double collar_length(const struct hbk_side_hole *hole)
{
    const double b = hole->radius_m;
    const double ratio = b / (b + hole->wall_m);
    const double bare = hbk_radiation_low_length(HBK_BELL_UNFLANGED);
    const double wide = hbk_radiation_low_length(HBK_BELL_FLANGED);
    const double length = wide + (ratio * (bare - wide)) +
                          (0.057 * ratio * (1.0 - pow(ratio, 5.0)));
    return b * (length - bare);
}

/* Pressure and flow at the rim of the open hole. */
static void rim_load(const struct hbk_band *band,
                     const struct hbk_side_hole *hole, double bore_m,
                     struct hbk_wave *wave)
{
    const double b = hole->radius_m;
    const double pad_m = pad_length(hole);
    switch (rim_of(hole)) {
    case HBK_RIM_WIDE:
        hbk_radiation_load(band, HBK_BELL_FLANGED, b, pad_m, wave);
        return;
    case HBK_RIM_THIN:
        hbk_radiation_load(band, HBK_BELL_UNFLANGED, b,
                           pad_m + collar_length(hole), wave);
        return;
    case HBK_RIM_AUTO:
    case HBK_RIM_CYLINDER:
        break;
    }
    const double length_m = (b * cylinder_length(hole, bore_m)) + pad_m;
    hbk_radiation_load(band, HBK_BELL_IDEAL, b, length_m, wave);
    const double zh = band->air->density * band->air->speed / (HBK_PI * b * b);
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double kb = band->omega[i] * b / band->air->speed;
        wave->pr[i] += zh * kb * kb / 4.0;
    }
}

/*
 * Pressure and flow where the hole meets the axis of the bore, so that Zs is
 * their quotient; either may be 0.
 */
static void shunt_wave(const struct hbk_band *band,
                       const struct hbk_side_hole *hole, double bore_m,
                       bool open, struct hbk_wave *wave)
{
    const double b = hole->radius_m;
    double length_m = hole->chimney_m;
    if (!hole->plain) {
        length_m += hbk_hole_matching_length(b, bore_m);
    }
    struct hbk_wave rim = {.pr = {0.0}};
    if (!open) {
        for (size_t i = 0; i < HBK_LANES; i++) {
            rim.pr[i] = 1.0;
        }
    } else if (hole->plain) {
        hbk_radiation_load(band, HBK_BELL_IDEAL, b, 0.0, &rim);
    } else {
        rim_load(band, hole, bore_m, &rim);
    }
    struct hbk_twoport chimney;
    const struct hbk_tube tube = {length_m, b, b};
    hbk_tube_twoport(band, &tube, HBK_FRONTS_PLANE, &chimney);
    hbk_twoport_carry(&chimney, &rim, wave);
    if (hole->plain) {
        return;
    }
    const double delta = b / bore_m;
    const double inner_m = b * hbk_hole_inner_length(delta);
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double ka = band->omega[i] * bore_m / band->air->speed;
        const double growth = inner_growth(delta, ka);
        const double x = band->omega[i] * band->air->density * inner_m *
                         growth / (HBK_PI * b * b);
        /* p += j x U */
        wave->pr[i] -= x * wave->ui[i];
        wave->pi[i] += x * wave->ur[i];
    }
}

void hbk_hole_twoport(const struct hbk_band *band,
                      const struct hbk_side_hole *hole, double bore_m,
                      bool open, struct hbk_twoport *out)
{
    struct hbk_wave wave;
    shunt_wave(band, hole, bore_m, open, &wave);
    const double b = hole->radius_m;
    const double delta = b / bore_m;
    /* In units of the bore, rho c / pi a^2: delta appears squared only. */
    const double series_m =
        hole->plain ? 0.0
                    : b * delta * delta *
                          hbk_hole_series_length(hole->chimney_m / b, open);
    const double mass =
        band->air->density * series_m / (HBK_PI * bore_m * bore_m);
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double complex p = hbk_cplx(wave.pr[i], wave.pi[i]);
        const double complex u = hbk_cplx(wave.ur[i], wave.ui[i]);
        const double complex za = hbk_cplx(0.0, band->omega[i] * mass);
        const double complex scale = 1.0 / p;
        const struct hbk_abcd abcd = {
            .a = (p + (0.5 * za * u)) * scale,
            .b = za * (p + (0.25 * za * u)) * scale,
            .c = u * scale,
            .d = (p + (0.5 * za * u)) * scale,
        };
        hbk_twoport_set_lane(out, i, abcd);
    }
}

double hbk_hole_inertance(const struct hbk_side_hole *hole, double bore_m)
{
    const double b = hole->radius_m;
    double length_m = hole->chimney_m;
    if (!hole->plain) {
        length_m += hbk_hole_matching_length(b, bore_m) +
                    (b * hbk_hole_inner_length(b / bore_m)) + pad_length(hole);
        switch (rim_of(hole)) {
        case HBK_RIM_WIDE:
            length_m += b * hbk_radiation_low_length(HBK_BELL_FLANGED);
            break;
        case HBK_RIM_THIN:
            length_m += (b * hbk_radiation_low_length(HBK_BELL_UNFLANGED)) +
                        collar_length(hole);
            break;
        case HBK_RIM_AUTO:
        case HBK_RIM_CYLINDER:
            length_m += b * cylinder_length(hole, bore_m);
            break;
        }
    }
    return length_m / (HBK_PI * b * b);
}
