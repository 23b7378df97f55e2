#ifndef HBK_TESTS_CHECK_H
#define HBK_TESTS_CHECK_H

/* cmocka wants these four before itself. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

/* Two checks for doubles, not one mixed one: absolute and relative. */
#define check_abs(got, want, tol)                                              \
    check_within((got), (want), (tol), #got, __FILE__, __LINE__)
#define check_rel(got, want, tol)                                              \
    check_within((got), (want), (tol)*fabs(want), #got, __FILE__, __LINE__)

static inline void check_within(double got, double want, double limit,
                                const char *what, const char *file, int line)
{
    if (!(fabs(got - want) <= limit)) { /* so that NaN fails */
        print_error("%s = %.17g, want %.17g +- %.3g\n", what, got, want, limit);
        _fail(file, line);
    }
}

#endif
