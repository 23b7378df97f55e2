/*
 * A horn fitted to readings: horns of known errors, made by chance from the
 * shipped ones, read by a tuner with 3 cents of noise. Priors: the horn files
 * say of length and slides that they are assumed, of loops and keys that they
 * come from a catalogue; true errors are those of fitting_spread().
 */
#include "support/fitting.h"

#include "fit/squares.h"
#include "solve/habit.h"

enum { SEEDS = 200 };

static const double tuner_cents = 3.0;

/* 12 readings, then the other 19 notes of the compass. */
static const char cornet_notes[] =
    "C4=0 G4=0 C5=0 E5=0 G5=0 C6=0 F4=1 D5=1 B4=2 G#4=2-3 D4=1-3 A4=1-2 "
    "F#3=1-2-3 G3=1-3 G#3=2-3 A3=1-2 Bb3=1 B3=2 C#4=1-2-3 Eb4=2-3 E4=1-2 "
    "F#4=2 Bb4=1 C#5=1-2 Eb5=2 F5=1 F#5=2 G#5=2-3 A5=1-2 Bb5=1 B5=2";
enum { CORNET_READ = 12 };

/* 20 readings, every key twice; then the other notes. */
static const char bugle_notes[] =
    "C4=0 G5=0 B3=1 B4=1 C#4=2 G#4=2 D4=3 D5=3 Eb4=4 Bb4=4 Eb4=5 Eb5=5 E4=6 "
    "G#5=6 F4=7 F5=7 C5=8 A5=8 D5=9 B5=9 "
    "F#4=1 G4=0 A4=3 C5=0 C#5=2 Eb5=4 E5=0 F#5=1 A5=3 Bb5=4 B5=6 C6=7";
enum { BUGLE_READ = 20 };

/* The median over the seeds of the error of unread notes, and more. */
struct outcome {
    double median_rms; /* of unread notes */
    double worst_note; /* rms over the seeds of the worst unread note */
    double true_rms;   /* over all seeds: unread notes, with noise */
    double alone_rms;  /* over all seeds: what leave-one-out says of it */
    double before_rms; /* unread notes as the file has them */
    size_t slips;      /* sound readings that were set aside */
};

static struct outcome try_seeds(struct fitting *f, size_t n_read)
{
    static double rms[SEEDS];
    static double by_note[2 * FITTING_MOST];
    struct outcome outcome = {0};
    const double unread = (double)(f->n_asked - n_read);
    memset(by_note, 0, sizeof(by_note));
    for (size_t seed = 0; seed < SEEDS; seed++) {
        struct rng rng = {.state = 1000 + seed};
        struct hbk_arena arena = {0};
        struct hbk_fit found;
        double cents[2 * FITTING_MOST];
        fitting_build(f, &rng);
        fitting_read(f, n_read, tuner_cents, &rng);
        fitting_fit(f, &found, &arena);
        fitting_predict(f, &found, cents);
        rms[seed] = fitting_error(f, cents, n_read);
        for (size_t i = n_read; i < f->n_asked; i++) {
            const double off = cents[i] - f->true_cents[i];
            by_note[i] += off * off / SEEDS;
            outcome.true_rms += off * off / (SEEDS * unread);
            outcome.before_rms +=
                f->true_cents[i] * f->true_cents[i] / (SEEDS * unread);
        }
        const struct hbk_fit_report *const report = &found.report;
        outcome.alone_rms += report->alone_rms * report->alone_rms / SEEDS;
        outcome.slips += report->n - report->n_used;
        hbk_arena_finish(&arena);
    }
    for (size_t i = n_read; i < f->n_asked; i++) {
        outcome.worst_note = fmax(outcome.worst_note, sqrt(by_note[i]));
    }
    outcome.median_rms = fitting_median(SEEDS, rms);
    outcome.true_rms = sqrt(outcome.true_rms + (tuner_cents * tuner_cents));
    outcome.alone_rms = sqrt(outcome.alone_rms);
    outcome.before_rms = sqrt(outcome.before_rms);
    print_message("# %s: median %.2f, worst note %.2f, alone %.2f, true with "
                  "noise %.2f, before %.1f cents; %zu slips in %d fits\n",
                  f->base.horn.id, outcome.median_rms, outcome.worst_note,
                  outcome.alone_rms, outcome.true_rms, outcome.before_rms,
                  outcome.slips, SEEDS);
    return outcome;
}

