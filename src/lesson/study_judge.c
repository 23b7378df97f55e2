#include "lesson/study_judge.h"

#include <stdlib.h>

/*
 * What breaking a rule costs. Only their order matters; they are our own
 * choice, tried by ear on the studies of the shipped horns.
 */
static const double thrice = 30.0;     /* one note three times running */
static const double twice = 2.0;       /* running */
static const double leap = 1.5;        /* a third */
static const double wide = 4.0;        /* a fourth or fifth */
static const double unturned = 6.0;    /* a leap that goes on in its way */
static const double tritone = 25.0;    /* by leap */
static const double same_top = 3.0;    /* the highest note once more */
static const double early_top = 6.0;   /* it comes before the middle */
static const double weak_close = 8.0;  /* the tonic ends an earlier phrase */
static const double few_notes = 8.0;   /* a note less than there could be */
static const double flat_strong = 1.0; /* a strong beat out of the chord */
static const double one_sided = 40.0;  /* all but new notes, or hardly any */
static const double to_and_fro = 5.0;  /* two notes in turn, once too often */
static const double leap_close = 6.0;  /* a leap just before the close */
static const double still_close = 4.0; /* the note before the last twice */
static const double leap_quick = 8.0;  /* an eighth that is not a step */
static const double closed_end = 2.0; /* a phrase ends on neither re, mi, sol */
static const double same_phrase = 12.0; /* the first two, note by note */
static const double top_outside = 3.0;  /* it is not in the third phrase */
static const double narrow = 8.0;       /* all within a third, of five notes */

enum {
    FIFTH = 7,
    STEP = 2,
    THIRD = 4,
    TRITONE = 6,
    TIMES = 3,
    STRONG_TIMES = 2
};

static bool is_new(const struct hbk_ground *ground, int written, size_t *which)
{
    for (size_t i = 0; i < ground->wish->n_new; i++) {
        if (ground->wish->added[i] == written) {
            *which = i;
            return true;
        }
    }
    return false;
}

static int degree_of(const struct hbk_ground *ground, int written)
{
    return ((written - ground->notes[ground->tonic]) % 12 + 12) % 12;
}

/* From a note to the next that sounds; `before` is the interval before. */
static double judge_step(const struct hbk_ground *ground,
                         const struct hbk_line_note *from,
                         const struct hbk_line_note *to, int before)
{
    const int interval =
        hbk_ground_interval(ground, from->written, to->written);
    const int size = abs(interval);
    double price =
        abs(to->written - from->written) > FIFTH ? HBK_LINE_WRONG : 0.0;
    price += size == 0 ? twice : 0.0;
    price += size == 0 && before == 0 ? thrice : 0.0;
    price += size > STEP ? (size <= THIRD ? leap : wide) : 0.0;
    price += size == TRITONE && !ground->wish->by_partials ? tritone : 0.0;
    price += size > STEP && from->eighths == 1 ? leap_quick : 0.0;
    if (abs(before) > STEP && interval * before > 0) {
        price += unturned * (size > STEP ? 2.0 : 1.0);
    }
    return price;
}

static double judge_steps(const struct hbk_ground *ground,
                          const struct hbk_line *line)
{
    const struct hbk_line_note *last = NULL;
    double price = 0.0;
    int before = 1;
    size_t turns = 0;
    for (size_t i = 0; i < line->n; i++) {
        const struct hbk_line_note *const note = &line->notes[i];
        if (note->written == HBK_LINE_REST) {
            continue;
        }
        if (last != NULL) {
            price += judge_step(ground, last, note, before);
            const bool at_once = note == last + 1;
            price += at_once && ground->barred[ground->place[last->written]]
                                              [ground->place[note->written]]
                         ? HBK_LINE_WRONG
                         : 0.0;
            const int interval =
                hbk_ground_interval(ground, last->written, note->written);
            turns = interval != 0 && interval == -before ? turns + 1 : 0;
            price += turns > 1 ? to_and_fro : 0.0;
            before = interval;
        }
        last = note;
    }
    return price;
}

