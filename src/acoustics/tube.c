#include "acoustics/tube.h"

#include "acoustics/losses.h"
#include "base/pi.h"

#include <math.h>

/*
 * Within a slice the radius changes by at most this ratio and the length is
 * at most this many metres.
 */
static const double SLICE_RATIO = 1.04;
static const double SLICE_LENGTH_M = 0.020;
/* Below this difference of radii a tube is a cylinder. */
static const double CYLINDER_M = 1e-12;

/* The power series in (G L)^2 are good to rounding up to this modulus. */
static const double SERIES_REACH = 0.4;
enum { SERIES_TERMS = 9 };

/* 1/(2k)!, 1/(2k+1)!, 2(k+1)/(2k+3)!. */
static const double COSH[SERIES_TERMS] = {1.0,
                                          1.0 / 2.0,
                                          1.0 / 24.0,
                                          1.0 / 720.0,
                                          1.0 / 40320.0,
                                          1.0 / 3628800.0,
                                          1.0 / 479001600.0,
                                          1.0 / 87178291200.0,
                                          1.0 / 20922789888000.0};
static const double SINHC[SERIES_TERMS] = {1.0,
                                           1.0 / 6.0,
                                           1.0 / 120.0,
                                           1.0 / 5040.0,
                                           1.0 / 362880.0,
                                           1.0 / 39916800.0,
                                           1.0 / 6227020800.0,
                                           1.0 / 1307674368000.0,
                                           1.0 / 355687428096000.0};
static const double CURVE[SERIES_TERMS] = {2.0 / 6.0,
                                           4.0 / 120.0,
                                           6.0 / 5040.0,
                                           8.0 / 362880.0,
                                           10.0 / 39916800.0,
                                           12.0 / 6227020800.0,
                                           14.0 / 1307674368000.0,
                                           16.0 / 355687428096000.0,
                                           18.0 / 121645100408832000.0};

/* Complex numbers, one a lane. */
struct lanes {
    double re[HBK_LANES], im[HBK_LANES];
};

static bool is_cylinder(const struct hbk_tube *tube)
{
    return fabs(tube->far_m - tube->near_m) < CYLINDER_M;
}

/* A power series with real coefficients, by Horner's rule. */
static void power_series(const double coefficient[SERIES_TERMS],
                         const struct lanes *restrict z,
                         struct lanes *restrict sum)
{
    for (size_t i = 0; i < HBK_LANES; i++) {
        double re = coefficient[SERIES_TERMS - 1];
        double im = 0.0;
        for (size_t k = SERIES_TERMS - 1; k-- > 0;) {
            const double next =
                (re * z->re[i]) - (im * z->im[i]) + coefficient[k];
            im = (re * z->im[i]) + (im * z->re[i]);
            re = next;
        }
        sum->re[i] = re;
        sum->im[i] = im;
    }
}

/* z = (G L)^2. */
static void square_of_path(const struct hbk_line *line, double length_m,
                           struct lanes *z)
{
    const double square = length_m * length_m;
    for (size_t i = 0; i < HBK_LANES; i++) {
        z->re[i] = square *
                   ((line->zr[i] * line->yr[i]) - (line->zi[i] * line->yi[i]));
        z->im[i] = square *
                   ((line->zr[i] * line->yi[i]) + (line->zi[i] * line->yr[i]));
    }
}

/* cosh -> cosh of twice, sinhc -> sinhc of twice the argument. */
static void double_up(struct lanes *cosh_z, struct lanes *sinhc_z)
{
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double yr = cosh_z->re[i];
        const double yi = cosh_z->im[i];
        const double xr = sinhc_z->re[i];
        const double xi = sinhc_z->im[i];
        sinhc_z->re[i] = (xr * yr) - (xi * yi);
        sinhc_z->im[i] = (xr * yi) + (xi * yr);
        cosh_z->re[i] = (2.0 * ((yr * yr) - (yi * yi))) - 1.0;
        cosh_z->im[i] = 4.0 * yr * yi;
    }
}

