#include "lesson/study_line.h"

#include "lesson/pupil.h"

#include <stdlib.h>
#include <string.h>

void hbk_line_open_bar(struct hbk_line *line)
{
    line->first[line->n_bars++] = line->n;
}

void hbk_line_add(struct hbk_line *line, int written, int eighths)
{
    line->notes[line->n++] =
        (struct hbk_line_note){.written = written, .eighths = eighths};
}

/* Rhythms of a bar, in eighths; a zero ends one. */
struct rhythm {
    size_t from,
        until; /* the first and last lesson that has it; 0: all after */
    int eighths[HBK_LINE_BAR_NOTES];
};

static const struct rhythm moving[] = {
    {1, 6, {4, 4}},           {2, 12, {2, 2, 4}},
    {2, 12, {4, 2, 2}},       {3, 0, {2, 2, 2, 2}},
    {4, 14, {6, 2}},          {7, 0, {2, 2, 1, 1, 2}},
    {7, 0, {2, 1, 1, 4}},     {8, 0, {1, 1, 2, 2, 2}},
    {8, 0, {4, 2, 1, 1}},     {9, 0, {2, 1, 1, 2, 2}},
    {11, 0, {3, 1, 4}},       {11, 0, {3, 1, 2, 2}},
    {12, 0, {2, 2, 3, 1}},    {13, 0, {3, 1, 2, 1, 1}},
    {15, 0, {1, 1, 1, 1, 4}}, {17, 0, {2, 1, 1, 2, 1, 1}}};
enum { N_MOVING = sizeof(moving) / sizeof(moving[0]) };

/* Ends of phrases: the note, and the rest after it; no rest is a breath. */
struct ending {
    size_t from;
    int before, last, rest; /* eighths; before may be 0 */
};

static const struct ending endings[] = {
    {1, 0, 4, 4}, {3, 0, 6, 2}, {4, 2, 4, 2}, {5, 4, 4, 0}, {6, 0, 8, 0}};
enum { N_ENDINGS = sizeof(endings) / sizeof(endings[0]) };

static const struct rhythm *draw_rhythm(struct hbk_dice *dice, size_t number)
{
    const struct rhythm *had[N_MOVING];
    uint32_t n = 0;
    /* Half of the time one that came lately, so that it is practised. */
    enum { LATELY = 4 };
    uint32_t latest = 0;
    for (size_t i = 0; i < N_MOVING && moving[i].from <= number; i++) {
        if (moving[i].until == 0 || moving[i].until >= number) {
            had[n++] = &moving[i];
            latest += moving[i].from + LATELY <= number ? 1 : 0;
        }
    }
    return had[latest < n && hbk_dice_below(dice, 2) == 0
                   ? latest + hbk_dice_below(dice, n - latest)
                   : hbk_dice_below(dice, n)];
}

static const struct ending *draw_ending(struct hbk_dice *dice, size_t number)
{
    uint32_t n = 0;
    while (n < N_ENDINGS && endings[n].from <= number) {
        n++;
    }
    return &endings[hbk_dice_below(dice, n)];
}

/* Indices into the notes of the ground. */
struct motif {
    const struct rhythm *rhythm;
    size_t n;
    long at[HBK_LINE_BAR_NOTES];
};

static long within(const struct hbk_ground *ground, long at)
{
    const long top = (long)ground->n - 1;
    return at < 0     ? labs(at) % (top + 1)
           : at > top ? top - (at - top) % (top + 1)
                      : at;
}

/*
 * From a note to the next: mostly a step, now and then a third or a fourth; not
 * where the study may not go, if chance has it otherwise.
 */
static long walk_on(const struct hbk_ground *ground, struct hbk_dice *dice,
                    long at)
{
    static const long steps[] = {1, 1, 1, 1, -1, -1, -1, -1, 2, -2, 0, 3};
    enum { N = sizeof(steps) / sizeof(steps[0]), TRIES = 8 };
    long to = at;
    for (size_t i = 0; i < TRIES; i++) {
        to = within(ground, at + steps[hbk_dice_below(dice, N)]);
        if (!ground->avoided[at][to]) {
            break;
        }
    }
    return to;
}

static void draw_motif(const struct hbk_ground *ground, struct hbk_dice *dice,
                       long from, struct motif *motif)
{
    motif->rhythm = draw_rhythm(dice, ground->wish->rhythm);
    motif->n = 0;
    for (size_t i = 0; i < HBK_LINE_BAR_NOTES && motif->rhythm->eighths[i] > 0;
         i++) {
        motif->at[i] = i == 0 ? from : walk_on(ground, dice, motif->at[i - 1]);
        motif->n++;
    }
}