static void twelve_readings_tell_every_note_of_a_cornet(void **state)
{
    (void)state;
    static struct fitting f;
    fitting_open(&f, "cornet-b-flat");
    fitting_ask(&f, cornet_notes);
    const struct outcome outcome = try_seeds(&f, CORNET_READ);
    assert_true(outcome.median_rms < 5.0);
    assert_true(outcome.worst_note < 5.0);
    assert_true(outcome.before_rms > 20.0);
    fitting_close(&f);
}

static void twenty_readings_tell_every_note_of_a_bugle(void **state)
{
    (void)state;
    static struct fitting f;
    fitting_open(&f, "keyed-bugle-e-flat-9");
    fitting_ask(&f, bugle_notes);
    const struct outcome outcome = try_seeds(&f, BUGLE_READ);
    assert_true(outcome.median_rms < 10.0);
    assert_true(outcome.worst_note < 10.0);
    assert_true(outcome.before_rms > 20.0);
    fitting_close(&f);
}

/*
 * Leave-one-out is honest: with notes drawn by lot the reading left out is
 * like any other note, so over many horns its error must be that of the notes
 * that were never read, as a tuner would find it.
 */
static void leave_one_out_tells_the_error_of_a_new_note(void **state)
{
    (void)state;
    static struct fitting f;
    fitting_open(&f, "cornet-b-flat");
    fitting_ask(&f, cornet_notes);
    double alone = 0.0;
    double truth = 0.0;
    for (size_t seed = 0; seed < SEEDS; seed++) {
        struct rng rng = {.state = 5000 + seed};
        struct hbk_arena arena = {0};
        struct hbk_fit found;
        double cents[2 * FITTING_MOST];
        for (size_t i = f.n_asked; i-- > 1;) {
            const size_t k = rng_next(&rng) % (i + 1);
            const struct hbk_sounding sounding = f.asked[i];
            const char *const label = f.label[i];
            const int note = f.items[i].note;
            f.asked[i] = f.asked[k];
            f.label[i] = f.label[k];
            f.items[i].note = f.items[k].note;
            f.asked[k] = sounding;
            f.label[k] = label;
            f.items[k].note = note;
        }
        hbk_soundings_prepare(&f.soundings, &arena);
        fitting_build(&f, &rng);
        fitting_read(&f, CORNET_READ + 1, tuner_cents, &rng);
        f.readings.n = CORNET_READ;
        fitting_fit(&f, &found, &arena);
        fitting_predict(&f, &found, cents);
        const double unread = fitting_error(&f, cents, CORNET_READ);
        /* Without one of 13 readings 12 are left: the same as above. */
        f.readings.n = CORNET_READ + 1;
        fitting_fit(&f, &found, &arena);
        truth += (unread * unread + tuner_cents * tuner_cents) / SEEDS;
        alone += found.report.alone_rms * found.report.alone_rms / SEEDS;
        hbk_arena_finish(&arena);
    }
    print_message("# left out %.2f, truly %.2f cents\n", sqrt(alone),
                  sqrt(truth));
    check_rel(sqrt(alone), sqrt(truth), 0.10);
    fitting_close(&f);
}

