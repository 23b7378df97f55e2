#include "acoustics/ear.h"

#include "acoustics/pair.h"

#include <math.h>
#include <stdbool.h>

enum {
    HARMONICS = HBK_EAR_HARMONICS,
    BESIDE = 2, /* maxima below a multiple, and above, that count at it */
    TERMS = HARMONICS * 2 * BESIDE,
    POINTS = 32, /* of the grid on which humps are looked for */
    BEFORE = 15, /* of them below the maximum */
    NEWTON = 2   /* steps from the grid: 1e-4 cent */
};

/* Cents as a share of a frequency, for small ones. */
static const double A_CENT = 0.69314718055994530942 / 1200.0;
/* The grid: points as far apart as this share of the frequency, 12.5 cents. */
static const double STEP = 12.5 * 0.69314718055994530942 / 1200.0;
/* 2^(170/1200) and 2^(130/1200). */
static const double REACH = 1.1031789;
static const double FIRST_REACH = 1.0779823;
/* The part of the limit over which maxima fade out as harmonics. */
static const double FADE = 0.1;
/*
 * Multiples this much above the limit meet nothing: what lies there has faded
 * or is a skirt of a hundredth of its height, and even.
 */
static const double BEYOND = 1.1;

/*
 * What lies further from a multiple than this share of it is not heard there:
 * more than the reach and the width of a hump away, its skirt is a hundredth.
 */
static const double FAR = 1.0 / 6.0;

/* A maximum as R has it, and as a harmonic. */
struct tone {
    double hz;
    double inverse; /* 1/b */
    double height;  /* H b0/b over the greatest of them */
    double faded;   /* the same as a harmonic */
};

/*
 * S about one maximum: the sum of height / (1 + (slope f + offset)^2), of an
 * even number of terms.
 */
struct sum {
    size_t n;
    double slope[TERMS], offset[TERMS], height[TERMS];
};

static double clamp01(double x)
{
    return x < 0.0 ? 0.0 : (x > 1.0 ? 1.0 : x);
}

/* Returns the greatest height, which the others are shares of. */
static double make_tones(size_t n, const struct hbk_maximum maxima[],
                         double limit_hz, struct tone tones[])
{
    const double blur = 2.0 * HBK_EAR_BLUR_CENTS * A_CENT;
    double greatest = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double wider = 1.0 + (blur * maxima[i].q);
        tones[i].hz = maxima[i].hz;
        tones[i].inverse = 2.0 * maxima[i].q / (maxima[i].hz * wider);
        tones[i].height = maxima[i].height / wider;
        greatest = tones[i].height > greatest ? tones[i].height : greatest;
    }
    const double scale = 1.0 / greatest;
    for (size_t i = 0; i < n; i++) {
        tones[i].height *= scale;
        tones[i].faded = tones[i].height *
                         clamp01((limit_hz - tones[i].hz) / (FADE * limit_hz));
    }
    return greatest;
}

static void add_term(struct sum *sum, size_t k, const struct tone *tone,
                     double height)
{
    sum->slope[sum->n] = (double)k * tone->inverse;
    sum->offset[sum->n] = -tone->hz * tone->inverse;
    sum->height[sum->n] = height;
    sum->n++;
}

/*
 * The terms of S near tones[i]: the maximum itself, which its neighbours have
 * already had their part in, and what its harmonics meet. `above` has for every
 * harmonic the first tone that lies above the multiple, for the tone before; it
 * is moved on. Returns how many harmonics there are.
 */
static size_t make_sum(size_t n, const struct tone tones[], size_t i,
                       double highest_hz, size_t above[HARMONICS + 1],
                       struct sum *sum)
{
    size_t k = 2;
    sum->n = 0;
    add_term(sum, 1, &tones[i], tones[i].height);
    for (; k <= HARMONICS; k++) {
        const double hz = (double)k * tones[i].hz;
        if (hz > highest_hz) {
            break;
        }
        while (above[k] < n && tones[above[k]].hz <= hz) {
            above[k]++;
        }
        size_t first = above[k] > BESIDE ? above[k] - BESIDE : 0;
        size_t end = above[k] + BESIDE < n ? above[k] + BESIDE : n;
        while (first < end && tones[first].hz < (1.0 - FAR) * hz) {
            first++;
        }
        while (end > first && tones[end - 1].hz > (1.0 + FAR) * hz) {
            end--;
        }
        for (size_t m = first; m < end; m++) {
            add_term(sum, k, &tones[m], tones[m].faded / (double)k);
        }
    }
    if (sum->n % 2 != 0) {
        const struct tone none = {0};
        add_term(sum, 1, &none, 0.0);
    }
    return k - 1;
}

/* x of one term at the grid points: start, and step from one to the next. */
struct line {
    float start, step, height;
};

static struct line line_of(const struct sum *sum, size_t t, double hz)
{
    const double slope = sum->slope[t] * hz;
    return (struct line){
        .start = (float)((slope * (1.0 - (BEFORE * STEP))) + sum->offset[t]),
        .step = (float)(slope * STEP),
        .height = (float)sum->height[t]};
}

