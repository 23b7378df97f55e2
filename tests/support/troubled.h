#ifndef HBK_TESTS_TROUBLED_H
#define HBK_TESTS_TROUBLED_H

#include "support/rng.h"
#include "support/solved.h"

#include "fit/trouble.h"
#include "fit/trouble_case.h"
#include "solve/habit.h"

/*
 * A horn of which one thing is wrong, read note by note: every note of its
 * compass, or every other, with its first fingering. Each note is off for
 * itself by some cents (3 on a horn that was fitted, 10 on one that was not),
 * the tuner by another 3, the whole by the player's 8, and by the player's
 * slope in cents an octave where one is asked for.
 */
enum { TROUBLED_MOST = 64 };

#define TROUBLED_TUNER_CENTS 3.0
#define TROUBLED_PLAYER_CENTS 8.0
/* What is wrong moves one note by so much at least: else who would ask? */
#define TROUBLED_LEAST_CENTS 20.0

struct troubled {
    struct solved base;
    const struct hbk_horn *horn; /* with a slide on every valve */
    struct hbk_reading_set set;
    struct hbk_reading items[TROUBLED_MOST];
    struct hbk_readings readings;
    struct hbk_sounding asked[TROUBLED_MOST];
    struct hbk_rig rig;
    struct hbk_soundings soundings;
    double sound[TROUBLED_MOST]; /* cents of the horn as it should be */
    size_t n_cases;
    struct hbk_trouble_case cases[HBK_TROUBLE_CASES_MAX];
    /* What is wrong at present. */
    struct hbk_trouble_case what;
    double amount;
    double note_cents;
    /* Of the player, beyond the file's habit: so much, and so far by chance. */
    double slope_cents, slope_sd;
};

/* The pitch a player gets who means a note: the nearest resonance. */
static inline void troubled_sound(struct troubled *t,
                                  const struct hbk_trouble_case *what,
                                  double amount, double cents[])
{
    struct hbk_arena arena = {0};
    struct hbk_peak *const rows = HBK_ARENA_ARRAY(
        &arena, struct hbk_peak, t->soundings.n_columns * HBK_PEAK_STRIDE);
    assert_int_equal(
        hbk_trouble_rows(t->horn, what, amount, &t->soundings, rows), HBK_OK);
    for (size_t i = 0; i < t->soundings.n; i++) {
        const struct hbk_peak *const row =
            &rows[t->soundings.column[i] * HBK_PEAK_STRIDE];
        double least = 1200.0;
        for (unsigned p = t->horn->partials.lowest;
             p <= t->horn->partials.highest; p++) {
            const double off =
                row[p].hz > 0.0 ? hbk_cents(row[p].hz, t->asked[i].reference_hz)
                                : 1200.0;
            least = fabs(off) < fabs(least) ? off : least;
        }
        cents[i] = least;
    }
    hbk_arena_finish(&arena);
}

/* step: 1 for every note of the compass, 2 for every other ... */
static inline void troubled_open(struct troubled *t, const char *name,
                                 size_t step)
{
    memset(t, 0, sizeof(*t));
    solved_open(&t->base, name);
    /* It played well when its file was fitted. */
    t->base.horn.fitted.n_readings = 20;
    t->note_cents = 3.0;
    const struct hbk_horn *const horn = &t->base.horn;
    struct hbk_arena *const arena = &t->base.arena;
    t->horn = hbk_trouble_horn(horn, arena);
    size_t n = 0;
    for (size_t i = 0; i < t->base.notes.n && n < TROUBLED_MOST; i += step) {
        const struct hbk_note *const note = &t->base.notes.notes[i];
        if (note->n == 0) {
            continue;
        }
        char label[HBK_LABEL_SIZE];
        hbk_horn_press_label(horn, note->fingerings->press, label);
        const double hz = hbk_note_hz(note->sounding, horn->a4_hz);
        t->asked[n] =
            (struct hbk_sounding){.press = note->fingerings->press,
                                  .partial = note->fingerings->partial,
                                  .reference_hz = hz};
        t->items[n] = (struct hbk_reading){
            .place = {"made.yaml", (unsigned)n + 1, 1},
            .note = note->written,
            .fingering = hbk_arena_printf(arena, "%s", label),
            .uncertainty_cents = TROUBLED_TUNER_CENTS,
            .a4_hz = horn->a4_hz,
            .temperature_c = horn->temperature_c,
            .set = &t->set};
        n++;
    }
    const struct hbk_rig plain = {.temperature_c = horn->temperature_c,
                                  .crook = -1};
    t->rig = hbk_trouble_rig(horn, &plain, arena);
    t->soundings = (struct hbk_soundings){
        .n = n, .items = t->asked, .n_rigs = 1, .rigs = &t->rig};
    hbk_soundings_prepare(&t->soundings, arena);
    t->readings = (struct hbk_readings){
        .path = "made.yaml", .n = n, .readings = t->items};
    const struct hbk_stuck none = {0};
    t->n_cases = hbk_trouble_cases(t->horn, &none, t->cases);
    t->what = (struct hbk_trouble_case){HBK_TROUBLE_NONE, -1, -1, -1};
    troubled_sound(t, &t->what, 0.0, t->sound);
}

