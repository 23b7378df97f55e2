#include "engrave/engrave_dynamics.h"

#include "engrave/dynamic.h"
#include "engrave/engrave_spots.h"
#include "engrave/quill.h"

#include <math.h>
#include <string.h>

/* In staff spaces; common practice. */
static const double word_em = 2.0;
static const double least_points = 8.5;
static const double leading = 1.2;   /* of a line of words, in its em */
static const double apart = 0.6;     /* between neighbours in a row */
static const double off_music = 0.6; /* between a row and what is beyond it */
static const double row_up = 1.76;   /* of a row from its base line */
static const double row_down = 0.64;
static const double middle = 0.55; /* of hairpins and dashes, from there */
static const double half_open = 0.6;
static const double least_hairpin = 2.5;
static const double hairpin_pen = 0.15;
static const double ring_radius = 0.35; /* for nothing */
static const double dash_pen = 0.13;
static const double least_dashes = 2.0;
static const double at_edge = 0.1;     /* within the right edge */
static const double most_pushed = 4.0; /* else a row of its own */
static const double tied_within = 3.0; /* neighbours on one height */

static const size_t no_row = SIZE_MAX;

/* A mark, or what the line has of it. */
struct item {
    const struct hbk_tune_mark *mark;
    struct hbk_eng_span span;
    struct hbk_lines lines; /* of words */
    struct hbk_style style;
    double x0, x1; /* of its ink */
    double text;   /* width of its letters */
    size_t row;
};

struct rows {
    struct hbk_eng_view *view;
    bool above;
    size_t n, n_rows;
    struct item *items;
};

static bool is_ours(const struct hbk_engraving *eng,
                    const struct hbk_tune_mark *mark, bool above)
{
    const bool is_kind = hbk_mark_is_hairpin(mark) ||
                         mark->kind == HBK_TUNE_MARK_DYNAMIC ||
                         mark->kind == HBK_TUNE_MARK_WORDS;
    return is_kind && above == (eng->sung || mark->side == HBK_TUNE_ABOVE);
}

/* Letters without signs, such as n for nothing, are set in words. */
static bool is_signs(const struct item *item)
{
    return item->mark->kind == HBK_TUNE_MARK_DYNAMIC &&
           hbk_dynamic_is_drawn(item->mark->text);
}

static void measure_words(const struct rows *rows, struct item *item)
{
    const struct hbk_quill *quill = rows->view->quill;
    item->style =
        (struct hbk_style){.face = HBK_FACE_ITALIC,
                           .size = hbk_quill_em(quill, word_em, least_points),
                           .align = HBK_LEFT};
    struct hbk_style style = item->style;
    style.size *= quill->space;
    item->lines = hbk_pad_wrap(
        quill->pad, style, (rows->view->line->room - at_edge) * quill->space,
        item->mark->text);
    item->text = item->lines.widest / quill->space;
}

static bool has_dashes(const struct item *item)
{
    return item->mark->kind == HBK_TUNE_MARK_WORDS &&
           hbk_ratio_compare(item->mark->end.time, item->mark->at.time) > 0;
}

/* Where an item would stand if it were alone. */
static void place_alone(const struct rows *rows, struct item *item)
{
    const struct hbk_eng_view *view = rows->view;
    const struct hbk_eng_span *span = &item->span;
    item->x0 = span->x0;
    if (is_signs(item)) {
        item->text = hbk_dynamic_width(item->mark->text);
        const double head = span->from.note != HBK_ENG_NONE &&
                                    !view->eng->notes[span->from.note].fills_bar
                                ? view->eng->notes[span->from.note].width
                                : 0.0;
        item->x0 += 0.5 * (head - fmin(item->text, 2.5));
    } else if (!hbk_mark_is_hairpin(item->mark) && span->begins) {
        measure_words(rows, item);
    }
    item->x1 = item->x0 + item->text;
    if (hbk_mark_is_hairpin(item->mark) || has_dashes(item)) {
        const bool to_line = span->to.at_end || !span->ends;
        /* What ends where a bar begins does so before its line. */
        const bool to_bar =
            span->to.at_start && span->to.bar > view->line->first;
        const double end =
            to_bar ? view->eng->bars[span->to.bar - 1].end : span->x1;
        item->x1 = fmax(item->x1, end - (to_line || to_bar ? 0.3 : 0.4));
    }
    if (hbk_mark_is_hairpin(item->mark)) {
        item->x1 = fmax(item->x1, item->x0 + least_hairpin);
    }
}

static void collect(struct rows *rows)
{
    const struct hbk_eng_view *view = rows->view;
    rows->items =
        HBK_ARENA_ARRAY(view->eng->arena, struct item, view->n_marks + 1);
    for (size_t i = 0; i < view->n_marks; i++) {
        struct item *item = &rows->items[rows->n];
        *item = (struct item){.mark = view->marks[i].mark,
                              .span = view->marks[i].span};
        const bool goes_on =
            hbk_mark_is_hairpin(item->mark) || has_dashes(item);
        if (is_ours(view->eng, item->mark, rows->above) &&
            (item->span.begins || goes_on)) {
            place_alone(rows, item);
            rows->n++;
        }
    }
}

