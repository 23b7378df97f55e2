#include "fit/predict.h"

#include "music/pitch.h"

#include <math.h>
#include <string.h>

void hbk_soundings_prepare(struct hbk_soundings *soundings,
                           struct hbk_arena *arena)
{
    uint32_t *const presses =
        HBK_ARENA_ARRAY(arena, uint32_t, soundings->n + 1);
    size_t *const first = HBK_ARENA_ARRAY(arena, size_t, soundings->n_rigs + 1);
    size_t *const column = HBK_ARENA_ARRAY(arena, size_t, soundings->n + 1);
    size_t n = 0;
    for (size_t r = 0; r < soundings->n_rigs; r++) {
        first[r] = n;
        for (size_t i = 0; i < soundings->n; i++) {
            const struct hbk_sounding *const item = &soundings->items[i];
            if (item->rig != r) {
                continue;
            }
            size_t at = first[r];
            while (at < n && presses[at] != item->press) {
                at++;
            }
            if (at == n) {
                presses[n++] = item->press;
            }
            column[i] = at;
        }
    }
    first[soundings->n_rigs] = n;
    soundings->n_columns = n;
    soundings->presses = presses;
    soundings->first = first;
    soundings->column = column;
}

static enum hbk_status predict(const struct hbk_parameters *parameters,
                               const double d[],
                               const struct hbk_soundings *soundings,
                               struct hbk_arena *arena, double cents[])
{
    struct hbk_horn horn;
    if (!hbk_parameters_apply(parameters, d, arena, &horn)) {
        return HBK_ERR_DOMAIN;
    }
    struct hbk_peak *const peaks = HBK_ARENA_ARRAY(
        arena, struct hbk_peak, (soundings->n_columns + 1) * HBK_PEAK_STRIDE);
    for (size_t r = 0; r < soundings->n_rigs; r++) {
        const size_t first = soundings->first[r];
        const size_t here = soundings->first[r + 1] - first;
        /* The reason would be about a horn that nobody described. */
        struct hbk_faults unsaid = {0};
        if (here > 0) {
            HBK_TRY(hbk_column_peaks(&horn, &soundings->rigs[r], here,
                                     &soundings->presses[first],
                                     &peaks[first * HBK_PEAK_STRIDE], &unsaid));
        }
    }
    for (size_t i = 0; i < soundings->n; i++) {
        const struct hbk_sounding *const item = &soundings->items[i];
        const double hz =
            peaks[(soundings->column[i] * HBK_PEAK_STRIDE) + item->partial].hz;
        cents[i] = hz > 0.0 ? hbk_cents(hz, item->reference_hz) : (double)NAN;
    }
    return HBK_OK;
}

enum hbk_status hbk_predict(const struct hbk_parameters *parameters,
                            const double d[],
                            const struct hbk_soundings *soundings,
                            double cents[])
{
    struct hbk_arena scratch = {0};
    const enum hbk_status status =
        predict(parameters, d, soundings, &scratch, cents);
    hbk_arena_finish(&scratch);
    return status;
}

enum hbk_status hbk_predict_slopes(const struct hbk_parameters *parameters,
                                   const double d[],
                                   const struct hbk_soundings *soundings,
                                   double slopes[])
{
    const double step = 0.25;
    const size_t n = soundings->n;
    const size_t k = parameters->n;
    struct hbk_arena scratch = {0};
    double *const moved = HBK_ARENA_ARRAY(&scratch, double, k + 1);
    double *const up = HBK_ARENA_ARRAY(&scratch, double, n + 1);
    double *const down = HBK_ARENA_ARRAY(&scratch, double, n + 1);
    memcpy(moved, d, k * sizeof(*moved));
    enum hbk_status status = HBK_OK;
    for (size_t p = 0; p < k && status == HBK_OK; p++) {
        const double by = step * parameters->items[p].sd;
        moved[p] = d[p] + by;
        status = hbk_predict(parameters, moved, soundings, up);
        moved[p] = d[p] - by;
        if (status == HBK_OK) {
            status = hbk_predict(parameters, moved, soundings, down);
        }
        moved[p] = d[p];
        for (size_t i = 0; i < n && status == HBK_OK; i++) {
            const double slope = (up[i] - down[i]) / (2.0 * step);
            slopes[(i * k) + p] = isfinite(slope) ? slope : 0.0;
        }
    }
    hbk_arena_finish(&scratch);
    return status;
}
