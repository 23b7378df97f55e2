#include "sheet/part/part_layout.h"

#include "engrave/engrave_spots.h"

#include <math.h>

/* In staff spaces: white between the ink of two lines of music. */
static const double least_gap = 1.6;
static const double widest_gap = 7.0;
static const double usual_gap = 3.0; /* on a page that is not full */

/* Whole notes of rest to turn a page in: as good as any, and better than none.
 */
static const double long_rest = 2.0;
static const double short_rest = 0.25;
/* Rows that a page may have fewer for the sake of a turn. */
enum { most_fewer = 2 };

void hbk_part_notes(const struct hbk_engraving *eng,
                    const struct hbk_eng_line *line, size_t *first, size_t *end)
{
    const struct hbk_eng_bar *from = &eng->bars[line->first];
    const struct hbk_eng_bar *to = &eng->bars[line->first + line->n - 1];
    const size_t after = to->first + to->n;
    *first = from->first < eng->n_columns ? eng->columns[from->first].first
                                          : eng->n_notes;
    *end = after < eng->n_columns ? eng->columns[after].first : eng->n_notes;
}

/* Adds a mark of a row to the last page. */
static void copy_mark(struct hbk_part_layout *part, const struct hbk_mark *mark,
                      double dy)
{
    struct hbk_mark copy = *mark;
    copy.y += dy;
    if (mark->n_points > 0) {
        struct hbk_point *points =
            HBK_ARENA_ARRAY(part->eng.arena, struct hbk_point, mark->n_points);
        for (size_t i = 0; i < mark->n_points; i++) {
            points[i].x = mark->points[i].x;
            points[i].y = mark->points[i].y + dy;
        }
        copy.points = points;
    }
    part->pad.group = mark->group;
    hbk_pad_add(&part->pad, copy);
}

/* A row being copied, in the order in which it is read out. */
struct copy {
    struct hbk_part_layout *part;
    const struct hbk_part_row *row;
    double dy;
    bool *copied; /* by mark of the row */
};

static void copy_range(struct copy *copy, size_t begin, size_t end)
{
    for (size_t i = begin; i < end; i++) {
        if (!copy->copied[i]) {
            copy->copied[i] = true;
            copy_mark(copy->part, &copy->row->page->marks[i], copy->dy);
        }
    }
}

static void copy_asides(struct copy *copy, size_t note, enum hbk_eng_turn turn)
{
    for (size_t i = 0; i < copy->row->n_asides; i++) {
        const struct hbk_eng_aside *aside = &copy->row->asides[i];
        if (aside->note == note && aside->turn == turn) {
            copy_range(copy, aside->begin, aside->end);
        }
    }
}

/* What stands at a note is read out with it, and its fingering after it. */
void hbk_part_copy_row(struct hbk_part_layout *part, size_t number,
                       double bottom)
{
    const struct hbk_part_row *row = &part->rows[number];
    const struct hbk_engraving *eng = row->eng;
    const size_t n = row->page->n;
    if (row->opens != NULL) {
        (void)hbk_part_excerpt_head(&part->pad, &part->text, row->opens, true,
                                    part->paper.margin, bottom - row->above);
    }
    struct copy copy = {part, row, bottom,
                        HBK_ARENA_ARRAY(eng->arena, bool, n + 1)};
    size_t note;
    size_t end;
    hbk_part_notes(eng, &eng->lines[row->line], &note, &end);
    hbk_pad_open(&part->pad, HBK_TAG_PARAGRAPH);
    size_t at = 0;
    for (; note < end; note++) {
        copy_range(&copy, at, eng->notes[note].marks_from);
        copy_asides(&copy, note, HBK_ENG_LEADS);
        copy_asides(&copy, note, HBK_ENG_BEFORE);
        at = eng->notes[note].marks;
        copy_range(&copy, eng->notes[note].marks_from, at);
        const size_t event = eng->notes[note].event;
        copy_range(&copy, row->begins[event], row->ends[event]);
        copy_asides(&copy, note, HBK_ENG_AFTER);
    }
    copy_range(&copy, at, n);
    hbk_pad_close(&part->pad, HBK_TAG_PARAGRAPH);
}

static const char *page_of_pages(const struct hbk_part_layout *part)
{
    return hbk_arena_printf(part->eng.arena, "page %zu of %zu", part->page,
                            part->n_pages);
}

/* Turns to the next page, draws its head; returns where the music begins. */
static double turn_page(struct hbk_part_layout *part)
{
    const double margin = part->paper.margin;
    const bool is_first = part->page++ == 0;
    const char *title = part->text.title;
    if (part->draw) {
        hbk_pad_page(&part->pad, part->paper,
                     is_first
                         ? title
                         : hbk_arena_printf(part->eng.arena, "%s, page %zu",
                                            title, part->page));
    }
    return margin + (is_first ? hbk_part_head : hbk_part_running_head)(
                        &part->pad, &part->text, page_of_pages(part),
                        part->draw, margin, margin);
}

static double row_height(const struct hbk_part_layout *part, size_t row)
{
    return part->rows[row].above + part->rows[row].below;
}

/* Rows from `row` on that fit in a height, at least one. */
static size_t rows_that_fit(const struct hbk_part_layout *part, size_t row,
                            double height)
{
    size_t n = 0;
    double used = 0.0;
    while (row + n < part->n_rows) {
        used +=
            row_height(part, row + n) + (n > 0 ? least_gap * part->space : 0.0);
        if (n > 0 && used > height + 1e-9) {
            break;
        }
        n++;
    }
    return n;
}

