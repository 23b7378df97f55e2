/*
 * Figures, not checks: one thing wrong, or nothing, on horns by length and
 * by bore; how often what is wrong is named first, or among the first two,
 * and how often something is named on a sound horn; with a player like the
 * file's, and with players of another slope.
 */
#include "support/troubled.h"

#include <stdlib.h>
#include <time.h>

enum { BROKEN = 100, SOUND = 50 };

/* Cents an octave, one standard deviation, of the players that have a habit. */
static const double slope_sd = 10.0;

static const char *const horns[] = {
    "cornet-b-flat",
    "cornet-b-flat-bore",
    "tests/data/unfitted/keyed-bugle-c-6-munich.yaml",
    "keyed-bugle-b-flat-6",
};

static const char *const kinds[] = {"none",  "other", "leak", "lift",
                                    "slide", "down",  "up"};

static void tell(const struct troubled *t, const struct hbk_troubles *found,
                 size_t rank)
{
    const struct hbk_trouble *const first = &found->items[found->order[0]];
    printf("    %s site %d control %d slide %d amount %.4f: rank %zu, verdict "
           "%d; first %s site %d control %d slide %d amount %.4f, %.3f\n",
           kinds[t->what.kind], t->what.site, t->what.control, t->what.slide,
           t->amount, rank + 1, (int)found->verdict, kinds[first->what.kind],
           first->what.site, first->what.control, first->what.slide,
           first->amount_m, first->probability);
}

struct asked {
    const char *horn;
    size_t step; /* every note, or every other */
    bool is_fitted;
    double slope_sd;
    size_t n_broken, n_sound;
};

static void run(struct asked q)
{
    static struct troubled t;
    size_t first = 0;
    size_t second = 0;
    size_t claimed = 0;
    size_t verdicts[4] = {0};
    troubled_open(&t, q.horn, q.step);
    if (!q.is_fitted) {
        troubled_forget(&t);
    }
    t.slope_sd = q.slope_sd;
    const clock_t start = clock();
    for (size_t seed = 0; seed < q.n_broken; seed++) {
        struct rng rng = {.state = 5000 + seed};
        struct hbk_arena arena = {0};
        struct hbk_troubles found;
        troubled_break(&t, &rng);
        troubled_ask(&t, &arena, &found);
        const size_t rank = troubled_rank(&t, &found);
        first += rank == 0 ? 1 : 0;
        second += rank <= 1 ? 1 : 0;
        verdicts[found.verdict]++;
        if (rank > 0) {
            tell(&t, &found, rank);
        }
        hbk_arena_finish(&arena);
    }
    const struct hbk_trouble_case none = {HBK_TROUBLE_NONE, -1, -1, -1};
    for (size_t seed = 0; seed < q.n_sound; seed++) {
        struct rng rng = {.state = 9000 + seed};
        struct hbk_arena arena = {0};
        struct hbk_troubles found;
        troubled_read(&t, &none, 0.0, &rng);
        troubled_ask(&t, &arena, &found);
        claimed += found.verdict == HBK_TROUBLE_FOUND ? 1 : 0;
        hbk_arena_finish(&arena);
    }
    printf("%s, %s, slope %.0f, %zu readings, %zu cases: of %zu broken %zu "
           "first, %zu "
           "among the first two; sound %zu, found %zu, mixed %zu, unclear %zu; "
           "of %zu sound %zu claimed; %.2f s a page\n",
           t.base.horn.id, q.is_fitted ? "fitted" : "never fitted", q.slope_sd,
           t.soundings.n, t.n_cases, q.n_broken, first, second,
           verdicts[HBK_TROUBLE_SOUND], verdicts[HBK_TROUBLE_FOUND],
           verdicts[HBK_TROUBLE_MIXED], verdicts[HBK_TROUBLE_UNCLEAR],
           q.n_sound, claimed,
           (double)(clock() - start) / CLOCKS_PER_SEC /
               (double)(q.n_broken + q.n_sound));
    (void)fflush(stdout);
    troubled_close(&t);
}

/* bench_trouble [HORN [N]] */
int main(int argc, char *argv[])
{
    const size_t n_broken = argc > 2 ? (size_t)atoi(argv[2]) : BROKEN;
    const size_t n_sound = argc > 2 ? n_broken : SOUND;
    for (size_t i = 0; i < sizeof(horns) / sizeof(horns[0]); i++) {
        if (argc > 1 && strcmp(argv[1], horns[i]) != 0) {
            continue;
        }
        for (int k = 0; k < 2; k++) {
            const double sd = k == 0 ? 0.0 : slope_sd;
            run((struct asked){horns[i], 1, true, sd, n_broken, n_sound});
            run((struct asked){horns[i], 2, true, sd, n_broken, n_sound});
            run((struct asked){horns[i], 1, false, sd, n_broken, n_sound});
        }
    }
    return 0;
}
