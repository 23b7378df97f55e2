/*
 * Figures, not checks: bored horns of known errors, 200 of each, read by a
 * tuner of 3 cents; how far unread notes lie from the fitted horn, and how
 * long a fit takes against one column of the same horn.
 */
#include "support/fitting.h"

#include "solve/column.h"

#include <time.h>

enum { SEEDS = 200 };

static const struct {
    const char *horn;
    size_t n_read;
    const char *notes; /* those read first, then others */
} cases[] = {
    {"cornet-b-flat-bore", 12,
     "C4=0 G4=0 C5=0 E5=0 G5=0 C6=0 F4=1 D5=1 B4=2 G#4=2-3 D4=1-3 A4=1-2 "
     "F#3=1-2-3 G3=1-3 G#3=2-3 A3=1-2 Bb3=1 B3=2 C#4=1-2-3 Eb4=2-3 E4=1-2 "
     "F#4=2 Bb4=1 C#5=1-2 Eb5=2 F5=1 F#5=2"},
    {"tests/data/good/bugle-holes-in-a-row.yaml", 20,
     "C4=0 G4=0 C5=0 E5=0 G5=0 B3=1 F#4=1 B4=1 C#4=2 G#4=2 C#5=2 D4=3 A4=3 "
     "Eb4=4 Bb4=4 E4=5 B4=4-5 F4=6 C5=6 F#4=7 "
     "Eb5=1 F5=2 G#5=2 D5=3 Bb5=3 E5=4 G5=4 G#5=5 F5=6 F#5=7"},
    {"tests/data/unfitted/keyed-bugle-c-6-munich.yaml", 16,
     "C4=0 G4=0 C5=0 E5=0 G5=0 B3=1 B4=1 C#4=2 G#4=2 D4=3 A4=3 A4=4 E4=5 "
     "C5=5 E4=6 F5=6 F#4=1 F#5=1 C#5=2 D5=3 Bb5=4 E5=5 C5=6 B4=3-5"},
};

static double now_s(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double column_s(const struct fitting *f)
{
    double cents[2 * FITTING_MOST];
    enum { TIMES = 5 };
    const double start = now_s();
    for (int i = 0; i < TIMES; i++) {
        assert_int_equal(
            hbk_predict(&f->parameters, f->truth, &f->soundings, NULL, cents),
            HBK_OK);
    }
    return (now_s() - start) / TIMES;
}

static void run(size_t at)
{
    static struct fitting f;
    static double rms[SEEDS];
    double before = 0.0;
    double alone = 0.0;
    size_t slips = 0;
    double fits_s = 0.0;
    size_t failed = 0;
    fitting_open(&f, cases[at].horn);
    fitting_ask(&f, cases[at].notes);
    for (size_t seed = 0; seed < SEEDS; seed++) {
        struct rng rng = {.state = 1000 + seed};
        struct hbk_arena arena = {0};
        struct hbk_faults faults = {0};
        struct hbk_fit fit;
        double cents[2 * FITTING_MOST];
        const double none[HBK_PARAMETERS_MAX] = {0};
        fitting_build(&f, &rng);
        fitting_read(&f, cases[at].n_read, 3.0, &rng);
        const double start = now_s();
        const enum hbk_status status =
            hbk_fit_horn(&f.base.horn, &f.readings, &arena, &fit, &faults);
        fits_s += now_s() - start;
        rms[seed] = INFINITY;
        if (status == HBK_OK) {
            fitting_predict(&f, &fit, cents);
            rms[seed] = fitting_error(&f, cents, cases[at].n_read);
            slips += fit.report.n - fit.report.n_used;
            alone += fit.report.alone_rms / SEEDS;
        } else {
            failed++;
        }
        fitting_follow(&f, none, cents);
        before += fitting_error(&f, cents, cases[at].n_read) / SEEDS;
        hbk_arena_finish(&arena);
    }
    const double median = fitting_median(SEEDS, rms);
    printf(
        "%s, %zu readings: unread notes %.1f cents before, median %.2f, "
        "nine in ten %.2f after; left out %.1f; %zu slips, %zu failed; a fit "
        "takes %.0f columns\n",
        cases[at].horn, cases[at].n_read, before, median, rms[SEEDS * 9 / 10],
        alone, slips, failed, fits_s / SEEDS / column_s(&f));
    fitting_close(&f);
}

int main(void)
{
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        run(i);
    }
    return 0;
}