/* Cents of a reading on the horn fitted to the others that scatter as all. */
static double without(const struct fitting *f, const struct hbk_fit *whole,
                      size_t left, struct hbk_arena *arena)
{
    const size_t n = f->readings.n;
    const size_t k = f->parameters.n;
    struct hbk_soundings soundings = f->soundings;
    double heard[FITTING_MOST];
    double sd[FITTING_MOST];
    double predicted[FITTING_MOST];
    double leverage[FITTING_MOST];
    bool is_used[FITTING_MOST];
    soundings.n = n;
    hbk_soundings_prepare(&soundings, arena);
    for (size_t i = 0; i < n; i++) {
        heard[i] = f->items[i].cents;
        sd[i] = whole->report.scatter * hypot(f->items[i].uncertainty_cents,
                                              HBK_FIT_MODEL_LENGTH_CENTS);
        predicted[i] = (double)NAN;
        is_used[i] = i != left;
    }
    struct hbk_squares squares = {
        .parameters = &f->parameters,
        .soundings = &soundings,
        .heard = heard,
        .sd = sd,
        .is_used = is_used,
        .d = HBK_ARENA_ARRAY(arena, double, k),
        .predicted = predicted,
        .slopes = HBK_ARENA_ARRAY(arena, double, n *k),
        .cov = HBK_ARENA_ARRAY(arena, double, k *k),
        .leverage = leverage,
        .strayed = INFINITY,
    };
    assert_int_equal(hbk_squares_solve(&squares), HBK_OK);
    return predicted[left];
}

/* The formula r / (1 - h) against fits that truly leave the reading out. */
static void leave_one_out_is_what_a_fit_without_it_gives(void **state)
{
    (void)state;
    static struct fitting f;
    fitting_open(&f, "cornet-b-flat");
    fitting_ask(&f, cornet_notes);
    struct rng rng = {.state = 77};
    struct hbk_arena arena = {0};
    struct hbk_fit whole;
    fitting_build(&f, &rng);
    fitting_read(&f, CORNET_READ, tuner_cents, &rng);
    fitting_fit(&f, &whole, &arena);
    for (size_t left = 0; left < CORNET_READ; left++) {
        check_abs(whole.report.items[left].alone_cents,
                  f.items[left].cents - without(&f, &whole, left, &arena),
                  0.05);
    }
    hbk_arena_finish(&arena);
    fitting_close(&f);
}

/* Each reading in turn a semitone sharp, then a semitone flat. */
static void check_spoiled(struct fitting *f, size_t n_read, uint64_t seed)
{
    struct rng rng = {.state = seed};
    fitting_build(f, &rng);
    fitting_read(f, n_read, tuner_cents, &rng);
    for (size_t at = 0; at < n_read; at++) {
        fitting_check_slip(f, at, 100.0);
        fitting_check_slip(f, at, -100.0);
    }
}

static void a_slip_of_a_semitone_is_flagged_and_not_followed(void **state)
{
    (void)state;
    static struct fitting f;
    fitting_open(&f, "cornet-b-flat");
    fitting_ask(&f, cornet_notes);
    for (uint64_t seed = 1; seed <= 5; seed++) {
        check_spoiled(&f, CORNET_READ, seed);
    }
    fitting_close(&f);
    memset(&f, 0, sizeof(f));
    fitting_open(&f, "keyed-bugle-e-flat-9");
    fitting_ask(&f, bugle_notes);
    for (uint64_t seed = 1; seed <= 5; seed++) {
        check_spoiled(&f, BUGLE_READ, seed);
    }
    fitting_close(&f);
}

/*
 * Derivatives of f = p c / 2L by hand: a cent of pitch is a cent; a loop of
 * the share s, e^d times as long, lowers by 1200 log2(1 + s e^d).
 */