/* The same horn, but its file was never fitted. */
static inline void troubled_forget(struct troubled *t)
{
    t->base.horn.fitted.n_readings = 0;
    t->note_cents = 10.0;
}

static inline void troubled_close(struct troubled *t)
{
    solved_close(&t->base);
}

/* A page of the horn with that wrong. */
static inline void troubled_read(struct troubled *t,
                                 const struct hbk_trouble_case *what,
                                 double amount, struct rng *rng)
{
    double cents[TROUBLED_MOST];
    troubled_sound(t, what, amount, cents);
    const double player = TROUBLED_PLAYER_CENTS * rng_normal(rng);
    const double slope =
        t->slope_cents +
        (t->slope_sd > 0.0 ? t->slope_sd * rng_normal(rng) : 0.0);
    for (size_t i = 0; i < t->soundings.n; i++) {
        const double octaves =
            hbk_habit_octaves(t->horn, t->asked[i].reference_hz);
        t->items[i].cents = cents[i] + player + (slope * octaves) +
                            (t->note_cents * rng_normal(rng)) +
                            (TROUBLED_TUNER_CENTS * rng_normal(rng));
    }
    t->what = *what;
    t->amount = amount;
}

/* By how much it moves the note that it moves most. */
static inline double troubled_most(struct troubled *t,
                                   const struct hbk_trouble_case *what,
                                   double amount)
{
    double cents[TROUBLED_MOST];
    double most = 0.0;
    troubled_sound(t, what, amount, cents);
    for (size_t i = 0; i < t->soundings.n; i++) {
        most = fmax(most, fabs(cents[i] - t->sound[i]));
    }
    return most;
}

/* Something wrong by the dice: a kind, one of that kind, how much of it. */
static inline void troubled_break(struct troubled *t, struct rng *rng)
{
    for (;;) {
        const int kind = HBK_TROUBLE_LEAK + (int)(rng_next(rng) % 5);
        const struct hbk_trouble_case *const what =
            &t->cases[rng_next(rng) % t->n_cases];
        const struct hbk_trouble_range range =
            hbk_trouble_range(t->horn, what, 1, &t->rig);
        if ((int)what->kind != kind || range.n == 0) {
            continue;
        }
        const double least = range.amount[0];
        const double most = range.amount[range.n - 1];
        const bool is_slide = kind == HBK_TROUBLE_SLIDE;
        const double u = rng_unit(rng);
        const double amount = range.n == 1 ? 0.0
                              : is_slide   ? least + (u * (most - least))
                                           : least * pow(most / least, u);
        if (troubled_most(t, what, amount) >= TROUBLED_LEAST_CENTS) {
            troubled_read(t, what, amount, rng);
            return;
        }
    }
}

static inline void troubled_ask(struct troubled *t, struct hbk_arena *arena,
                                struct hbk_troubles *found)
{
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_trouble_find(&t->base.horn, &t->readings, arena, found, &faults),
        HBK_OK);
}

static inline bool troubled_is(const struct troubled *t,
                               const struct hbk_trouble_case *what)
{
    return what->kind == t->what.kind && what->site == t->what.site &&
           what->control == t->what.control && what->slide == t->what.slide;
}

/* Where what is wrong stands among the cases, 0 the likeliest. */
static inline size_t troubled_rank(const struct troubled *t,
                                   const struct hbk_troubles *found)
{
    size_t rank = 0;
    for (size_t i = 0; i < found->n; i++) {
        const struct hbk_trouble *const item = &found->items[found->order[i]];
        if (troubled_is(t, &item->what)) {
            return rank;
        }
        rank += item->what.kind >= HBK_TROUBLE_LEAK ? 1 : 0;
    }
    return rank;
}

#endif
