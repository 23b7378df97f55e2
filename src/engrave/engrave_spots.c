#include "engrave/engrave_spots.h"

#include "engrave/engrave_signs.h"
#include "engrave/quill.h"

#include <math.h>

/* In staff spaces. */
static const double into_bar = 0.6;    /* where a bar's own room begins */
static const double before_line = 1.2; /* what comes from the line before */
static const double same_time = 1e-9;  /* whole notes */

static size_t end_of_piece(const struct hbk_engraving *eng,
                           const struct hbk_eng_bar *bar)
{
    const size_t after = bar->first + bar->n;
    return after < eng->n_columns ? eng->columns[after].first : eng->n_notes;
}

static size_t note_at(const struct hbk_engraving *eng, size_t event)
{
    return event < eng->tune->n_events ? eng->note_of[event] : HBK_ENG_NONE;
}

/* Which bar or piece of one on the line a spot lies in. */
static bool find_bar(const struct hbk_eng_view *view,
                     const struct hbk_tune_spot *spot, size_t *found)
{
    const struct hbk_engraving *eng = view->eng;
    const size_t note = note_at(eng, spot->event);
    for (size_t b = view->line->first; b < view->line->first + view->line->n;
         b++) {
        const struct hbk_eng_bar *bar = &eng->bars[b];
        if (spot->bar < bar->bar || spot->bar > bar->last) {
            continue;
        }
        if (bar->n == 0 || (note >= eng->columns[bar->first].first &&
                            note < end_of_piece(eng, bar))) {
            *found = b;
            return true;
        }
    }
    return false;
}

/* Left end of what a bar has room for. */
static double start_of(const struct hbk_eng_view *view, size_t b)
{
    const struct hbk_eng_bar *bar = &view->eng->bars[b];
    if (b == view->line->first) {
        return view->line->prefix;
    }
    return (bar->opens
                ? hbk_eng_draw_change(view->eng, bar->bar, false, NULL, bar->x)
                : bar->x) +
           into_bar;
}

static double bar_onset(const struct hbk_engraving *eng, size_t bar)
{
    return hbk_ratio_value(eng->tune->bars[bar].onset);
}

static double bar_end(const struct hbk_engraving *eng, size_t bar)
{
    return bar_onset(eng, bar) + hbk_ratio_value(eng->tune->bars[bar].length);
}

/* When the piece of a bar ends. */
static double piece_end(const struct hbk_engraving *eng,
                        const struct hbk_eng_bar *bar)
{
    return bar->closes ? bar_end(eng, bar->last)
                       : hbk_ratio_value(
                             eng->notes[end_of_piece(eng, bar)].source->onset);
}

/* x of a moment after a note began and before the next one does. */
static double x_between(const struct hbk_engraving *eng,
                        const struct hbk_eng_bar *bar, size_t note, double x0,
                        double time)
{
    const double t0 = hbk_ratio_value(eng->notes[note].source->onset);
    double t1 = piece_end(eng, bar);
    double x1 = bar->end;
    for (size_t i = bar->first; i < bar->first + bar->n; i++) {
        const struct hbk_eng_column *column = &eng->columns[i];
        if (column->first > note && column->has_main) {
            t1 = hbk_ratio_value(eng->notes[column->first].source->onset);
            x1 = column->x - column->left;
            break;
        }
    }
    const double share = t1 > t0 ? (time - t0) / (t1 - t0) : 1.0;
    return x0 + (x1 - x0) * fmin(share, 1.0);
}

bool hbk_eng_find_spot(const struct hbk_eng_view *view,
                       const struct hbk_tune_spot *spot,
                       struct hbk_eng_spot *found)
{
    const struct hbk_engraving *eng = view->eng;
    size_t b;
    if (!find_bar(view, spot, &b)) {
        return false;
    }
    const struct hbk_eng_bar *bar = &eng->bars[b];
    const double time = hbk_ratio_value(spot->time);
    *found = (struct hbk_eng_spot){
        .note = bar->n == 0 ? HBK_ENG_NONE : note_at(eng, spot->event),
        .bar = b,
        .at_start = bar->opens && time <= bar_onset(eng, bar->bar) + same_time,
    };
    found->at_end = bar->closes && !found->at_start &&
                    time >= bar_end(eng, bar->last) - same_time;
    if (found->at_end) {
        found->x = bar->end;
        return true;
    }
    found->x = start_of(view, b);
    if (found->note == HBK_ENG_NONE) {
        return true;
    }
    const struct hbk_eng_note *note = &eng->notes[found->note];
    const double begins = hbk_ratio_value(note->source->onset);
    found->x = note->fills_bar ? found->x : note->x;
    if (time > begins + same_time) {
        found->x = x_between(eng, bar, found->note, found->x, time);
    }
    return true;
}