/* Draws n rows between two heights; spare room goes between them. */
static double draw_rows(struct hbk_part_layout *part, size_t row, size_t n,
                        double y, double bottom, double widest)
{
    double used = 0.0;
    for (size_t i = 0; i < n; i++) {
        used += row_height(part, row + i);
    }
    double gap = n > 1 ? (bottom - y - used) / (double)(n - 1) : 0.0;
    gap = fmax(least_gap * part->space, fmin(gap, widest * part->space));
    for (size_t i = 0; i < n; i++) {
        if (part->draw) {
            hbk_part_copy_row(part, row + i, y + part->rows[row + i].above);
        }
        y += row_height(part, row + i) + (i + 1 < n ? gap : 0.0);
    }
    return y;
}

static double foot_height(struct hbk_part_layout *part)
{
    double height = 0.0;
    for (size_t i = 0; i < hbk_part_foot_blocks(&part->text); i++) {
        height +=
            hbk_part_foot_block(&part->pad, &part->text, i, false, 0.0, 0.0);
    }
    return height;
}

/* What stands below the music, at the end of the page if it fits there. */
static void lay_foot(struct hbk_part_layout *part, double y)
{
    const double end = part->paper.height - part->paper.margin;
    y = y + part->foot <= end + 1e-9 ? fmin(y + part->space, end - part->foot)
                                     : y + part->space;
    for (size_t i = 0; i < hbk_part_foot_blocks(&part->text); i++) {
        const double takes =
            hbk_part_foot_block(&part->pad, &part->text, i, false, 0.0, 0.0);
        if (y + takes > end + 1e-9) {
            y = turn_page(part);
        }
        y += hbk_part_foot_block(&part->pad, &part->text, i, part->draw,
                                 part->paper.margin, y);
    }
}

/* Whole notes of rest from note `i` on, in steps of `by`, up to `end`. */
static double rest_from(const struct hbk_engraving *eng, size_t i, size_t end,
                        int by)
{
    double rest = 0.0;
    for (; i != end; i += (size_t)by) {
        const struct hbk_eng_note *note = &eng->notes[i];
        if (note->source->kind != HBK_TUNE_REST) {
            break;
        }
        rest += (double)note->n_bars * hbk_ratio_value(note->source->length);
    }
    return rest;
}

/* How much a player rests at the end of a row and where the next begins. */
static double rest_after(const struct hbk_part_layout *part, size_t row)
{
    const struct hbk_engraving *eng = part->rows[row].eng;
    const bool is_last = row + 1 == part->n_rows;
    size_t first;
    size_t end;
    if (!is_last && part->rows[row + 1].opens != NULL) {
        return long_rest; /* nobody plays from one excerpt into the next */
    }
    hbk_part_notes(eng, &eng->lines[part->rows[row].line], &first, &end);
    double rest = rest_from(eng, end - 1, first - 1, -1);
    if (!is_last) {
        hbk_part_notes(eng, &eng->lines[part->rows[row + 1].line], &first,
                       &end);
        rest += rest_from(eng, first, end, 1);
    }
    return rest;
}

/* How many more pages the rows from `row` on take, with what stands below. */
static size_t pages_for(struct hbk_part_layout *part, size_t row)
{
    const double room =
        part->paper.height - 2.0 * part->paper.margin -
        hbk_part_running_head(&part->pad, &part->text, "", false, 0.0, 0.0);
    size_t pages = 0;
    while (row < part->n_rows) {
        const size_t n = rows_that_fit(part, row, room);
        pages++;
        row += n;
        if (row == part->n_rows &&
            rows_that_fit(part, row - n, room - part->foot) < n) {
            pages++;
        }
    }
    return pages;
}

/*
 * How many of n rows that fit a page are put on it: as many as let the player
 * rest where the page is turned, if that takes no further page.
 */
static size_t rows_to_turn(struct hbk_part_layout *part, size_t row, size_t n)
{
    size_t best = n;
    double longest = fmin(rest_after(part, row + n - 1), long_rest);
    const size_t pages = pages_for(part, row + n);
    for (size_t fewer = 1; fewer <= most_fewer && fewer < n; fewer++) {
        const double rest =
            fmin(rest_after(part, row + n - fewer - 1), long_rest);
        if (rest >= short_rest && rest > longest &&
            pages_for(part, row + n - fewer) <= pages) {
            best = n - fewer;
            longest = rest;
        }
    }
    return best;
}

void hbk_part_lay_pages(struct hbk_part_layout *part, bool draw)
{
    const double end = part->paper.height - part->paper.margin;
    part->draw = draw;
    part->page = 0;
    part->foot = draw ? part->foot : foot_height(part);
    double y = turn_page(part);
    for (size_t row = 0; row < part->n_rows;) {
        size_t n = rows_that_fit(part, row, end - y);
        const bool is_last = row + n == part->n_rows;
        if (!is_last) {
            n = rows_to_turn(part, row, n);
        }
        double bottom = is_last ? end - part->foot : end;
        if (is_last && rows_that_fit(part, row, bottom - y) < n) {
            bottom = end; /* the foot goes on to the next page */
        }
        y = draw_rows(part, row, n, y, bottom,
                      is_last ? usual_gap : widest_gap);
        row += n;
        if (row < part->n_rows) {
            y = turn_page(part);
        }
    }
    lay_foot(part, y);
    part->n_pages = part->page;
}
