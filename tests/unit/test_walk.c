#include "support/tubes.h"

#include "acoustics/profile.h"
#include "acoustics/walk.h"

#include <string.h>

enum { ROOM = MODES_ROOM };
/* How near a dense scan of the model the maxima must lie. */
#define TOL_SCAN_CENTS 0.05

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

static size_t walk_modes(const struct hbk_chain *chain,
                         const struct hbk_air *air, uint64_t word,
                         double limit_hz, double hz[MODES_ROOM])
{
    struct hbk_maximum maxima[ROOM];
    const size_t n = walk_one(chain, air, word, limit_hz, maxima);
    for (size_t m = 0; m < n; m++) {
        hz[m] = maxima[m].hz;
        assert_true(isfinite(maxima[m].height));
        assert_true(isfinite(maxima[m].q));
        assert_true(isfinite(maxima[m].response_db));
    }
    return n;
}

static void lossless_columns_meet_their_closed_forms(void **state)
{
    (void)state;
    check_closed_forms(walk_modes, NULL);
}

static void columns_agree_with_an_independent_model(void **state)
{
    (void)state;
    check_against_model(walk_modes);
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

enum { STATES = 64 };
struct run {
    struct hbk_maximum maxima[STATES * ROOM];
    size_t counts[STATES];
    size_t steps;
};

/* All states of the bugle, in a scrambled order when asked. */
static void run_bugle(struct run *run, unsigned threads, bool without_sharing,
                      size_t stride)
{
    struct hbk_arena arena = {NULL};
    const struct hbk_air air = air_at(20.0, false);
    const struct hbk_chain chain = bugle(&arena);
    const struct hbk_sections_options defaults = {.limit_hz = 0.0};
    struct hbk_sections sections;
    assert_int_equal(
        hbk_sections_make(&chain, &air, &defaults, &arena, &sections), HBK_OK);
    assert_int_equal(sections.n_sites, 6);
    for (size_t k = 0; k < 6; k++) {
        assert_true(sections.sites[k].site < 6);
    }
    check_abs(sections.limit_hz, 1400.0, 0.0);
    const struct hbk_walk_options options = {.states_max = STATES,
                                             .threads = threads,
                                             .without_sharing =
                                                 without_sharing};
    struct hbk_walk *const walk = hbk_walk_make(&sections, &options, &arena);
    uint64_t words[STATES];
    struct hbk_maximum *const maxima =
        HBK_ARENA_ARRAY(&arena, struct hbk_maximum, STATES * ROOM);
    size_t counts[STATES];
    for (size_t i = 0; i < STATES; i++) {
        words[i] = (i * stride) % STATES;
        words[i] |= (uint64_t)i << 40; /* bits of no site are ignored */
    }
    assert_int_equal(hbk_walk_run(walk, STATES, words, ROOM, maxima, counts),
                     HBK_OK);
    memset(run, 0, sizeof(*run));
    for (size_t i = 0; i < STATES; i++) {
        const size_t word = words[i] & 0x3f;
        run->counts[word] = counts[i];
        memcpy(run->maxima + (word * ROOM), maxima + (i * ROOM),
               counts[i] * sizeof(struct hbk_maximum));
    }
    run->steps = hbk_walk_steps(walk);
    assert_true(hbk_walk_bytes(walk) > sections.n * sizeof(double));
    hbk_arena_finish(&arena);
}

static void check_same_run(const struct run *got, const struct run *want)
{
    for (size_t w = 0; w < STATES; w++) {
        assert_int_equal(got->counts[w], want->counts[w]);
        for (size_t i = 0; i < want->counts[w]; i++) {
            const struct hbk_maximum *const g = &got->maxima[(w * ROOM) + i];
            const struct hbk_maximum *const m = &want->maxima[(w * ROOM) + i];
            assert_true(g->hz == m->hz);
            assert_true(g->height == m->height);
            assert_true(g->q == m->q);
            assert_true(g->response_db == m->response_db);
            assert_int_equal(g->partial, m->partial);
        }
    }
}

/* Bit by bit: order, sharing and threads must not show in the results. */
static void the_walk_equals_press_by_press(void **state)
{
    (void)state;
    static struct run alone;
    static struct run other;
    run_bugle(&alone, 1, true, 1);
    assert_int_equal(alone.steps, 6 * STATES);
    run_bugle(&other, 1, false, 1);
    assert_int_equal(other.steps, 126);
    check_same_run(&other, &alone);
    run_bugle(&other, 1, false, 29);
    assert_int_equal(other.steps, 126);
    check_same_run(&other, &alone);
    static const unsigned threads[] = {2, 3, 7, 64};
    for (size_t i = 0; i < 4; i++) {
        run_bugle(&other, threads[i], false, 37);
        check_same_run(&other, &alone);
    }
}

static void one_state_asked_twice_is_answered_twice(void **state)
{
    (void)state;
    struct hbk_arena arena = {NULL};
    const struct hbk_air air = air_at(20.0, false);
    const struct hbk_chain chain = lattice(&arena);
    const struct hbk_sections_options options = {.limit_hz = 900.0};
    struct hbk_sections sections;
    assert_int_equal(
        hbk_sections_make(&chain, &air, &options, &arena, &sections), HBK_OK);
    const struct hbk_walk_options walk_options = {.states_max = 5};
    struct hbk_walk *const walk =
        hbk_walk_make(&sections, &walk_options, &arena);
    const uint64_t words[] = {0x155, 0x3ff, 0x155, 0, 0x155};
    struct hbk_maximum maxima[5][ROOM];
    size_t counts[5];
    assert_int_equal(hbk_walk_run(walk, 5, words, ROOM, maxima[0], counts),
                     HBK_OK);
    assert_true(counts[0] > 2);
    assert_int_equal(counts[0], counts[2]);
    assert_int_equal(counts[0], counts[4]);
    for (size_t i = 0; i < counts[0]; i++) {
        assert_true(maxima[0][i].hz == maxima[4][i].hz);
    }
    /* Little room keeps the lowest, rated as if there were more. */
    struct hbk_maximum few[5][2];
    assert_int_equal(hbk_walk_run(walk, 5, words, 2, few[0], counts), HBK_OK);
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(counts[i], 2);
        assert_true(few[i][1].hz == maxima[i][1].hz);
        assert_true(few[i][1].response_db == maxima[i][1].response_db);
    }
    hbk_arena_finish(&arena);
}

