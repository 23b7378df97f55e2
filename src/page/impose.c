#include "page/impose.h"

#include <math.h>

static const double cut_length = 6.0;
static const double cut_pen = 0.18;

/* A mark of a copy, moved; its points are copied, its text is shared. */
static struct hbk_mark moved(struct hbk_arena *arena,
                             const struct hbk_mark *mark, double x, double y)
{
    struct hbk_mark copy = *mark;
    copy.x += x;
    copy.y += y;
    if (mark->n_points > 0) {
        struct hbk_point *points =
            HBK_ARENA_ARRAY(arena, struct hbk_point, mark->n_points);
        for (size_t i = 0; i < mark->n_points; i++) {
            points[i].x = mark->points[i].x + x;
            points[i].y = mark->points[i].y + y;
        }
        copy.points = points;
    }
    return copy;
}

static void copy_page(struct hbk_pad *pad, const struct hbk_page *small,
                      double x, double y, enum hbk_tag tag)
{
    const unsigned before = pad->groups;
    hbk_pad_open(pad, tag);
    for (size_t i = 0; i < small->n; i++) {
        const struct hbk_mark *mark = &small->marks[i];
        /* What may touch anything, and a staff, are so on every copy. */
        const bool is_own = mark->group != 0 && mark->group != HBK_GROUP_STAFF;
        pad->group = is_own ? before + mark->group : mark->group;
        if (is_own && pad->group > pad->groups) {
            pad->groups = pad->group;
        }
        hbk_pad_add(pad, moved(pad->sheet->arena, mark, x, y));
    }
    hbk_pad_close(pad, tag);
}

/* Along each cut: a mark at both edges, and one over every crossing. */
static void mark_cuts(struct hbk_pad *pad, const struct hbk_imposition *how)
{
    const struct hbk_paper_size paper = how->paper;
    const double edge = paper.margin;
    hbk_pad_group(pad);
    for (size_t i = 1; i < how->across; i++) {
        const double x = paper.width * (double)i / (double)how->across;
        hbk_pad_line(pad, x, edge, 0.0, cut_length, cut_pen);
        hbk_pad_line(pad, x, paper.height - edge, 0.0, -cut_length, cut_pen);
        for (size_t k = 1; k < how->down; k++) {
            const double y = paper.height * (double)k / (double)how->down;
            hbk_pad_line(pad, x, y - 0.5 * cut_length, 0.0, cut_length,
                         cut_pen);
        }
    }
    for (size_t k = 1; k < how->down; k++) {
        const double y = paper.height * (double)k / (double)how->down;
        hbk_pad_line(pad, edge, y, cut_length, 0.0, cut_pen);
        hbk_pad_line(pad, paper.width - edge, y, -cut_length, 0.0, cut_pen);
        for (size_t i = 1; i < how->across; i++) {
            const double x = paper.width * (double)i / (double)how->across;
            hbk_pad_line(pad, x - 0.5 * cut_length, y, cut_length, 0.0,
                         cut_pen);
        }
    }
}

void hbk_impose(struct hbk_pad *pad, const struct hbk_imposition *how,
                const struct hbk_sheet *small)
{
    for (size_t p = 0; p < small->n_pages; p++) {
        const struct hbk_page *page = &small->pages[p];
        hbk_pad_page(pad, how->paper, page->label);
        for (size_t k = 0; k < how->down * how->across; k++) {
            /* Whoever has it read out wants one copy. */
            copy_page(pad, page, page->width * (double)(k % how->across),
                      page->height * (double)(k / how->across),
                      k == 0 ? HBK_TAG_SECTION : HBK_TAG_ARTIFACT);
        }
        mark_cuts(pad, how);
    }
}
