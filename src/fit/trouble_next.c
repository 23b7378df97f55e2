#include "fit/trouble_next.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/habit.h"
#include "solve/setting.h"
#include "solve/solve.h"

#include <math.h>
#include <stdlib.h>

/* Of a note so many fingerings are thought of. */
enum { FINGERINGS_OF_A_NOTE = 3 };

/* Nearer than that, in standard deviations, a note tells nothing. */
static const double worth = 1.0;
/* Further, it tells no more surely, and the simplest of such notes will do. */
static const double plenty = 8.0;

/* What is less likely need not be told from the likeliest. */
static const double likely_least = 0.01;

/* Notes that may be played, under the first setting of the page. */
struct asked {
    size_t n;
    const struct hbk_note **note;
    uint32_t *press; /* what fingers press */
    struct hbk_sounding *items;
    struct hbk_soundings soundings;
};

static bool is_read(const struct hbk_trouble_page *page, uint32_t press,
                    int written)
{
    for (size_t i = 0; i < page->bound.n; i++) {
        if (page->bound.items[i].press == press &&
            page->bound.items[i].written == written) {
            return true;
        }
    }
    return false;
}

static void add_fingering(const struct hbk_trouble_page *page,
                          const struct hbk_note *note,
                          const struct hbk_fingering *fingering,
                          struct asked *asked)
{
    const uint32_t triggers = hbk_horn_kind_press(page->horn, HBK_TRIGGER);
    if ((fingering->press & triggers) != 0 ||
        is_read(page, fingering->press, note->written)) {
        return;
    }
    asked->items[asked->n] = (struct hbk_sounding){
        .press = fingering->press | page->bound.stuck.held_down,
        .partial = fingering->partial,
        .reference_hz =
            hbk_note_hz(note->sounding, page->bound.items[0].reading->a4_hz)};
    asked->press[asked->n] = fingering->press;
    asked->note[asked->n++] = note;
}

/* Fingering k of the notes so many semitones from the tuning note. */
static void add_away(const struct hbk_trouble_page *page,
                     const struct hbk_notes *notes, size_t k, int away,
                     struct asked *asked)
{
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        if (abs(note->written - page->horn->tuning_note) == away &&
            k < note->n) {
            add_fingering(page, note, &note->fingerings[k], asked);
        }
    }
}

/* First fingerings before others, and of these the notes easiest to play. */
static bool collect(const struct hbk_trouble_page *page, struct asked *asked)
{
    struct hbk_arena *const arena = page->arena;
    struct hbk_setting setting = hbk_setting_of(page->horn);
    struct hbk_faults unsaid = {0};
    struct hbk_notes notes;
    setting.crook = page->soundings.rigs[0].crook;
    setting.mouthpiece = page->soundings.rigs[0].mouthpiece;
    setting.stuck.held_down = page->bound.stuck.held_down;
    setting.stuck.held_up = page->bound.stuck.held_up;
    if (hbk_solve(page->horn, &setting, arena, &notes, &unsaid) != HBK_OK) {
        return false;
    }
    const size_t most = notes.n * FINGERINGS_OF_A_NOTE;
    *asked = (struct asked){
        .note = HBK_ARENA_ARRAY(arena, const struct hbk_note *, most + 1),
        .press = HBK_ARENA_ARRAY(arena, uint32_t, most + 1),
        .items = HBK_ARENA_ARRAY(arena, struct hbk_sounding, most + 1)};
    for (size_t k = 0; k < FINGERINGS_OF_A_NOTE; k++) {
        for (int away = 0; away <= HBK_NOTE_MAX; away++) {
            add_away(page, &notes, k, away, asked);
        }
    }
    asked->soundings = (struct hbk_soundings){.n = asked->n,
                                              .items = asked->items,
                                              .n_rigs = 1,
                                              .rigs = page->soundings.rigs};
    hbk_soundings_prepare(&asked->soundings, arena);
    return true;
}

/*
 * Cents that a tuner would show for every note on the horn with one thing
 * wrong: of what comes out, which may be another note. NAN: nothing does.
 */
static bool expect(const struct hbk_trouble_page *page,
                   const struct asked *asked,
                   const struct hbk_trouble_judged *judged, double amount,
                   double cents[])
{
    struct hbk_peak *const rows =
        HBK_ARENA_ARRAY(page->arena, struct hbk_peak,
                        (asked->soundings.n_columns + 1) * HBK_PEAK_STRIDE);
    if (hbk_trouble_rows(page->horn, &judged->result.what, amount,
                         &asked->soundings, rows) != HBK_OK) {
        return false;
    }
    for (size_t i = 0; i < asked->n; i++) {
        const double hz = asked->items[i].reference_hz;
        const double habit =
            judged->result.pitch_cents +
            (judged->result.slope_cents * hbk_habit_octaves(page->horn, hz));
        const double off = hbk_trouble_off(
            page->horn, &rows[asked->soundings.column[i] * HBK_PEAK_STRIDE], 0,
            hz * hbk_cents_ratio(-habit), NULL);
        cents[i] = isfinite(off) ? -off : (double)NAN;
    }
    return true;
}

