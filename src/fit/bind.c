#include "fit/bind.h"

#include "base/text.h"
#include "music/pitch.h"
#include "solve/solve.h"
#include "solve/tuning.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { H_NO_SUCH_PRESS = 351, H_NO_SUCH_SETTING = 352, H_FAR_OFF = 353 };

/* Whose neighbours are at least 316 cents away: not to be confused. */
enum { LOW_PARTIAL_MAX = 6 };

struct binder {
    const struct hbk_readings *readings;
    const struct hbk_horn *horn;
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    size_t n_rigs;
    struct hbk_rig *rigs;
    struct hbk_stuck stuck; /* in every reading */
};

static void say_controls(const struct binder *b,
                         const struct hbk_reading *reading)
{
    struct hbk_text list = {.arena = b->arena};
    for (size_t i = 0; i < b->horn->n_controls; i++) {
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(&list, "%s%s", i == 0 ? "" : ", ",
                      hbk_horn_control_label(b->horn, i, label, sizeof(label)));
    }
    hbk_fault_add(b->faults, reading->press, H_NO_SUCH_PRESS,
                  "'%.60s' names what this horn has not; write 0 for nothing "
                  "pressed%s%s%s",
                  reading->fingering,
                  b->horn->n_controls > 0 ? ", or join with - any of " : "",
                  hbk_text_string(&list),
                  b->horn->n_controls > 0 ? "" : "; it has nothing to press");
}

/* What several readings inherit is told once. */
static bool is_said(const struct binder *b, struct hbk_place place)
{
    for (size_t i = 0; i < b->faults->count; i++) {
        const struct hbk_fault *const fault = &b->faults->items[i];
        if (fault->number == H_NO_SUCH_SETTING &&
            fault->place.line == place.line &&
            fault->place.column == place.column) {
            return true;
        }
    }
    return false;
}

static void bind_crook(const struct binder *b,
                       const struct hbk_reading_set *set, struct hbk_rig *rig)
{
    rig->crook = -1;
    for (size_t c = 0; set->crook != NULL && c < b->horn->n_crooks; c++) {
        if (strcmp(b->horn->crooks[c].name, set->crook) == 0) {
            rig->crook = (int)c;
        }
    }
    if (set->crook != NULL && rig->crook < 0 && !is_said(b, set->crook_place)) {
        hbk_fault_add(b->faults, set->crook_place, H_NO_SUCH_SETTING,
                      "set: this horn has no crook '%.40s'; %s", set->crook,
                      b->horn->n_crooks > 0 ? "write one it has, or none"
                                            : "write 'crook: none'");
    }
}

static void bind_draws(const struct binder *b,
                       const struct hbk_reading_set *set, double draw_m[])
{
    const struct hbk_horn *const horn = b->horn;
    for (size_t i = 0; i < set->n_draws; i++) {
        const struct hbk_reading_draw *const draw = &set->draws[i];
        size_t s = 0;
        while (s < horn->n_slides &&
               strcmp(horn->slides[s].name, draw->slide) != 0) {
            s++;
        }
        if (is_said(b, draw->place)) {
            continue;
        }
        if (s == horn->n_slides) {
            hbk_fault_add(b->faults, draw->place, H_NO_SUCH_SETTING,
                          "set: this horn has no slide '%.40s'; write one of "
                          "its slides, crook or bits",
                          draw->slide);
        } else if (draw->draw_m > horn->slides[s].travel_m + 1e-9) {
            hbk_fault_add(b->faults, draw->place, H_NO_SUCH_SETTING,
                          "set: slide %.40s cannot be drawn %g mm; it goes %g "
                          "mm, as the hand draws it",
                          draw->slide, 1000.0 * draw->draw_m,
                          1000.0 * horn->slides[s].travel_m);
        } else {
            draw_m[s] = draw->draw_m;
        }
    }
}

static void bind_bits(const struct binder *b, const struct hbk_reading_set *set,
                      struct hbk_rig *rig)
{
    for (size_t i = 0; i < set->n_bits; i++) {
        if (set->bits[i] > b->horn->n_bits && !is_said(b, set->bits_place)) {
            hbk_fault_add(b->faults, set->bits_place, H_NO_SUCH_SETTING,
                          "set: this horn has no bit %u; it has %zu, counted "
                          "in the order of its file",
                          set->bits[i], b->horn->n_bits);
        } else {
            rig->bits |= UINT32_C(1) << (set->bits[i] - 1);
        }
    }
}

static bool same_rig(const struct binder *b, const struct hbk_rig *x,
                     const struct hbk_rig *y)
{
    return x->temperature_c == y->temperature_c && x->crook == y->crook &&
           x->bits == y->bits &&
           (b->horn->n_slides == 0 ||
            memcmp(x->draw_m, y->draw_m,
                   b->horn->n_slides * sizeof(*x->draw_m)) == 0);
}