/* The motif once more, so many steps higher, or with its steps turned round. */
static struct motif moved(const struct hbk_ground *ground,
                          const struct motif *motif, long by, bool turned)
{
    struct motif other = *motif;
    for (size_t i = 0; i < motif->n; i++) {
        const long step = motif->at[i] - motif->at[0];
        other.at[i] =
            within(ground, motif->at[0] + by + (turned ? -step : step));
    }
    return other;
}

static void put_motif(const struct hbk_ground *ground,
                      const struct motif *motif, struct hbk_line *line)
{
    hbk_line_open_bar(line);
    for (size_t i = 0; i < motif->n; i++) {
        hbk_line_add(line, ground->notes[motif->at[i]],
                     motif->rhythm->eighths[i]);
    }
}

/* The bar in which a phrase ends; returns the note it ends on. */
static long put_ending(const struct hbk_ground *ground, struct hbk_dice *dice,
                       long from, struct hbk_line *line)
{
    const struct ending *const ending = draw_ending(dice, ground->wish->rhythm);
    long at = walk_on(ground, dice, from);
    hbk_line_open_bar(line);
    if (ending->before > 0) {
        hbk_line_add(line, ground->notes[at], ending->before);
        at = walk_on(ground, dice, at);
    }
    hbk_line_add(line, ground->notes[at], ending->last);
    if (ending->rest > 0) {
        hbk_line_add(line, HBK_LINE_REST, ending->rest);
    } else {
        line->notes[line->n - 1].breath = true;
    }
    return at;
}

/*
 * The motif once more, so that it leads to the tonic by step: as it was, where
 * it ends near there, or moved there as a whole.
 */
static void put_close(const struct hbk_ground *ground, struct hbk_dice *dice,
                      struct motif *motif, struct hbk_line *line)
{
    enum { NEAR = 2 };
    const long tonic = (long)ground->tonic;
    /* The highest of them, two times of three. */
    const size_t last = ground->n_closers - 1;
    const long end =
        (long)ground->closers[hbk_dice_below(dice, 3) > 0
                                  ? last
                                  : hbk_dice_below(dice, (uint32_t)last + 1)];
    const long away = end - motif->at[motif->n - 1];
    if (labs(away) > NEAR) {
        *motif = moved(ground, motif, away, false);
    }
    motif->at[motif->n - 1] = end;
    put_motif(ground, motif, line);
    hbk_line_open_bar(line);
    hbk_line_add(line, ground->notes[tonic], HBK_LINE_EIGHTHS);
}

/* Where a study begins: on a note that is easy to begin on. */
static long draw_first(const struct hbk_ground *ground, struct hbk_dice *dice)
{
    long starts[HBK_GROUND_NOTES];
    uint32_t n = 0;
    for (size_t i = 0; i < ground->n; i++) {
        if (ground->begins[i]) {
            starts[n++] = (long)i;
        }
    }
    return starts[hbk_dice_below(dice, n)];
}

/* Where a motif begins: anywhere, or near a new note. */
static long draw_start(const struct hbk_ground *ground, struct hbk_dice *dice)
{
    const struct hbk_study_wish *const wish = ground->wish;
    if (wish->n_new == 0 || hbk_dice_below(dice, 3) == 0) {
        return (long)hbk_dice_below(dice, (uint32_t)ground->n);
    }
    const int added = wish->added[hbk_dice_below(dice, (uint32_t)wish->n_new)];
    long at = 0;
    for (size_t i = 0; i < ground->n; i++) {
        at = ground->notes[i] == added ? (long)i : at;
    }
    const long start = within(ground, at + (long)hbk_dice_below(dice, 5) - 2);
    return ground->by_step[ground->notes[start]] ? walk_on(ground, dice, start)
                                                 : start;
}

void hbk_line_draw(const struct hbk_ground *ground, struct hbk_dice *dice,
                   struct hbk_line *line)
{
    enum { SHORT_UNTIL = 2 };
    struct motif motif;
    *line = (struct hbk_line){0};
    draw_motif(ground, dice, draw_first(ground, dice), &motif);
    put_motif(ground, &motif, line);
    (void)put_ending(ground, dice, motif.at[motif.n - 1], line);
    if (ground->wish->number > SHORT_UNTIL) {
        const long by = (long)hbk_dice_below(dice, 4) - 1;
        const struct motif answer = moved(ground, &motif, by, false);
        put_motif(ground, &answer, line);
        (void)put_ending(ground, dice, answer.at[answer.n - 1], line);
        struct motif middle;
        if (hbk_dice_below(dice, 3) == 0) {
            draw_motif(ground, dice, draw_start(ground, dice), &middle);
        } else {
            middle = moved(ground, &motif, 1 + (long)hbk_dice_below(dice, 3),
                           hbk_dice_below(dice, 2) == 0);
        }
        put_motif(ground, &middle, line);
        (void)put_ending(ground, dice, middle.at[middle.n - 1], line);
    }
    put_close(ground, dice, &motif, line);
}
