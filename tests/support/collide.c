#include "support/collide.h"

#include "engrave/glyph.h"

#include <math.h>
#include <string.h>

/* Less than this, mm, is rounding and not a clash. */
static const double slack = 0.02;

struct box {
    double left, top, right, bottom;
    bool empty;
};

static struct box box_of_corners(double x, double y, double dx, double dy,
                                 double beyond)
{
    const struct box box = {fmin(x, x + dx) - beyond, fmin(y, y + dy) - beyond,
                            fmax(x, x + dx) + beyond, fmax(y, y + dy) + beyond,
                            false};
    return box;
}

/* Ends are cut square, so that a line is no longer than it says. */
static struct box box_of_line(const struct hbk_mark *mark)
{
    const double length = hypot(mark->dx, mark->dy);
    const double half = length > 0.0 ? 0.5 * mark->pen / length : 0.0;
    struct box box = box_of_corners(mark->x, mark->y, mark->dx, mark->dy, 0.0);
    box.left -= half * fabs(mark->dy);
    box.right += half * fabs(mark->dy);
    box.top -= half * fabs(mark->dx);
    box.bottom += half * fabs(mark->dx);
    return box;
}

/* The fonts in use, in ems: tallest letter, and what hangs below the line. */
static struct box box_of_text(const struct hbk_mark *mark,
                              const struct hbk_ruler *ruler)
{
    static const double shares[] = {
        [HBK_LEFT] = 0.0, [HBK_CENTRE] = 0.5, [HBK_RIGHT] = 1.0};
    const double width =
        ruler->text_width(ruler->ctx, mark->face, mark->size, mark->text);
    const double left = mark->x - shares[mark->align] * width;
    const double hang =
        strpbrk(mark->text, "gjpqyQ,;()|") != NULL ? 0.24 : 0.02;
    const struct box box = {left, mark->y - 0.76 * mark->size, left + width,
                            mark->y + hang * mark->size, false};
    const double start = mark->y + shares[mark->align] * width;
    const struct box upward = {mark->x - 0.76 * mark->size, start - width,
                               mark->x + hang * mark->size, start, false};
    return mark->turned ? upward : box;
}

static struct box box_of_glyph(const struct hbk_mark *mark)
{
    const struct hbk_glyph_box ink = hbk_glyph_box(mark->glyph);
    const double space = 0.25 * mark->size;
    const struct box box = {mark->x, mark->y - ink.top * space,
                            mark->x + ink.width * space,
                            mark->y - ink.bottom * space, false};
    return box;
}

static struct box box_of_points(const struct hbk_mark *mark)
{
    struct box box = {INFINITY, INFINITY, -INFINITY, -INFINITY, false};
    for (size_t i = 0; i < mark->n_points; i++) {
        box.left = fmin(box.left, mark->points[i].x);
        box.right = fmax(box.right, mark->points[i].x);
        box.top = fmin(box.top, mark->points[i].y);
        box.bottom = fmax(box.bottom, mark->points[i].y);
    }
    const double beyond = mark->kind == HBK_PATH ? 0.5 * mark->pen : 0.0;
    box.left -= beyond;
    box.right += beyond;
    box.top -= beyond;
    box.bottom += beyond;
    return box;
}

static struct box box_of(const struct hbk_mark *mark,
                         const struct hbk_ruler *ruler)
{
    const struct box none = {0.0, 0.0, 0.0, 0.0, true};
    switch (mark->kind) {
    case HBK_LINE:
        return box_of_line(mark);
    case HBK_FRAME:
        return box_of_corners(mark->x, mark->y, mark->dx, mark->dy,
                              0.5 * mark->pen);
    case HBK_PANEL:
        return box_of_corners(mark->x, mark->y, mark->dx, mark->dy, 0.0);
    case HBK_RING:
        return box_of_corners(mark->x, mark->y, 0.0, 0.0,
                              mark->dx + 0.5 * mark->pen);
    case HBK_DISC:
        return box_of_corners(mark->x, mark->y, 0.0, 0.0, mark->dx);
    case HBK_SHAPE:
    case HBK_PATH:
    case HBK_CURVE:
        return box_of_points(mark);
    case HBK_TEXT:
        return box_of_text(mark, ruler);
    case HBK_GLYPH:
        return box_of_glyph(mark);
    case HBK_SAY:
    case HBK_OPEN:
    case HBK_CLOSE:
        return none;
    }
    return none;
}

