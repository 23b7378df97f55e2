#include "engrave/engrave_slurs.h"

#include "engrave/engrave_shape.h"
#include "engrave/quill.h"

#include <math.h>

/* In staff spaces; common practice. */
static const double tie_off = 0.85; /* from the middle of the head */
static const double clear = 0.4;    /* white between a slur and the music */
static const double highest_lift = 6.0;
/* Where a slur from the line before begins: clear of clef, key and meter. */
static const double before_first = 1.1;
static const double short_tie = 2.5; /* to or from another place */

static bool is_below(const struct hbk_eng_note *note)
{
    return note->has_stem ? note->up : note->pos < 4;
}

static double tie_lift(double length)
{
    return fmin(0.55 + 0.09 * length, 1.5);
}

static bool is_on(const struct hbk_eng_view *view, size_t note)
{
    return note >= view->first && note < view->end;
}

/* The next piece of a tied note; HBK_ENG_NONE when it lies elsewhere. */
static size_t next_piece(const struct hbk_engraving *eng, size_t i)
{
    const struct hbk_eng_note *note = &eng->notes[i];
    for (size_t k = i + 1; k < eng->n_notes; k++) {
        if (eng->notes[k].source->kind != HBK_TUNE_GRACE) {
            const struct hbk_tune_event *event = eng->notes[k].source;
            return event->tie_stop && event->head == note->source->head
                       ? k
                       : HBK_ENG_NONE;
        }
    }
    return HBK_ENG_NONE;
}

/* Under the next head; but left of a stem that stands in the way. */
static double tie_end(const struct hbk_eng_note *note,
                      const struct hbk_eng_note *next)
{
    if (is_below(note) && next->has_stem && !next->up) {
        return next->x - 0.15;
    }
    return next->x + 0.3 * next->width;
}

/* Whether the piece before a tied one stands on the line. */
static bool comes_from_line(const struct hbk_eng_view *view, size_t i)
{
    const struct hbk_eng_note *notes = view->eng->notes;
    for (size_t k = i; k-- > view->first;) {
        if (notes[k].source->kind != HBK_TUNE_GRACE) {
            return notes[i].source->head != notes[i].event &&
                   notes[k].source->head == notes[i].source->head;
        }
    }
    return false;
}

static void draw_tie(struct hbk_eng_view *view, const struct hbk_eng_note *note,
                     double x0, double x1)
{
    const double dir = is_below(note) ? -1.0 : 1.0;
    const double y = hbk_eng_y(note->pos) + dir * tie_off;
    hbk_pad_group(view->quill->pad);
    hbk_quill_slur(view->quill, (struct hbk_point){x0, y},
                   (struct hbk_point){x1, y}, dir * tie_lift(x1 - x0));
}

static void draw_ties(struct hbk_eng_view *view)
{
    const struct hbk_engraving *eng = view->eng;
    for (size_t i = view->first; i < view->end; i++) {
        const struct hbk_eng_note *note = &eng->notes[i];
        const struct hbk_tune_event *event = note->source;
        if (event->kind == HBK_TUNE_NOTE && event->tie_start) {
            const size_t next = next_piece(eng, i);
            const double from = note->x + 0.7 * note->width;
            const double to = next == HBK_ENG_NONE ? from + short_tie
                              : is_on(view, next)
                                  ? tie_end(note, &eng->notes[next])
                                  : view->line->width - 0.2;
            draw_tie(view, note, from, fmax(to, from + 1.0));
        }
        if (event->kind == HBK_TUNE_NOTE && event->tie_stop &&
            !comes_from_line(view, i)) {
            const double to = note->x + 0.3 * note->width;
            draw_tie(view, note,
                     fmax(to - short_tie, view->line->prefix - before_first),
                     to);
        }
    }
}

/* A slur: the notes it goes from and to, HBK_ENG_NONE where not drawn. */
struct slur {
    size_t from, to;
};

static bool slur_below(const struct hbk_eng_view *view, struct slur slur)
{
    const struct hbk_engraving *eng = view->eng;
    const size_t from = slur.from == HBK_ENG_NONE ? 0 : slur.from;
    const size_t to = slur.to == HBK_ENG_NONE ? eng->n_notes - 1 : slur.to;
    if (eng->notes[from].scale < 1.0) {
        return true;
    }
    for (size_t i = from; i <= to; i++) {
        const struct hbk_eng_note *note = &eng->notes[i];
        if (note->source->kind == HBK_TUNE_NOTE && !is_below(note)) {
            return false;
        }
    }
    return true;
}

/* Where a slur begins or ends at a note: clear of all that is drawn there. */
static struct hbk_point end_at(const struct hbk_eng_view *view,
                               const struct hbk_eng_note *note, double dir)
{
    struct hbk_point at = {note->x + 0.5 * note->width, 0.0};
    const double x0 = note->x + 0.15;
    const double x1 = note->x + note->width - 0.15;
    if (note->has_stem && note->up == (dir > 0.0)) {
        at.x = note->x + hbk_eng_stem_x(note);
    }
    at.y = hbk_eng_y(note->pos) + dir * 0.55;
    const double edge = dir > 0.0 ? hbk_quill_top(view->quill, x0, x1)
                                  : hbk_quill_bottom(view->quill, x0, x1);
    /* The staff itself is no obstacle. */
    const bool beyond = dir > 0.0 ? edge > 4.0 : edge < 0.0;
    if (beyond && dir * edge > dir * at.y) {
        at.y = edge;
    }
    if (!beyond && note->has_stem && note->up == (dir > 0.0)) {
        at.y = note->tip;
    }
    at.y += dir * clear;
    return at;
}

