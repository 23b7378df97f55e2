#include "fit/predict.h"

#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/column.h"

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

/* The Hz of one sounding, given all resonances of its press. */
static double hz_of(const struct hbk_horn *horn,
                    const struct hbk_sounding *item,
                    const struct hbk_peak row[], double near_cents)
{
    return isnan(near_cents)
               ? hbk_peak_claimant_hz(&row[item->partial], item->claimant)
               : hbk_peak_follow(horn, row, item->partial,
                                 item->reference_hz *
                                     hbk_cents_ratio(near_cents));
}

static enum hbk_status predict(const struct hbk_horn *horn,
                               const struct hbk_soundings *soundings,
                               const double near[], struct hbk_arena *arena,
                               double cents[])
{
    struct hbk_peak *const peaks = HBK_ARENA_ARRAY(
        arena, struct hbk_peak, (soundings->n_columns + 1) * HBK_PEAK_STRIDE);
    for (size_t r = 0; r < soundings->n_rigs; r++) {
        const size_t first = soundings->first[r];
        const size_t here = soundings->first[r + 1] - first;
        /* The reason would be about a horn that nobody described. */
        struct hbk_faults unsaid = {0};
        if (here > 0) {
            HBK_TRY(hbk_column_peaks(horn, &soundings->rigs[r], here,
                                     &soundings->presses[first],
                                     &peaks[first * HBK_PEAK_STRIDE], &unsaid));
        }
    }
    for (size_t i = 0; i < soundings->n; i++) {
        const struct hbk_sounding *const item = &soundings->items[i];
        const double hz =
            hz_of(horn, item, &peaks[soundings->column[i] * HBK_PEAK_STRIDE],
                  near == NULL ? (double)NAN : near[i]);
        cents[i] = hz > 0.0 ? hbk_cents(hz, item->reference_hz) : (double)NAN;
    }
    return HBK_OK;
}

enum hbk_status hbk_predict(const struct hbk_parameters *parameters,
                            const double d[],
                            const struct hbk_soundings *soundings,
                            const double near[], double cents[])
{
    struct hbk_arena scratch = {0};
    struct hbk_horn horn;
    const enum hbk_status status =
        hbk_parameters_apply(parameters, d, &scratch, &horn)
            ? predict(&horn, soundings, near, &scratch, cents)
            : HBK_ERR_DOMAIN;
    hbk_arena_finish(&scratch);
    return status;
}

/* Room for the horns on both sides of the one whose slopes are wanted. */
struct sides {
    const struct hbk_parameters *parameters;
    const struct hbk_soundings *soundings;
    const double *near;
    double *d;
    double *up, *down, *here;
    bool has_here;
};

/*
 * No parameter moves a note by so much within its standard deviation: the
 * resonance was lost there, or numbered anew.
 */
static const double jump_cents = 200.0;

static enum hbk_status sound_here(struct sides *s)
{
    if (s->has_here) {
        return HBK_OK;
    }
    s->has_here = true;
    return hbk_predict(s->parameters, s->d, s->soundings, s->near, s->here);
}

/* INFINITY where there is nothing to compare. */
static double one_side(double high, double low, bool has_both)
{
    const double rise = high - low;
    return has_both && isfinite(rise) ? rise : (double)INFINITY;
}

/*
 * The slopes of parameter p. At the edge of what is a horn one side serves
 * with the middle.
 */
static enum hbk_status slopes_of(struct sides *s, size_t p, double step,
                                 double slopes[])
{
    const size_t n = s->soundings->n;
    const size_t k = s->parameters->n;
    const double middle = s->d[p];
    const double by = step * s->parameters->items[p].sd;
    s->d[p] = middle + by;
    const bool has_up = hbk_predict(s->parameters, s->d, s->soundings, s->near,
                                    s->up) == HBK_OK;
    s->d[p] = middle - by;
    const bool has_down = hbk_predict(s->parameters, s->d, s->soundings,
                                      s->near, s->down) == HBK_OK;
    s->d[p] = middle;
    if (!has_up && !has_down) {
        return HBK_ERR_DOMAIN;
    }
    for (size_t i = 0; i < n; i++) {
        double slope = (s->up[i] - s->down[i]) / (2.0 * step);
        if (!has_up || !has_down || !(fabs(slope) < jump_cents)) {
            HBK_TRY(sound_here(s));
            const double above = one_side(s->up[i], s->here[i], has_up);
            const double below = one_side(s->here[i], s->down[i], has_down);
            slope = (fabs(above) < fabs(below) ? above : below) / step;
        }
        slopes[(i * k) + p] = fabs(slope) < jump_cents ? slope : 0.0;
    }
    return HBK_OK;
}

enum hbk_status hbk_predict_slopes(const struct hbk_parameters *parameters,
                                   const double d[],
                                   const struct hbk_soundings *soundings,
                                   const double near[], double slopes[])
{
    const double step = 0.25;
    const size_t n = soundings->n;
    struct hbk_arena scratch = {0};
    struct sides sides = {
        .parameters = parameters,
        .soundings = soundings,
        .near = near,
        .d = HBK_ARENA_ARRAY(&scratch, double, parameters->n + 1),
        .up = HBK_ARENA_ARRAY(&scratch, double, n + 1),
        .down = HBK_ARENA_ARRAY(&scratch, double, n + 1),
        .here = HBK_ARENA_ARRAY(&scratch, double, n + 1),
    };
    memcpy(sides.d, d, parameters->n * sizeof(*sides.d));
    enum hbk_status status = HBK_OK;
    for (size_t p = 0; p < parameters->n && status == HBK_OK; p++) {
        status = slopes_of(&sides, p, step, slopes);
    }
    hbk_arena_finish(&scratch);
    return status;
}
