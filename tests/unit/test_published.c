/*
 * Against what others have measured on tubes with players, or as near to it as
 * was found. No measurement of a brass instrument that gives its bore as well
 * was found; see src/acoustics/SOURCES.md.
 */
#include "support/air.h"
#include "support/check.h"
#include "support/scan.h"

#include "acoustics/chain.h"
#include "music/pitch.h"

/*
 * A plain tube of 1.41 m blown by a player, in Hz: Holmes, The Physics of Brass
 * Musical Instruments (slides, San Jose State University). Neither its width
 * nor the air in it is given: 12 mm is taken, as of the trumpet it is compared
 * with there, and the air may be anything from a room at 15 degrees to the
 * breath at 37. A player sounds above the resonance, by 19 cents for ten
 * trombonists (Boutin, Fletcher, Smith and Wolfe 2015, J. Acoust. Soc. Am.).
 *
 * What does not depend on that are the intervals. Divided by 3, 5 ... 11 the
 * figures there run from 60.3 to 61.1, which is 23 cents: so far they scatter
 * about any series of odd multiples, and within half of that on either side
 * those computed must run along with them. The lowest note, 79 Hz where the
 * resonance is near 60, is the player's and not the tube's.
 */
static void a_plain_tube_is_played_in_its_own_intervals(void **state)
{
    (void)state;
    enum { PARTIALS = 5 }; /* from the second on */
    static const double played_hz[PARTIALS] = {181, 304, 428, 545, 670};
    struct hbk_arena arena = {0};
    struct hbk_chain chain = {.arena = &arena,
                              .fronts = HBK_FRONTS_PLANE,
                              .bell = HBK_BELL_UNFLANGED};
    hbk_chain_add_tube(&chain, (struct hbk_tube){1.41, 0.006, 0.006});
    static const double celsius[] = {15.0, 37.0};
    double mean[2] = {0.0, 0.0};
    for (size_t t = 0; t < 2; t++) {
        const struct hbk_air air = air_at(celsius[t], false);
        double cents[PARTIALS];
        for (size_t i = 0; i < PARTIALS; i++) {
            const double odd = 3.0 + (2.0 * (double)i);
            const double near_hz = odd * air.speed / (4.0 * 1.41);
            cents[i] = hbk_cents(
                played_hz[i],
                scan_refine(&chain, &air, 0, 0.9 * near_hz, 1.1 * near_hz));
            mean[t] += cents[i] / PARTIALS;
        }
        for (size_t i = 0; i < PARTIALS; i++) {
            print_message("# %.0f degrees, partial %zu: played %+.1f cents\n",
                          celsius[t], i + 2, cents[i]);
            check_abs(cents[i], mean[t], 11.5);
        }
    }
    /* Cold air would leave more than the lips do, warm air less than that. */
    assert_true(mean[0] > 19.0);
    assert_true(mean[1] < 19.0);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plain_tube_is_played_in_its_own_intervals),
    };
    return cmocka_run_group_tests_name("published", tests, NULL, NULL);
}
