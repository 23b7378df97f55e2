/*
 * Figures, not checks: horns with errors that no parameter describes, read by
 * players with and without a habit, with one slip; whether the horn itself is
 * found. HABITS_SEEDS horns of each kind, or as many as are asked for.
 */
#include "support/habits.h"

/* Sums of squares, and how many horns came nearer the true one. */
struct tally {
    double before, after;
    unsigned nearer;
};

static void count(struct tally *tally, double before, double after)
{
    tally->before += before * before;
    tally->after += after * after;
    tally->nearer += after < before ? 1 : 0;
}

static void tell(const struct tally *tally, const char *what, uint64_t n_seeds)
{
    printf("%s %.1f -> %.1f cents, nearer in %u; ", what,
           sqrt(tally->before / (double)n_seeds),
           sqrt(tally->after / (double)n_seeds), tally->nearer);
}

static void run(const struct habits *of, double habit, double noise,
                uint64_t n_seeds)
{
    static struct fitting f;
    struct tally sounding = {0};
    struct tally tuned = {0};
    struct tally all_tuned = {0};
    struct habits_found mean = {0};
    size_t slips = 0;
    size_t sound = 0;
    const double n = (double)n_seeds;
    fitting_open(&f, of->horn);
    fitting_ask(&f, of->notes);
    for (uint64_t seed = 0; seed < n_seeds; seed++) {
        const struct habits_found found =
            habits_run(&f, of, seed, habit, noise, 100.0);
        count(&sounding, found.before.sounding, found.after.sounding);
        count(&tuned, found.before.tuned, found.after.tuned);
        count(&all_tuned, found.before.all_tuned, found.after.all_tuned);
        slips += found.has_slip ? 1 : 0;
        sound += found.n_sound_aside;
        mean.played += found.played * found.played / n;
        mean.slope += found.slope / n;
        mean.slope_sd += found.slope_sd / n;
        mean.stated += found.stated * found.stated / n;
        mean.stated_notes += found.stated_notes * found.stated_notes / n;
    }
    printf("%s, habit %.0f cents an octave, noise %.0f, %zu horns: ", of->horn,
           habit, noise, (size_t)n_seeds);
    tell(&sounding, "unread notes of the horn itself", n_seeds);
    tell(&tuned, "tuned", n_seeds);
    tell(&all_tuned, "all notes, tuned", n_seeds);
    printf("as played %.1f, left out says %.1f, tuned notes %.1f; slope "
           "%.1f +- %.1f; %zu slips found, %zu sound readings set aside\n",
           sqrt(mean.played), sqrt(mean.stated), sqrt(mean.stated_notes),
           mean.slope, mean.slope_sd, slips, sound);
    (void)fflush(stdout);
    fitting_close(&f);
}

int main(int argc, char *argv[])
{
    const uint64_t n_seeds =
        argc > 1 ? strtoull(argv[1], NULL, 10) : HABITS_SEEDS;
    for (size_t i = 0; i < HABITS; i++) {
        run(&habits_of[i], 0.0, 3.0, n_seeds);
        run(&habits_of[i], 0.0, 8.0, n_seeds);
        run(&habits_of[i], 10.0, 3.0, n_seeds);
        run(&habits_of[i], 10.0, 8.0, n_seeds);
    }
    return 0;
}