/* Without open holes and bell every resonance shows: 1, 2, 3 ... */
static void plain_tubes_are_numbered_without_a_gap(void **state)
{
    (void)state;
    static tube_builder *const builders[] = {
        cylinder_1m, cylinder_2m, cone_near_complete, cone_narrow,
        cone_wide,   cone_holes,  cylinder_cup};
    const struct hbk_air air = air_at(20.0, false);
    for (size_t b = 0; b < sizeof(builders) / sizeof(builders[0]); b++) {
        struct hbk_arena arena = {NULL};
        const struct hbk_chain chain = builders[b](&arena);
        struct hbk_maximum maxima[ROOM];
        const size_t n = walk_one(&chain, &air, 0, 1400.0, maxima);
        assert_true(n >= 8);
        for (size_t i = 0; i < n; i++) {
            assert_int_equal(maxima[i].partial, i + 1);
        }
        hbk_arena_finish(&arena);
    }
}

/*
 * An open hole as wide as this is the end of the tube: resonances of the rest
 * must not be counted. A closed-open cylinder of effective length L has its
 * n-th resonance at (2n - 1) c / 4L (any textbook), wherever the hole is. The
 * number of one that lies above the limit may stay with a side maximum below.
 */
static void tube_beyond_an_open_hole_is_not_counted(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    const struct hbk_side_hole hole = {
        .radius_m = 0.009, .chimney_m = 0.003, .rim = HBK_RIM_CYLINDER};
    for (double at_m = 0.45; at_m < 1.05; at_m += 0.0613) {
        struct hbk_arena arena = {NULL};
        struct hbk_chain chain = plane_chain(&arena, HBK_BELL_UNFLANGED);
        hbk_chain_add_tube(&chain, (struct hbk_tube){at_m, 0.01, 0.01});
        hbk_chain_add_hole(&chain, 0, &hole);
        hbk_chain_add_tube(&chain, (struct hbk_tube){1.3 - at_m, 0.01, 0.01});
        struct hbk_maximum maxima[ROOM];
        const size_t n = walk_one(&chain, &air, 1, 1400.0, maxima);
        unsigned last = 0;
        double first_hz = 0.0;
        for (size_t i = 0; i < n; i++) {
            const unsigned number = maxima[i].partial;
            if (number == 0) {
                continue;
            }
            first_hz = number == 1 ? maxima[i].hz : first_hz;
            assert_true(number > last);
            last = number;
            /* Within a third of the spacing, 2 first_hz. */
            const double place = (2.0 * number) - 1.0;
            if (place * first_hz < 1400.0) {
                check_abs(maxima[i].hz / first_hz, place, 0.67);
            }
        }
        check_abs(first_hz, air.speed / (4.0 * (at_m + 0.018)),
                  0.03 * first_hz);
        assert_true(last >= 1 + (unsigned)((1400.0 / first_hz - 1.7) / 2.0));
        hbk_arena_finish(&arena);
    }
}