static double judge_new(const struct hbk_ground *ground,
                        const struct hbk_line *line)
{
    const size_t n_new = ground->wish->n_new;
    size_t times[HBK_STUDY_NEW_MOST] = {0};
    size_t strong[HBK_STUDY_NEW_MOST] = {0};
    size_t n = 0;
    size_t pairs = 0;
    int at = 0;
    int last = HBK_LINE_REST;
    for (size_t i = 0; i < line->n; i++) {
        const struct hbk_line_note *const note = &line->notes[i];
        size_t which = 0;
        size_t other = 0;
        n += note->written != HBK_LINE_REST ? 1 : 0;
        if (is_new(ground, note->written, &which)) {
            times[which]++;
            strong[which] += at % (HBK_LINE_EIGHTHS / 2) == 0 ? 1 : 0;
            pairs += is_new(ground, last, &other) && other != which ? 1 : 0;
        }
        last = note->written;
        at += note->eighths;
    }
    double price = 0.0;
    size_t all = 0;
    for (size_t i = 0; i < n_new; i++) {
        price += times[i] < TIMES ? HBK_LINE_WRONG : 0.0;
        price += strong[i] < STRONG_TIMES ? HBK_LINE_WRONG : 0.0;
        all += times[i];
    }
    price += ground->wish->paired && pairs < TIMES ? HBK_LINE_WRONG : 0.0;
    const bool others = ground->n > n_new && n_new > 0;
    return price + (others && 3 * all > 2 * n ? one_sided : 0.0);
}

/* From one note to the next where one of them is a new half-tone. */
static double judge_half_tone(const struct hbk_ground *ground, int from, int to)
{
    const bool is_step =
        from != to && abs(hbk_ground_interval(ground, from, to)) <= STEP;
    return (ground->by_step[from] || ground->by_step[to]) && !is_step
               ? HBK_LINE_WRONG
               : 0.0;
}

/* New half-tones: reached and left by step, and the last leads on. */
static double judge_half_tones(const struct hbk_ground *ground,
                               const struct hbk_line *line)
{
    int last = HBK_LINE_REST;
    int next = HBK_LINE_REST; /* after the last of them */
    int half_tone = HBK_LINE_REST;
    double price = 0.0;
    for (size_t i = 0; i < line->n; i++) {
        const int written = line->notes[i].written;
        if (written == HBK_LINE_REST) {
            continue;
        }
        if (last == HBK_LINE_REST) {
            price += ground->by_step[written] ? HBK_LINE_WRONG : 0.0;
        } else {
            price += judge_half_tone(ground, last, written);
        }
        next = last == half_tone ? written : next;
        half_tone = ground->by_step[written] ? written : half_tone;
        last = written;
    }
    const bool leads = half_tone == HBK_LINE_REST || half_tone == last ||
                       ground->resolves[half_tone] < 0 ||
                       next == ground->resolves[half_tone];
    return price + (leads ? 0.0 : HBK_LINE_WRONG);
}

/* The bar a note stands in. */
static size_t bar_of(const struct hbk_line *line, size_t at)
{
    size_t bar = 0;
    while (bar + 1 < line->n_bars && line->first[bar + 1] <= at) {
        bar++;
    }
    return bar;
}