double hbk_eng_line_start(const struct hbk_eng_view *view)
{
    return view->line->prefix - before_line;
}

double hbk_eng_line_end(const struct hbk_eng_view *view)
{
    return view->eng->bars[view->line->first + view->line->n - 1].end;
}

void hbk_eng_find_long_marks(struct hbk_engraving *eng)
{
    const struct hbk_tune_marks *marks = &eng->tune->marks;
    eng->long_marks = HBK_ARENA_ARRAY(eng->arena, size_t, marks->n + 1);
    eng->n_long = 0;
    for (size_t i = 0; i < marks->n; i++) {
        if (hbk_ratio_compare(marks->items[i].end.time,
                              marks->items[i].at.time) > 0) {
            eng->long_marks[eng->n_long++] = i;
        }
    }
}

/* When the line begins and ends, in whole notes. */
static void times_of(const struct hbk_eng_view *view, double *from, double *to)
{
    const struct hbk_engraving *eng = view->eng;
    const struct hbk_eng_bar *first = &eng->bars[view->line->first];
    *from =
        first->opens || first->n == 0
            ? bar_onset(eng, first->bar)
            : hbk_ratio_value(
                  eng->notes[eng->columns[first->first].first].source->onset);
    *to = piece_end(eng, first + view->line->n - 1);
}

/* Adds what the line has of a mark, if it has anything of it. */
static void add_mark(struct hbk_eng_view *view,
                     const struct hbk_tune_mark *mark, double from, double to)
{
    struct hbk_eng_span span = {.from = {.note = HBK_ENG_NONE},
                                .to = {.note = HBK_ENG_NONE}};
    span.begins = hbk_eng_find_spot(view, &mark->at, &span.from);
    if (!span.begins && (hbk_ratio_value(mark->at.time) >= to - same_time ||
                         hbk_ratio_value(mark->end.time) <= from + same_time)) {
        return;
    }
    const bool is_here = hbk_eng_find_spot(view, &mark->end, &span.to);
    span.ends = is_here || hbk_ratio_value(mark->end.time) <= to + same_time;
    span.x0 = span.begins ? span.from.x : hbk_eng_line_start(view);
    span.x1 = is_here ? span.to.x : hbk_eng_line_end(view);
    view->marks[view->n_marks++] =
        (struct hbk_eng_on_line){.mark = mark, .span = span};
}

/* The first mark that may begin on the line. */
static size_t first_mark(const struct hbk_eng_view *view)
{
    const struct hbk_tune_marks *marks = &view->eng->tune->marks;
    const struct hbk_eng_bar *bar = &view->eng->bars[view->line->first];
    return hbk_tune_marks_from(
        marks,
        bar->n == 0
            ? view->eng->tune->bars[bar->bar].first
            : view->eng->notes[view->eng->columns[bar->first].first].event);
}

void hbk_eng_find_marks(struct hbk_eng_view *view)
{
    const struct hbk_engraving *eng = view->eng;
    const struct hbk_tune_marks *marks = &eng->tune->marks;
    double from;
    double to;
    times_of(view, &from, &to);
    const size_t first = first_mark(view);
    size_t end = first;
    while (end < marks->n &&
           hbk_ratio_value(marks->items[end].at.time) <= to + same_time) {
        end++;
    }
    size_t n_open = 0;
    for (size_t i = 0; i < eng->n_long && eng->long_marks[i] < first; i++) {
        n_open += hbk_ratio_value(marks->items[eng->long_marks[i]].end.time) >
                  from + same_time;
    }
    view->marks = HBK_ARENA_ARRAY(eng->arena, struct hbk_eng_on_line,
                                  n_open + end - first + 1);
    view->n_marks = 0;
    for (size_t i = 0; i < eng->n_long && eng->long_marks[i] < first; i++) {
        const struct hbk_tune_mark *mark = &marks->items[eng->long_marks[i]];
        if (hbk_ratio_value(mark->end.time) > from + same_time) {
            add_mark(view, mark, from, to);
        }
    }
    for (size_t i = first; i < end; i++) {
        add_mark(view, &marks->items[i], from, to);
    }
}

size_t hbk_eng_marks_now(const struct hbk_eng_view *view)
{
    return hbk_pad_last(view->quill->pad)->n;
}

void hbk_eng_read_at(struct hbk_eng_view *view, const struct hbk_eng_spot *spot,
                     enum hbk_eng_turn turn, size_t begin)
{
    if (spot->note == HBK_ENG_NONE) {
        return;
    }
    HBK_ARENA_GROW(view->eng->arena, view->asides, view->n_asides,
                   view->room_asides);
    view->asides[view->n_asides++] =
        (struct hbk_eng_aside){.note = spot->note,
                               .turn = spot->at_end ? HBK_ENG_AFTER : turn,
                               .begin = begin,
                               .end = hbk_eng_marks_now(view)};
}
