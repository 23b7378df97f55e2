/* The notes that partials are played for, and how far off each is. */
#include "support/check.h"

#include "notes/series.h"

enum { MOST = 16 };

/* A fingering whose partials lie so many cents from where the call has them. */
struct made {
    struct hbk_curve_maximum maxima[MOST];
    struct hbk_curve curve;
};

/* Partial p at `first` + 12 log2 p semitones and off[p - 1] cents. */
static void make(struct made *made, double first, size_t n, const double off[])
{
    for (size_t i = 0; i < n; i++) {
        const unsigned partial = (unsigned)i + 1;
        const double note =
            first + 12.0 * log2((double)partial) + off[i] / 100.0;
        const int nearest = (int)lround(note);
        made->maxima[i] = (struct hbk_curve_maximum){
            .partial = partial,
            .heard = {.written = nearest, .cents = 100.0 * (note - nearest)}};
    }
    made->curve = (struct hbk_curve){.n_maxima = n, .maxima = made->maxima};
}

static void partials_of_an_open_tube_are_those_of_a_bugle_call(void **state)
{
    (void)state;
    static const double off[MOST] = {0.0};
    struct made made;
    make(&made, 48.0, MOST, off);
    const struct hbk_series series = hbk_series_of(&made.curve);
    assert_true(series.found);
    static const int call[MOST] = {48, 60, 67, 72, 76, 79, 82, 84,
                                   86, 88, 90, 91, 92, 94, 95, 96};
    for (size_t i = 0; i < MOST; i++) {
        assert_int_equal(hbk_series_note(&series, (unsigned)i + 1), call[i]);
    }
    /* The seventh harmonic is 31.17 cents flat of a minor seventh. */
    check_abs(hbk_series_cents(&series, &made.maxima[6]), -31.17, 0.01);
    check_abs(hbk_series_cents(&series, &made.maxima[2]), 1.96, 0.01);
}

/* Nearest to another note, a partial is still that of the call. */
static void a_partial_far_off_keeps_its_note(void **state)
{
    (void)state;
    static const double off[] = {-528.0, -63.0, -21.0, 0.0, 6.5, 1.0, -5.0};
    struct made made;
    make(&made, 48.0, 7, off);
    const struct hbk_series series = hbk_series_of(&made.curve);
    assert_int_equal(series.lowest, 48);
    assert_int_equal(made.maxima[1].heard.written, 59);
    assert_int_equal(hbk_series_note(&series, 2), 60);
    check_abs(hbk_series_cents(&series, &made.maxima[1]), -63.0, 1e-9);
    check_abs(hbk_series_cents(&series, &made.maxima[0]), -528.0, 1e-9);
}

static void a_valve_moves_the_call_as_a_whole(void **state)
{
    (void)state;
    static const double off[] = {11.0, 17.0, 31.0, 23.0, 19.0, 29.0, 37.0};
    struct made made;
    make(&made, 42.0, 7, off);
    const struct hbk_series series = hbk_series_of(&made.curve);
    assert_int_equal(series.lowest, 42);
}

static void without_the_played_partials_all_of_them_count(void **state)
{
    (void)state;
    static const double off[] = {13.0};
    struct made made;
    make(&made, 45.0, 1, off);
    struct hbk_series series = hbk_series_of(&made.curve);
    assert_true(series.found);
    assert_int_equal(series.lowest, 45);
    /* A side resonance has no number, and is nobody's partial. */
    made.maxima[0].partial = 0;
    assert_false(hbk_series_of(&made.curve).found);
    assert_null(hbk_curve_partial(&made.curve, 1));
    made.curve.n_maxima = 0;
    series = hbk_series_of(&made.curve);
    assert_false(series.found);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(partials_of_an_open_tube_are_those_of_a_bugle_call),
        cmocka_unit_test(a_partial_far_off_keeps_its_note),
        cmocka_unit_test(a_valve_moves_the_call_as_a_whole),
        cmocka_unit_test(without_the_played_partials_all_of_them_count),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
