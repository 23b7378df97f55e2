#include "fit/bind.h"

#include "base/messages.h"
#include "fit/bind_set.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "solve/column.h"
#include "solve/setting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* Whose neighbours are at least 316 cents away: not to be confused. */
enum { LOW_PARTIAL_MAX = 6 };

/* The sounding note of the horn's written C4 under a rig. */
static int horn_c4(const struct hbk_horn *horn, const struct hbk_rig *rig)
{
    struct hbk_setting setting = hbk_setting_of(horn);
    setting.crook = rig->crook;
    return hbk_setting_written_c4(horn, &setting);
}

static void bind_note(const struct hbk_binder *b, struct hbk_bound *bound)
{
    const struct hbk_reading *const reading = bound->reading;
    const int own = horn_c4(b->horn, &b->rigs[bound->rig]);
    const int c4 = b->readings->has_written_c4 && !reading->is_name
                       ? b->readings->written_c4_sounds
                       : own;
    const int sounding = reading->note + c4 - HBK_NOTE_C4;
    bound->note_hz = hbk_note_hz(sounding, reading->a4_hz);
    bound->written = sounding - own + HBK_NOTE_C4;
}

static double heard_hz(const struct hbk_bound *bound)
{
    return bound->note_hz * hbk_cents_ratio(bound->reading->cents);
}

/* The cents of a frequency from the nearest that may be taken for a partial. */
static double off_from(const struct hbk_peak *peak, double hz, double *peak_hz)
{
    *peak_hz = peak->hz;
    double least = peak->hz > 0.0 ? hbk_cents(hz, peak->hz) : (double)INFINITY;
    for (size_t k = 0; k < HBK_CLAIMANTS_MAX - 1; k++) {
        const struct hbk_claimant *const other = &peak->others[k];
        if (other->hz > 0.0 &&
            other->response_db > peak->response_db - HBK_BOUND_CLAIM_DB &&
            fabs(hbk_cents(hz, other->hz)) < fabs(least)) {
            least = hbk_cents(hz, other->hz);
            *peak_hz = other->hz;
        }
    }
    return least;
}

/* The partial nearest to a frequency, of those the player uses. */
static unsigned nearest(const struct hbk_horn *horn,
                        const struct hbk_peak row[], double hz, double *cents)
{
    unsigned best = 0;
    *cents = INFINITY;
    for (unsigned p = horn->partials.lowest; p <= horn->partials.highest; p++) {
        double peak_hz = 0.0;
        const double off = off_from(&row[p], hz, &peak_hz);
        if (fabs(off) < fabs(*cents)) {
            *cents = off;
            best = p;
        }
    }
    return best;
}

static int by_size(const void *a, const void *b)
{
    const double *const x = a;
    const double *const y = b;
    return (*x > *y) - (*x < *y);
}

/* By how much the horn as a whole sounds sharper than its file says. */
static double overall_cents(const struct hbk_binder *b,
                            const struct hbk_bound_readings *bound,
                            const struct hbk_peak *peaks)
{
    double *const off = HBK_ARENA_ARRAY(b->arena, double, bound->n + 1);
    size_t n = 0;
    for (size_t i = 0; i < bound->n; i++) {
        double cents = 0.0;
        const unsigned p = nearest(b->horn, &peaks[i * HBK_PEAK_STRIDE],
                                   heard_hz(&bound->items[i]), &cents);
        if (p > 0 && p <= LOW_PARTIAL_MAX &&
            fabs(cents) <= HBK_BOUND_FAR_CENTS) {
            off[n++] = cents;
        }
    }
    if (n == 0) {
        return 0.0;
    }
    qsort(off, n, sizeof(*off), by_size);
    return 0.5 * (off[(n - 1) / 2] + off[n / 2]);
}

/* Whether an octave up or down the reading would fit; 0 if neither. */
static int fitting_octave(const struct hbk_horn *horn,
                          const struct hbk_peak row[], double hz)
{
    double up = 0.0;
    double down = 0.0;
    (void)nearest(horn, row, 2.0 * hz, &up);
    (void)nearest(horn, row, 0.5 * hz, &down);
    if (fmin(fabs(up), fabs(down)) > 0.5 * HBK_BOUND_FAR_CENTS) {
        return 0;
    }
    return fabs(up) <= fabs(down) ? 1 : -1;
}

static void say_far(const struct hbk_binder *b, const struct hbk_bound *bound,
                    const struct hbk_peak row[], double hz, double off)
{
    char name[HBK_NAME_SIZE];
    char meant[HBK_NAME_SIZE];
    const struct hbk_reading *const reading = bound->reading;
    hbk_note_name(reading->note, HBK_ASCII, name);
    const int octave = fitting_octave(b->horn, row, hz);
    const int other = reading->note + (12 * octave);
    if (octave != 0 && other >= 0 && other <= HBK_NOTE_MAX) {
        hbk_note_name(other, HBK_ASCII, meant);
        hbk_fault_warn(b->faults, reading->place, HBK_H_READING_FAR_OFF,
                       "%s with %.40s is %.0f cents from the nearest note "
                       "of that fingering, and seems to be an octave out; did "
                       "you mean %s? It is not used",
                       name, reading->fingering, fabs(off), meant);
        return;
    }
    hbk_fault_warn(b->faults, reading->place, HBK_H_READING_FAR_OFF,
                   "%s with %.40s is %s%.0f cents from the nearest note of "
                   "that fingering; check note, fingering and crook. It is not "
                   "used",
                   name, reading->fingering, isinf(off) ? "more than " : "",
                   fmin(fabs(off), 2400.0));
}

