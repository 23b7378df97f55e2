#include "tune/melody/ratio.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

struct hbk_ratio hbk_ratio_whole(int64_t n)
{
    return (struct hbk_ratio){.num = n, .den = 1};
}

static int64_t common_divisor(int64_t a, int64_t b)
{
    while (b != 0) {
        const int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

bool hbk_ratio_make(int64_t num, int64_t den, struct hbk_ratio *out)
{
    if (den == 0 || num == INT64_MIN || den == INT64_MIN) {
        return false;
    }
    if (den < 0) {
        num = -num;
        den = -den;
    }
    const int64_t divisor = common_divisor(num < 0 ? -num : num, den);
    *out = (struct hbk_ratio){.num = num / divisor, .den = den / divisor};
    return true;
}

bool hbk_ratio_mul(struct hbk_ratio a, struct hbk_ratio b,
                   struct hbk_ratio *out)
{
    /* Crosswise first, so that only results too large overflow. */
    struct hbk_ratio left;
    struct hbk_ratio right;
    int64_t num = 0;
    int64_t den = 0;
    return hbk_ratio_make(a.num, b.den, &left) &&
           hbk_ratio_make(b.num, a.den, &right) &&
           !__builtin_mul_overflow(left.num, right.num, &num) &&
           !__builtin_mul_overflow(left.den, right.den, &den) &&
           hbk_ratio_make(num, den, out);
}

bool hbk_ratio_div(struct hbk_ratio a, struct hbk_ratio b,
                   struct hbk_ratio *out)
{
    struct hbk_ratio turned;
    return hbk_ratio_make(b.den, b.num, &turned) &&
           hbk_ratio_mul(a, turned, out);
}

bool hbk_ratio_add(struct hbk_ratio a, struct hbk_ratio b,
                   struct hbk_ratio *out)
{
    const int64_t divisor = common_divisor(a.den, b.den);
    int64_t left = 0;
    int64_t right = 0;
    int64_t num = 0;
    int64_t den = 0;
    return !__builtin_mul_overflow(a.num, b.den / divisor, &left) &&
           !__builtin_mul_overflow(b.num, a.den / divisor, &right) &&
           !__builtin_add_overflow(left, right, &num) &&
           !__builtin_mul_overflow(a.den / divisor, b.den, &den) &&
           hbk_ratio_make(num, den, out);
}

bool hbk_ratio_sub(struct hbk_ratio a, struct hbk_ratio b,
                   struct hbk_ratio *out)
{
    return hbk_ratio_add(a, (struct hbk_ratio){.num = -b.num, .den = b.den},
                         out);
}

bool hbk_ratio_parse(const char *text, struct hbk_ratio *out)
{
    const char *const digits = "0123456789";
    const bool minus = text[0] == '-';
    const char *const from = text + (minus || text[0] == '+' ? 1 : 0);
    const size_t whole = strspn(from, digits);
    const bool point = from[whole] == '.';
    const char *const after = from + whole + (point ? 1 : 0);
    const size_t part = point ? strspn(after, digits) : 0;
    if (whole + part == 0 || whole > 9 || part > 9 || after[part] != '\0') {
        return false;
    }
    int64_t num = 0;
    int64_t den = 1;
    for (size_t i = 0; i < whole; i++) {
        num = (10 * num) + (from[i] - '0');
    }
    for (size_t i = 0; i < part; i++) {
        num = (10 * num) + (after[i] - '0');
        den *= 10;
    }
    return hbk_ratio_make(minus ? -num : num, den, out);
}

static int64_t floor_of(struct hbk_ratio a)
{
    const int64_t quotient = a.num / a.den;
    return a.num % a.den < 0 ? quotient - 1 : quotient;
}

static int order(int64_t a, int64_t b)
{
    return a < b ? -1 : a > b;
}

/* By continued fractions: the cross products may not fit. */
int hbk_ratio_compare(struct hbk_ratio a, struct hbk_ratio b)
{
    int sense = 1;
    for (;;) {
        const int64_t fa = floor_of(a);
        const int64_t fb = floor_of(b);
        if (fa != fb) {
            return sense * order(fa, fb);
        }
        const int64_t ra = a.num - (fa * a.den);
        const int64_t rb = b.num - (fb * b.den);
        if (ra == 0 || rb == 0) {
            return sense * order(ra, rb);
        }
        a = (struct hbk_ratio){.num = a.den, .den = ra};
        b = (struct hbk_ratio){.num = b.den, .den = rb};
        sense = -sense;
    }
}

bool hbk_ratio_equal(struct hbk_ratio a, struct hbk_ratio b)
{
    return a.num == b.num && a.den == b.den;
}

double hbk_ratio_value(struct hbk_ratio a)
{
    return (double)a.num / (double)a.den;
}

char *hbk_ratio_text(struct hbk_ratio a, char text[HBK_RATIO_TEXT])
{
    if (a.den == 1) {
        (void)snprintf(text, HBK_RATIO_TEXT, "%" PRId64, a.num);
    } else {
        (void)snprintf(text, HBK_RATIO_TEXT, "%" PRId64 "/%" PRId64, a.num,
                       a.den);
    }
    return text;
}
