#include "tune/melody/build_marks.h"

#include "base/messages.h"
#include "tune/melody/lost.h"

#include <stdlib.h>
#include <string.h>

/*
 * Where the marks of a tune stand, once its events have their times; and what
 * was left out, told.
 */

/* The number an event has, by the one under which the reader added it. */
struct numbers {
    const size_t *first; /* of its first piece; NULL where all are the same */
    size_t n;
};

static struct numbers find_numbers(const struct hbk_build *build)
{
    const struct hbk_tune *const tune = build->tune;
    struct numbers numbers = {.n = tune->n_events};
    if (build->old == NULL) {
        return numbers;
    }
    size_t *const first =
        HBK_ARENA_ARRAY(build->arena, size_t, tune->n_events + 1);
    numbers.n = 0;
    for (size_t i = 0; i < tune->n_events; i++) {
        if (build->old[i] != HBK_TUNE_NONE) {
            first[build->old[i]] = i;
            numbers.n = build->old[i] + 1;
        }
    }
    first[numbers.n] = tune->n_events;
    numbers.first = first;
    return numbers;
}

static size_t number_of(const struct numbers *numbers, size_t old)
{
    const size_t within = old < numbers->n ? old : numbers->n;
    return numbers->first == NULL ? within : numbers->first[within];
}

static struct hbk_tune_spot at_time(const struct hbk_tune *tune, size_t b,
                                    struct hbk_ratio since)
{
    const struct hbk_tune_bar *const bar = &tune->bars[b];
    if (hbk_ratio_compare(since, bar->length) > 0) {
        since = bar->length;
    }
    struct hbk_tune_spot spot = {
        .bar = b, .time = bar->onset, .event = bar->first};
    if (since.num > 0) {
        (void)hbk_ratio_add(bar->onset, since, &spot.time);
    }
    for (size_t i = bar->first; i < bar->first + bar->count; i++) {
        if (hbk_ratio_compare(tune->events[i].onset, spot.time) <= 0) {
            spot.event = i;
        }
    }
    return spot;
}

static struct hbk_tune_spot find_spot(const struct hbk_tune *tune,
                                      const struct numbers *numbers,
                                      struct hbk_build_spot spot)
{
    if (spot.where == HBK_BUILD_AT_EVENT) {
        const size_t event = number_of(numbers, spot.event);
        if (event < tune->n_events) {
            return (struct hbk_tune_spot){.bar = tune->events[event].bar,
                                          .time = tune->events[event].onset,
                                          .event = event};
        }
        spot = (struct hbk_build_spot){.where = HBK_BUILD_AT_BAR_END,
                                       .bar = tune->n_bars - 1};
    }
    return at_time(tune, spot.bar,
                   spot.where == HBK_BUILD_AT_TIME
                       ? spot.time
                       : tune->bars[spot.bar].length);
}

/* From grace notes on to their note: a line ends there. */
static struct hbk_tune_spot at_main(const struct hbk_tune *tune,
                                    struct hbk_tune_spot spot)
{
    const struct hbk_tune_bar *const bar = &tune->bars[spot.bar];
    while (spot.event + 1 < bar->first + bar->count &&
           tune->events[spot.event].kind == HBK_TUNE_GRACE) {
        spot.event++;
    }
    return spot;
}

/* The end of the event at a spot, or of its bar where it is past that. */
static struct hbk_tune_spot end_of_event(const struct hbk_tune *tune,
                                         struct hbk_tune_spot spot)
{
    const struct hbk_tune_bar *const bar = &tune->bars[spot.bar];
    const bool is_here = bar->count > 0;
    struct hbk_ratio end = bar->length;
    struct hbk_ratio since = hbk_ratio_whole(0);
    const struct hbk_tune_event *const event =
        is_here ? &tune->events[spot.event] : NULL;
    if (is_here && event->length.num > 0 &&
        hbk_ratio_sub(event->onset, bar->onset, &since)) {
        (void)hbk_ratio_add(since, event->length, &end);
    }
    return at_time(tune, spot.bar, end);
}

static void find_places(struct hbk_build *build, const struct numbers *numbers)
{
    struct hbk_build_marks *const marks = &build->marks;
    const struct hbk_tune *const tune = build->tune;
    for (size_t i = 0; i < marks->n; i++) {
        struct hbk_build_mark *const mark = &marks->items[i];
        mark->mark.at = find_spot(tune, numbers, mark->at);
        mark->mark.end = at_main(tune, find_spot(tune, numbers, mark->end));
        const bool is_short =
            hbk_ratio_compare(mark->mark.end.time, mark->mark.at.time) <= 0;
        if (is_short) {
            mark->mark.end = hbk_mark_is_hairpin(&mark->mark)
                                 ? end_of_event(tune, mark->mark.at)
                                 : mark->mark.at;
        }
    }
}

static int by_size(size_t a, size_t b)
{
    return (a > b) - (a < b);
}

/* Marks at one place stay in the order of the file. */
static int by_place(const void *a, const void *b)
{
    const struct hbk_build_mark *const *const one = a;
    const struct hbk_build_mark *const *const two = b;
    const struct hbk_tune_spot *const first = &(*one)->mark.at;
    const struct hbk_tune_spot *const second = &(*two)->mark.at;
    int order = by_size(first->bar, second->bar);
    order = order != 0 ? order : by_size(first->event, second->event);
    order = order != 0 ? order : hbk_ratio_compare(first->time, second->time);
    return order != 0 ? order : (*one > *two) - (*one < *two);
}

