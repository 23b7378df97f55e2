#include "tune/melody/mark_stops.h"

#include "tune/melody/build.h"

#include <stdlib.h>

bool hbk_mark_is_line(const struct hbk_tune_mark *mark)
{
    const bool has_words =
        mark->kind == HBK_TUNE_MARK_WORDS || mark->kind == HBK_TUNE_MARK_TEMPO;
    return hbk_mark_is_hairpin(mark) ||
           (has_words && hbk_ratio_compare(mark->at.time, mark->end.time) < 0);
}

static bool begins_before(const struct hbk_tune *tune,
                          const struct hbk_tune_spot *spot)
{
    const struct hbk_tune_bar *const bar = &tune->bars[spot->bar];
    return bar->count > 0 &&
           hbk_ratio_compare(tune->events[spot->event].onset, spot->time) < 0;
}

static int by_size(size_t a, size_t b)
{
    return (a > b) - (a < b);
}

/* By place; at one place what ends before what begins, else as they were. */
static int by_place(const void *a, const void *b)
{
    const struct hbk_mark_stop *const one = a;
    const struct hbk_mark_stop *const two = b;
    int order = by_size(one->at.bar, two->at.bar);
    order = order != 0 ? order : by_size(one->at.event, two->at.event);
    order = order != 0 ? order : by_size(one->is_after, two->is_after);
    order = order != 0 ? order : hbk_ratio_compare(one->at.time, two->at.time);
    order = order != 0 ? order : by_size(two->is_end, one->is_end);
    return order != 0 ? order
                      : (one->mark > two->mark) - (one->mark < two->mark);
}

/* Numbers the lines, the least that is free for each. */
static void number_lines(struct hbk_mark_stops *stops)
{
    enum { LINES_MAX = 16 };
    const struct hbk_tune_mark *open[2][LINES_MAX] = {{NULL}};
    for (size_t i = 0; i < stops->n; i++) {
        struct hbk_mark_stop *const stop = &stops->items[i];
        if (!hbk_mark_is_line(stop->mark)) {
            continue;
        }
        const struct hbk_tune_mark **const lane =
            open[hbk_mark_is_hairpin(stop->mark)];
        const struct hbk_tune_mark *const wanted =
            stop->is_end ? stop->mark : NULL;
        unsigned k = 0;
        while (k + 1 < LINES_MAX && lane[k] != wanted) {
            k++;
        }
        lane[k] = stop->is_end ? NULL : stop->mark;
        stop->number = k + 1;
    }
}

struct hbk_mark_stops hbk_mark_stops_of(const struct hbk_tune *tune,
                                        struct hbk_arena *arena)
{
    const struct hbk_tune_marks *const marks = &tune->marks;
    struct hbk_mark_stops stops = {
        .items = HBK_ARENA_ARRAY(arena, struct hbk_mark_stop, 2 * marks->n)};
    for (size_t i = 0; i < marks->n; i++) {
        const struct hbk_tune_mark *const mark = &marks->items[i];
        stops.items[stops.n++] =
            (struct hbk_mark_stop){.mark = mark,
                                   .at = mark->at,
                                   .is_after = begins_before(tune, &mark->at)};
        if (hbk_mark_is_line(mark)) {
            stops.items[stops.n++] = (struct hbk_mark_stop){
                .mark = mark,
                .at = mark->end,
                .is_end = true,
                .is_after = begins_before(tune, &mark->end)};
        }
    }
    if (stops.n > 0) {
        qsort(stops.items, stops.n, sizeof(stops.items[0]), by_place);
    }
    number_lines(&stops);
    return stops;
}

const struct hbk_mark_stop *hbk_mark_stop(struct hbk_mark_stops *stops,
                                          size_t bar, size_t event,
                                          bool is_after)
{
    const struct hbk_mark_stop *const stop = &stops->items[stops->next];
    if (stops->next == stops->n || stop->at.bar > bar) {
        return NULL;
    }
    const bool is_here = stop->at.bar == bar;
    if (is_here && event != HBK_TUNE_NONE &&
        (stop->at.event > event ||
         (stop->at.event == event && stop->is_after && !is_after))) {
        return NULL;
    }
    stops->next++;
    return stop;
}