/* By where they stand; letters before hairpins at one place. */
static void sort(struct rows *rows)
{
    for (size_t i = 1; i < rows->n; i++) {
        const struct item item = rows->items[i];
        const double shift = hbk_mark_is_hairpin(item.mark) ? 1.5 : 0.0;
        size_t k = i;
        for (; k > 0; k--) {
            const struct item *before = &rows->items[k - 1];
            const double its = hbk_mark_is_hairpin(before->mark) ? 1.5 : 0.0;
            if (before->x0 + its <= item.x0 + shift) {
                break;
            }
            rows->items[k] = *before;
        }
        rows->items[k] = item;
    }
}

/* The least width that an item may be cut to. */
static double least_width(const struct item *item)
{
    return hbk_mark_is_hairpin(item->mark) ? least_hairpin : item->text;
}

/* The last item in a row so far, or NULL. */
static struct item *last_in_row(struct rows *rows, size_t before, size_t row)
{
    for (size_t i = before; i-- > 0;) {
        if (rows->items[i].row == row) {
            return &rows->items[i];
        }
    }
    return NULL;
}

/* The next item in a row that has its place already, or NULL. */
static const struct item *next_in_row(const struct rows *rows, size_t after,
                                      size_t row)
{
    for (size_t i = after + 1; i < rows->n; i++) {
        if (rows->items[i].row == row) {
            return &rows->items[i];
        }
    }
    return NULL;
}

/* Puts an item between two of a row; false where there is no room. */
static bool join_row(const struct rows *rows, struct item *last,
                     struct item *item, const struct item *next)
{
    /* A hairpin ends where the next letters stand. */
    if (last != NULL && last->x1 > item->x0 - apart) {
        last->x1 = fmax(item->x0 - apart,
                        fmin(last->x1, last->x0 + least_width(last)));
    }
    const double push =
        last == NULL ? 0.0 : fmax(0.0, last->x1 + apart - item->x0);
    const double end =
        next == NULL ? rows->view->line->room - at_edge : next->x0 - apart;
    const bool can_be_cut = hbk_mark_is_hairpin(item->mark) || has_dashes(item);
    const double least = least_width(item);
    if (push > most_pushed || item->x0 + push + least > end + 1e-9) {
        return false;
    }
    item->x0 += push;
    item->x1 = can_be_cut ? fmin(fmax(item->x1, item->x0 + least), end)
                          : item->x1 + push;
    return true;
}

static void keep_on_line(const struct rows *rows, struct item *item)
{
    const double beyond = item->x1 + at_edge - rows->view->line->room;
    if (beyond > 0.0) {
        item->x0 = fmax(item->x0 - beyond, 0.0);
        item->x1 -= beyond;
    }
}

/* Puts an item into the first row that has room for it. */
static void find_row(struct rows *rows, size_t i)
{
    struct item *item = &rows->items[i];
    const struct item alone = *item;
    for (size_t row = 0; item->row == no_row; row++) {
        struct item *last = last_in_row(rows, i, row);
        const double end = last == NULL ? 0.0 : last->x1;
        const struct item *next = next_in_row(rows, i, row);
        const bool is_empty = last == NULL && next == NULL;
        if (join_row(rows, last, item, next) || is_empty) {
            item->row = row;
            rows->n_rows = rows->n_rows > row ? rows->n_rows : row + 1;
        } else {
            *item = alone;
            if (last != NULL) {
                last->x1 = end;
            }
        }
    }
}

/* Words give way to dynamics and hairpins. */
static void find_rows(struct rows *rows)
{
    for (size_t i = 0; i < rows->n; i++) {
        keep_on_line(rows, &rows->items[i]);
        rows->items[i].row = no_row;
    }
    sort(rows);
    for (int words = 0; words < 2; words++) {
        for (size_t i = 0; i < rows->n; i++) {
            const bool is_words =
                rows->items[i].mark->kind == HBK_TUNE_MARK_WORDS;
            if (is_words == (words == 1)) {
                find_row(rows, i);
            }
        }
    }
}

/* A hairpin from one opening to another; of what goes on a part. */
static void draw_hairpin(struct hbk_quill *quill, const struct item *item,
                         double y)
{
    const bool opens = item->mark->kind == HBK_TUNE_MARK_CRESCENDO;
    const double near = item->span.begins ? 0.0 : 0.35;
    const double far = item->span.ends ? 1.0 : 0.65;
    double x0 = item->x0;
    double x1 = item->x1;
    const double a = half_open * (opens ? near : 1.0 - near);
    const double b = half_open * (opens ? far : 1.0 - far);
    if (item->mark->to_nothing && (opens ? a : b) == 0.0) {
        hbk_quill_ring(quill, opens ? x0 + ring_radius : x1 - ring_radius, y,
                       ring_radius, hairpin_pen);
        x0 += opens ? 2.0 * ring_radius : 0.0;
        x1 -= opens ? 0.0 : 2.0 * ring_radius;
    }
    const struct hbk_point up[2] = {{x0, y + a}, {x1, y + b}};
    const struct hbk_point down[2] = {{x0, y - a}, {x1, y - b}};
    hbk_quill_path(quill, 2, up, hairpin_pen);
    hbk_quill_path(quill, 2, down, hairpin_pen);
}