/* A pinhole does not end the tube: the whole of it is counted. */
static void a_pinhole_leaves_the_count_alone(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    const struct hbk_side_hole hole = {
        .radius_m = 0.0006, .chimney_m = 0.003, .rim = HBK_RIM_CYLINDER};
    struct hbk_chain chain = one_hole(&arena, HBK_BELL_UNFLANGED, &hole);
    struct hbk_maximum maxima[ROOM];
    const size_t n = walk_one(&chain, &air, 1, 1400.0, maxima);
    assert_true(n >= 8);
    for (size_t i = 0; i < n; i++) {
        assert_int_equal(maxima[i].partial, i + 1);
        check_abs(maxima[i].hz, ((2.0 * (double)i) + 1.0) * 84.9, 20.0);
    }
    hbk_arena_finish(&arena);
}

/* A long narrow cone that flares to a wide bell in its last 15 cm. */
static struct hbk_chain flared(struct hbk_arena *arena)
{
    struct hbk_profile_point points[41];
    for (size_t i = 0; i <= 40; i++) {
        const double x = 2.45 * (1.0 - pow(1.0 - ((double)i / 40.0), 1.6));
        const double flare = 0.075 * exp(-(2.45 - x) / 0.05);
        points[i] =
            (struct hbk_profile_point){x, 0.0058 + (0.0235 * x / 2.45) + flare};
    }
    struct hbk_chain chain = {.arena = arena};
    hbk_chain_add_profile(&chain, 41, points);
    return chain;
}

/*
 * Near the cutoff of a wide bell one resonance of this column fades into its
 * neighbours and shows no maximum. Counted with a rim that sends everything
 * back, so that all of them show, the numbers below and above still agree, by
 * one at most: the bell has shifted them by half a resonance there.
 */
static void a_missing_resonance_leaves_its_number_missing(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    struct hbk_chain chain = flared(&arena);
    struct hbk_maximum maxima[ROOM];
    struct hbk_maximum all[ROOM];
    const size_t n = walk_one(&chain, &air, 0, 1300.0, maxima);
    chain.bell = HBK_BELL_IDEAL;
    const size_t n_all = walk_one(&chain, &air, 0, 1400.0, all);
    for (size_t i = 0; i < n_all; i++) {
        assert_int_equal(all[i].partial, i + 1);
    }
    size_t gaps = 0;
    for (size_t i = 0; i < n; i++) {
        const unsigned number = maxima[i].partial;
        const unsigned before = i == 0 ? 0 : maxima[i - 1].partial;
        assert_true(number > before);
        gaps += number - before - 1;
        assert_true(number <= n_all);
        assert_true(number < 2 || maxima[i].hz > all[number - 2].hz);
        assert_true(number == n_all || maxima[i].hz < all[number].hz);
    }
    assert_int_equal(gaps, 1);
    hbk_arena_finish(&arena);
}

