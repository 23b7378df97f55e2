#ifndef HBK_BASE_NUMBER_H
#define HBK_BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Reads a decimal number that fills `text` from end to end: optional sign,
 * digits with an optional point, optional exponent. No spaces, no hexadecimal,
 * no infinity, no NaN, nothing after it, and never the user's locale. Returns
 * false and leaves `value` alone otherwise, or when it does not fit a double.
 */
bool hbk_number_parse(const char *text, double *value);

/*
 * The same for the number at the start of `text`; `used` receives its length
 * in bytes.
 */
bool hbk_number_prefix(const char *text, double *value, size_t *used);

/*
 * The digits at the start of `text`, at least one and at most `most` (up to 9)
 * of them: sets `value` and returns what is left. NULL, with `value` left
 * alone, when there is none or one too many.
 */
const char *hbk_number_count(const char *text, size_t most, long *value);

/* A decimal whole number from `low` to `high` that fills `text`. */
bool hbk_number_parse_whole(const char *text, long low, long high, long *value);

enum { HBK_KNOWN_SIZE = 32 };

/*
 * Decimals that show a number known to a standard deviation `sd`: two
 * figures of it, six decimals at most and none at least. Two figures are
 * what JCGM 100:2008 (GUM) 7.2.6 calls usually enough.
 */
int hbk_known_decimals(double sd);

/* `value` with so many decimals, "5.5", "-0.1", never "-0.0"; in `text`. */
char *hbk_known_text(double value, double sd, char text[HBK_KNOWN_SIZE]);

#endif
