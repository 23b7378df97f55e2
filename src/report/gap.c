#include "report/gap.h"

#include <math.h>

void hbk_gap_text(const struct hbk_gaps *gaps, const struct hbk_gap *gap,
                  const struct hbk_partials *used, struct hbk_text *out)
{
    double least = INFINITY;
    double most = 0.0;
    for (size_t i = 0; i < gaps->n; i++) {
        if (gaps->items[i].reason == HBK_GAP_FAR) {
            least = fmin(least, fabs(gaps->items[i].cents));
            most = fmax(most, fabs(gaps->items[i].cents));
        }
    }
    switch (gap->reason) {
    case HBK_GAP_STUCK:
        hbk_text_add(out, "because of what is stuck");
        break;
    case HBK_GAP_PARTIAL:
        hbk_text_addf(out,
                      "partial %u would give it, but only %u to %u are used",
                      gap->partial, used->lowest, used->highest);
        break;
    case HBK_GAP_FAR:
        hbk_text_addf(out, "the nearest fingering is %.0f ", least);
        if (round(most) > round(least)) {
            hbk_text_addf(out, "to %.0f ", most);
        }
        hbk_text_add(out, "cents off");
        break;
    case HBK_GAP_NONE:
        hbk_text_add(out, "nothing sounds near it");
        break;
    }
}
