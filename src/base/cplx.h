#ifndef HBK_BASE_CPLX_H
#define HBK_BASE_CPLX_H

#include <complex.h>

/*
 * re + j im, exactly. `re + I * im` would lose signed zeros, and the macro
 * CMPLX is missing with some compilers on glibc.
 */
static inline double complex hbk_cplx(double re, double im)
{
    const union {
        double parts[2];
        double complex whole;
    } z = {.parts = {re, im}};
    return z.whole;
}

#endif