/* Common practice: notes of open holes speak, side maxima do not. */
static void the_response_prefers_the_resonances_of_the_tube(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    const struct hbk_chain chain = cylinder_hole(&arena);
    struct hbk_maximum maxima[ROOM];
    const size_t n = walk_one(&chain, &air, 1, 700.0, maxima);
    assert_int_equal(n, 4);
    assert_int_equal(maxima[2].partial, 0);
    for (size_t i = 0; i < 4; i++) {
        assert_true(i == 2 ||
                    maxima[i].response_db > maxima[2].response_db + 10.0);
        assert_true(maxima[i].q > 10.0);
        assert_true(maxima[i].height > 1e6);
    }
    hbk_arena_finish(&arena);
}

static void sixty_four_sites_are_walked(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    struct hbk_chain chain = plane_chain(&arena, HBK_BELL_UNFLANGED);
    for (unsigned i = 0; i < 64; i++) {
        hbk_chain_add_tube(&chain, (struct hbk_tube){0.01, 0.008, 0.008});
        hbk_chain_add_loop(&chain, i, (struct hbk_tube){0.01, 0.008, 0.008});
    }
    const struct hbk_chain whole =
        one_tube(&arena, HBK_BELL_UNFLANGED, 1.28, 0.008, 0.008);
    struct hbk_maximum got[ROOM];
    struct hbk_maximum want[ROOM];
    const size_t n = walk_one(&chain, &air, UINT64_MAX, 900.0, got);
    assert_int_equal(walk_one(&whole, &air, 0, 900.0, want), n);
    for (size_t i = 0; i < n; i++) {
        check_abs(cents_between(got[i].hz, want[i].hz), 0.0, 1e-4);
    }
    hbk_arena_finish(&arena);
}

static void impossible_questions_leave_the_results_alone(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    struct hbk_chain chain = bugle(&arena);
    static const struct hbk_sections_options bad[] = {
        {.limit_hz = 19.0},       {.limit_hz = 10001.0},
        {.limit_hz = NAN},        {.limit_hz = -1400.0},
        {.points_per_turn = 7.0}, {.points_per_turn = NAN}};
    const struct hbk_sections kept = {.n = 4711};
    struct hbk_sections sections = kept;
    for (size_t i = 0; i < sizeof(bad) / sizeof(bad[0]); i++) {
        assert_int_equal(
            hbk_sections_make(&chain, &air, &bad[i], &arena, &sections),
            HBK_ERR_DOMAIN);
        assert_int_equal(sections.n, 4711);
    }
    const struct hbk_sections_options defaults = {.limit_hz = 0.0};
    assert_int_equal(
        hbk_sections_make(&chain, &air, &defaults, &arena, &sections), HBK_OK);
    const struct hbk_walk_options options = {.states_max = 2};
    struct hbk_walk *const walk = hbk_walk_make(&sections, &options, &arena);
    const uint64_t words[3] = {0, 1, 2};
    struct hbk_maximum maxima[3] = {{.hz = 17.25}};
    size_t counts[3] = {99, 99, 99};
    assert_int_equal(hbk_walk_run(walk, 3, words, 1, maxima, counts),
                     HBK_ERR_DOMAIN);
    assert_int_equal(hbk_walk_run(walk, 2, words, 0, maxima, counts),
                     HBK_ERR_DOMAIN);
    check_abs(maxima[0].hz, 17.25, 0.0);
    assert_int_equal(counts[0], 99);
    assert_int_equal(hbk_walk_run(walk, 0, words, 1, maxima, counts), HBK_OK);
    chain.elements[1].tube.length_m = -1.0;
    sections = kept;
    assert_int_equal(
        hbk_sections_make(&chain, &air, &defaults, &arena, &sections),
        HBK_ERR_DOMAIN);
    assert_int_equal(sections.n, 4711);
    hbk_arena_finish(&arena);
}

