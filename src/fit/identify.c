#include "fit/identify.h"

#include "fit/layout.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "solve/setting.h"

#include <math.h>
#include <stdlib.h>

/* What a note must tell, in bits, to be worth the breath. */
static const double worth_bits = 0.01;

enum { CANDIDATES_MAX = 600 };

struct chooser {
    size_t n;
    struct hbk_layout *layouts;
    struct hbk_identified_layout *results;
    struct hbk_arena *arena;
    struct hbk_identified *found;
    bool *is_live; /* likely enough to be told from the others */
};

/* Likelihoods of equally likely layouts, as shares of their sum. */
static void normalise(struct chooser *c)
{
    double most = -INFINITY;
    for (size_t i = 0; i < c->n; i++) {
        if (c->results[i].fit.is_good) {
            most = fmax(most, c->layouts[i].log_likelihood);
        }
    }
    double sum = 0.0;
    for (size_t i = 0; i < c->n; i++) {
        if (c->results[i].fit.is_good) {
            c->results[i].probability =
                exp(c->layouts[i].log_likelihood - most);
            sum += c->results[i].probability;
        }
    }
    for (size_t i = 0; i < c->n && sum > 0.0; i++) {
        c->results[i].probability /= sum;
        c->is_live[i] = c->results[i].probability > HBK_IDENTIFY_WORTH;
    }
}

/* Whether layout a stands before b: those that explain nothing come last. */
static bool is_likelier(const struct chooser *c, size_t a, size_t b)
{
    const struct hbk_identified_layout *const one = &c->results[a];
    const struct hbk_identified_layout *const other = &c->results[b];
    if (one->fit.is_good || other->fit.is_good) {
        return one->probability > other->probability ||
               (one->fit.is_good && !other->fit.is_good);
    }
    if (one->impossible != NULL || other->impossible != NULL) {
        return one->impossible == NULL && other->impossible != NULL;
    }
    return c->layouts[a].log_likelihood > c->layouts[b].log_likelihood;
}

/* The likeliest first; of equals the one asked about first. */
static size_t *find_order(const struct chooser *c)
{
    size_t *const order = HBK_ARENA_ARRAY(c->arena, size_t, c->n + 1);
    for (size_t i = 0; i < c->n; i++) {
        size_t at = i;
        while (at > 0 && is_likelier(c, i, order[at - 1])) {
            order[at] = order[at - 1];
            at--;
        }
        order[at] = i;
    }
    return order;
}

/* One fingering and partial, as every live layout expects it. */
struct candidate {
    const char *fingering;
    unsigned partial;
    double bits;
    /*
     * n, from A4 at the first reading's pitch, as the tuner or, where the
     * readings are written notes, the layout writes it; NAN when it is out.
     */
    double *cents;
    double *sd;
};

static double density(double x, double mean, double sd)
{
    const double root_turn = 2.5066282746310002; /* sqrt(2 pi) */
    const double z = (x - mean) / sd;
    return exp(-0.5 * z * z) / (sd * root_turn);
}

/*
 * I(layout; pitch) = sum_k P_k integral p_k log2(p_k / sum_j P_j p_j), by
 * the rule of rectangles, fine against the narrowest density.
 */
static double information(const struct chooser *c, const struct candidate *new)
{
    double low = INFINITY;
    double high = -INFINITY;
    double narrow = INFINITY;
    for (size_t i = 0; i < c->n; i++) {
        if (c->is_live[i]) {
            low = fmin(low, new->cents[i] - (5.0 * new->sd[i]));
            high = fmax(high, new->cents[i] + (5.0 * new->sd[i]));
            narrow = fmin(narrow, new->sd[i]);
        }
    }
    const double step = fmax(0.25 * narrow, (high - low) / 4000.0);
    double bits = 0.0;
    for (double x = low; x < high; x += step) {
        double mixture = 0.0;
        for (size_t i = 0; i < c->n; i++) {
            mixture += c->is_live[i] ? c->results[i].probability *
                                           density(x, new->cents[i], new->sd[i])
                                     : 0.0;
        }
        for (size_t i = 0; i < c->n; i++) {
            const double p =
                c->is_live[i] ? density(x, new->cents[i], new->sd[i]) : 0.0;
            if (p > 1e-12 && mixture > 0.0) {
                bits +=
                    step * c->results[i].probability * p * log2(p / mixture);
            }
        }
    }
    return bits;
}

