#ifndef HBK_FIT_GOODNESS_H
#define HBK_FIT_GOODNESS_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Whether errors are no larger than they were expected to be.
 *
 * With errors r that are normal, of mean 0 and covariance C, r' C^-1 r is
 * distributed as chi-square with as many degrees of freedom as there are
 * errors: what is uncertain of the layout stands in C and takes none away.
 * Too large a value refuses; the right layout is refused by chance once in
 * 1 / HBK_GOODNESS_CHANCE pages. Small values are no fault, since partials
 * are taken so that they fit.
 *
 * One slip among many readings must not refuse the right layout. So the
 * reading that contradicts the others most, by its deletion residual
 * w_i / sqrt((C^-1)_ii) with w = C^-1 r, may be set aside and the rest judged
 * with a degree of freedom less: one of six readings or more, one more for
 * every twenty. Setting aside only lowers the sum, so the right layout is
 * refused no more often than said.
 *
 * Source: multivariate normal and chi-square distributions, any textbook of
 * statistics (from memory); what may be set aside is our choice.
 */
#define HBK_GOODNESS_CHANCE 0.001

struct hbk_goodness {
    double chi_square; /* of those not set aside */
    size_t n;          /* of them */
    size_t n_aside;
    double chance; /* that as large a value comes of chance alone, 0 to 1 */
    bool is_good;  /* chance >= HBK_GOODNESS_CHANCE */
};

/*
 * n            at least 1
 * covariance   n x n; overwritten. Where it is not positive definite nothing
 *              is good.
 * rest         the errors
 */
struct hbk_goodness hbk_goodness_of(size_t n, double covariance[],
                                    const double rest[]);

/*
 * P(X > x) for chi-square with n degrees of freedom, n >= 1: the closed sums
 * for whole n, Abramowitz and Stegun 26.4.4 and 26.4.5 (from memory), good
 * to rounding.
 */
double hbk_chi_square_tail(double x, size_t n);

/* The x with P(X > x) = chance, 0 < chance < 1, to 1e-9 of it. */
double hbk_chi_square_limit(double chance, size_t n);

#endif