/* One highest note, in the third of four phrases or at least late. */
static double judge_contour(const struct hbk_ground *ground,
                            const struct hbk_line *line)
{
    enum { ENOUGH = 5, THIRD_PHRASE = 4 };
    bool used[HBK_GROUND_NOTES] = {false};
    size_t distinct = 0;
    size_t n_top = 0;
    size_t top_at = 0;
    int top = -1;
    int bottom = HBK_GROUND_NOTES;
    for (size_t i = 0; i < line->n; i++) {
        const int written = line->notes[i].written;
        if (written == HBK_LINE_REST) {
            continue;
        }
        distinct += used[written] ? 0 : 1;
        used[written] = true;
        n_top = written > top ? 1 : n_top + (written == top ? 1 : 0);
        top_at = written > top ? i : top_at;
        top = written > top ? written : top;
        bottom = written < bottom ? written : bottom;
    }
    const size_t wanted = ground->n < 6 ? ground->n : 6;
    const size_t bar = bar_of(line, top_at);
    const bool peaks = line->n_bars < HBK_LINE_BARS || bar == THIRD_PHRASE ||
                       bar == THIRD_PHRASE + 1;
    return (double)(n_top - 1) * same_top +
           (top_at < line->n / 2 ? early_top : 0.0) +
           (peaks ? 0.0 : top_outside) +
           (ground->n >= ENOUGH && top - bottom <= THIRD ? narrow : 0.0) +
           (distinct < wanted ? (double)(wanted - distinct) * few_notes : 0.0);
}

/* The last of a bar that sounds. */
static const struct hbk_line_note *last_of(const struct hbk_line *line,
                                           size_t bar)
{
    const size_t end = bar + 1 < line->n_bars ? line->first[bar + 1] : line->n;
    const struct hbk_line_note *last = &line->notes[line->first[bar]];
    for (size_t i = line->first[bar]; i < end; i++) {
        last = line->notes[i].written != HBK_LINE_REST ? &line->notes[i] : last;
    }
    return last;
}

/* Whether the second phrase is the first once more, note by note. */
static bool says_it_again(const struct hbk_line *line)
{
    const size_t n = line->n_bars < HBK_LINE_BARS ? 0 : line->first[2];
    bool same = n > 0 && line->first[4] == 2 * n;
    for (size_t i = 0; same && i < n; i++) {
        same = line->notes[i].written == line->notes[n + i].written &&
               line->notes[i].eighths == line->notes[n + i].eighths;
    }
    return same;
}

/* Phrases ask, on re, mi or sol, until the last one answers. */
static double judge_ends(const struct hbk_ground *ground,
                         const struct hbk_line *line)
{
    double price = says_it_again(line) ? same_phrase : 0.0;
    for (size_t bar = 1; bar + 1 < line->n_bars; bar += 2) {
        const int degree = degree_of(ground, last_of(line, bar)->written);
        const bool asks = degree == STEP || degree == THIRD || degree == FIFTH;
        price += degree == 0 ? weak_close : asks ? 0.0 : closed_end;
    }
    return price;
}

static double judge_phrases(const struct hbk_ground *ground,
                            const struct hbk_line *line)
{
    const int tonic = ground->notes[ground->tonic];
    const size_t last = line->n_bars - 1;
    double price = judge_ends(ground, line);
    for (size_t bar = 0; bar < line->n_bars; bar++) {
        const int degree =
            degree_of(ground, line->notes[line->first[bar]].written);
        price += degree == 0 || degree == THIRD || degree == FIFTH
                     ? 0.0
                     : flat_strong;
    }
    const struct hbk_line_note *const close = last_of(line, last - 1);
    if (line->first[last] - line->first[last - 1] > 1) {
        const int before = abs(
            hbk_ground_interval(ground, (close - 1)->written, close->written));
        price += before > STEP ? leap_close : before == 0 ? still_close : 0.0;
    }
    bool closes = last_of(line, last)->written == tonic;
    bool leads = false;
    for (size_t i = 0; i < ground->n_closers; i++) {
        leads = leads || ground->notes[ground->closers[i]] == close->written;
    }
    closes = closes && leads;
    return price + (closes ? 0.0 : HBK_LINE_WRONG);
}

double hbk_line_judge(const struct hbk_ground *ground,
                      const struct hbk_line *line)
{
    return judge_steps(ground, line) + judge_new(ground, line) +
           judge_half_tones(ground, line) + judge_contour(ground, line) +
           judge_phrases(ground, line);
}