/* The rig of a reading; a set that several readings share is told once. */
static size_t bind_rig(struct binder *b, const struct hbk_reading *reading,
                       const struct hbk_reading *before, size_t before_rig)
{
    if (before != NULL && before->set == reading->set &&
        before->temperature_c == reading->temperature_c) {
        return before_rig;
    }
    double *const draw_m =
        HBK_ARENA_ARRAY(b->arena, double, b->horn->n_slides + 1);
    struct hbk_rig rig = {.temperature_c = reading->temperature_c,
                          .draw_m = draw_m};
    bind_crook(b, reading->set, &rig);
    bind_draws(b, reading->set, draw_m);
    bind_bits(b, reading->set, &rig);
    for (size_t r = 0; r < b->n_rigs; r++) {
        if (same_rig(b, &b->rigs[r], &rig)) {
            return r;
        }
    }
    b->rigs[b->n_rigs] = rig;
    return b->n_rigs++;
}

/* The sounding note of the horn's written C4 under a rig. */
static int horn_c4(const struct hbk_horn *horn, const struct hbk_rig *rig)
{
    struct hbk_setting setting = hbk_setting_of(horn);
    setting.crook = rig->crook;
    return hbk_setting_written_c4(horn, &setting);
}

static void bind_note(const struct binder *b, struct hbk_bound *bound)
{
    const struct hbk_reading *const reading = bound->reading;
    const int own = horn_c4(b->horn, &b->rigs[bound->rig]);
    const int c4 =
        b->readings->has_written_c4 ? b->readings->written_c4_sounds : own;
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
static double overall_cents(const struct binder *b,
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

static void say_far(const struct binder *b, const struct hbk_bound *bound,
                    const struct hbk_peak row[], double hz, double off)
{
    char name[HBK_NAME_SIZE];
    char meant[HBK_NAME_SIZE];
    const struct hbk_reading *const reading = bound->reading;
    hbk_spelling_name(hbk_note_usual(reading->note), HBK_ASCII, name);
    const int octave = fitting_octave(b->horn, row, hz);
    const int other = reading->note + (12 * octave);
    if (octave != 0 && other >= 0 && other <= HBK_NOTE_MAX) {
        hbk_spelling_name(hbk_note_usual(other), HBK_ASCII, meant);
        hbk_fault_warn(b->faults, reading->place, H_FAR_OFF,
                       "%s with %.40s lies %.0f cents from the nearest note "
                       "of that fingering, and seems to be an octave out; did "
                       "you mean %s? It is set aside",
                       name, reading->fingering, fabs(off), meant);
        return;
    }
    hbk_fault_warn(b->faults, reading->place, H_FAR_OFF,
                   "%s with %.40s lies %s%.0f cents from the nearest note of "
                   "that fingering; check note, fingering and crook. It is set "
                   "aside",
                   name, reading->fingering, isinf(off) ? "more than " : "",
                   fmin(fabs(off), 2400.0));
}

static void bind_partial(const struct binder *b, struct hbk_bound *bound,
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
    say_far(b, bound, row, shifted, off);
}

static enum hbk_status sound(const struct binder *b,
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

/* What was stuck, and what was sounded with it. */
static void bind_stuck(const struct binder *b, struct hbk_bound *bound,
                       struct hbk_stuck *all)
{
    const struct hbk_reading *const reading = bound->reading;
    const struct hbk_reading_set *const set = reading->set;
    struct hbk_stuck stuck = {0};
    struct hbk_text why = {.arena = b->arena};
    if (set->stuck != NULL &&
        !hbk_stuck_parse(b->horn, set->stuck, &stuck, &why) &&
        !is_said(b, set->stuck_place)) {
        hbk_fault_add(b->faults, set->stuck_place, H_NO_SUCH_SETTING,
                      "set: stuck: %s", hbk_text_string(&why));
    }
    if ((bound->press & stuck.held_up) != 0) {
        hbk_fault_add(b->faults, reading->press, H_NO_SUCH_SETTING,
                      "'%.60s' presses what is said to be stuck (%.60s); "
                      "correct one of them",
                      reading->fingering, set->stuck);
    }
    bound->pressed = bound->press | stuck.held_down;
    all->held_down &= stuck.held_down;
    all->held_up &= stuck.held_up;
}

static void bind_names(struct binder *b, struct hbk_bound *items)
{
    b->stuck = (struct hbk_stuck){UINT32_MAX, UINT32_MAX};
    for (size_t i = 0; i < b->readings->n; i++) {
        const struct hbk_reading *const reading = &b->readings->readings[i];
        items[i] = (struct hbk_bound){.reading = reading};
        if (!hbk_horn_press_parse(b->horn, reading->fingering,
                                  &items[i].press)) {
            say_controls(b, reading);
        }
        bind_stuck(b, &items[i], &b->stuck);
        items[i].rig =
            bind_rig(b, reading, i > 0 ? &b->readings->readings[i - 1] : NULL,
                     i > 0 ? items[i - 1].rig : 0);
        bind_note(b, &items[i]);
    }
}

enum hbk_status hbk_readings_bind(const struct hbk_readings *readings,
                                  const struct hbk_horn *horn,
                                  struct hbk_arena *arena,
                                  struct hbk_bound_readings *bound,
                                  struct hbk_faults *faults)
{
    struct binder b = {
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
