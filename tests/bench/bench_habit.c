/*
 * Figures, not checks: horns with errors that no parameter describes, read by
 * players with and without a habit, with one slip; whether the horn itself is
 * found.
 */
#include "support/habits.h"

static void run(const struct habits *of, double habit, double noise)
{
    static struct fitting f;
    struct habits_found mean = {0};
    size_t nearer = 0;
    size_t nearer_tuned = 0;
    size_t slips = 0;
    size_t sound = 0;
    fitting_open(&f, of->horn);
    fitting_ask(&f, of->notes);
    for (uint64_t seed = 0; seed < HABITS_SEEDS; seed++) {
        const struct habits_found found =
            habits_run(&f, of, seed, habit, noise, 100.0);
        nearer += found.after < found.before ? 1 : 0;
        nearer_tuned += found.after_tuned < found.before_tuned ? 1 : 0;
        slips += found.has_slip ? 1 : 0;
        sound += found.n_sound_aside;
        mean.before += found.before * found.before / HABITS_SEEDS;
        mean.after += found.after * found.after / HABITS_SEEDS;
        mean.before_tuned +=
            found.before_tuned * found.before_tuned / HABITS_SEEDS;
        mean.after_tuned +=
            found.after_tuned * found.after_tuned / HABITS_SEEDS;
        mean.played += found.played * found.played / HABITS_SEEDS;
        mean.slope += found.slope / HABITS_SEEDS;
        mean.slope_sd += found.slope_sd / HABITS_SEEDS;
        mean.stated += found.stated * found.stated / HABITS_SEEDS;
        mean.stated_notes +=
            found.stated_notes * found.stated_notes / HABITS_SEEDS;
    }
    printf("%s, habit %.0f cents an octave, noise %.0f: the horn itself %.1f "
           "-> %.1f cents, nearer in %zu of %d; tuned %.1f -> %.1f, nearer in "
           "%zu; as played %.1f, left out says %.1f, tuned notes %.1f; slope "
           "%.1f +- %.1f; %zu slips found, %zu sound readings set aside\n",
           of->horn, habit, noise, sqrt(mean.before), sqrt(mean.after), nearer,
           HABITS_SEEDS, sqrt(mean.before_tuned), sqrt(mean.after_tuned),
           nearer_tuned, sqrt(mean.played), sqrt(mean.stated),
           sqrt(mean.stated_notes), mean.slope, mean.slope_sd, slips, sound);
    fitting_close(&f);
}

int main(void)
{
    for (size_t i = 0; i < HABITS; i++) {
        run(&habits_of[i], 0.0, 3.0);
        run(&habits_of[i], 0.0, 8.0);
        run(&habits_of[i], 10.0, 3.0);
    }
    return 0;
}
