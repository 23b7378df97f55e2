/*
 * Figures, not checks: 200 horns of each kind whose errors are as large as the
 * priors of the fit say, within the family that it fits and outside it, read
 * with and without a habit; how many unread notes lie within the one sigma that
 * is stated of them. Takes half an hour; of one horn alone, if its number is
 * given.
 */
#include "support/intervals.h"

enum { HORNS = 200 };

static void run(const struct habits *of, double noise_cents,
                double stated_cents)
{
    for (int i = 0; i < 4; i++) {
        const struct intervals cell = {.of = of,
                                       .habit_cents = i % 2 == 0 ? 0.0 : 10.0,
                                       .noise_cents = noise_cents,
                                       .stated_cents = stated_cents,
                                       .is_outside = i / 2 == 1,
                                       .n_horns = HORNS};
        const struct intervals_found found = intervals_run(&cell);
        printf("%s, noise %.0f stated as %.0f, errors %s, %s habit: %.1f %% of "
               "%zu notes within one sigma; %.1f -> %.1f cents, stated %.1f; "
               "%zu horns unfit\n",
               of->horn, noise_cents, stated_cents,
               cell.is_outside ? "outside" : "within",
               cell.habit_cents > 0.0 ? "a" : "no",
               100.0 * intervals_share(&found), found.n, found.before,
               found.after, found.stated, found.n_unfit);
        (void)fflush(stdout);
    }
}

int main(int argc, char *argv[])
{
    const size_t first = argc > 1 ? (size_t)(argv[1][0] - '0') % HABITS : 0;
    for (size_t i = first; i < (argc > 1 ? first + 1 : HABITS); i++) {
        run(&habits_of[i], 3.0, 3.0);
        run(&habits_of[i], 8.0, 8.0);
        run(&habits_of[i], 8.0, 3.0);
    }
    return 0;
}
