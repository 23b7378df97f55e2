#include "lesson/study.h"

#include "lesson/pupil.h"
#include "lesson/study_ground.h"
#include "lesson/study_judge.h"

/* So many lines are drawn by lot, and more while none keeps the rules. */
enum { DRAWN = 1500, DRAWN_MOST = 60000 };

static unsigned signs_of_note(const struct hbk_tune_event *event)
{
    static const unsigned values[2][4] = {
        {HBK_STUDY_WHOLE, HBK_STUDY_HALF, HBK_STUDY_QUARTER, HBK_STUDY_EIGHTH},
        {HBK_STUDY_WHOLE, HBK_STUDY_DOTTED_HALF, HBK_STUDY_DOTTED_QUARTER,
         HBK_STUDY_EIGHTH}};
    const bool slurred = event->slur_starts > 0;
    const bool breath = (event->articulation & (unsigned)HBK_TUNE_BREATH) != 0;
    return values[event->dots > 0 ? 1 : 0][event->value & 3] |
           (slurred ? (unsigned)HBK_STUDY_SLUR : 0U) |
           (breath ? (unsigned)HBK_STUDY_BREATH : 0U);
}

static unsigned signs_of(const struct hbk_tune *tune)
{
    unsigned signs =
        tune->keys[0].fifths != 0 ? (unsigned)HBK_STUDY_SIGNATURE : 0U;
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        signs |= event->kind != HBK_TUNE_REST ? signs_of_note(event)
                 : event->value == 1          ? (unsigned)HBK_STUDY_HALF_REST
                                     : (unsigned)HBK_STUDY_QUARTER_REST;
    }
    return signs;
}

static struct hbk_study study_of(const struct hbk_line *line,
                                 const struct hbk_study_wish *wish, int fifths,
                                 int tonic, struct hbk_arena *arena)
{
    struct hbk_study study = {.n_bars = line->n_bars, .tonic = tonic};
    study.tune = hbk_line_tune(line, hbk_pupil_fifths(wish->home, fifths),
                               wish->clef, arena);
    study.signs = signs_of(study.tune);
    return study;
}

struct hbk_study hbk_study_make(const struct hbk_study_wish *wish,
                                struct hbk_arena *arena)
{
    const struct hbk_ground ground = hbk_ground_of(wish);
    struct hbk_dice dice = hbk_dice_for(wish->seed, wish->number);
    struct hbk_line best = {0};
    struct hbk_line line;
    double least = 0.0;
    for (size_t i = 0; i < DRAWN || (least >= HBK_LINE_WRONG && i < DRAWN_MOST);
         i++) {
        hbk_line_draw(&ground, &dice, &line);
        const double price = hbk_line_judge(&ground, &line);
        if (i == 0 || price < least) {
            best = line;
            least = price;
        }
    }
    return study_of(&best, wish, ground.fifths, ground.notes[ground.tonic],
                    arena);
}

enum { QUARTER = 2, HALF = 4, WHOLE = 8 };

/* Two halves under a slur, and the first of them again with a rest. */
static void put_pair(struct hbk_line *line, int from, int to, bool is_last)
{
    hbk_line_open_bar(line);
    hbk_line_add(line, from, HALF);
    line->notes[line->n - 1].slur = true;
    hbk_line_add(line, to, HALF);
    line->notes[line->n - 1].unslur = true;
    hbk_line_open_bar(line);
    hbk_line_add(line, from, is_last ? WHOLE : HALF);
    if (!is_last) {
        hbk_line_add(line, HBK_LINE_REST, HALF);
    }
}

struct hbk_study hbk_study_slurs(const struct hbk_slur_pair pairs[], size_t n,
                                 const struct hbk_study_wish *wish,
                                 struct hbk_arena *arena)
{
    enum { MOST = HBK_LINE_BARS / 2 };
    struct hbk_line line = {0};
    for (size_t i = 0; i + 1 < MOST; i++) {
        const struct hbk_slur_pair *const pair = &pairs[i % n];
        const bool down = i % 2 == 1;
        put_pair(&line, down ? pair->high : pair->low,
                 down ? pair->low : pair->high, false);
    }
    put_pair(&line, pairs[0].low, pairs[0].high, true);
    return study_of(&line, wish, wish->fifths, pairs[0].low, arena);
}

struct hbk_study hbk_study_chord(const int chord[HBK_STUDY_CHORD],
                                 const struct hbk_study_wish *wish,
                                 struct hbk_arena *arena)
{
    /* The notes of each bar; four quarters, or a half with its rest. */
    static const struct {
        size_t n;
        int at[4];
    } bars[HBK_LINE_BARS] = {
        {4, {0, 1, 2, 1}}, {1, {0}}, {4, {0, 1, 2, 3}}, {1, {2}},
        {4, {3, 2, 3, 2}}, {1, {2}}, {4, {3, 2, 1, 2}}, {1, {0}}};
    struct hbk_line line = {0};
    for (size_t bar = 0; bar < HBK_LINE_BARS; bar++) {
        const bool is_last = bar + 1 == HBK_LINE_BARS;
        hbk_line_open_bar(&line);
        for (size_t i = 0; i < bars[bar].n; i++) {
            hbk_line_add(&line, chord[bars[bar].at[i]],
                         bars[bar].n > 1 ? QUARTER
                         : is_last       ? WHOLE
                                         : HALF);
        }
        if (bars[bar].n == 1 && !is_last) {
            hbk_line_add(&line, HBK_LINE_REST, HALF);
        }
    }
    return study_of(&line, wish, wish->fifths, chord[0], arena);
}
