#include "support/check.h"
#include "support/twelve_keys.h"

#include "acoustics/walk.h"

enum { ROOM = 48, PARTIALS = 6 };

static size_t walk_one(const struct hbk_chain *chain, const struct hbk_air *air,
                       uint64_t word, struct hbk_maximum maxima[ROOM])
{
    struct hbk_arena arena = {NULL};
    struct hbk_sections sections;
    const struct hbk_sections_options options = {.limit_hz = 900.0};
    assert_int_equal(hbk_sections_make(chain, air, &options, &arena, &sections),
                     HBK_OK);
    const struct hbk_walk_options one = {.states_max = 1};
    struct hbk_walk *const walk = hbk_walk_make(&sections, &one, &arena);
    size_t count = 0;
    assert_int_equal(hbk_walk_run(walk, 1, &word, ROOM, maxima, &count),
                     HBK_OK);
    hbk_arena_finish(&arena);
    return count;
}

/* Cut off at a hole, whose air, as a tube of its width, is the only outlet. */
static struct hbk_chain above_hole(struct hbk_arena *arena, unsigned site)
{
    struct hbk_chain chain = twelve_keys(arena, false);
    size_t i = 0;
    while (chain.elements[i].kind != HBK_ELEMENT_HOLE ||
           chain.elements[i].site != site) {
        i++;
        assert_true(i < chain.n);
    }
    const struct hbk_side_hole hole = chain.elements[i].hole;
    const double area = 3.14159265358979 * hole.radius_m * hole.radius_m;
    const double air_m =
        area * hbk_hole_inertance(&hole, hbk_chain_bore(&chain, i));
    chain.n = i;
    chain.bell = HBK_BELL_IDEAL;
    hbk_chain_add_tube(&chain,
                       (struct hbk_tube){air_m, hole.radius_m, hole.radius_m});
    return chain;
}

/*
 * With one hole open, as ophicleides and keyed bugles are played, the tube
 * below it is shut off by nothing but the hole: its resonances show beside
 * those of the tube above and pull at them. The numbers are still those of the
 * tube above. Cut short, a cone is less of a cone: its second resonance lies
 * above the octave, the more so the higher the hole.
 */
static void numbers_count_the_tube_above_the_open_hole(void **state)
{
    (void)state;
    struct hbk_air air;
    assert_int_equal(hbk_air_at(20.0, &air), HBK_OK);
    struct hbk_arena arena = {NULL};
    const struct hbk_chain whole = twelve_keys(&arena, false);
    double octave = 0.0;
    for (unsigned site = 0; site < TWELVE_KEYS; site++) {
        const struct hbk_chain above = above_hole(&arena, site);
        struct hbk_maximum got[ROOM];
        struct hbk_maximum want[ROOM];
        const size_t n = walk_one(&whole, &air, (uint64_t)1 << site, got);
        const size_t n_want = walk_one(&above, &air, 0, want);
        const size_t most = n_want < PARTIALS ? n_want : PARTIALS;
        assert_true(most >= 3);
        unsigned last = 0;
        for (size_t i = 0; i < n && last < most; i++) {
            if (got[i].partial > 0) {
                last++;
                assert_int_equal(got[i].partial, last);
                assert_int_equal(want[last - 1].partial, last);
                check_rel(got[i].hz, want[last - 1].hz, 0.05);
            }
        }
        assert_int_equal(last, most);
        assert_true(want[1].hz / want[0].hz > octave);
        octave = want[1].hz / want[0].hz;
    }
    assert_true(octave > 2.3);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_count_the_tube_above_the_open_hole),
    };
    return cmocka_run_group_tests_name("numbers", tests, NULL, NULL);
}