/* Fingerings that every live layout can press, and what they expect. */
struct fingerings {
    size_t n;
    const char *labels[CANDIDATES_MAX];
    struct hbk_layout_guess *guesses; /* n layouts x n x HBK_PEAK_STRIDE */
};

static bool is_common(const struct chooser *c, const char *fingering)
{
    for (size_t i = 0; i < c->n; i++) {
        uint32_t press = 0;
        if (c->is_live[i] &&
            !hbk_horn_press_parse(c->layouts[i].horn, fingering, &press)) {
            return false;
        }
    }
    return true;
}

static void add_fingering(const struct chooser *c, const struct hbk_horn *horn,
                          uint32_t press, struct fingerings *list)
{
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(horn, press, label);
    if (list->n < CANDIDATES_MAX && is_common(c, label)) {
        list->labels[list->n++] = hbk_arena_printf(c->arena, "%s", label);
    }
}

/* Nothing, one finger, or two valves: what a hand tries first. */
static void list_fingerings(const struct chooser *c, struct fingerings *list)
{
    const struct hbk_layout *const first = &c->layouts[c->found->order[0]];
    const struct hbk_horn *const horn = first->horn;
    /* What is stuck is no choice. */
    const uint32_t fixed =
        first->bound.stuck.held_down | first->bound.stuck.held_up;
    add_fingering(c, horn, 0, list);
    for (size_t i = 0; i < horn->n_controls; i++) {
        const uint32_t bit = UINT32_C(1) << i;
        if (horn->controls[i].kind == HBK_TRIGGER || (fixed & bit) != 0) {
            continue;
        }
        add_fingering(c, horn, bit, list);
        for (size_t k = 0; k < i; k++) {
            if (horn->controls[i].kind == HBK_VALVE &&
                horn->controls[k].kind == HBK_VALVE && (fixed >> k & 1U) == 0) {
                add_fingering(c, horn, bit | UINT32_C(1) << k, list);
            }
        }
    }
}

static void guess_all(const struct chooser *c, struct fingerings *list)
{
    uint32_t *const presses = HBK_ARENA_ARRAY(c->arena, uint32_t, list->n + 1);
    list->guesses = HBK_ARENA_ARRAY(c->arena, struct hbk_layout_guess,
                                    (c->n * list->n * HBK_PEAK_STRIDE) + 1);
    for (size_t i = 0; i < c->n; i++) {
        if (!c->is_live[i]) {
            continue;
        }
        for (size_t f = 0; f < list->n; f++) {
            /* They are common to all live layouts. */
            (void)hbk_horn_press_parse(c->layouts[i].horn, list->labels[f],
                                       &presses[f]);
        }
        hbk_layout_guess(&c->layouts[i], list->n, presses,
                         &list->guesses[i * list->n * HBK_PEAK_STRIDE]);
    }
}

/* By how many semitones a layout sounds below what the readings name. */
static int written_above(const struct chooser *c, size_t i)
{
    const struct hbk_readings *const readings = c->found->readings;
    struct hbk_setting setting = hbk_setting_of(c->layouts[i].horn);
    setting.crook = c->layouts[i].bound.rigs[0].crook;
    return HBK_NOTE_C4 -
           (readings->has_written_c4
                ? readings->written_c4_sounds
                : hbk_setting_written_c4(c->layouts[i].horn, &setting));
}