/* How much a slur without lift is in the way of the music at share t. */
static double blocked(const struct hbk_eng_view *view, struct hbk_point from,
                      struct hbk_point to, double dir, double t)
{
    const struct hbk_point at = hbk_quill_slur_at(from, to, 0.0, t);
    const double half = 0.5;
    const double left = fmax(at.x - half, from.x);
    const double right = fmin(at.x + half, to.x);
    const double edge = dir > 0.0 ? hbk_quill_top(view->quill, left, right)
                                  : hbk_quill_bottom(view->quill, left, right);
    /* The staff itself is no obstacle. */
    const bool beyond = dir > 0.0 ? edge > 4.0 : edge < 0.0;
    return beyond ? dir * (edge - at.y) + clear : 0.0;
}

/*
 * How far the middle must be lifted to pass over everything between. Near its
 * ends a lift is of no help: there the ends move out.
 */
static double lift_of(const struct hbk_eng_view *view, struct hbk_point *from,
                      struct hbk_point *to, double dir)
{
    const double near_end = 0.1;
    const double length = to->x - from->x;
    const int steps = (int)fmin(fmax(2.0 * length, 20.0), 240.0);
    for (int i = 0; i <= steps; i++) {
        const double t = (double)i / steps;
        const double need = blocked(view, *from, *to, dir, t);
        if (need > 0.0 && t < near_end) {
            from->y += dir * need;
        } else if (need > 0.0 && t > 1.0 - near_end) {
            to->y += dir * need;
        }
    }
    for (int round = 0;; round++) {
        double lift = fmin(0.7 + 0.1 * length, 2.8);
        for (int i = 0; i <= steps; i++) {
            const double t = (double)i / steps;
            const double need = blocked(view, *from, *to, dir, t);
            if (need > 0.0 && t >= near_end && t <= 1.0 - near_end) {
                lift = fmax(lift, need / (3.0 * t * (1.0 - t)));
            }
        }
        if (lift <= highest_lift || round == 8) {
            return fmin(lift, highest_lift);
        }
        /* Too steep: the ends move out instead. */
        from->y += dir * 0.6 * (lift - highest_lift);
        to->y += dir * 0.6 * (lift - highest_lift);
    }
}

static void draw_slur(struct hbk_eng_view *view, struct slur slur)
{
    const struct hbk_engraving *eng = view->eng;
    const bool begins = is_on(view, slur.from);
    const bool ends = is_on(view, slur.to);
    const double dir = slur_below(view, slur) ? -1.0 : 1.0;
    struct hbk_point from = {0.0, 0.0};
    struct hbk_point to = {0.0, 0.0};
    if (begins) {
        from = end_at(view, &eng->notes[slur.from], dir);
    }
    if (ends) {
        to = end_at(view, &eng->notes[slur.to], dir);
        if (begins && eng->notes[slur.from].scale < 1.0 && dir < 0.0) {
            /* Beside the main note, whose stem may go down. */
            to.x = eng->notes[slur.to].x + 0.1;
            to.y = hbk_eng_y(eng->notes[slur.to].pos) - 0.85;
        }
    }
    if (!begins) {
        from.x = view->line->prefix - before_first;
        from.y = ends ? to.y : dir > 0.0 ? 5.0 : -1.0;
    }
    if (!ends) {
        to = (struct hbk_point){fmax(view->line->width - 0.2, from.x + 2.0),
                                from.y};
    }
    if (to.x - from.x < 0.8) {
        to.x = from.x + 0.8;
    }
    const double lift = lift_of(view, &from, &to, dir);
    hbk_pad_group(view->quill->pad);
    hbk_quill_slur(view->quill, from, to, dir * lift);
}

static void draw_if_here(struct hbk_eng_view *view, struct slur slur)
{
    if ((slur.from == HBK_ENG_NONE || slur.from < view->end) &&
        (slur.to == HBK_ENG_NONE || slur.to >= view->first)) {
        draw_slur(view, slur);
    }
}

enum { DEEP = 32 };

/* The slurs open where the range begins; they come from before it. */
static size_t open_before(const struct hbk_engraving *eng, size_t open[DEEP])
{
    const struct hbk_tune *tune = eng->tune;
    size_t n = 0;
    for (size_t i = 0; i < tune->bars[eng->first_bar].first; i++) {
        const size_t stops = tune->events[i].slur_stops;
        n += tune->events[i].slur_starts;
        n -= stops < n ? stops : n;
    }
    n = n < DEEP ? n : DEEP;
    for (size_t i = 0; i < n; i++) {
        open[i] = HBK_ENG_NONE;
    }
    return n;
}

/* Slurs are closed in turn, the last opened first. */
static void draw_slurs(struct hbk_eng_view *view)
{
    const struct hbk_engraving *eng = view->eng;
    size_t open[DEEP];
    size_t n = open_before(eng, open);
    for (size_t i = 0; i < eng->n_notes; i++) {
        const struct hbk_tune_event *event = eng->notes[i].source;
        const size_t before = n;
        unsigned own = event->slur_starts;
        for (unsigned k = 0; k < event->slur_stops; k++) {
            if (k < before) {
                n--;
                draw_if_here(view, (struct slur){open[n], i});
            } else {
                own -= own > 0 ? 1 : 0; /* from a note to itself */
            }
        }
        for (unsigned k = 0; k < own && n < DEEP; k++) {
            open[n++] = i;
        }
        if (i >= view->end && n == 0) {
            return;
        }
    }
    while (n > 0) {
        n--;
        draw_if_here(view, (struct slur){open[n], HBK_ENG_NONE});
    }
}

void hbk_eng_draw_slurs(struct hbk_eng_view *view)
{
    draw_ties(view);
    draw_slurs(view);
}
