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

/* A decimal whole number from `low` to `high` that fills `text`. */
bool hbk_number_parse_whole(const char *text, long low, long high, long *value);

#endif