static struct candidate best_partial(const struct chooser *c,
                                     const struct fingerings *list, size_t f)
{
    const char *const fingering = list->labels[f];
    struct candidate best = {.fingering = fingering, .bits = -1.0};
    const double none = (double)NAN;
    for (unsigned p = 1; p < HBK_PEAK_STRIDE; p++) {
        struct candidate new = {
            .fingering = fingering,
            .partial = p,
            .cents = HBK_ARENA_ARRAY(c->arena, double, c->n + 1),
            .sd = HBK_ARENA_ARRAY(c->arena, double, c->n + 1)};
        bool sounds = true;
        for (size_t i = 0; i < c->n; i++) {
            const struct hbk_layout_guess *const guess =
                &list->guesses[(((i * list->n) + f) * HBK_PEAK_STRIDE) + p];
            const struct hbk_partials *const partials =
                &c->layouts[i].horn->partials;
            new.cents[i] = none;
            if (c->is_live[i]) {
                sounds = sounds && guess->hz > 0.0 && p >= partials->lowest &&
                         p <= partials->highest && !partials->avoid[p];
                new.cents[i] =
                    hbk_cents(guess->hz,
                              c->found->readings->readings[0].a4_hz) +
                    (HBK_SEMITONE_CENTS * written_above(c, i));
                new.sd[i] = guess->sd_cents;
            }
        }
        new.bits = sounds ? information(c, &new) : -1.0;
        if (new.bits > best.bits + 1e-9) {
            best = new;
        }
    }
    return best;
}

/* Written notes and cents of a candidate, as each layout writes them. */
static struct hbk_identify_next describe(const struct chooser *c,
                                         const struct candidate *candidate)
{
    int *const written = HBK_ARENA_ARRAY(c->arena, int, c->n + 1);
    double *const cents = HBK_ARENA_ARRAY(c->arena, double, c->n + 1);
    for (size_t i = 0; i < c->n; i++) {
        const double nearest = round(candidate->cents[i] / HBK_SEMITONE_CENTS);
        written[i] = c->is_live[i] ? HBK_NOTE_A4 + (int)nearest : -1;
        cents[i] = candidate->cents[i] - (HBK_SEMITONE_CENTS * nearest);
    }
    return (struct hbk_identify_next){.fingering = candidate->fingering,
                                      .bits = candidate->bits,
                                      .partial = candidate->partial,
                                      .written = written,
                                      .cents = cents};
}

/* Keeps the best few, the most telling first. */
static void keep(const struct chooser *c, const struct candidate *candidate)
{
    struct hbk_identified *const found = c->found;
    size_t at = found->n_next;
    while (at > 0 && found->next[at - 1].bits < candidate->bits) {
        at--;
    }
    if (candidate->bits < worth_bits || at == HBK_IDENTIFY_NEXT_MAX) {
        return;
    }
    found->n_next += found->n_next < HBK_IDENTIFY_NEXT_MAX ? 1 : 0;
    for (size_t i = found->n_next - 1; i > at; i--) {
        found->next[i] = found->next[i - 1];
    }
    found->next[at] = describe(c, candidate);
}

static void find_next(const struct chooser *c)
{
    struct fingerings list = {.n = 0};
    list_fingerings(c, &list);
    guess_all(c, &list);
    for (size_t f = 0; f < list.n; f++) {
        const struct candidate best = best_partial(c, &list, f);
        keep(c, &best);
    }
}

/* Judges every layout against a page that is understood in one way. */
static struct chooser judge(size_t n, const struct hbk_horn *const *horns,
                            const struct hbk_readings *readings,
                            struct hbk_arena *arena,
                            struct hbk_identified *found)
{
    struct chooser c = {
        .n = n,
        .layouts = HBK_ARENA_ARRAY(arena, struct hbk_layout, n),
        .results = HBK_ARENA_ARRAY(arena, struct hbk_identified_layout, n),
        .is_live = HBK_ARENA_ARRAY(arena, bool, n),
        .arena = arena,
        .found = found,
    };
    for (size_t i = 0; i < n; i++) {
        c.layouts[i] = (struct hbk_layout){.arena = arena, .horn = horns[i]};
        hbk_layout_judge(&c.layouts[i], readings, &c.results[i]);
    }
    normalise(&c);
    *found = (struct hbk_identified){.readings = readings,
                                     .n = n,
                                     .layouts = c.results,
                                     .order = find_order(&c)};
    found->is_explained = c.results[found->order[0]].fit.is_good;
    return c;
}

