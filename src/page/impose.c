#include "page/impose.h"

#include <math.h>

static const double cut_length = 6.0;
static const double cut_pen = 0.18;

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
        hbk_pad_add(pad, hbk_mark_moved(pad->sheet->arena, mark, x, y));
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

enum { SHEET_PAGES = 4 };

size_t hbk_folded_pages(size_t n, bool has_middle)
{
    const size_t all = n + (has_middle ? 2 : 0);
    /* Before the middle stand as many as after it, which may be blank. */
    return (all + SHEET_PAGES - 1) / SHEET_PAGES * SHEET_PAGES;
}

/* A booklet while its sides are put down. */
struct booklet {
    const struct hbk_folding *how;
    const struct hbk_sheet *pages;
    size_t n; /* with blank pages */
};

/* The page with a number, from 1, of all; NULL for a blank one. */
static const struct hbk_page *numbered(const struct booklet *booklet,
                                       size_t number)
{
    const size_t middle = booklet->n / 2;
    if (booklet->how->middle != NULL && number > middle) {
        number -= 2;
    }
    return number <= booklet->pages->n_pages
               ? &booklet->pages->pages[number - 1]
               : NULL;
}

static void put_side(struct hbk_pad *pad, const struct booklet *booklet,
                     size_t left, size_t right)
{
    const struct hbk_folding *const how = booklet->how;
    struct hbk_arena *const arena = pad->sheet->arena;
    const size_t lower = left < right ? left : right;
    hbk_pad_page(pad, how->paper,
                 hbk_arena_printf(
                     arena, "Sheet %zu, %s: pages %zu and %zu", (lower + 1) / 2,
                     lower % 2 == 1 ? "front" : "back", left, right));
    if (how->middle != NULL && left == booklet->n / 2) {
        copy_page(pad, how->middle, 0.0, 0.0, HBK_TAG_SECTION);
        return;
    }
    const size_t numbers[] = {left, right};
    for (size_t i = 0; i < 2; i++) {
        const struct hbk_page *const page = numbered(booklet, numbers[i]);
        if (page != NULL) {
            copy_page(pad, page, 0.5 * how->paper.width * (double)i, 0.0,
                      HBK_TAG_SECTION);
        }
    }
}

void hbk_fold(struct hbk_pad *pad, const struct hbk_folding *how,
              const struct hbk_sheet *pages)
{
    const struct booklet booklet = {
        .how = how,
        .pages = pages,
        .n = hbk_folded_pages(pages->n_pages, how->middle != NULL)};
    for (size_t low = 1; low < booklet.n / 2; low += 2) {
        put_side(pad, &booklet, booklet.n + 1 - low, low);
        put_side(pad, &booklet, low + 1, booklet.n - low);
    }
}