/* A hairpin is no word: what it says is read out where it begins and ends. */
static void say_hairpin(struct hbk_eng_view *view, const struct item *item,
                        double y)
{
    const bool opens = item->mark->kind == HBK_TUNE_MARK_CRESCENDO;
    if (item->span.begins) {
        const size_t begin = hbk_eng_marks_now(view);
        hbk_quill_say(view->quill, item->x0, y,
                      opens ? "crescendo begins " : "diminuendo begins ");
        hbk_eng_read_at(view, &item->span.from, HBK_ENG_BEFORE, begin);
    }
    if (item->span.ends) {
        const size_t begin = hbk_eng_marks_now(view);
        hbk_quill_say(view->quill, item->x1, y,
                      opens ? "crescendo ends " : "diminuendo ends ");
        hbk_eng_read_at(view, &item->span.to, HBK_ENG_BEFORE, begin);
    }
}

static void draw_words(const struct rows *rows, const struct item *item,
                       double y)
{
    struct hbk_quill *quill = rows->view->quill;
    const double step = leading * item->style.size;
    const double first =
        y + (rows->above ? step * (double)(item->lines.n - 1) : 0.0);
    for (size_t i = 0; i < item->lines.n; i++) {
        hbk_quill_text(quill, item->x0, first - step * (double)i, item->style,
                       item->lines.text[i]);
    }
}

static void draw_item(const struct rows *rows, const struct item *item,
                      double y)
{
    struct hbk_eng_view *view = rows->view;
    struct hbk_quill *quill = view->quill;
    hbk_pad_group(quill->pad);
    const size_t begin = hbk_eng_marks_now(view);
    if (hbk_mark_is_hairpin(item->mark)) {
        draw_hairpin(quill, item, y + middle);
        say_hairpin(view, item, y + middle);
        return;
    }
    if (is_signs(item)) {
        hbk_dynamic_draw(quill, item->x0, y, item->mark->text);
    } else {
        draw_words(rows, item, y);
    }
    const double from =
        item->x0 + item->text + (item->text > 0.0 ? apart : 0.0);
    if (has_dashes(item) && item->x1 - from >= least_dashes) {
        hbk_quill_dashes(quill, from, y + 0.4 * middle, item->x1 - from,
                         dash_pen);
    }
    hbk_eng_read_at(view, &item->span.from, HBK_ENG_BEFORE, begin);
}

/* Base line of items first to last of a row. */
static double base_of(const struct rows *rows, size_t row, double x0, double x1)
{
    const struct hbk_quill *quill = rows->view->quill;
    double top = 4.0;
    double bottom = 0.0;
    for (size_t i = 0; i < rows->n; i++) {
        const struct item *item = &rows->items[i];
        if (item->row == row && item->x0 >= x0 && item->x1 <= x1) {
            top =
                fmax(top, hbk_quill_top(quill, item->x0 - 0.3, item->x1 + 0.3));
            bottom = fmin(bottom, hbk_quill_bottom(quill, item->x0 - 0.3,
                                                   item->x1 + 0.3));
        }
    }
    return rows->above ? top + off_music + row_down
                       : bottom - off_music - row_up;
}

/* Neighbours stand on one height; below the staff the whole row does. */
static void draw_row(const struct rows *rows, size_t row)
{
    const double far = 1e6;
    for (size_t i = 0; i < rows->n;) {
        if (rows->items[i].row != row) {
            i++;
            continue;
        }
        double end = rows->items[i].x1;
        size_t next = i + 1;
        for (; next < rows->n; next++) {
            const struct item *item = &rows->items[next];
            if (item->row == row) {
                if (rows->above && item->x0 - end > tied_within) {
                    break;
                }
                end = fmax(end, item->x1);
            }
        }
        const double y =
            base_of(rows, row, rows->above ? rows->items[i].x0 : -far,
                    rows->above ? end : far);
        for (; i < next; i++) {
            if (rows->items[i].row == row) {
                draw_item(rows, &rows->items[i], y);
            }
        }
    }
}

void hbk_eng_draw_dynamics(struct hbk_eng_view *view, bool above)
{
    struct rows rows = {.view = view, .above = above};
    collect(&rows);
    find_rows(&rows);
    for (size_t row = 0; row < rows.n_rows; row++) {
        draw_row(&rows, row);
    }
}
