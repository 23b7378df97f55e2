/*
 * Names of keys beside the readings of a tuner: a short run of
 * tests/bench/bench_names.c.
 */
#include "support/named_read.h"

enum { HORNS = 3 };

/* Names that are off by more than a maker's care add no false certainty. */
static void names_beside_readings_do_not_boast(void **state)
{
    (void)state;
    static const struct named_read_truth truths[] = {
        {"tests/data/unfitted/keyed-bugle-c-6-munich.yaml", 0.03},
        {"keyed-bugle-c-6-munich", 0.03}};
    size_t n = 0;
    size_t n_within = 0;
    for (int i = 0; i < 2; i++) {
        const struct named_read found =
            named_read_run(7000, HORNS, truths[i], true);
        print_message("# %s: off %.1f, stated %.1f, held %zu of %zu\n",
                      truths[i].around, found.off, found.stated, found.n_within,
                      found.n);
        n += found.n;
        n_within += found.n_within;
        assert_true(found.off < 1.5 * found.stated);
    }
    assert_true(5 * n_within > 3 * n);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_beside_readings_do_not_boast),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