/* A cylinder of any length: series for a fraction of it, then doubled. */
static void cylinder(const struct hbk_band *band, double length_m,
                     double radius_m, struct hbk_twoport *out)
{
    struct hbk_line line;
    hbk_losses_line(band, radius_m, &line);
    struct lanes z;
    double piece_m = length_m;
    int doublings = 0;
    for (;;) {
        square_of_path(&line, piece_m, &z);
        double largest = 0.0;
        for (size_t i = 0; i < HBK_LANES; i++) {
            largest = fmax(largest, fabs(z.re[i]) + fabs(z.im[i]));
        }
        if (largest <= SERIES_REACH) {
            break;
        }
        piece_m *= 0.5;
        doublings++;
    }
    struct lanes y;
    struct lanes x;
    power_series(COSH, &z, &y);
    power_series(SINHC, &z, &x);
    for (; doublings > 0; doublings--) {
        double_up(&y, &x);
    }
    const double area = HBK_PI * radius_m * radius_m;
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double xr = length_m * x.re[i];
        const double xi = length_m * x.im[i];
        out->ar[i] = y.re[i];
        out->ai[i] = y.im[i];
        out->br[i] = ((line.zr[i] * xr) - (line.zi[i] * xi)) / area;
        out->bi[i] = ((line.zr[i] * xi) + (line.zi[i] * xr)) / area;
        out->cr[i] = area * ((line.yr[i] * xr) - (line.yi[i] * xi));
        out->ci[i] = area * ((line.yr[i] * xi) + (line.yi[i] * xr));
        out->dr[i] = y.re[i];
        out->di[i] = y.im[i];
    }
}

/* The wave in a slice: its length, and its area over pi a^2. */
struct shape {
    double stretch;
    double cap;
};

static struct shape shape_of(const struct hbk_tube *tube,
                             enum hbk_fronts fronts)
{
    if (fronts == HBK_FRONTS_PLANE) {
        return (struct shape){1.0, 1.0};
    }
    const double slope = (tube->far_m - tube->near_m) / tube->length_m;
    const double stretch = sqrt(1.0 + (slope * slope));
    return (struct shape){stretch, 2.0 / (1.0 + (1.0 / stretch))};
}

/*
 * The radius whose inverse is the mean of 1/a over a cone. For nearly equal
 * radii the quotient would be 0/0; the middle differs by less than rounding.
 */
static double mean_radius(double a1, double a2)
{
    const double rise = (a2 - a1) / a1;
    return fabs(rise) < 1e-8 ? 0.5 * (a1 + a2) : (a2 - a1) / log1p(rise);
}

/* One slice of a cone, short enough for the series. */
static void slice(const struct hbk_band *band, const struct hbk_tube *tube,
                  struct shape shape, struct hbk_twoport *out)
{
    const double a1 = tube->near_m;
    const double a2 = tube->far_m;
    const double length = tube->length_m * shape.stretch;
    struct hbk_line line;
    hbk_losses_line(band, mean_radius(a1, a2), &line);
    struct lanes z;
    struct lanes y;
    struct lanes x;
    struct lanes q;
    square_of_path(&line, length, &z);
    power_series(COSH, &z, &y);
    power_series(SINHC, &z, &x);
    power_series(CURVE, &z, &q);
    const double area = HBK_PI * a1 * a2 * shape.cap;
    const double near_rise = (a2 - a1) / a1; /* i1 L */
    const double far_rise = (a2 - a1) / a2;  /* i2 L */
    const double bend = near_rise * far_rise;
    for (size_t i = 0; i < HBK_LANES; i++) {
        out->ar[i] = (a2 / a1) * (y.re[i] - (far_rise * x.re[i]));
        out->ai[i] = (a2 / a1) * (y.im[i] - (far_rise * x.im[i]));
        out->dr[i] = (a1 / a2) * (y.re[i] + (near_rise * x.re[i]));
        out->di[i] = (a1 / a2) * (y.im[i] + (near_rise * x.im[i]));
        const double xr = length * x.re[i];
        const double xi = length * x.im[i];
        out->br[i] = ((line.zr[i] * xr) - (line.zi[i] * xi)) / area;
        out->bi[i] = ((line.zr[i] * xi) + (line.zi[i] * xr)) / area;
        const double er = xr + (length * bend * q.re[i]);
        const double ei = xi + (length * bend * q.im[i]);
        out->cr[i] = area * ((line.yr[i] * er) - (line.yi[i] * ei));
        out->ci[i] = area * ((line.yr[i] * ei) + (line.yi[i] * er));
    }
}

