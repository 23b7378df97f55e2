#include "solve/search.h"

#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "solve/column.h"
#include "solve/effects.h"
#include "solve/ranking.h"
#include "solve/reads.h"
#include "solve/setting.h"
#include "solve/taught.h"
#include "solve/trigger.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * More than the hands can make on any known horn. Where a description allows
 * more, presses of many fingers at once are left out, and the user is told.
 */
enum { PRESSES_MAX = 1 << 16 };

/*
 * Fingerings kept for one note; the worst beyond them are left out, but never
 * an open one nor one that is taught.
 */
enum { FINGERINGS_MAX = 12 };
/* Of those with a control more that changes nothing, how many are kept. */
enum { IDLE_MAX = 12 };

/* A press that adds fingers to another must earn them by this much. */
static const double worth_cents = 3.0;
/* A control that moves the note further than this does not idle. */
static const double idle_cents = 12.0;

/* All candidates of one note while they are collected. */
struct candidates {
    size_t n, capacity;
    struct hbk_fingering *items;
};

struct search {
    const struct hbk_horn *horn;
    const struct hbk_setting *setting;
    double pitch_hz; /* that the horn has */
    struct hbk_arena *arena;
    int written_c4;
    struct hbk_finger_prices prices;
    struct hbk_taught_rule taught;
    size_t n_presses;
    const uint32_t *presses; /* by fingers, rising */
    const struct hbk_peak *peaks;
    struct candidates of[HBK_NOTE_MAX + 1]; /* by written note */
};

static double target_hz(const struct search *s, int written)
{
    return hbk_note_hz(written + s->written_c4 - HBK_NOTE_C4, s->pitch_hz);
}

static void add_candidate(struct search *s, int written,
                          struct hbk_fingering fingering)
{
    struct candidates *const c = &s->of[written];
    HBK_ARENA_GROW(s->arena, c->items, c->n, c->capacity);
    c->items[c->n++] = fingering;
}

/* What a press costs whatever note it is used for. */
struct press_price {
    double fingers, raise;
};

static struct press_price price_of(const struct search *s, uint32_t press)
{
    struct press_price price = {0};
    enum hbk_finger fingers[HBK_CONTROLS_MAX];
    /* Every enumerated press can be fingered, so the answer is always yes. */
    (void)hbk_hands_assign(s->horn, press, &s->prices, fingers, &price.fingers);
    price.raise =
        hbk_column_raise(s->horn, press | s->setting->stuck.held_down);
    return price;
}

/* Every written note that lies within the lip of one resonance. */
static void spread(struct search *s, struct hbk_fingering fingering,
                   struct press_price price)
{
    const double home =
        HBK_NOTE_C4 - s->written_c4 + HBK_NOTE_A4 +
        (hbk_cents(fingering.hz, s->pitch_hz) / HBK_SEMITONE_CENTS);
    const double lip = s->setting->lip_cents / HBK_SEMITONE_CENTS;
    const double low = fmax(ceil(home - lip), 0.0);
    const double high = fmin(floor(home + lip), HBK_NOTE_MAX);
    for (int written = (int)low; written <= (int)high; written++) {
        fingering.cents = hbk_cents(fingering.hz, target_hz(s, written));
        fingering.taught = hbk_taught_is(&s->taught, fingering.press,
                                         fingering.partial, written);
        fingering.cost =
            hbk_ranking_cost(s->horn, &fingering, price.fingers, price.raise);
        add_candidate(s, written, fingering);
    }
}

static const struct hbk_peak *peaks_of(const struct search *s, uint32_t press)
{
    size_t low = 0;
    size_t high = s->n_presses;
    while (high - low > 1) {
        const size_t middle = (low + high) / 2;
        if (s->presses[middle] <= press) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return &s->peaks[low * HBK_PEAK_STRIDE];
}

/*
 * A trigger is drawn just as far as the note needs: between the press
 * without it and the press with the slide fully out, the wave length grows
 * evenly with the draw.
 */
static void spread_drawn(struct search *s, struct hbk_fingering fingering,
                         struct press_price price, double undrawn_hz)
{
    const double full_hz = fingering.hz;
    const double throw = hbk_trigger_throw_m(
        s->horn, fingering.press | s->setting->stuck.held_down);
    if (!(throw > 0.0) || !(undrawn_hz > full_hz)) {
        return; /* this trigger does nothing here */
    }
    const double lip = hbk_cents_ratio(s->setting->lip_cents);
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        const double want = target_hz(s, written);
        if (want >= undrawn_hz || want * lip < full_hz) {
            continue;
        }
        fingering.hz = fmax(want, full_hz);
        fingering.cents = hbk_cents(fingering.hz, want);
        fingering.drawn_m = throw *((1.0 / fingering.hz) - (1.0 / undrawn_hz)) /
                            ((1.0 / full_hz) - (1.0 / undrawn_hz));
        fingering.taught = hbk_taught_is(&s->taught, fingering.press,
                                         fingering.partial, written);
        fingering.cost =
            hbk_ranking_cost(s->horn, &fingering, price.fingers, price.raise);
        add_candidate(s, written, fingering);
    }
}

