#ifndef HBK_HORN_FITTED_H
#define HBK_HORN_FITTED_H

#include <stddef.h>

/* A number of the file that was fitted. */
struct hbk_fitted_value {
    const char *what;   /* "loop of valve 1" */
    double was, is;     /* before and after, in the unit */
    double uncertainty; /* one standard deviation, > 0 */
    const char *unit;
    size_t n_readings; /* that bear on it */
};

/*
 * How a remark begins that a fit makes, to a tuner and to key names alone; a
 * later fit puts its own in their place.
 */
#define HBK_FITTED_REMARK "Fitted to "
#define HBK_SHAPED_REMARK "Shape fitted to the key names; "

struct hbk_fitted {
    size_t n_names;    /* of keys, notes that were followed */
    size_t n_readings; /* of a tuner; both 0 when the horn was never fitted */
    size_t n_set_aside;
    double left_out_cents; /* error to expect of a note that was not read */
    const char *source;    /* or NULL */
    size_t n;
    const struct hbk_fitted_value *values;
};

#endif
