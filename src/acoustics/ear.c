#include "acoustics/ear.h"

#include "acoustics/four.h"

#include <math.h>
#include <stdbool.h>

enum {
    HARMONICS = HBK_EAR_HARMONICS,
    BESIDE = 2, /* maxima below a multiple, and above, that count at it */
    TERMS = HARMONICS * 2 * BESIDE,
    FOUR = 4,    /* grid points are worked on four at a time */
    BLOCKS = 11, /* of four cells between points, the most that count */
    POINTS = (BLOCKS + 1) * FOUR,
    BEFORE = 20, /* cells below the maximum, the most that count */
    FINER = 3    /* points of the mean to a cell */
};

/* Cents as a share of a frequency, for small ones. */
static const double A_CENT = 0.69314718055994530942 / 1200.0;
/* The grid: points as far apart as this share of the frequency, 10 cents. */
static const double STEP = 10.0 * 0.69314718055994530942 / 1200.0;
/* 2^(200/1200) and 2^(130/1200). */
static const double REACH = 1.1224620;
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

/*
 * The cells of the grid that count: from `first`, which may be negative, steps
 * from the maximum, so many blocks of four. S is known at the points from one
 * before the first cell to two after the last.
 */
struct span {
    int first;
    size_t blocks;
    float low, high; /* the ends of the window, in steps from the maximum */
};

static struct span span_between(double low, double high)
{
    struct span span = {.low = (float)(low / STEP),
                        .high = (float)(high / STEP)};
    const double first = floor(low / STEP);
    span.first = first < -BEFORE ? -BEFORE : (int)first;
    const double cells = ceil(high / STEP) - (double)span.first;
    const size_t blocks = (size_t)((cells + FOUR - 1.0) / FOUR);
    span.blocks = blocks < BLOCKS ? blocks : BLOCKS;
    return span;
}

static const hbk_four ASIDE = {0.0F, 1.0F, 2.0F, 3.0F};

/* x of one term at the grid points: start, and step from one to the next. */
struct line {
    float start, step, height;
};

static void make_lines(const struct sum *sum, double hz, double first,
                       struct line lines[TERMS])
{
    for (size_t t = 0; t < sum->n; t++) {
        const double slope = sum->slope[t] * hz;
        lines[t].start =
            (float)((slope * (1.0 + (first * STEP))) + sum->offset[t]);
        lines[t].step = (float)(slope * STEP);
        lines[t].height = (float)sum->height[t];
    }
}

/*
 * 1/S at the grid points, two terms to a division: no x is greater than a term
 * can be far, over the blur, so that nothing grows out of a float.
 */
static void make_inverse(const struct sum *sum, double hz,
                         const struct span *span, float inverse[POINTS])
{
    struct line lines[TERMS];
    make_lines(sum, hz, (double)span->first - 1.0, lines);
    for (size_t j = 0; j < FOUR * (span->blocks + 1); j += FOUR) {
        const hbk_four at = hbk_four_of((float)(int)j) + ASIDE;
        hbk_four s = {0.0F};
        for (size_t t = 0; t < sum->n; t += 2) {
            const hbk_four x = lines[t].start + (lines[t].step * at);
            const hbk_four y = lines[t + 1].start + (lines[t + 1].step * at);
            const hbk_four p = 1.0F + (x * x);
            const hbk_four q = 1.0F + (y * y);
            s += ((lines[t].height * q) + (lines[t + 1].height * p)) / (p * q);
        }
        hbk_four_put(1.0F / s, inverse + j);
    }
}

/*
 * 1/S within the cells, a third of a cell apart, by cubics: of one resonance
 * it is a parabola, so that few points tell the whole of a hump. Where
 * neighbours differ so much that a cubic overshoots nothing counts; half of the
 * lesser of two is kept to. Returns the least of all.
 */
static float make_finer(const float inverse[POINTS], size_t blocks,
                        hbk_four finer[FINER][BLOCKS])
{
    static const float by[FINER][4] = {
        {0.0F, 1.0F, 0.0F, 0.0F},
        {-0.0617284F, 0.7407407F, 0.3703704F, -0.0493827F},
        {-0.0493827F, 0.3703704F, 0.7407407F, -0.0617284F}};
    hbk_four least = hbk_four_of(INFINITY);
    for (size_t b = 0; b < blocks; b++) {
        const float *const at = inverse + (FOUR * b);
        const hbk_four before = hbk_four_at(at);
        const hbk_four left = hbk_four_at(at + 1);
        const hbk_four right = hbk_four_at(at + 2);
        const hbk_four after = hbk_four_at(at + 3);
        const hbk_four bound = 0.5F * hbk_four_lesser(left, right);
        for (size_t k = 0; k < FINER; k++) {
            const hbk_four cubic = (by[k][0] * before) + (by[k][1] * left) +
                                   (by[k][2] * right) + (by[k][3] * after);
            finer[k][b] = hbk_four_greater(cubic, bound);
            least = hbk_four_lesser(least, finer[k][b]);
        }
    }
    return fminf(fminf(least[0], least[1]), fminf(least[2], least[3]));
}

/*
 * The mean over S^power within the window, which is open but for the last cents
 * on both sides; in steps of the grid from the maximum.
 */
static double mean_of(const struct span *span, float least,
                      hbk_four finer[FINER][BLOCKS])
{
    _Static_assert(HBK_EAR_POWER == 16, "squared four times");
    const float per_edge = (float)(STEP / (HBK_EAR_EDGE_CENTS * A_CENT));
    const hbk_four none = {0.0F};
    const hbk_four whole = hbk_four_of(1.0F);
    hbk_four weight = {0.0F};
    hbk_four moment = {0.0F};
    for (size_t b = 0; b < span->blocks; b++) {
        hbk_four at = (float)(span->first + (int)(FOUR * b)) + ASIDE;
        for (size_t k = 0; k < FINER; k++) {
            const hbk_four open =
                per_edge * hbk_four_lesser(at - span->low, span->high - at);
            const hbk_four x = least / finer[k][b];
            const hbk_four square = x * x;
            const hbk_four fourth = square * square;
            const hbk_four eighth = fourth * fourth;
            const hbk_four here =
                eighth * eighth *
                hbk_four_greater(none, hbk_four_lesser(open, whole));
            weight += here;
            moment += here * at;
            at += 1.0F / FINER;
        }
    }
    const float all = hbk_four_sum(weight);
    return all > 0.0F ? (double)(hbk_four_sum(moment) / all) : 0.0;
}

static double heard(const struct sum *sum, double hz, double low_hz,
                    double high_hz)
{
    const struct span span =
        span_between((low_hz / hz) - 1.0, (high_hz / hz) - 1.0);
    float inverse[POINTS];
    hbk_four finer[FINER][BLOCKS];
    make_inverse(sum, hz, &span, inverse);
    const float least = make_finer(inverse, span.blocks, finer);
    const double mean = mean_of(&span, least, finer);
    return hz * (1.0 + (STEP * mean));
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