static void slopes_are_those_of_the_closed_form(void **state)
{
    (void)state;
    static struct fitting f;
    fitting_open(&f, "cornet-b-flat");
    fitting_ask(&f, "G4=0 D5=1 D4=1-3 C6=0");
    const struct hbk_parameters *const list = &f.parameters;
    double slopes[4 * HBK_PARAMETERS_MAX];
    double d[HBK_PARAMETERS_MAX] = {0};
    assert_int_equal(hbk_predict_slopes(list, d, &f.soundings, NULL, slopes),
                     HBK_OK);
    const double per_log = 1200.0 / log(2.0);
    for (size_t i = 0; i < 4; i++) {
        double loops = 0.0;
        for (size_t k = 0; k < f.base.horn.n_sites; k++) {
            const struct hbk_site *const site = &f.base.horn.sites[k];
            loops +=
                hbk_site_state(site, f.asked[i].press) ? site->loop.value : 0.0;
        }
        for (size_t p = 0; p < list->n; p++) {
            const struct hbk_parameter *const item = &list->items[p];
            const double got = slopes[(i * list->n) + p];
            const struct hbk_site *const site = &f.base.horn.sites[item->index];
            if (item->kind == HBK_FIT_PITCH) {
                check_abs(got, item->sd, 1e-6);
            } else if (item->kind == HBK_FIT_STRETCH) {
                check_abs(got,
                          item->index == f.asked[i].partial ? item->sd : 0.0,
                          1e-6);
            } else if (item->kind == HBK_FIT_LOOP) {
                const double want =
                    hbk_site_state(site, f.asked[i].press)
                        ? -per_log * site->loop.value / (1.0 + loops) * item->sd
                        : 0.0;
                check_abs(got, want, 1e-3);
            }
        }
    }
    fitting_close(&f);
}

/* The stretch of a partial among what was fitted. */
static size_t find_value(const struct hbk_fit *fit, unsigned partial)
{
    size_t p = 0;
    while (p < fit->parameters.n &&
           (fit->parameters.items[p].kind != HBK_FIT_STRETCH ||
            fit->parameters.items[p].index != partial)) {
        p++;
    }
    assert_true(p < fit->parameters.n);
    return p;
}

/*
 * A plain bugle is linear: heard y_p = d + b x_p + s_p + e, x_p octaves above
 * the tuning note. With variances D of d, B of b, T of each s, S of each e and
 * V = T + S, weighted least squares has the closed form
 *   (n / V + 1 / D) d + (sum x / V) b = sum y / V,
 *   (sum x / V) d + (sum x^2 / V + 1 / B) b = sum x y / V,
 *   s_p = T (y_p - d - b x_p) / V,
 * and the inverse of that matrix is what is left of D and B.
 */
static void the_optimum_is_that_of_weighted_least_squares(void **state)
{
    (void)state;
    static struct fitting f;
    fitting_open(&f, "bugle-b-flat");
    fitting_ask(&f, "C4=0 G4=0 C5=0 E5=0 G5=0");
    struct rng rng = {.state = 4};
    struct hbk_arena arena = {0};
    struct hbk_fit found;
    fitting_build(&f, &rng);
    fitting_read(&f, 5, tuner_cents, &rng);
    fitting_fit(&f, &found, &arena);
    assert_int_equal(found.report.n_used, 5);
    const struct hbk_parameters *const list = &f.parameters;
    assert_int_equal(list->items[0].kind, HBK_FIT_PITCH);
    assert_int_equal(list->items[1].kind, HBK_FIT_STRETCH);
    const double vd = list->items[0].sd * list->items[0].sd;
    const double vt = list->items[1].sd * list->items[1].sd;
    const double scatter = found.report.scatter;
    const double vs = scatter * scatter *
                      ((3.0 * 3.0) + (HBK_FIT_MODEL_LENGTH_CENTS *
                                      HBK_FIT_MODEL_LENGTH_CENTS));
    const size_t slope = list->n - 1;
    assert_int_equal(list->items[slope].kind, HBK_FIT_SLOPE);
    const double vb = list->items[slope].sd * list->items[slope].sd;
    double dd = 1.0 / vd;
    double db = 0.0;
    double bb = 1.0 / vb;
    double dy = 0.0;
    double by = 0.0;
    double x[5];
    double y[5];
    for (size_t i = 0; i < 5; i++) {
        /* Natural harmonics: the file has no deviations of its own. */
        const double hz = f.asked[i].reference_hz *
                          hbk_cents_ratio(found.report.items[i].before_cents);
        y[i] = f.items[i].cents - found.report.items[i].before_cents;
        x[i] = hbk_habit_octaves(&f.base.horn, hz);
        dd += 1.0 / (vt + vs);
        db += x[i] / (vt + vs);
        bb += x[i] * x[i] / (vt + vs);
        dy += y[i] / (vt + vs);
        by += x[i] * y[i] / (vt + vs);
    }
    const double det = (dd * bb) - (db * db);
    const double d = ((bb * dy) - (db * by)) / det;
    const double b = ((dd * by) - (db * dy)) / det;
    /* The slope counts from the note as it comes out, some cents off. */
    check_abs(found.d[0], d, 0.1);
    check_abs(found.d[slope], b, 0.1);
    check_rel(found.cov[0] * vd, bb / det, 1e-2);
    check_rel(found.cov[list->n * list->n - 1] * vb, dd / det, 1e-2);
    for (size_t i = 0; i < 5; i++) {
        const size_t p = find_value(&found, f.asked[i].partial);
        check_abs(found.d[p], vt * (y[i] - d - b * x[i]) / (vt + vs), 0.1);
    }
    /* A partial that was not read stays where it was, and is said so. */
    const size_t p = find_value(&found, 8);
    check_abs(found.d[p], 0.0, 1e-9);
    check_abs(found.report.values[p].learned, 0.0, 1e-9);
    check_abs(found.report.values[p].after_sd, 10.0, 1e-6);
    assert_int_equal(found.report.values[p].n_readings, 0);
    hbk_arena_finish(&arena);
    fitting_close(&f);
}