/* How far along the axis the next slice may go from radius a. */
static double next_slice(double slope, double a, double longest_m)
{
    const double allowed =
        slope > 0.0 ? (SLICE_RATIO - 1.0) * a / slope
                    : (1.0 - (1.0 / SLICE_RATIO)) * a / fmax(-slope, 1e-300);
    return fmin(allowed, longest_m);
}

void hbk_tube_twoport(const struct hbk_band *band, const struct hbk_tube *tube,
                      enum hbk_fronts fronts, struct hbk_twoport *out)
{
    if (!(tube->length_m > 0.0)) {
        hbk_twoport_identity(out);
        return;
    }
    if (is_cylinder(tube)) {
        cylinder(band, tube->length_m, tube->near_m, out);
        return;
    }
    const struct shape shape = shape_of(tube, fronts);
    /* 0.55 leaves room for the slower wave in a narrow tube. */
    const double longest_m = fmin(
        SLICE_LENGTH_M, 0.55 / (band->highest_wave_number * shape.stretch));
    const double slope = (tube->far_m - tube->near_m) / tube->length_m;
    double x = 0.0;
    double a = tube->near_m;
    bool first = true;
    while (x < tube->length_m) {
        double end = x + next_slice(slope, a, longest_m);
        double end_radius = tube->near_m + (slope * end);
        if (end >= tube->length_m * (1.0 - 1e-9)) {
            end = tube->length_m;
            end_radius = tube->far_m;
        }
        const struct hbk_tube piece = {end - x, a, end_radius};
        struct hbk_twoport port;
        slice(band, &piece, shape, &port);
        if (first) {
            *out = port;
        } else {
            hbk_twoport_chain(out, &port, out);
        }
        first = false;
        x = end;
        a = end_radius;
    }
}

size_t hbk_tube_slices(const struct hbk_tube *tube)
{
    if (!(tube->length_m > 0.0) || is_cylinder(tube)) {
        return 1;
    }
    const double by_ratio =
        fabs(log(tube->far_m / tube->near_m)) / log(SLICE_RATIO);
    return (size_t)(by_ratio + (tube->length_m / SLICE_LENGTH_M)) + 2;
}

double hbk_tube_step_length(double near_m, double far_m)
{
    const double a1 = fmin(near_m, far_m);
    const double a2 = fmax(near_m, far_m);
    return 0.82 * a1 * fmax(0.0, 1.0 - (1.25 * a1 / a2));
}

void hbk_tube_step(const struct hbk_band *band, double near_m, double far_m,
                   struct hbk_twoport *out)
{
    const double a1 = fmin(near_m, far_m);
    const double mass = band->air->density *
                        hbk_tube_step_length(near_m, far_m) /
                        (HBK_PI * a1 * a1);
    hbk_twoport_identity(out);
    for (size_t i = 0; i < HBK_LANES; i++) {
        out->bi[i] = band->omega[i] * mass;
    }
}

double hbk_tube_inertance(const struct hbk_tube *tube)
{
    return tube->length_m / (HBK_PI * tube->near_m * tube->far_m);
}