/* What one of the pair expects, and how far its amount may move that. */
struct guess {
    double *cents, *spread;
};

static bool guess_all(const struct hbk_trouble_page *page,
                      const struct asked *asked,
                      const struct hbk_trouble_judged *judged,
                      struct guess *guess)
{
    struct hbk_arena *const arena = page->arena;
    guess->cents = HBK_ARENA_ARRAY(arena, double, asked->n + 1);
    guess->spread = HBK_ARENA_ARRAY(arena, double, asked->n + 1);
    if (!expect(page, asked, judged, judged->amount, guess->cents)) {
        return false;
    }
    const struct hbk_trouble_range range =
        hbk_trouble_range(page->horn, &judged->result.what,
                          page->soundings.n_rigs, page->soundings.rigs);
    if (range.n < 2) {
        return true;
    }
    const double least = range.amount[0];
    const double most = range.amount[range.n - 1];
    const double aside = judged->amount + judged->amount_sd > most
                             ? fmax(judged->amount - judged->amount_sd, least)
                             : judged->amount + judged->amount_sd;
    if (!expect(page, asked, judged, aside, guess->spread)) {
        return false;
    }
    for (size_t i = 0; i < asked->n; i++) {
        guess->spread[i] = fabs(guess->spread[i] - guess->cents[i]);
    }
    return true;
}

/* Keeps the best few; of those as good, what came first. */
static void keep(struct hbk_troubles *found, double scores[],
                 const struct hbk_trouble_next *next, double score)
{
    size_t at = found->n_next;
    while (at > 0 && scores[at - 1] < score) {
        at--;
    }
    if (at == HBK_TROUBLE_NEXT_MAX) {
        return;
    }
    found->n_next += found->n_next < HBK_TROUBLE_NEXT_MAX ? 1 : 0;
    for (size_t i = found->n_next - 1; i > at; i--) {
        found->next[i] = found->next[i - 1];
        scores[i] = scores[i - 1];
    }
    found->next[at] = *next;
    scores[at] = score;
}

static bool is_other(const struct hbk_troubles *found, size_t at)
{
    return found->items[found->order[at]].what.kind == HBK_TROUBLE_OTHER;
}

/* The notes that tell one guess from another. */
static void compare(const struct hbk_trouble_page *page,
                    const struct asked *asked, const struct guess *one,
                    const struct guess *other, struct hbk_troubles *found)
{
    const double noise =
        hypot(HBK_READING_UNCERTAINTY_CENTS, page->model_cents);
    double scores[HBK_TROUBLE_NEXT_MAX];
    for (size_t i = 0; i < asked->n; i++) {
        const double apart = one->cents[i] - other->cents[i];
        const double sd = hypot(noise, hypot(one->spread[i], other->spread[i]));
        const double score = fmin(fabs(apart) / sd, plenty);
        if (!isnan(apart) && score >= worth) {
            const struct hbk_trouble_next next = {
                .written = page->c4 == 0 ? asked->note[i]->written
                                         : asked->note[i]->sounding +
                                               HBK_NOTE_C4 - page->c4,
                .press = asked->press[i],
                .partial = asked->items[i].partial,
                .cents = {one->cents[i], other->cents[i]}};
            keep(found, scores, &next, score);
        }
    }
}

void hbk_trouble_find_next(const struct hbk_trouble_page *page,
                           const struct hbk_trouble_judged judged[],
                           struct hbk_troubles *found)
{
    struct asked asked;
    struct guess first;
    size_t at = 0;
    found->n_next = 0;
    while (is_other(found, at)) {
        at++;
    }
    found->pair[0] = found->order[at];
    found->pair[1] = found->order[at];
    if (!collect(page, &asked) ||
        !guess_all(page, &asked, &judged[found->pair[0]], &first)) {
        return;
    }
    for (at++; at < found->n && found->n_next == 0; at++) {
        const size_t against = found->order[at];
        struct guess second;
        if (found->items[against].probability < likely_least) {
            return;
        }
        if (!is_other(found, at) &&
            guess_all(page, &asked, &judged[against], &second)) {
            found->pair[1] = against;
            compare(page, &asked, &first, &second, found);
        }
    }
}
