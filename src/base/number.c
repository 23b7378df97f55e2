#define _GNU_SOURCE /* strtod_l */
#include "base/number.h"

#include <assert.h>
#include <errno.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A whole number of 9 digits fits every long. */
enum { NUMBER_MAX = 64, DIGITS_MAX = 9 };

static size_t digits_at(const char *text)
{
    return strspn(text, "0123456789");
}

/* How many bytes at the start of `text` form a number; 0 for none. */
static size_t grammar(const char *text)
{
    size_t i = (text[0] == '+' || text[0] == '-') ? 1 : 0;
    const size_t whole = digits_at(text + i);
    i += whole;
    size_t fraction = 0;
    if (text[i] == '.') {
        fraction = digits_at(text + i + 1);
        i += fraction > 0 || whole > 0 ? 1 + fraction : 0;
    }
    if (whole + fraction == 0) {
        return 0;
    }
    if (text[i] == 'e' || text[i] == 'E') {
        const size_t sign = (text[i + 1] == '+' || text[i + 1] == '-') ? 1 : 0;
        const size_t exponent = digits_at(text + i + 1 + sign);
        i += exponent > 0 ? 1 + sign + exponent : 0;
    }
    return i;
}

bool hbk_number_prefix(const char *text, double *value, size_t *used)
{
    static locale_t plain; /* the C locale, made once and kept */
    const size_t length = grammar(text);
    if (length == 0 || length >= NUMBER_MAX) {
        return false;
    }
    if (plain == (locale_t)0) {
        plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    }
    char copy[NUMBER_MAX];
    memcpy(copy, text, length);
    copy[length] = '\0';
    errno = 0;
    const double parsed = strtod_l(copy, NULL, plain);
    if (!isfinite(parsed)) {
        return false;
    }
    *value = parsed;
    *used = length;
    return true;
}

bool hbk_number_parse(const char *text, double *value)
{
    double parsed = 0.0;
    size_t used = 0;
    if (!hbk_number_prefix(text, &parsed, &used) || text[used] != '\0') {
        return false;
    }
    *value = parsed;
    return true;
}

const char *hbk_number_count(const char *text, size_t most, long *value)
{
    const size_t digits = digits_at(text);
    assert(most <= DIGITS_MAX);
    if (digits == 0 || digits > most) {
        return NULL;
    }
    *value = strtol(text, NULL, 10);
    return text + digits;
}

bool hbk_number_parse_whole(const char *text, long low, long high, long *value)
{
    const size_t sign = (text[0] == '+' || text[0] == '-') ? 1 : 0;
    const size_t digits = digits_at(text + sign);
    if (digits == 0 || digits > DIGITS_MAX || text[sign + digits] != '\0') {
        return false;
    }
    const long parsed = strtol(text, NULL, 10);
    if (parsed < low || parsed > high) {
        return false;
    }
    *value = parsed;
    return true;
}

int hbk_known_decimals(double sd)
{
    static const int most = 6;
    if (!(sd > 1e-6)) {
        return most;
    }
    const int decimals = 1 - (int)floor(log10(sd));
    /* 9.96 becomes 10, not 10.0. */
    const bool carries = round(sd * pow(10.0, decimals)) >= 100.0;
    const int kept = decimals - (carries ? 1 : 0);
    return kept < 0 ? 0 : kept > most ? most : kept;
}

char *hbk_known_text(double value, double sd, char text[HBK_KNOWN_SIZE])
{
    const int decimals = hbk_known_decimals(sd);
    const double scale = pow(10.0, decimals);
    const double rounded = round(value * scale) / scale;
    (void)snprintf(text, HBK_KNOWN_SIZE, "%.*f", decimals,
                   rounded == 0.0 ? 0.0 : rounded);
    return text;
}