static void collect(struct search *s)
{
    const struct hbk_partials *const partials = &s->horn->partials;
    const uint32_t triggers = hbk_triggers(s->horn);
    for (size_t i = 0; i < s->n_presses; i++) {
        const uint32_t press = s->presses[i];
        const struct press_price price = price_of(s, press);
        const struct hbk_peak *const row = &s->peaks[i * HBK_PEAK_STRIDE];
        const struct hbk_peak *const undrawn = peaks_of(s, press & ~triggers);
        for (unsigned p = partials->lowest; p <= partials->highest; p++) {
            if (row[p].hz <= 0.0) {
                continue;
            }
            const struct hbk_fingering fingering = {.press = press,
                                                    .partial = p,
                                                    .hz = row[p].hz,
                                                    .response_db =
                                                        row[p].response_db};
            if ((press & triggers) == 0) {
                spread(s, fingering, price);
            } else {
                spread_drawn(s, fingering, price, undrawn[p].hz);
            }
        }
    }
}

/*
 * A partial to avoid does not lead a note of which what is taught is no further
 * off than lips are usually trusted with: it costs a trifle more than that.
 */
static void charge_avoided(const struct search *s, struct candidates *c)
{
    double taught = (double)INFINITY;
    for (size_t i = 0; i < c->n; i++) {
        const struct hbk_fingering *const f = &c->items[i];
        if (f->taught == HBK_TAUGHT_YES && fabs(f->cents) <= HBK_LIP_CENTS) {
            taught = fmin(taught, f->cost);
        }
    }
    for (size_t i = 0; i < c->n && isfinite(taught); i++) {
        struct hbk_fingering *const f = &c->items[i];
        if (f->taught == HBK_TAUGHT_NO && s->horn->partials.avoid[f->partial]) {
            f->cost = fmax(f->cost, taught + HBK_PRICE_BEHIND_TAUGHT);
        }
    }
}

/*
 * Charges a note's fingerings for leaving what is taught, if that can be
 * played at all; else nothing is known to be left.
 */
static void charge_untaught(const struct search *s, struct candidates *c)
{
    const double price =
        s->setting->free_hand ? 0.0 : hbk_ranking_untaught(s->horn);
    bool any = false;
    for (size_t i = 0; i < c->n; i++) {
        any = any || c->items[i].taught == HBK_TAUGHT_YES;
    }
    for (size_t i = 0; i < c->n; i++) {
        struct hbk_fingering *const f = &c->items[i];
        if (!any) {
            f->taught = HBK_TAUGHT_UNSAID;
        } else if (f->taught == HBK_TAUGHT_NO) {
            f->untaught = price;
            f->cost += price;
        }
    }
    if (!s->setting->free_hand) {
        charge_avoided(s, c);
    }
}

/*
 * The kept fingering that does the same with fewer controls, or NULL; one that
 * is not taught does not stand for one that is.
 */
static const struct hbk_fingering *
does_the_same(const struct hbk_fingering *kept, size_t n,
              const struct hbk_fingering *f)
{
    for (size_t i = 0; i < n; i++) {
        const bool is_part =
            (kept[i].press & ~f->press) == 0 &&
            (f->taught != HBK_TAUGHT_YES || kept[i].taught == HBK_TAUGHT_YES);
        if (is_part && kept[i].partial == f->partial &&
            fabs(kept[i].cents) - fabs(f->cents) < worth_cents) {
            return &kept[i];
        }
    }
    return NULL;
}

/*
 * Whether a finger may as well stay down: one control more, at a pitch that
 * stays as near.
 */
static bool is_idle(const struct hbk_fingering *simple,
                    const struct hbk_fingering *f)
{
    return __builtin_popcount(f->press & ~simple->press) == 1 &&
           fabs(f->cents - simple->cents) < idle_cents;
}

/* What a player tries first is kept, however dear: open, or as taught. */
static bool is_tried(const struct hbk_fingering *f)
{
    return f->press == 0 || f->taught == HBK_TAUGHT_YES;
}

/* Drops the dearest of a full list that is not so; returns how many stay. */
static size_t make_room(struct hbk_fingering *kept, size_t n)
{
    size_t last = n;
    while (last > 0 && is_tried(&kept[last - 1])) {
        last--;
    }
    if (last == 0) {
        return n;
    }
    memmove(&kept[last - 1], &kept[last], (n - last) * sizeof(*kept));
    return n - 1;
}

/* A finger that changes nothing leaves nothing of what is taught. */
static struct hbk_fingering as_idle(struct hbk_fingering f,
                                    const struct hbk_fingering *simple)
{
    f.cost += simple->untaught - f.untaught;
    f.taught = simple->taught;
    f.untaught = simple->untaught;
    return f;
}

