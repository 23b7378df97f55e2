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

struct block {
    double rise[BLOCK], bend[BLOCK], u2[BLOCK], zero[BLOCK];
};

/* What is written lies apart from what is read, or nothing is vectorised. */
static void set_block(const double *pr, const double *pi, const double *ur,
                      const double *ui, struct block *restrict block)
{
    for (size_t i = 0; i < BLOCK; i++) {
        const double dpr = hbk_turns_difference(pr + i);
        const double dpi = hbk_turns_difference(pi + i);
        const double dur = hbk_turns_difference(ur + i);
        const double dui = hbk_turns_difference(ui + i);
        const double p2 = (pr[i] * pr[i]) + (pi[i] * pi[i]);
        const double u2 = (ur[i] * ur[i]) + (ui[i] * ui[i]);
        const double dp2 = (pr[i] * dpr) + (pi[i] * dpi);
        const double du2 = (ur[i] * dur) + (ui[i] * dui);
        const double square = (dur * dur) + (dui * dui);
        const double ddp2 = (dpr * dpr) + (dpi * dpi) +
                            (pr[i] * bend_of(pr + i)) +
                            (pi[i] * bend_of(pi + i));
        const double ddu2 =
            square + (ur[i] * bend_of(ur + i)) + (ui[i] * bend_of(ui + i));
        block->rise[i] = (dp2 * u2) - (p2 * du2);
        block->bend[i] = (ddp2 * u2) - (p2 * ddu2);
        block->zero[i] = zero_of(u2, du2, square);
        block->u2[i] = u2;
    }
}

void hbk_slopes_set(const struct hbk_slopes_of *of,
                    const struct hbk_slopes *slopes)
{
    const size_t end = of->n - 3;
    for (size_t i = 3; i < end; i += BLOCK) {
        /* The last block overlaps the one before it. */
        const size_t at = i + BLOCK <= end ? i : end - BLOCK;
        struct block block;
        set_block(of->part[0] + at, of->part[1] + at, of->part[2] + at,
                  of->part[3] + at, &block);
        memcpy(slopes->rise + at, block.rise, sizeof(block.rise));
        memcpy(slopes->bend + at, block.bend, sizeof(block.bend));
        memcpy(slopes->u2 + at, block.u2, sizeof(block.u2));
        memcpy(slopes->zero + at, block.zero, sizeof(block.zero));
    }
}