/* A line that never ends goes to the next dynamics of its bar, or its end. */
static void end_open(struct hbk_build *build, struct hbk_build_mark *open,
                     const struct hbk_tune_spot *next)
{
    const struct hbk_tune *const tune = build->tune;
    const size_t bar = open->mark.at.bar;
    open->mark.end = next != NULL && next->bar == bar
                         ? *next
                         : at_time(tune, bar, tune->bars[bar].length);
    hbk_build_warn(build, open->place, HBK_H_MARK_OPEN,
                   "bar %.40s: %s begins here and never ends; it is drawn "
                   "within its bar",
                   tune->bars[bar].number,
                   hbk_mark_is_hairpin(&open->mark) ? "a hairpin"
                                                    : "a dashed line");
}

/* Backwards, so that the dynamics that come later are known. */
static void end_all_open(struct hbk_build *build, struct hbk_build_mark **order,
                         size_t n)
{
    const struct hbk_tune_spot *later = NULL;
    const struct hbk_tune_spot *here = NULL;
    for (size_t i = n; i-- > 0;) {
        struct hbk_build_mark *const mark = order[i];
        if (here != NULL &&
            hbk_ratio_compare(mark->mark.at.time, here->time) < 0) {
            later = here;
        }
        if (mark->is_open) {
            end_open(build, mark, later);
        }
        if (hbk_mark_is_hairpin(&mark->mark) ||
            mark->mark.kind == HBK_TUNE_MARK_DYNAMIC) {
            here = &mark->mark.at;
        }
    }
}

/* Whether the mark before says the same at the same place, as voices do. */
static bool is_said(const struct hbk_tune_marks *marks,
                    const struct hbk_tune_mark *mark)
{
    enum { LOOK_BACK = 8 };
    for (size_t i = marks->n; i-- > 0 && i + LOOK_BACK >= marks->n;) {
        const struct hbk_tune_mark *const other = &marks->items[i];
        if (other->at.event != mark->at.event ||
            !hbk_ratio_equal(other->at.time, mark->at.time)) {
            return false;
        }
        if (other->kind == mark->kind && strcmp(other->text, mark->text) == 0 &&
            hbk_ratio_equal(other->end.time, mark->end.time) &&
            hbk_ratio_equal(other->metronome.beat, mark->metronome.beat)) {
            return true;
        }
    }
    return false;
}

static void put_in_order(struct hbk_build *build)
{
    const struct hbk_build_marks *const from = &build->marks;
    struct hbk_tune_marks *const to = &build->tune->marks;
    struct hbk_build_mark **const order =
        HBK_ARENA_ARRAY(build->arena, struct hbk_build_mark *, from->n);
    to->items = HBK_ARENA_ARRAY(build->arena, struct hbk_tune_mark, from->n);
    for (size_t i = 0; i < from->n; i++) {
        order[i] = &from->items[i];
    }
    if (from->n > 0) {
        qsort(order, from->n, sizeof(order[0]), by_place);
    }
    end_all_open(build, order, from->n);
    for (size_t i = 0; i < from->n; i++) {
        if (!is_said(to, &order[i]->mark)) {
            to->items[to->n++] = order[i]->mark;
        }
    }
}

static int by_event(const void *a, const void *b)
{
    const struct hbk_tune_syllable *const one = a;
    const struct hbk_tune_syllable *const two = b;
    const int order = by_size(one->event, two->event);
    return order != 0 ? order : by_size(one->verse, two->verse);
}

static void place_syllables(struct hbk_build *build,
                            const struct numbers *numbers)
{
    struct hbk_tune_marks *const marks = &build->tune->marks;
    for (size_t i = 0; i < marks->n_syllables; i++) {
        struct hbk_tune_syllable *const syllable = &marks->syllables[i];
        const bool is_held = syllable->last > syllable->event;
        /* Held to the end of a note that is written as several. */
        const size_t last = is_held ? number_of(numbers, syllable->last + 1) - 1
                                    : number_of(numbers, syllable->event);
        syllable->event = number_of(numbers, syllable->event);
        syllable->last = last;
    }
    if (marks->n_syllables > 0) {
        qsort(marks->syllables, marks->n_syllables, sizeof(marks->syllables[0]),
              by_event);
    }
}

/* A rest of several bars is one only as far as its bars are bars of rest. */
static void check_rests(struct hbk_tune *tune)
{
    for (size_t b = 0; b < tune->n_bars; b++) {
        unsigned n = 0;
        while (n < tune->bars[b].rests && b + n < tune->n_bars) {
            const struct hbk_tune_bar *const bar = &tune->bars[b + n];
            size_t i = 0;
            while (i < bar->count &&
                   tune->events[bar->first + i].kind == HBK_TUNE_REST) {
                i++;
            }
            if (i < bar->count || bar->count == 0) {
                break;
            }
            n++;
        }
        tune->bars[b].rests = n < 2 ? 0 : n;
    }
}

void hbk_build_place_marks(struct hbk_build *build)
{
    const struct numbers numbers = find_numbers(build);
    find_places(build, &numbers);
    put_in_order(build);
    place_syllables(build, &numbers);
    check_rests(build->tune);
    const struct hbk_lost lost = {.arena = build->arena,
                                  .n = build->tune->marks.n_left_out,
                                  .kinds = build->tune->marks.left_out};
    hbk_lost_list(&lost, build->tune, HBK_H_NOT_ON_SHEET, "is not on the sheet",
                  "are not on the sheet", build->faults);
}
