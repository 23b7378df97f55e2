#include "acoustics/radiation.h"

#include "base/cplx.h"
#include "base/pi.h"

#include <math.h>

enum { FIT_TERMS = 15 };
static const double FIT_MODULUS[FIT_TERMS] = {
    6.68338128e-01,  -4.59034361e-01, -1.08669985e-01, 4.09690763e-02,
    1.96889503e-02,  -5.52318045e-03, -2.34978761e-03, 8.52558175e-04,
    1.56941998e-04,  -1.10901916e-04, 2.53242868e-06,  1.15960151e-05,
    -3.13229394e-06, -5.58213329e-07, 5.64126065e-07};
static const double FIT_LENGTH[FIT_TERMS] = {
    5.06333885e-01,  -1.52166118e-01, -4.72476984e-02, 1.42158167e-03,
    1.71442693e-03,  -1.56862997e-03, -2.47180817e-04, 1.26093616e-04,
    -6.84218331e-05, -2.27039184e-05, 5.20184978e-06,  -2.97024382e-06,
    -1.88901744e-06, 1.20726553e-07,  -1.45464914e-07};
static const double FIT_REACH = 3.0;
static const double CUBIC_REACH = 3.55;
/*
 * Below this the fit's 2e-7 would matter against 1 - |R| = (ka)^2 / 2 and
 * could make an end that gives energy; the series for small ka takes over.
 */
static const double SMALL_KA = 0.05;

/* The sum of c[n] T_n(u), by Clenshaw's recurrence. */
static double chebyshev(const double c[FIT_TERMS], double u)
{
    double b1 = 0.0;
    double b2 = 0.0;
    for (size_t n = FIT_TERMS - 1; n > 0; n--) {
        const double b0 = (2.0 * u * b1) - b2 + c[n];
        b2 = b1;
        b1 = b0;
    }
    return (u * b1) - b2 + c[0];
}

static double large_ka_modulus(double ka)
{
    return sqrt(HBK_PI * ka) * exp(-ka) * (1.0 + (3.0 / (32.0 * ka * ka)));
}

static struct hbk_reflection past_the_fit(double ka)
{
    const double d = fmin(ka, CUBIC_REACH) - FIT_REACH;
    const double modulus =
        0.154327 + (d * (-0.129479 + (d * (0.050036 - (0.009897 * d)))));
    const double length =
        0.308278 +
        (d * (-0.116633 +
              (d * (-0.013904 +
                    (d * (-0.040993 + (d * (0.056777 - (0.088119 * d)))))))));
    if (ka <= CUBIC_REACH) {
        return (struct hbk_reflection){modulus, length};
    }
    const double scale = modulus / large_ka_modulus(CUBIC_REACH);
    return (struct hbk_reflection){scale * large_ka_modulus(ka), length};
}

static struct hbk_reflection unflanged(double ka)
{
    if (ka > FIT_REACH) {
        return past_the_fit(ka);
    }
    const double u = (2.0 * sqrt(ka / FIT_REACH)) - 1.0;
    struct hbk_reflection r = {chebyshev(FIT_MODULUS, u),
                               chebyshev(FIT_LENGTH, u)};
    if (ka < SMALL_KA) {
        const double q = ka * ka;
        /* q^2 ln(1/ka) tends to 0 with ka; the floor keeps the log finite. */
        const double bracket =
            log(1.0 / (1.7811 * fmax(ka, 1e-12))) + (19.0 / 12.0);
        r.modulus = exp(-0.5 * q) * (1.0 + ((q * q / 6.0) * bracket));
    }
    return r;
}

static struct hbk_reflection flanged(double ka)
{
    const double q = ka * ka;
    const double modulus = (1.0 + (0.730 * q)) /
                           (1.0 + (q * (1.730 + (q * (0.372 + (q * 0.0231))))));
    const double length =
        0.8216 * (1.0 + (0.244 * q)) /
        (1.0 + (q * (0.723 + (q * (-0.0198 + (q * 0.00366))))));
    return (struct hbk_reflection){modulus, length};
}

struct hbk_reflection hbk_radiation_reflection(enum hbk_bell bell, double ka)
{
    switch (bell) {
    case HBK_BELL_UNFLANGED:
        return unflanged(ka);
    case HBK_BELL_FLANGED:
        return flanged(ka);
    case HBK_BELL_IDEAL:
        break;
    }
    return (struct hbk_reflection){1.0, 0.0};
}

double hbk_radiation_low_length(enum hbk_bell bell)
{
    return hbk_radiation_reflection(bell, 0.0).length_per_a;
}

void hbk_radiation_load(const struct hbk_band *band, enum hbk_bell bell,
                        double radius_m, double extra_m, struct hbk_wave *wave)
{
    const struct hbk_air *const air = band->air;
    const double area = HBK_PI * radius_m * radius_m;
    for (size_t i = 0; i < HBK_LANES; i++) {
        double re = 0.0;
        double im = 0.0;
        if (bell != HBK_BELL_IDEAL) {
            const double ka = band->omega[i] * radius_m / air->speed;
            const struct hbk_reflection r = hbk_radiation_reflection(bell, ka);
            const double turn = 2.0 * ka * r.length_per_a;
            /* (1 + R)/(1 - R) with R = -m exp(-j turn). */
            const double m = r.modulus;
            const double c = cos(turn);
            const double scale = air->density * air->speed /
                                 (area * (1.0 + (m * m) + (2.0 * m * c)));
            re = scale * (1.0 - m) * (1.0 + m);
            im = scale * 2.0 * m * sin(turn);
        }
        wave->pr[i] = re;
        wave->pi[i] = im + (band->omega[i] * air->density * extra_m / area);
        wave->ur[i] = 1.0;
        wave->ui[i] = 0.0;
    }
}
