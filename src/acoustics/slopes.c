#include "acoustics/slopes.h"

#include "acoustics/turns.h"

#include <math.h>
#include <string.h>

enum { BLOCK = HBK_SLOPES_BLOCK };

/* Fourth order second difference; y[-2] .. y[2] are read. */
static inline double bend_of(const double *y)
{
    return ((4.0 / 3.0) * (y[1] + y[-1])) - ((1.0 / 12.0) * (y[2] + y[-2])) -
           (2.5 * y[0]);
}

static inline double zero_of(double u2, double du2, double square)
{
    const double along = -du2 / square;
    const double off = (u2 * square) - (du2 * du2); /* times square^2 */
    const double far = HBK_SLOPES_FAR * HBK_SLOPES_FAR * square * square;
    return ((off < far) & (fabs(du2) < square)) != 0 ? along
                                                     : HBK_SLOPES_UNSEEN;
}

/*
 * Grid points i .. i + BLOCK - 1. What is written lies apart from what is read,
 * or nothing is vectorised.
 */
static void set_block(const struct hbk_slopes_of *of, size_t i,
                      double *restrict rise, double *restrict bend,
                      double *restrict modulus, double *restrict zero)
{
    const double *const pr = of->part[0] + i;
    const double *const pi = of->part[1] + i;
    const double *const ur = of->part[2] + i;
    const double *const ui = of->part[3] + i;
    for (size_t k = 0; k < BLOCK; k++) {
        const double dpr = hbk_turns_difference(pr + k);
        const double dpi = hbk_turns_difference(pi + k);
        const double dur = hbk_turns_difference(ur + k);
        const double dui = hbk_turns_difference(ui + k);
        const double p2 = (pr[k] * pr[k]) + (pi[k] * pi[k]);
        const double u2 = (ur[k] * ur[k]) + (ui[k] * ui[k]);
        const double dp2 = (pr[k] * dpr) + (pi[k] * dpi);
        const double du2 = (ur[k] * dur) + (ui[k] * dui);
        const double square = (dur * dur) + (dui * dui);
        const double ddp2 = (dpr * dpr) + (dpi * dpi) +
                            (pr[k] * bend_of(pr + k)) +
                            (pi[k] * bend_of(pi + k));
        const double ddu2 =
            square + (ur[k] * bend_of(ur + k)) + (ui[k] * bend_of(ui + k));
        rise[k] = (dp2 * u2) - (p2 * du2);
        bend[k] = (ddp2 * u2) - (p2 * ddu2);
        zero[k] = zero_of(u2, du2, square);
        modulus[k] = u2;
    }
}

void hbk_slopes_set(const struct hbk_slopes_of *of,
                    const struct hbk_slopes *slopes)
{
    const size_t end = of->n - 3;
    for (size_t i = 3; i < end; i += BLOCK) {
        /* The last block overlaps the one before it. */
        const size_t at = i + BLOCK <= end ? i : end - BLOCK;
        set_block(of, at, slopes->rise + at, slopes->bend + at, slopes->u2 + at,
                  slopes->zero + at);
    }
}
