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

/* A keyed bugle of an invented pattern: six holes, key 0 nearest the bell. */
static struct hbk_chain bugle(struct hbk_arena *arena)
{
    static const double at_m[] = {0.0,  0.12, 0.735, 0.80, 0.86,
                                  0.92, 1.0,  1.075, 1.16, 1.2};
    static const double radius_m[] = {0.0057, 0.0062, 0.0105, 0.0112, 0.0119,
                                      0.0126, 0.0137, 0.0165, 0.034,  0.072};
    const struct hbk_mouthpiece_bore mouthpiece = {.volume_m3 = 2.5e-6,
                                                   .throat_length_m = 0.006,
                                                   .throat_radius_m = 0.0023};
    struct hbk_chain chain = {.arena = arena};
    hbk_chain_add_mouthpiece(&chain, &mouthpiece);
    for (unsigned i = 1; i < 10; i++) {
        hbk_chain_add_tube(&chain,
                           (struct hbk_tube){at_m[i] - at_m[i - 1],
                                             radius_m[i - 1], radius_m[i]});
        if (i >= 2 && i <= 7) {
            const struct hbk_side_hole hole = {.radius_m = 0.8 * radius_m[i],
                                               .chimney_m = 0.005,
                                               .wall_m = 0.0007,
                                               .pad_radius_m = radius_m[i],
                                               .pad_lift_m = 0.008};
            hbk_chain_add_hole(&chain, 7 - i, &hole);
        }
    }
    return chain;
}

/* A cylinder with ten equal holes, as a lattice: sites from the far end. */
static struct hbk_chain lattice(struct hbk_arena *arena)
{
    struct hbk_chain chain = plane_chain(arena, HBK_BELL_UNFLANGED);
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.41, 0.0093, 0.0093});
    for (unsigned i = 0; i < 10; i++) {
        const struct hbk_side_hole hole = {
            .radius_m = 0.0061, .chimney_m = 0.0037, .rim = HBK_RIM_CYLINDER};
        hbk_chain_add_hole(&chain, 9 - i, &hole);
        hbk_chain_add_tube(&chain, (struct hbk_tube){0.047, 0.0093, 0.0093});
    }
    return chain;
}

/* A cornet of an invented pattern with three loops. */
static struct hbk_chain cornet(struct hbk_arena *arena)
{
    static const double loop_m[] = {0.166, 0.081, 0.27};
    struct hbk_chain chain = {.arena = arena, .step_inertance = true};
    hbk_chain_add_cup(&chain, 1.4e-6);
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.07, 0.0018, 0.0048});
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.31, 0.0048, 0.0058});
    for (unsigned i = 0; i < 3; i++) {
        hbk_chain_add_tube(&chain, (struct hbk_tube){0.02, 0.0058, 0.0058});
        hbk_chain_add_loop(&chain, i,
                           (struct hbk_tube){loop_m[i], 0.0061, 0.0061});
    }
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.55, 0.0058, 0.0103});
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.25, 0.0103, 0.0193});
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.08, 0.0193, 0.033});
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.03, 0.033, 0.06});
    return chain;
}

/*
 * The model itself evaluated every 0.6 Hz. A maximum that rises less than 0.1
 * dB above the valley beside it may be missed by either.
 */
static void check_against_scan(tube_builder *build, size_t n,
                               const uint64_t words[])
{
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    const struct hbk_chain chain = build(&arena);
    for (size_t w = 0; w < n; w++) {
        struct hbk_maximum maxima[ROOM];
        double hz[ROOM];
        const size_t got = walk_one(&chain, &air, words[w], 1400.0, maxima);
        const size_t want =
            scan_maxima(&chain, &air, words[w], 1400.0, 0.6, ROOM, hz);
        assert_int_equal(got, want);
        for (size_t i = 0; i < want; i++) {
            check_abs(cents_between(maxima[i].hz, hz[i]), 0.0, TOL_SCAN_CENTS);
            assert_true(i == 0 || maxima[i].hz > maxima[i - 1].hz);
        }
    }
    hbk_arena_finish(&arena);
}

static void maxima_lie_where_a_dense_scan_finds_them(void **state)
{
    (void)state;
    static const uint64_t bugle_words[] = {0x00, 0x01, 0x05, 0x21, 0x3f, 0x12};
    static const uint64_t lattice_words[] = {0x000, 0x3ff, 0x001, 0x200,
                                             0x155, 0x2aa, 0x0f0, 0x381};
    static const uint64_t cornet_words[] = {0, 2, 5, 7};
    check_against_scan(bugle, 6, bugle_words);
    check_against_scan(lattice, 8, lattice_words);
    check_against_scan(cornet, 4, cornet_words);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lossless_columns_meet_their_closed_forms),
        cmocka_unit_test(columns_agree_with_an_independent_model),
        cmocka_unit_test(maxima_lie_where_a_dense_scan_finds_them),
    };
    return cmocka_run_group_tests_name("walk", tests, NULL, NULL);
}
