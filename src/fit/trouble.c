#include "fit/trouble.h"

#include "fit/trouble_next.h"
#include "fit/trouble_page.h"
#include "fit/trouble_priors.h"
#include "horn/horn.h"

#include <math.h>

/* From so likely on, a verdict is said. */
static const double claim = 0.8;
static const double sound_claim = 0.5;
/* From so likely on nothing is left to tell. */
static const double certain = 0.99;

enum { SOUND = 0, OTHER = 1, CASES = 2 };

/*
 * Kinds are equally likely, and so are the cases of a kind: a horn of many
 * keys has no more sticking valves for that.
 */
static double prior_of(const struct hbk_trouble_judged judged[], size_t n,
                       size_t at)
{
    if (at == SOUND) {
        return HBK_TROUBLE_PRIOR_SOUND;
    }
    if (at == OTHER) {
        return HBK_TROUBLE_PRIOR_OTHER;
    }
    size_t alike = 0;
    size_t kinds = 0;
    for (int kind = HBK_TROUBLE_LEAK; kind <= HBK_TROUBLE_STUCK_UP; kind++) {
        size_t here = 0;
        for (size_t i = CASES; i < n; i++) {
            here += (int)judged[i].result.what.kind == kind ? 1 : 0;
        }
        kinds += here > 0 ? 1 : 0;
        alike += kind == (int)judged[at].result.what.kind ? here : 0;
    }
    const double left = 1.0 - HBK_TROUBLE_PRIOR_SOUND - HBK_TROUBLE_PRIOR_OTHER;
    return left / ((double)kinds * (double)alike);
}

static void share_out(const struct hbk_trouble_judged judged[], size_t n,
                      struct hbk_trouble items[])
{
    double most = -INFINITY;
    for (size_t i = 0; i < n; i++) {
        most = fmax(most, judged[i].log_likelihood);
    }
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        items[i] = judged[i].result;
        items[i].probability =
            prior_of(judged, n, i) * exp(judged[i].log_likelihood - most);
        sum += items[i].probability;
    }
    for (size_t i = 0; i < n; i++) {
        items[i].probability /= sum;
    }
}

static const size_t *find_order(const struct hbk_trouble items[], size_t n,
                                struct hbk_arena *arena)
{
    size_t *const order = HBK_ARENA_ARRAY(arena, size_t, n + 1);
    for (size_t i = 0; i < n; i++) {
        size_t at = i;
        while (at > 0 &&
               items[i].probability > items[order[at - 1]].probability) {
            order[at] = order[at - 1];
            at--;
        }
        order[at] = i;
    }
    return order;
}

static enum hbk_trouble_verdict verdict_of(const struct hbk_trouble items[])
{
    const double sound = items[SOUND].probability;
    const double other = items[OTHER].probability;
    if (1.0 - sound - other > claim) {
        return HBK_TROUBLE_FOUND;
    }
    if (other > claim * (1.0 - sound) && other > sound) {
        return HBK_TROUBLE_MIXED;
    }
    return sound > sound_claim ? HBK_TROUBLE_SOUND : HBK_TROUBLE_UNCLEAR;
}

/* What the answer holds to be so. */
static size_t answer_of(const struct hbk_troubles *found)
{
    size_t at = 0;
    while (found->order[at] == OTHER ||
           (found->verdict == HBK_TROUBLE_FOUND && found->order[at] == SOUND)) {
        at++;
    }
    return found->verdict == HBK_TROUBLE_SOUND ? SOUND : found->order[at];
}

/* Where nothing single explains the page, no reading stands out from it. */
static void find_astray(const struct hbk_trouble_page *page,
                        const struct hbk_trouble_judged judged[],
                        struct hbk_troubles *found)
{
    const size_t n = page->bound.n;
    const double limit = hbk_trouble_aside_sd(n);
    const double *const left = judged[answer_of(found)].left;
    struct hbk_trouble_astray *const astray =
        HBK_ARENA_ARRAY(page->arena, struct hbk_trouble_astray, n);
    for (size_t i = 0; i < n && found->verdict != HBK_TROUBLE_MIXED; i++) {
        if (fabs(left[i]) > limit * page->sd[i]) {
            astray[found->n_astray++] = (struct hbk_trouble_astray){
                .reading = page->bound.items[i].reading,
                .press = page->bound.items[i].press,
                .cents = left[i]};
        }
    }
    found->astray = astray;
}

enum hbk_status hbk_trouble_find(const struct hbk_horn *horn,
                                 const struct hbk_readings *readings,
                                 struct hbk_arena *arena,
                                 struct hbk_troubles *found,
                                 struct hbk_faults *faults)
{
    struct hbk_trouble_page page;
    struct hbk_trouble_case cases[HBK_TROUBLE_CASES_MAX];
    HBK_TRY(hbk_trouble_page_make(horn, readings, arena, &page, faults));
    const size_t n_cases =
        hbk_trouble_cases(page.horn, &page.bound.stuck, cases);
    const size_t n = CASES + n_cases;
    struct hbk_trouble_judged *const judged =
        HBK_ARENA_ARRAY(arena, struct hbk_trouble_judged, n);
    struct hbk_trouble *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_trouble, n);
    const struct hbk_trouble_case sound = {HBK_TROUBLE_NONE, -1, -1, -1};
    const struct hbk_trouble_case other = {HBK_TROUBLE_OTHER, -1, -1, -1};
    for (size_t i = 0; i < n; i++) {
        judged[i] = hbk_trouble_judge(&page, i == SOUND   ? &sound
                                             : i == OTHER ? &other
                                                          : &cases[i - CASES]);
    }
    share_out(judged, n, items);
    *found = (struct hbk_troubles){.readings = readings,
                                   .horn = page.horn,
                                   .verdict = verdict_of(items),
                                   .n = n,
                                   .items = items,
                                   .order = find_order(items, n, arena),
                                   .was_fitted = horn->fitted.n_readings > 0};
    find_astray(&page, judged, found);
    if (items[found->order[0]].probability < certain) {
        hbk_trouble_find_next(&page, judged, found);
    }
    return HBK_OK;
}