/* The horn with its keys, or else its valves, counted from the other end. */
static const struct hbk_horn *turn_round(const struct hbk_horn *horn,
                                         struct hbk_arena *arena)
{
    struct hbk_horn *const turned = HBK_ARENA_ARRAY(arena, struct hbk_horn, 1);
    *turned = *horn;
    const enum hbk_control_kind kind =
        hbk_horn_has_kind(horn, HBK_KEY) ? HBK_KEY : HBK_VALVE;
    size_t low = 0;
    size_t high = horn->n_controls;
    while (low < high) {
        if (turned->controls[low].kind != kind) {
            low++;
        } else if (turned->controls[high - 1].kind != kind) {
            high--;
        } else {
            const char *const name = turned->controls[low].name;
            turned->controls[low].name = turned->controls[high - 1].name;
            turned->controls[high - 1].name = name;
            low++;
            high--;
        }
    }
    return turned;
}

/* The page with its notes named the other way. */
static const struct hbk_readings *rename_notes(const struct hbk_readings *page,
                                               struct hbk_arena *arena)
{
    struct hbk_readings *const other =
        HBK_ARENA_ARRAY(arena, struct hbk_readings, 1);
    *other = *page;
    other->has_written_c4 = !page->has_written_c4;
    other->written_c4_sounds = HBK_NOTE_C4;
    return other;
}

/* Whether a page is explained by a horn that stands near its own pitch. */
static bool is_at_home(const struct hbk_identified *found)
{
    return found->is_explained &&
           fabs(found->layouts[found->order[0]].pitch_cents) <=
               HBK_IDENTIFY_HOME_CENTS;
}

/* What is asked: the page and the horns as they were given. */
struct question {
    size_t n;
    const struct hbk_horn *const *horns;
    const struct hbk_horn **turned;
    const struct hbk_readings *readings, *renamed;
    struct hbk_arena *arena;
};

static const struct hbk_identified *understand(const struct question *q,
                                               enum hbk_identify_naming naming)
{
    struct hbk_identified *const found =
        HBK_ARENA_ARRAY(q->arena, struct hbk_identified, 1);
    const bool is_turned = naming != HBK_NAMED_OTHERWISE;
    const bool is_renamed = naming != HBK_NUMBERED_OTHERWISE;
    (void)judge(q->n, is_turned ? q->turned : q->horns,
                is_renamed ? q->renamed : q->readings, q->arena, found);
    found->naming = naming;
    return found;
}

/* The page understood otherwise, if that explains it; NULL if not. */
static const struct hbk_identified *
find_otherwise(struct question *q, const struct hbk_identified *as_read)
{
    q->turned = HBK_ARENA_ARRAY(q->arena, const struct hbk_horn *, q->n);
    for (size_t i = 0; i < q->n; i++) {
        q->turned[i] = turn_round(q->horns[i], q->arena);
    }
    q->renamed = rename_notes(q->readings, q->arena);
    const struct hbk_identified *explained = NULL;
    const enum hbk_identify_naming last =
        as_read->is_explained ? HBK_NAMED_OTHERWISE : HBK_BOTH_OTHERWISE;
    for (enum hbk_identify_naming way = HBK_NAMED_OTHERWISE; way <= last;
         way++) {
        const struct hbk_identified *const other = understand(q, way);
        if (is_at_home(other)) {
            return other;
        }
        if (explained == NULL && other->is_explained) {
            explained = other;
        }
    }
    return as_read->is_explained ? NULL : explained;
}

enum hbk_status hbk_identify(size_t n, const struct hbk_horn *const *horns,
                             const struct hbk_readings *readings,
                             struct hbk_arena *arena,
                             struct hbk_identified *found)
{
    struct question q = {
        .n = n, .horns = horns, .readings = readings, .arena = arena};
    struct chooser c = judge(n, horns, readings, arena, found);
    size_t n_live = 0;
    for (size_t i = 0; i < n; i++) {
        n_live += c.is_live[i] ? 1 : 0;
    }
    if (n_live > 1) {
        find_next(&c);
    }
    if (!is_at_home(found)) {
        found->otherwise = find_otherwise(&q, found);
    }
    return found->is_explained ? HBK_OK : HBK_ERR_NO_RESULT;
}