static bool may_touch(const struct hbk_mark *a, const struct hbk_mark *b)
{
    if (a->group == b->group || a->group == 0 || b->group == 0) {
        return true;
    }
    if (a->group == HBK_GROUP_STAFF || b->group == HBK_GROUP_STAFF) {
        return a->kind != HBK_TEXT && b->kind != HBK_TEXT;
    }
    return (a->kind == HBK_GLYPH && b->kind == HBK_LINE) ||
           (a->kind == HBK_LINE && b->kind == HBK_GLYPH);
}

static bool boxes_touch(const struct box *a, const struct box *b)
{
    return !a->empty && !b->empty && a->left + slack < b->right &&
           b->left + slack < a->right && a->top + slack < b->bottom &&
           b->top + slack < a->bottom;
}

static struct hbk_point cubic(const struct hbk_point p[4], double t)
{
    const double s = 1.0 - t;
    const double share[4] = {s * s * s, 3.0 * s * s * t, 3.0 * s * t * t,
                             t * t * t};
    struct hbk_point at = {0.0, 0.0};
    for (int i = 0; i < 4; i++) {
        at.x += share[i] * p[i].x;
        at.y += share[i] * p[i].y;
    }
    return at;
}

enum { SLICES = 40 };

/* The band between two curves is thin and bent: one slice of it. */
static struct box slice_of_curve(const struct hbk_mark *mark, int slice)
{
    struct box box = {INFINITY, INFINITY, -INFINITY, -INFINITY, false};
    for (int end = 0; end < 2; end++) {
        const double t = (double)(slice + end) / SLICES;
        const struct hbk_point points[2] = {cubic(mark->points, t),
                                            cubic(mark->points + 4, 1.0 - t)};
        for (int i = 0; i < 2; i++) {
            box.left = fmin(box.left, points[i].x);
            box.right = fmax(box.right, points[i].x);
            box.top = fmin(box.top, points[i].y);
            box.bottom = fmax(box.bottom, points[i].y);
        }
    }
    return box;
}

/* A slanted bar, such as a beam: one slice of a four-cornered shape. */
static struct box slice_of_shape(const struct hbk_mark *mark, int slice)
{
    const struct hbk_point *p = mark->points;
    struct box box = {INFINITY, INFINITY, -INFINITY, -INFINITY, false};
    for (int end = 0; end < 2; end++) {
        const double t = (double)(slice + end) / SLICES;
        const struct hbk_point points[2] = {
            {p[0].x + t * (p[1].x - p[0].x), p[0].y + t * (p[1].y - p[0].y)},
            {p[3].x + t * (p[2].x - p[3].x), p[3].y + t * (p[2].y - p[3].y)}};
        for (int i = 0; i < 2; i++) {
            box.left = fmin(box.left, points[i].x);
            box.right = fmax(box.right, points[i].x);
            box.top = fmin(box.top, points[i].y);
            box.bottom = fmax(box.bottom, points[i].y);
        }
    }
    return box;
}

/* One straight piece of an open line. */
static struct box slice_of_path(const struct hbk_mark *mark, int slice)
{
    const struct hbk_point *p = &mark->points[slice];
    struct hbk_mark line = *mark;
    line.x = p[0].x;
    line.y = p[0].y;
    line.dx = p[1].x - p[0].x;
    line.dy = p[1].y - p[0].y;
    return box_of_line(&line);
}

/* In how many pieces a mark is looked at. */
static int slices_of(const struct hbk_mark *mark)
{
    if (mark->kind == HBK_PATH && mark->n_points > 1) {
        return (int)mark->n_points - 1;
    }
    return mark->kind == HBK_CURVE ||
                   (mark->kind == HBK_SHAPE && mark->n_points == 4)
               ? SLICES
               : 1;
}