/* A capillary of 50 m: next to nothing comes back, and nothing overflows. */
static void a_wave_that_dies_on_the_way_stays_finite(void **state)
{
    (void)state;
    enum { PLACES = 2000 };
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    const struct hbk_chain chain =
        one_tube(&arena, HBK_BELL_UNFLANGED, 50.0, 0.0002, 0.0002);
    const struct hbk_sections_options options = {.limit_hz = 1400.0};
    struct hbk_sections sections;
    assert_int_equal(
        hbk_sections_make(&chain, &air, &options, &arena, &sections), HBK_OK);
    const struct hbk_walk_options one = {.states_max = 1};
    struct hbk_walk *const walk = hbk_walk_make(&sections, &one, &arena);
    struct hbk_maximum *const maxima =
        HBK_ARENA_ARRAY(&arena, struct hbk_maximum, PLACES);
    size_t count = 0;
    const uint64_t word = 0;
    assert_int_equal(hbk_walk_run(walk, 1, &word, PLACES, maxima, &count),
                     HBK_OK);
    for (size_t i = 0; i < count; i++) {
        assert_true(isfinite(maxima[i].hz) && isfinite(maxima[i].height) &&
                    isfinite(maxima[i].q) && isfinite(maxima[i].response_db));
    }
    hbk_arena_finish(&arena);
}

/*
 * A loop made anew in its sections is the column with that loop, on a grid that
 * was made for a longer one.
 */
static void a_loop_may_change_its_length(void **state)
{
    (void)state;
    const struct hbk_air air = air_at(20.0, false);
    struct hbk_arena arena = {NULL};
    struct hbk_chain chain = cornet(&arena);
    size_t loop = 0;
    while (chain.elements[loop].kind != HBK_ELEMENT_LOOP ||
           chain.elements[loop].site != 1) {
        loop++;
    }
    chain.elements[loop].tube.length_m = 0.2;
    struct hbk_sections sections;
    const struct hbk_sections_options options = {.limit_hz = 1200.0};
    assert_int_equal(
        hbk_sections_make(&chain, &air, &options, &arena, &sections), HBK_OK);
    const struct hbk_walk_options walk_options = {.states_max = 2};
    struct hbk_walk *const walk =
        hbk_walk_make(&sections, &walk_options, &arena);
    static const double length_m[] = {0.2, 0.0817, 0.0};
    static const uint64_t words[] = {7, 5};
    for (size_t i = 0; i < sizeof(length_m) / sizeof(length_m[0]); i++) {
        chain.elements[loop].tube.length_m = length_m[i];
        hbk_sections_set_loop(&sections, &chain, loop, &air);
        struct hbk_maximum got[2 * ROOM];
        size_t counts[2];
        assert_int_equal(hbk_walk_run(walk, 2, words, ROOM, got, counts),
                         HBK_OK);
        for (size_t w = 0; w < 2; w++) {
            struct hbk_maximum want[ROOM];
            const size_t n = walk_one(&chain, &air, words[w], 1200.0, want);
            assert_int_equal(counts[w], n);
            for (size_t m = 0; m < n; m++) {
                const struct hbk_maximum *const at = &got[(w * ROOM) + m];
                check_abs(cents_between(at->hz, want[m].hz), 0.0, 1e-3);
                check_abs(cents_between(at->heard_hz, want[m].heard_hz), 0.0,
                          1e-3);
                assert_int_equal(at->partial, want[m].partial);
            }
        }
    }
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lossless_columns_meet_their_closed_forms),
        cmocka_unit_test(columns_agree_with_an_independent_model),
        cmocka_unit_test(maxima_lie_where_a_dense_scan_finds_them),
        cmocka_unit_test(the_walk_equals_press_by_press),
        cmocka_unit_test(one_state_asked_twice_is_answered_twice),
        cmocka_unit_test(plain_tubes_are_numbered_without_a_gap),
        cmocka_unit_test(tube_beyond_an_open_hole_is_not_counted),
        cmocka_unit_test(a_pinhole_leaves_the_count_alone),
        cmocka_unit_test(a_missing_resonance_leaves_its_number_missing),
        cmocka_unit_test(the_response_prefers_the_resonances_of_the_tube),
        cmocka_unit_test(a_loop_may_change_its_length),
        cmocka_unit_test(sixty_four_sites_are_walked),
        cmocka_unit_test(impossible_questions_leave_the_results_alone),
        cmocka_unit_test(a_wave_that_dies_on_the_way_stays_finite),
    };
    return cmocka_run_group_tests_name("walk", tests, NULL, NULL);
}