/*
 * S at the grid points, two terms to a division: no x is greater than a term
 * can be far, over the blur, so that nothing grows out of a float.
 */
static void make_grid(const struct sum *sum, double hz, float s[POINTS])
{
    for (size_t j = 0; j < POINTS; j++) {
        s[j] = 0.0F;
    }
    for (size_t t = 0; t < sum->n; t += 2) {
        const struct line a = line_of(sum, t, hz);
        const struct line b = line_of(sum, t + 1, hz);
        for (size_t j = 0; j < POINTS; j++) {
            const float at = (float)(int)j;
            const float x = a.start + (a.step * at);
            const float y = b.start + (b.step * at);
            const float p = 1.0F + (x * x);
            const float q = 1.0F + (y * y);
            s[j] += ((a.height * q) + (b.height * p)) / (p * q);
        }
    }
}

/* The grid point of a frequency, kept within the inner ones. */
static size_t point_of(double hz, double at_hz)
{
    const double j = (((at_hz / hz) - 1.0) / STEP) + BEFORE;
    return j < 1.0 ? 1 : (j > POINTS - 2.0 ? POINTS - 2 : (size_t)j);
}

/* The grid point of the highest hump between two frequencies, 0 for none. */
static size_t highest_hump(const float s[POINTS], double hz, double low_hz,
                           double high_hz)
{
    const size_t end = point_of(hz, high_hz);
    size_t best = 0;
    for (size_t j = point_of(hz, low_hz); j <= end; j++) {
        if (s[j] > s[j - 1] && s[j] >= s[j + 1] &&
            (best == 0 || s[j] > s[best])) {
            best = j;
        }
    }
    return best;
}

/* The top of the hump near hz, by Newton's method on the slope of S. */
static double top_of(const struct sum *sum, double hz, double half_width_hz)
{
    double f = hz;
    for (int step = 0; step < NEWTON; step++) {
        hbk_pair slope = {0.0, 0.0};
        hbk_pair bend = {0.0, 0.0};
        for (size_t t = 0; t < sum->n; t += 2) {
            const hbk_pair along = hbk_pair_at(sum->slope + t);
            const hbk_pair x = (along * f) + hbk_pair_at(sum->offset + t);
            const hbk_pair square = x * x;
            const hbk_pair q = 1.0 / (1.0 + square);
            const hbk_pair part = hbk_pair_at(sum->height + t) * along * q * q;
            slope += part * x;
            bend += part * along * ((4.0 * square * q) - 1.0);
        }
        /* S' is -2 slope, S'' 2 bend. */
        const double down = bend[0] + bend[1];
        const double next = f + ((slope[0] + slope[1]) / down);
        if (!(down < 0.0 && fabs(next - hz) < half_width_hz)) {
            break;
        }
        f = next;
    }
    return f;
}

static double heard(const struct sum *sum, double hz, double low_hz,
                    double high_hz)
{
    float s[POINTS];
    make_grid(sum, hz, s);
    const size_t j = highest_hump(s, hz, low_hz, high_hz);
    if (j == 0) {
        return hz;
    }
    const double a = (double)s[j - 1] - (double)s[j];
    const double b = (double)s[j + 1] - (double)s[j];
    const double off = 0.5 * (a - b) / (a + b);
    const double start = hz * (1.0 + (STEP * ((double)j - BEFORE + off)));
    return top_of(sum, start, STEP * hz);
}

void hbk_ear_hear(size_t n, struct hbk_maximum maxima[], double limit_hz)
{
    for (size_t i = 0; i < n; i++) {
        maxima[i].heard_hz = maxima[i].hz;
    }
    while (n > 0 && (n > HBK_EAR_MAXIMA_MOST || maxima[n - 1].hz > limit_hz)) {
        n--;
    }
    struct tone tones[HBK_EAR_MAXIMA_MOST];
    if (n == 0 || !(make_tones(n, maxima, limit_hz, tones) > 0.0)) {
        return;
    }
    size_t above[HARMONICS + 1] = {0};
    for (size_t i = 0; i < n; i++) {
        const double hz = maxima[i].hz;
        struct sum sum;
        /* Without a harmonic it is heard where it lies. */
        if (make_sum(n, tones, i, BEYOND * limit_hz, above, &sum) == 1) {
            continue;
        }
        const double reach = maxima[i].partial == 1 ? FIRST_REACH : REACH;
        double low_hz = hz / reach;
        double high_hz = hz * reach;
        if (i > 0) {
            low_hz = fmax(low_hz, sqrt(hz * maxima[i - 1].hz));
        }
        if (i + 1 < n) {
            high_hz = fmin(high_hz, sqrt(hz * maxima[i + 1].hz));
        }
        maxima[i].heard_hz = heard(&sum, hz, low_hz, high_hz);
    }
}