static struct hbk_note make_note(struct search *s, int written)
{
    struct candidates *const c = &s->of[written];
    charge_untaught(s, c);
    if (c->n > 0) {
        qsort(c->items, c->n, sizeof(*c->items), hbk_ranking_compare);
    }
    struct hbk_fingering *const idle =
        HBK_ARENA_ARRAY(s->arena, struct hbk_fingering, IDLE_MAX);
    size_t kept = 0;
    size_t n_idle = 0;
    for (size_t i = 0; i < c->n; i++) {
        const struct hbk_fingering f = c->items[i];
        const struct hbk_fingering *const simple =
            does_the_same(c->items, kept, &f);
        if (simple == NULL && kept == FINGERINGS_MAX && is_tried(&f)) {
            kept = make_room(c->items, kept);
        }
        if (kept == FINGERINGS_MAX) {
            continue;
        }
        if (simple == NULL) {
            c->items[kept++] = f;
        } else if (n_idle < IDLE_MAX && is_idle(simple, &f)) {
            idle[n_idle++] = as_idle(f, simple);
        }
    }
    if (n_idle > 0) {
        qsort(idle, n_idle, sizeof(*idle), hbk_ranking_compare);
    }
    return (struct hbk_note){
        .written = written,
        .sounding = written + s->written_c4 - HBK_NOTE_C4,
        .target_hz = target_hz(s, written),
        .n = kept,
        .fingerings = c->items,
        .n_idle = n_idle,
        .idle = idle,
    };
}

static bool find_compass(const struct search *s, int *lowest, int *highest)
{
    const struct hbk_horn *const horn = s->horn;
    if (horn->has_compass) {
        *lowest = horn->lowest;
        *highest = horn->highest;
        return true;
    }
    bool any = false;
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        if (s->of[written].n == 0) {
            continue;
        }
        *lowest = any ? *lowest : written;
        *highest = written;
        any = true;
    }
    return any;
}

static enum hbk_status sound_presses(struct search *s,
                                     const struct hbk_rig *rig,
                                     struct hbk_faults *faults)
{
    uint32_t *presses = NULL;
    const uint32_t stuck =
        s->setting->stuck.held_down | s->setting->stuck.held_up;
    size_t most = HBK_FINGER_COUNT + 1;
    do {
        most--;
        s->n_presses = hbk_hands_presses(s->horn, ~stuck, most, PRESSES_MAX,
                                         s->arena, &presses);
    } while (s->n_presses > PRESSES_MAX);
    s->presses = presses;
    if (most < HBK_FINGER_COUNT) {
        hbk_fault_warn(faults, (struct hbk_place){.file = s->horn->path},
                       HBK_H_TOO_MANY_PRESSES,
                       "fingers can be put down in more than %d ways here; "
                       "only those of up to %zu fingers at once were looked "
                       "at",
                       PRESSES_MAX, most);
    }
    uint32_t *const pressed = HBK_ARENA_ARRAY(s->arena, uint32_t, s->n_presses);
    for (size_t i = 0; i < s->n_presses; i++) {
        pressed[i] = presses[i] | s->setting->stuck.held_down;
    }
    struct hbk_peak *const peaks = HBK_ARENA_ARRAY(
        s->arena, struct hbk_peak, s->n_presses * HBK_PEAK_STRIDE);
    s->peaks = peaks;
    return hbk_column_peaks(s->horn, rig, s->n_presses, pressed, peaks, faults);
}

enum hbk_status
hbk_solve_as_set(const struct hbk_horn *horn, const struct hbk_setting *setting,
                 const struct hbk_setup *setup, struct hbk_arena *arena,
                 struct hbk_notes *notes, struct hbk_faults *faults)
{
    struct search *const s = HBK_ARENA_ARRAY(arena, struct search, 1);
    s->horn = horn;
    s->setting = setting;
    s->pitch_hz = setup->tuned.pitch_hz;
    s->arena = arena;
    s->written_c4 = hbk_setting_written_c4(horn, setting);
    s->prices = hbk_ranking_fingers();
    HBK_TRY(hbk_taught_make(horn, &setup->rig, &setting->stuck,
                            target_hz(s, HBK_NOTE_C4), arena, faults,
                            &s->taught));
    HBK_TRY(sound_presses(s, &setup->rig, faults));
    collect(s);
    struct hbk_notes found = {
        .horn = horn,
        .setting = *setting,
        .written_c4_sounds = s->written_c4,
        .tuned = setup->tuned,
        .n_presses = s->n_presses,
        .fingers = s->prices,
    };
    if (!find_compass(s, &found.lowest, &found.highest)) {
        hbk_fault_add(faults, (struct hbk_place){.file = horn->path},
                      HBK_H_NOTHING_SOUNDS,
                      "no resonance is within %.0f cents of any note",
                      setting->lip_cents);
        return HBK_ERR_INPUT;
    }
    found.n = (size_t)(found.highest - found.lowest) + 1;
    struct hbk_note *const list =
        HBK_ARENA_ARRAY(arena, struct hbk_note, found.n);
    for (size_t i = 0; i < found.n; i++) {
        list[i] = make_note(s, found.lowest + (int)i);
    }
    found.notes = list;
    hbk_verdicts_make(&found, arena);
    hbk_effects_make(&found, arena);
    found.notation = hbk_notation_for(&found, faults);
    *notes = found;
    return HBK_OK;
}
