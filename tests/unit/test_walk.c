#include "support/scan.h"
#include "support/tubes.h"

#include "acoustics/walk.h"

#include <string.h>

enum { ROOM = 64 };
/* How near a dense scan of the model the maxima must lie. */
#define TOL_SCAN_CENTS 0.05

static struct hbk_air air_at(double celsius, bool lossless)
{
    struct hbk_air air;
    assert_int_equal(hbk_air_at(celsius, &air), HBK_OK);
    air.lossless = lossless;
    return air;
}

/* The maxima of one state. */
static size_t walk_one(const struct hbk_chain *chain, const struct hbk_air *air,
                       uint64_t word, double limit_hz,
                       struct hbk_maximum maxima[ROOM])
{
    struct hbk_arena arena = {NULL};
    struct hbk_sections sections;
    const struct hbk_sections_options options = {.limit_hz = limit_hz};
    assert_int_equal(hbk_sections_make(chain, air, &options, &arena, &sections),
                     HBK_OK);
    const struct hbk_walk_options walk_options = {.states_max = 1};
    struct hbk_walk *const walk =
        hbk_walk_make(&sections, &walk_options, &arena);
    size_t count = 0;
    assert_int_equal(hbk_walk_run(walk, 1, &word, ROOM, maxima, &count),
                     HBK_OK);
    hbk_arena_finish(&arena);
    return count;
}

static void lossless_columns_meet_their_closed_forms(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, true);
    for (size_t c = 0; c < N_EXACT_CASES; c++) {
        const struct exact_case *const want = &EXACT_CASES[c];
        struct hbk_arena arena = {NULL};
        const struct hbk_chain chain = want->build(&arena);
        struct hbk_maximum maxima[ROOM];
        const size_t n = walk_one(&chain, &air, want->word, 1400.0, maxima);
        for (size_t m = 0; m < CASE_MODES && want->hz[m] > 0.0; m++) {
            assert_true(m < n);
            check_abs(cents_between(maxima[m].hz, want->hz[m]), 0.0,
                      want->cents);
            assert_true(isfinite(maxima[m].height));
            assert_true(isfinite(maxima[m].q));
            assert_true(isfinite(maxima[m].response_db));
        }
        hbk_arena_finish(&arena);
    }
}

static void columns_agree_with_an_independent_model(void **state)
{
    (void)state;
    for (size_t c = 0; c < N_TUBE_CASES; c++) {
        const struct tube_case *const want = &TUBE_CASES[c];
        struct hbk_arena arena = {NULL};
        const struct hbk_chain chain = want->build(&arena);
        for (size_t t = 0; t < 2; t++) {
            const struct hbk_air air = air_at(CASE_CELSIUS[t], false);
            struct hbk_maximum maxima[ROOM];
            const size_t n =
                walk_one(&chain, &air, want->word,
                         want->hz[t][CASE_MODES - 1] * 1.01, maxima);
            assert_true(n >= CASE_MODES);
            for (size_t m = 0; m < CASE_MODES; m++) {
                check_abs(cents_between(maxima[m].hz, want->hz[t][m]), 0.0,
                          TOL_MODEL_CENTS);
            }
        }
        hbk_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lossless_columns_meet_their_closed_forms),
        cmocka_unit_test(columns_agree_with_an_independent_model),
    };
    return cmocka_run_group_tests_name("walk", tests, NULL, NULL);
}
