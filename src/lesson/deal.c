#include "lesson/deal.h"

#include "base/arena.h"
#include "horn/about.h"
#include "lesson/assign.h"

#include <math.h>
#include <stdlib.h>

/*
 * In points of difficulty: what a tune costs in a lesson beside its move, for
 * each point it is harder or easier than its place; that it lacks the note that
 * is new; that there is none. Our own choice, no source.
 */
static const double harder = 1.0;
static const double easier = 0.25;
static const double lacks_new = 40.0;
static const double no_tune = 60.0;

enum { FIFTH = 7 };

/* Everything that is weighed: of each lesson each tune. */
struct dealer {
    const struct hbk_lessons *lessons;
    struct hbk_tune_shelf *shelf;
    struct hbk_arena *arena;
    size_t n;
    const signed char *alters; /* of all lessons */
    const double *levels;      /* rising: of the tunes, easiest first */
    struct hbk_tune_wish *wishes;
    struct hbk_tune_place *places; /* lesson by lesson */
    double *prices;                /* likewise; tunes, then none */
};

static struct hbk_tune_wish wish_of(const struct dealer *dealer,
                                    const struct hbk_lesson *lesson)
{
    int *const added = HBK_ARENA_ARRAY(dealer->arena, int, HBK_LESSON_NEW_MOST);
    for (size_t i = 0; i < lesson->n_new; i++) {
        added[i] = lesson->added[i].written;
    }
    return (struct hbk_tune_wish){
        .n_known = lesson->n_known,
        .known = lesson->known,
        .n_new = lesson->n_new,
        .added = added,
        .alters = dealer->alters,
        .home = dealer->lessons->home,
        .clef = hbk_horn_clef(dealer->lessons->notes->horn),
        .leap_most = lesson->number <= HBK_DEAL_CALM ? FIFTH : 0,
        .moves = lesson->moves};
}

/* What a tune costs in a lesson; INFINITY where it must not be there. */
static double price_of(const struct dealer *dealer, size_t lesson, size_t which,
                       const struct hbk_tune_place *place)
{
    const size_t at = lesson < dealer->n ? lesson : dealer->n - 1;
    const double above =
        hbk_tune_shelf_difficulty(dealer->shelf, which) - dealer->levels[at];
    const bool lacks = dealer->wishes[lesson].n_new > 0 && !place->has_new;
    if (above > HBK_DEAL_RISE) {
        return INFINITY;
    }
    return place->cost + (above > 0.0 ? harder * above : -easier * above) +
           (lacks ? lacks_new : 0.0);
}

/* The sign with which each written note is taught. */
static const signed char *alters_of(const struct hbk_lessons *lessons,
                                    struct hbk_arena *arena)
{
    signed char *const alters =
        HBK_ARENA_ARRAY(arena, signed char, HBK_NOTE_MAX + 1);
    for (size_t k = 0; k < lessons->n; k++) {
        const struct hbk_lesson *const lesson = &lessons->lessons[k];
        for (size_t i = 0; i < lesson->n_new; i++) {
            alters[lesson->added[i].written] =
                (signed char)lesson->added[i].spelling.alter;
        }
    }
    return alters;
}

static int compare(const void *a, const void *b)
{
    const double *const x = a;
    const double *const y = b;
    return (*x > *y) - (*x < *y);
}

/* Every lesson with every tune, and with none. */
static void weigh(struct dealer *dealer)
{
    const size_t columns = dealer->n + dealer->lessons->n;
    for (size_t k = 0; k < dealer->lessons->n; k++) {
        double *const prices = &dealer->prices[k * columns];
        dealer->wishes[k] = wish_of(dealer, &dealer->lessons->lessons[k]);
        for (size_t i = 0; i < dealer->n; i++) {
            struct hbk_tune_place *const place =
                &dealer->places[k * dealer->n + i];
            prices[i] = hbk_tune_shelf_place(dealer->shelf, i,
                                             &dealer->wishes[k], place)
                            ? price_of(dealer, k, i, place)
                            : (double)INFINITY;
        }
        for (size_t i = dealer->n; i < columns; i++) {
            prices[i] = no_tune;
        }
    }
}

static struct dealer dealer_of(const struct hbk_lessons *lessons,
                               const struct hbk_tune *const tunes[], size_t n,
                               struct hbk_arena *arena)
{
    double *const levels = HBK_ARENA_ARRAY(arena, double, n + 1);
    struct dealer dealer = {
        .lessons = lessons,
        .shelf = hbk_tune_shelf_make(tunes, n, arena),
        .arena = arena,
        .n = n,
        .alters = alters_of(lessons, arena),
        .levels = levels,
        .wishes = HBK_ARENA_ARRAY(arena, struct hbk_tune_wish, lessons->n + 1),
        .places =
            HBK_ARENA_ARRAY(arena, struct hbk_tune_place, n * lessons->n + 1),
        .prices =
            HBK_ARENA_ARRAY(arena, double, (n + lessons->n) * lessons->n + 1)};
    for (size_t i = 0; i < n; i++) {
        levels[i] = hbk_tune_shelf_difficulty(dealer.shelf, i);
    }
    qsort(levels, n, sizeof(levels[0]), compare);
    return dealer;
}

/*
 * Rules out the first tune that is much harder than all before it; false where
 * there is none. The first of all is as hard as its place has it.
 */
static bool rule_out(struct dealer *dealer, const size_t of[])
{
    double hardest = -1.0;
    for (size_t k = 0; k < dealer->lessons->n; k++) {
        if (of[k] >= dealer->n) {
            continue;
        }
        const double here = hbk_tune_shelf_difficulty(dealer->shelf, of[k]);
        if (hardest >= 0.0 && here > hardest + HBK_DEAL_RISE) {
            dealer->prices[k * (dealer->n + dealer->lessons->n) + of[k]] =
                (double)INFINITY;
            return true;
        }
        hardest = fmax(hardest, here);
    }
    return false;
}

struct hbk_dealt hbk_tunes_deal(const struct hbk_lessons *lessons,
                                const struct hbk_tune *const tunes[], size_t n,
                                struct hbk_arena *arena)
{
    struct hbk_dealt dealt = {
        .tunes = HBK_ARENA_ARRAY(arena, struct hbk_dealt_tune, n + 1)};
    if (lessons->n == 0 || n == 0) {
        return dealt;
    }
    struct dealer dealer = dealer_of(lessons, tunes, n, arena);
    weigh(&dealer);
    const size_t *of;
    do {
        of = hbk_assign(dealer.prices, lessons->n, n + lessons->n, arena);
    } while (rule_out(&dealer, of));
    for (size_t k = 0; k < lessons->n; k++) {
        struct hbk_dealt_tune *const tune = &dealt.tunes[dealt.n];
        if (of[k] < n &&
            hbk_tune_shelf_hand_out(dealer.shelf, of[k], &dealer.wishes[k],
                                    &dealer.places[k * n + of[k]], arena,
                                    &tune->tune)) {
            tune->after = k + 1;
            dealt.n++;
        }
    }
    dealt.n_in_lessons = dealt.n;
    struct hbk_lesson_tune left;
    while (hbk_tune_shelf_take(dealer.shelf, &dealer.wishes[lessons->n - 1],
                               arena, &left)) {
        dealt.tunes[dealt.n++] = (struct hbk_dealt_tune){left, lessons->n};
    }
    return dealt;
}