static void bind_partial(const struct hbk_binder *b, struct hbk_bound *bound,
                         const struct hbk_peak row[], double overall)
{
    const double hz = heard_hz(bound);
    const double shifted = hz * hbk_cents_ratio(-overall);
    double off = 0.0;
    bound->partial = nearest(b->horn, row, shifted, &off);
    if (bound->reading->partial > 0) {
        bound->partial = bound->reading->partial;
    }
    off = off_from(&row[bound->partial], shifted, &bound->peak_hz);
    if (fabs(off) <= HBK_BOUND_FAR_CENTS) {
        return;
    }
    bound->state = isinf(off) ? HBK_BOUND_MUTE : HBK_BOUND_FAR;
    if (!bound->reading->is_name) {
        say_far(b, bound, row, shifted, off);
    }
}

static enum hbk_status sound(const struct hbk_binder *b,
                             const struct hbk_bound_readings *bound,
                             struct hbk_peak *peaks)
{
    uint32_t *const presses = HBK_ARENA_ARRAY(b->arena, uint32_t, bound->n);
    struct hbk_peak *const rows =
        HBK_ARENA_ARRAY(b->arena, struct hbk_peak, bound->n * HBK_PEAK_STRIDE);
    for (size_t r = 0; r < bound->n_rigs; r++) {
        size_t n = 0;
        for (size_t i = 0; i < bound->n; i++) {
            if (bound->items[i].rig == r) {
                presses[n++] = bound->items[i].pressed;
            }
        }
        HBK_TRY(hbk_column_peaks(b->horn, &bound->rigs[r], n, presses, rows,
                                 b->faults));
        n = 0;
        for (size_t i = 0; i < bound->n; i++) {
            if (bound->items[i].rig == r) {
                memcpy(&peaks[i * HBK_PEAK_STRIDE], &rows[n * HBK_PEAK_STRIDE],
                       HBK_PEAK_STRIDE * sizeof(*peaks));
                n++;
            }
        }
    }
    return HBK_OK;
}

static void bind_names(struct hbk_binder *b, struct hbk_bound *items)
{
    b->stuck =
        (struct hbk_stuck){.held_down = UINT32_MAX, .held_up = UINT32_MAX};
    for (size_t i = 0; i < b->readings->n; i++) {
        const struct hbk_reading *const reading = &b->readings->readings[i];
        items[i] = (struct hbk_bound){.reading = reading};
        if (!hbk_horn_press_parse(b->horn, reading->fingering,
                                  &items[i].press)) {
            hbk_bind_say_press(b, reading);
        }
        items[i].pressed =
            hbk_bind_stuck(b, reading, items[i].press, &b->stuck);
        items[i].rig = hbk_bind_rig(
            b, reading, i > 0 ? &b->readings->readings[i - 1] : NULL,
            i > 0 ? items[i - 1].rig : 0);
        bind_note(b, &items[i]);
    }
}

/* A mouthpiece that the horn's file lists, but the set does not name. */
static void warn_mouthpiece(const struct hbk_binder *b)
{
    const char *const remark = b->readings->mouthpiece;
    const char *listed = NULL;
    bool is_set = false;
    for (size_t i = 0; remark != NULL && i < b->horn->n_mouthpieces; i++) {
        const char *const name = b->horn->mouthpieces[i].name;
        listed = strcasecmp(name, remark) == 0 ? name : listed;
    }
    for (size_t i = 0; i < b->readings->n; i++) {
        is_set = is_set || b->readings->readings[i].set->mouthpiece != NULL;
    }
    if (listed != NULL && !is_set) {
        hbk_fault_warn(b->faults, hbk_whole_file(b->readings->path),
                       HBK_H_MOUTHPIECE_NOT_SET,
                       "mouthpiece: '%s' is a remark here, and the horn's file "
                       "lists one of that name; if it was in, write 'set: "
                       "{mouthpiece: %s}'",
                       remark, listed);
    }
}

enum hbk_status hbk_readings_bind(const struct hbk_readings *readings,
                                  const struct hbk_horn *horn,
                                  struct hbk_arena *arena,
                                  struct hbk_bound_readings *bound,
                                  struct hbk_faults *faults)
{
    struct hbk_binder b = {
        .readings = readings,
        .horn = horn,
        .arena = arena,
        .faults = faults,
        .rigs = HBK_ARENA_ARRAY(arena, struct hbk_rig, readings->n + 1),
    };
    struct hbk_bound *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_bound, readings->n + 1);
    const size_t errors = faults->errors;
    bind_names(&b, items);
    if (faults->errors > errors) {
        return HBK_ERR_INPUT;
    }
    warn_mouthpiece(&b);
    const struct hbk_bound_readings result = {
        .n = readings->n,
        .items = items,
        .n_rigs = b.n_rigs,
        .rigs = b.rigs,
        .stuck = b.stuck,
    };
    struct hbk_peak *const peaks = HBK_ARENA_ARRAY(
        arena, struct hbk_peak, (result.n + 1) * HBK_PEAK_STRIDE);
    HBK_TRY(sound(&b, &result, peaks));
    const double overall = overall_cents(&b, &result, peaks);
    for (size_t i = 0; i < result.n; i++) {
        bind_partial(&b, &items[i], &peaks[i * HBK_PEAK_STRIDE], overall);
    }
    *bound = result;
    return HBK_OK;
}