static struct box slice_of(const struct hbk_mark *mark, const struct box *whole,
                           int slice)
{
    if (slices_of(mark) == 1) {
        return *whole;
    }
    if (mark->kind == HBK_PATH) {
        return slice_of_path(mark, slice);
    }
    return mark->kind == HBK_CURVE ? slice_of_curve(mark, slice)
                                   : slice_of_shape(mark, slice);
}

/* Of marks whose boxes touch, whether they do. */
static bool touch(const struct hbk_mark *a, const struct box *box_a,
                  const struct hbk_mark *b, const struct box *box_b)
{
    for (int i = 0; i < slices_of(a); i++) {
        const struct box of_a = slice_of(a, box_a, i);
        for (int k = 0; k < slices_of(b); k++) {
            const struct box of_b = slice_of(b, box_b, k);
            if (boxes_touch(&of_a, &of_b)) {
                return true;
            }
        }
    }
    return false;
}

static bool beyond_margin(const struct box *box, const struct hbk_page *page)
{
    const double margin = page->margin - slack;
    return !box->empty && !(box->left >= margin && box->top >= margin &&
                            box->right <= page->width - margin &&
                            box->bottom <= page->height - margin);
}

static void add(struct hbk_clashes *clashes, struct hbk_clash clash)
{
    clashes->found++;
    if (clashes->n < HBK_CLASHES_MAX) {
        clashes->items[clashes->n++] = clash;
    }
}

static void check_page(const struct hbk_sheet *sheet, size_t number,
                       const struct hbk_ruler *ruler,
                       struct hbk_clashes *clashes)
{
    const struct hbk_page *page = &sheet->pages[number];
    struct box *boxes = HBK_ARENA_ARRAY(sheet->arena, struct box, page->n);
    for (size_t i = 0; i < page->n; i++) {
        boxes[i] = box_of(&page->marks[i], ruler);
        if (beyond_margin(&boxes[i], page)) {
            add(clashes, (struct hbk_clash){HBK_CLASH_MARGIN, number, i, i});
        }
        for (size_t k = 0; k < i; k++) {
            if (boxes_touch(&boxes[i], &boxes[k]) &&
                !may_touch(&page->marks[i], &page->marks[k]) &&
                touch(&page->marks[i], &boxes[i], &page->marks[k], &boxes[k])) {
                add(clashes,
                    (struct hbk_clash){HBK_CLASH_OVERLAP, number, k, i});
            }
        }
    }
}

void hbk_sheet_clashes(const struct hbk_sheet *sheet,
                       const struct hbk_ruler *ruler,
                       struct hbk_clashes *clashes)
{
    *clashes = (struct hbk_clashes){0};
    for (size_t i = 0; i < sheet->n_pages; i++) {
        check_page(sheet, i, ruler, clashes);
    }
}

static void print_mark(const struct hbk_mark *mark, struct hbk_text *out)
{
    if (mark->kind == HBK_TEXT) {
        hbk_text_addf(out, "\"%s\" at %.2f %.2f", mark->text, mark->x, mark->y);
    } else if (mark->n_points > 0) {
        hbk_text_addf(out, "kind %d at %.2f %.2f", (int)mark->kind,
                      mark->points[0].x, mark->points[0].y);
    } else {
        hbk_text_addf(out, "kind %d at %.2f %.2f", (int)mark->kind, mark->x,
                      mark->y);
    }
}

void hbk_clashes_print(const struct hbk_sheet *sheet,
                       const struct hbk_clashes *clashes, struct hbk_text *out)
{
    for (size_t i = 0; i < clashes->n; i++) {
        const struct hbk_clash *clash = &clashes->items[i];
        const struct hbk_page *page = &sheet->pages[clash->page];
        hbk_text_addf(out, "page %zu: ", clash->page + 1);
        print_mark(&page->marks[clash->a], out);
        if (clash->kind == HBK_CLASH_MARGIN) {
            hbk_text_add(out, " is beyond the margin\n");
        } else {
            hbk_text_add(out, " touches ");
            print_mark(&page->marks[clash->b], out);
            hbk_text_add(out, "\n");
        }
    }
}
