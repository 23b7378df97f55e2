#include "solve/ranking.h"

#include "horn/about.h"
#include "horn/horn.h"

#include <math.h>

double hbk_ranking_untaught(const struct hbk_horn *horn)
{
    return hbk_horn_has_kind(horn, HBK_KEY) ? HBK_PRICE_UNTAUGHT_KEYS
                                            : HBK_PRICE_UNTAUGHT_VALVES;
}

double hbk_ranking_cost(const struct hbk_horn *horn,
                        const struct hbk_fingering *fingering,
                        double finger_price, double raise)
{
    const bool avoided = horn->partials.avoid[fingering->partial];
    const double weaker =
        horn->model == HBK_MODEL_BORE
            ? fmax(HBK_RESPONSE_FREE_DB - fingering->response_db, 0.0)
            : 0.0;
    return (fingering->cents * fingering->cents) + finger_price +
           (HBK_PRICE_SEMITONE * fmax(raise, 0.0)) +
           (HBK_PRICE_DECIBEL * weaker) +
           (avoided ? HBK_PRICE_AVOIDED_PARTIAL : 0.0);
}

int hbk_ranking_compare(const void *a, const void *b)
{
    const struct hbk_fingering *const x = a;
    const struct hbk_fingering *const y = b;
    if (x->cost != y->cost) {
        return x->cost < y->cost ? -1 : 1;
    }
    if (x->partial != y->partial) {
        return x->partial < y->partial ? -1 : 1;
    }
    return (x->press > y->press) - (x->press < y->press);
}
