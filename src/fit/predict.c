#include "fit/predict.h"

#include "fit/unknowns.h"
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

/* What is asked of a horn. */
struct question {
    double names_cents; /* by which the names are meant sharper */
    const struct hbk_soundings *soundings;
    const double *near; /* NULL: the claimants that are named */
    const double *held; /* the lift that is held; NULL: as it is heard */
    double *cents;
    double *lift; /* result; may be NULL */
};

static double reference_of(const struct question *q, size_t i)
{
    const struct hbk_sounding *const item = &q->soundings->items[i];
    return item->is_name ? item->reference_hz * hbk_cents_ratio(q->names_cents)
                         : item->reference_hz;
}

/* One sounding, given all resonances of its press. */
static struct hbk_sound sound_of(const struct hbk_horn *horn,
                                 const struct question *q, size_t i,
                                 const struct hbk_peak row[])
{
    const struct hbk_sounding *const item = &q->soundings->items[i];
    const double lift = q->held == NULL ? 0.0 : q->held[i];
    const double near = q->near == NULL ? (double)NAN : q->near[i] - lift;
    return isnan(near)
               ? hbk_peak_claimant(&row[item->partial], item->claimant)
               : hbk_peak_find(horn, row, item->partial,
                               reference_of(q, i) * hbk_cents_ratio(near),
                               q->held != NULL);
}

static void answer(const struct hbk_horn *horn, const struct question *q,
                   size_t i, const struct hbk_peak row[])
{
    const double reference_hz = reference_of(q, i);
    const struct hbk_sound sound = sound_of(horn, q, i, row);
    const double lift =
        sound.hz > 0.0 ? hbk_cents(sound.hz, sound.maximum_hz) : (double)NAN;
    const double kept =
        q->held == NULL || isnan(q->held[i]) ? lift : q->held[i];
    q->cents[i] = sound.hz > 0.0
                      ? hbk_cents(sound.maximum_hz, reference_hz) + kept
                      : (double)NAN;
    if (q->lift != NULL) {
        q->lift[i] = lift;
    }
}

static enum hbk_status ask(const struct hbk_horn *horn,
                           const struct question *q, struct hbk_arena *arena)
{
    const struct hbk_soundings *const soundings = q->soundings;
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
        answer(horn, q, i, &peaks[soundings->column[i] * HBK_PEAK_STRIDE]);
    }
    return HBK_OK;
}

static enum hbk_status predict(const struct hbk_parameters *parameters,
                               const double d[], const struct question *q)
{
    struct hbk_arena scratch = {0};
    struct hbk_horn horn;
    struct question pitched = *q;
    pitched.names_cents = hbk_unknowns_pitch(parameters, d);
    const enum hbk_status status =
        hbk_parameters_apply(parameters, d, &scratch, &horn)
            ? ask(&horn, &pitched, &scratch)
            : HBK_ERR_DOMAIN;
    hbk_arena_finish(&scratch);
    return status;
}

enum hbk_status hbk_predict(const struct hbk_parameters *parameters,
                            const double d[],
                            const struct hbk_soundings *soundings,
                            const double near[], double cents[])
{
    return hbk_predict_lift(parameters, d, soundings, near, cents, NULL);
}

enum hbk_status hbk_predict_lift(const struct hbk_parameters *parameters,
                                 const double d[],
                                 const struct hbk_soundings *soundings,
                                 const double near[], double cents[],
                                 double lift[])
{
    const struct question q = {
        .soundings = soundings, .near = near, .cents = cents, .lift = lift};
    return predict(parameters, d, &q);
}

enum hbk_status hbk_predict_held(const struct hbk_parameters *parameters,
                                 const double d[],
                                 const struct hbk_soundings *soundings,
                                 const double near[], const double lift[],
                                 double cents[])
{
    const struct question q = {
        .soundings = soundings, .near = near, .held = lift, .cents = cents};
    return predict(parameters, d, &q);
}

/* The horn on one side of the one whose slopes are wanted. */
struct side {
    bool is_there;
    double *maximum, *lift; /* cents of the maxima; what is heard above them */
};

