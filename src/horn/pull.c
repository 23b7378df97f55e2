#include "horn/pull.h"

#include "horn/horn.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

static bool is_known(const struct hbk_horn *horn, enum hbk_part part)
{
    return horn->provenance[part] == HBK_MEASURED ||
           horn->provenance[part] == HBK_CATALOGUE;
}

double hbk_pull_step_m(const struct hbk_horn *horn)
{
    const bool known = horn->fitted.n_readings > 0 ||
                       (horn->model == HBK_MODEL_LENGTH
                            ? is_known(horn, HBK_PART_LENGTH)
                            : is_known(horn, HBK_PART_BORE) &&
                                  (!horn->bore.mouthpiece.given ||
                                   is_known(horn, HBK_PART_MOUTHPIECE)));
    return known ? 0.5e-3 : 1e-3;
}

double hbk_pull_mm(const struct hbk_horn *horn, double draw_m)
{
    const double step_mm = 1e3 * hbk_pull_step_m(horn);
    const double mm = step_mm * round(1e3 * draw_m / step_mm);
    return mm == 0.0 ? 0.0 : mm;
}

double hbk_pull_slide_mm(const struct hbk_horn *horn, size_t s, double draw_m)
{
    const double mm = hbk_pull_mm(horn, draw_m);
    const double travel_mm = 1e3 * horn->slides[s].travel_m;
    return draw_m <= horn->slides[s].travel_m ? fmin(mm, travel_mm) : mm;
}

char *hbk_pull_text(const struct hbk_horn *horn, double draw_m,
                    char text[HBK_PULL_SIZE])
{
    (void)snprintf(text, HBK_PULL_SIZE, "%.4g", hbk_pull_mm(horn, draw_m));
    return text;
}

char *hbk_pull_slide_text(const struct hbk_horn *horn, size_t s, double draw_m,
                          char text[HBK_PULL_SIZE])
{
    (void)snprintf(text, HBK_PULL_SIZE, "%.4g",
                   hbk_pull_slide_mm(horn, s, draw_m));
    return text;
}
