#ifndef HBK_TUNE_MELODY_RATIO_H
#define HBK_TUNE_MELODY_RATIO_H

#include <stdbool.h>
#include <stdint.h>

/*
 * Exact time. Always in lowest terms with den > 0; neither part is ever
 * INT64_MIN. Triplets and dotted notes stay exact however long the tune.
 */
struct hbk_ratio {
    int64_t num;
    int64_t den;
};

/* n / 1. */
struct hbk_ratio hbk_ratio_whole(int64_t n);

/*
 * The functions below return false, and leave `out` alone, when the result
 * does not fit or a denominator is 0. `out` may be one of the arguments.
 */
bool hbk_ratio_make(int64_t num, int64_t den, struct hbk_ratio *out);
bool hbk_ratio_add(struct hbk_ratio a, struct hbk_ratio b,
                   struct hbk_ratio *out);
bool hbk_ratio_sub(struct hbk_ratio a, struct hbk_ratio b,
                   struct hbk_ratio *out);
bool hbk_ratio_mul(struct hbk_ratio a, struct hbk_ratio b,
                   struct hbk_ratio *out);
bool hbk_ratio_div(struct hbk_ratio a, struct hbk_ratio b,
                   struct hbk_ratio *out);

/*
 * A plain decimal number such as "12" or "0.375" that fills `text`, without
 * exponent and with at most nine digits before and after the point.
 */
bool hbk_ratio_parse(const char *text, struct hbk_ratio *out);

/* Negative, 0 or positive as a is less than, equal to or more than b. */
int hbk_ratio_compare(struct hbk_ratio a, struct hbk_ratio b);
bool hbk_ratio_equal(struct hbk_ratio a, struct hbk_ratio b);

/* The nearest double. */
double hbk_ratio_value(struct hbk_ratio a);

enum { HBK_RATIO_TEXT = 48 };

/* "3/4", "2", "-1/3"; returns `text`. */
char *hbk_ratio_text(struct hbk_ratio a, char text[HBK_RATIO_TEXT]);

#endif