struct sides {
    const struct hbk_parameters *parameters;
    const struct hbk_soundings *soundings;
    double *d;
    double *here; /* as heard, which all is sought near */
    struct side up, down, middle;
};

/*
 * No parameter moves a note by so much within its standard deviation: the
 * resonance was lost there, or numbered anew.
 */
static const double jump_cents = 200.0;
/*
 * Nor does what is heard move by so much more or less than its maximum, but
 * between two humps: then it is taken to move as the maximum does.
 */
static const double hump_cents = 20.0;

static void sound_side(struct sides *s, struct side *side)
{
    const struct question q = {.soundings = s->soundings,
                               .near = s->here,
                               .held = s->middle.lift,
                               .cents = side->maximum,
                               .lift = side->lift};
    side->is_there = predict(s->parameters, s->d, &q) == HBK_OK;
    for (size_t i = 0; i < s->soundings->n; i++) {
        side->maximum[i] -= s->middle.lift[i];
    }
}

/* INFINITY where there is nothing to compare. */
static double one_side(double high, double low, bool has_both)
{
    const double rise = high - low;
    return has_both && isfinite(rise) ? rise : (double)INFINITY;
}

/*
 * A slope of maximum[i] or lift[i]; at the edge of what is a horn one side
 * serves with the middle.
 */
static double slope_of(const struct sides *s, double up, double middle,
                       double down, double step)
{
    const bool has_up = s->up.is_there;
    const bool has_down = s->down.is_there;
    double slope = (up - down) / (2.0 * step);
    if (!has_up || !has_down || !(fabs(slope) < jump_cents)) {
        const double above = one_side(up, middle, has_up);
        const double below = one_side(middle, down, has_down);
        slope = (fabs(above) < fabs(below) ? above : below) / step;
    }
    return fabs(slope) < jump_cents ? slope : 0.0;
}

/* The slopes of parameter p. */
static enum hbk_status slopes_of(struct sides *s, size_t p, double step,
                                 double slopes[])
{
    const double middle = s->d[p];
    const double by = step * s->parameters->items[p].sd;
    s->d[p] = middle + by;
    sound_side(s, &s->up);
    s->d[p] = middle - by;
    sound_side(s, &s->down);
    s->d[p] = middle;
    if (!s->up.is_there && !s->down.is_there) {
        return HBK_ERR_DOMAIN;
    }
    for (size_t i = 0; i < s->soundings->n; i++) {
        const double lift = slope_of(s, s->up.lift[i], s->middle.lift[i],
                                     s->down.lift[i], step);
        const double slope = slope_of(s, s->up.maximum[i], s->middle.maximum[i],
                                      s->down.maximum[i], step);
        slopes[(i * s->parameters->n) + p] =
            slope + (fabs(lift) < hump_cents ? lift : 0.0);
    }
    return HBK_OK;
}

static struct side make_side(size_t n, struct hbk_arena *arena)
{
    return (struct side){.is_there = true,
                         .maximum = HBK_ARENA_ARRAY(arena, double, n + 1),
                         .lift = HBK_ARENA_ARRAY(arena, double, n + 1)};
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
        .d = HBK_ARENA_ARRAY(&scratch, double, parameters->n + 1),
        .here = HBK_ARENA_ARRAY(&scratch, double, n + 1),
        .up = make_side(n, &scratch),
        .down = make_side(n, &scratch),
        .middle = make_side(n, &scratch),
    };
    memcpy(sides.d, d, parameters->n * sizeof(*sides.d));
    enum hbk_status status = hbk_predict_lift(parameters, d, soundings, near,
                                              sides.here, sides.middle.lift);
    for (size_t i = 0; i < n && status == HBK_OK; i++) {
        sides.middle.maximum[i] = sides.here[i] - sides.middle.lift[i];
    }
    for (size_t p = 0; p < parameters->n && status == HBK_OK; p++) {
        status = slopes_of(&sides, p, step, slopes);
    }
    hbk_arena_finish(&scratch);
    return status;
}