/* Munich: a bored horn, its holes, bore and cup all off. */
static void a_bored_horn_is_fitted_as_well(void **state)
{
    (void)state;
    static struct fitting f;
    fitting_open(&f, "tests/data/unfitted/keyed-bugle-c-6-munich.yaml");
    fitting_ask(&f, "C4=0 G4=0 C5=0 E5=0 G5=0 B3=1 B4=1 C#4=2 G#4=2 D4=3 "
                    "A4=3 A4=4 E4=5 C5=5 E4=6 F5=6 "
                    "F#4=1 F#5=1 C#5=2 D5=3 Bb5=4 E5=5 C5=6 B4=3-5");
    struct rng rng = {.state = 9};
    struct hbk_arena arena = {0};
    struct hbk_fit found;
    double cents[2 * FITTING_MOST];
    double before = 0.0;
    fitting_build(&f, &rng);
    fitting_read(&f, 16, tuner_cents, &rng);
    fitting_fit(&f, &found, &arena);
    fitting_predict(&f, &found, cents);
    const struct hbk_fit_report *const report = &found.report;
    double none[HBK_PARAMETERS_MAX] = {0};
    double file[2 * FITTING_MOST];
    fitting_follow(&f, none, file);
    before = fitting_error(&f, file, 16);
    print_message("# munich: unread %.1f cents before, %.1f after; alone %.1f "
                  "(%zu used)\n",
                  before, fitting_error(&f, cents, 16), report->alone_rms,
                  report->n_used);
    assert_true(fitting_error(&f, cents, 16) < 10.0);
    assert_true(before > 15.0);
    assert_true(report->n_used >= 15);
    hbk_arena_finish(&arena);
    fitting_close(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(twelve_readings_tell_every_note_of_a_cornet),
        cmocka_unit_test(twenty_readings_tell_every_note_of_a_bugle),
        cmocka_unit_test(leave_one_out_tells_the_error_of_a_new_note),
        cmocka_unit_test(leave_one_out_is_what_a_fit_without_it_gives),
        cmocka_unit_test(a_slip_of_a_semitone_is_flagged_and_not_followed),
        cmocka_unit_test(slopes_are_those_of_the_closed_form),
        cmocka_unit_test(the_optimum_is_that_of_weighted_least_squares),
        cmocka_unit_test(a_bored_horn_is_fitted_as_well),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
