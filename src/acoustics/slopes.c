#include "acoustics/slopes.h"

#include "acoustics/pair.h"

#include <math.h>

/* The squares of p or U at two grid points and how they change. */
struct squares {
    hbk_pair modulus;
    hbk_pair slope;  /* half the first derivative of the modulus */
    hbk_pair square; /* of the derivative of p or U */
    hbk_pair bend;   /* half the second derivative of the modulus */
};

/*
 * What the real or the imaginary part adds, from the differences of struct
 * hbk_slopes times 60 and 12. y[-3] .. y[4] are read.
 */
static inline struct squares of_part(const double *y)
{
    const hbk_pair here = hbk_pair_at(y);
    const hbk_pair left = hbk_pair_at(y - 1);
    const hbk_pair right = hbk_pair_at(y + 1);
    const hbk_pair left2 = hbk_pair_at(y - 2);
    const hbk_pair right2 = hbk_pair_at(y + 2);
    const hbk_pair wide = hbk_pair_at(y + 3) - hbk_pair_at(y - 3);
    const hbk_pair first =
        (45.0 * (right - left)) - (9.0 * (right2 - left2)) + wide;
    /* The second difference is this less 30 times y itself. */
    const hbk_pair around = (16.0 * (right + left)) - (right2 + left2);
    return (struct squares){here * here, here * first, first * first,
                            here * around};
}

static inline struct squares squares_of(const double *re, const double *im)
{
    const struct squares x = of_part(re);
    const struct squares y = of_part(im);
    const hbk_pair modulus = x.modulus + y.modulus;
    const hbk_pair square = (x.square + y.square) * (1.0 / 3600.0);
    const hbk_pair bend = x.bend + y.bend - (30.0 * modulus);
    return (struct squares){
        .modulus = modulus,
        .slope = (x.slope + y.slope) * (1.0 / 60.0),
        .square = square,
        .bend = square + (bend * (1.0 / 12.0)),
    };
}

static inline hbk_pair zero_of(const struct squares *u)
{
    const hbk_pair off = (u->modulus * u->square) - (u->slope * u->slope);
    const hbk_pair far = HBK_SLOPES_FAR * u->square;
    const hbk_sides seen = hbk_pair_negative(
        off - (far * far), hbk_pair_size(u->slope) - u->square);
    const hbk_pair unseen = {HBK_SLOPES_UNSEEN, HBK_SLOPES_UNSEEN};
    return hbk_pair_chosen(seen, -u->slope / u->square, unseen);
}

void hbk_slopes_set(const struct hbk_slopes_of *of,
                    const struct hbk_slopes *slopes)
{
    const size_t end = of->n - 3;
    for (size_t i = 3; i < end; i += 2) {
        /* The last two overlap those before them where they must. */
        const size_t at = i + 2 <= end ? i : end - 2;
        const struct squares p = squares_of(of->part[0] + at, of->part[1] + at);
        const struct squares u = squares_of(of->part[2] + at, of->part[3] + at);
        hbk_pair_put((p.slope * u.modulus) - (p.modulus * u.slope),
                     slopes->rise + at);
        hbk_pair_put((p.bend * u.modulus) - (p.modulus * u.bend),
                     slopes->bend + at);
        hbk_pair_put(u.modulus, slopes->u2 + at);
        hbk_pair_put(zero_of(&u), slopes->zero + at);
    }
}
