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

bool hbk_eng_find_span(const struct hbk_eng_view *view,
                       const struct hbk_tune_mark *mark,
                       struct hbk_eng_span *span)
{
    const struct hbk_engraving *eng = view->eng;
    const struct hbk_eng_bar *first = &eng->bars[view->line->first];
    const struct hbk_eng_bar *last = first + view->line->n - 1;
    const double from =
        first->opens || first->n == 0
            ? bar_onset(eng, first->bar)
            : hbk_ratio_value(
                  eng->notes[eng->columns[first->first].first].source->onset);
    const double to = piece_end(eng, last);
    *span = (struct hbk_eng_span){.from = {.note = HBK_ENG_NONE},
                                  .to = {.note = HBK_ENG_NONE}};
    span->begins = hbk_eng_find_spot(view, &mark->at, &span->from);
    if (!span->begins &&
        (hbk_ratio_value(mark->at.time) >= to - same_time ||
         hbk_ratio_value(mark->end.time) <= from + same_time)) {
        return false;
    }
    span->ends = hbk_eng_find_spot(view, &mark->end, &span->to) ||
                 hbk_ratio_value(mark->end.time) <= to + same_time;
    span->x0 = span->begins ? span->from.x : hbk_eng_line_start(view);
    const bool is_here = span->to.x > 0.0;
    span->x1 = span->ends && is_here ? span->to.x : hbk_eng_line_end(view);
    return true;
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
