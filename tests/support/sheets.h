#ifndef HBK_TESTS_SHEETS_H
#define HBK_TESTS_SHEETS_H

#include "support/check.h"

#include "base/text.h"
#include "sheet/chart/card.h"
#include "sheet/chart/chart.h"
#include "support/collide.h"
#include "support/contrast.h"
#include "support/read_out.h"

#include <string.h>

/* All words of a sheet in their order, one space between them. */
static inline const char *sheet_words(const struct hbk_sheet *sheet)
{
    struct hbk_text text = {.arena = sheet->arena};
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            if (page->marks[i].kind != HBK_TEXT) {
                continue;
            }
            for (const char *at = page->marks[i].text; *at != '\0';) {
                const size_t length = strcspn(at, " ");
                hbk_text_put(&text, at, length);
                hbk_text_add(&text, " ");
                at += length;
                at += strspn(at, " ");
            }
        }
    }
    return hbk_text_string(&text);
}

/* Whether a head stands on the sheet that reads as that name. */
static inline bool sheet_has_head(const struct hbk_sheet *sheet,
                                  const char *name)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *mark = &page->marks[i];
            if (mark->kind == HBK_GLYPH && mark->text != NULL &&
                strcmp(mark->text, name) == 0) {
                return true;
            }
        }
    }
    return false;
}

static inline void check_words_say(const char *words, const char *wanted)
{
    if (strstr(words, wanted) == NULL) {
        print_error("\"%s\" is not in: %s\n", wanted, words);
        fail();
    }
}

static inline void check_sheet_says(const struct hbk_sheet *sheet,
                                    const char *wanted)
{
    check_words_say(sheet_words(sheet), wanted);
}

/* No mark touches another, every word is in a part, and all stand out. */
static inline void check_no_clash(const struct hbk_sheet *sheet,
                                  const struct hbk_ruler *ruler)
{
    struct hbk_clashes clashes;
    hbk_sheet_clashes(sheet, ruler, &clashes);
    struct hbk_text told = {.arena = sheet->arena};
    hbk_clashes_print(sheet, &clashes, &told);
    if (clashes.found > 0) {
        print_error("%s on %.0f x %.0f mm:\n", sheet->title,
                    sheet->pages[0].width, sheet->pages[0].height);
    }
    assert_string_equal(hbk_text_string(&told), "");
    check_read_out(sheet);
    check_contrast(sheet);
}

static inline const char *paper_name(enum hbk_paper paper)
{
    static const char *const names[HBK_PAPER_COUNT] = {"A4", "A3", "A5", "A6",
                                                       "Letter"};
    return names[paper];
}

/* mm, as the layouts promise it. */
#define LEAST_CIRCLE 1.6
#define TOL_SIZE 1e-9

/* Points of the smallest letters that a layout promises. */
static inline double least_points(enum hbk_layout layout)
{
    return layout == HBK_LAYOUT_CARD ? HBK_CARD_POINTS : 7.0;
}

/* The ring drawn inside another about the same centre is no circle of its
 * own. */
static inline bool is_inner(const struct hbk_page *page, size_t i)
{
    const struct hbk_mark *mark = &page->marks[i];
    const struct hbk_mark *before = i > 0 ? &page->marks[i - 1] : mark;
    return i > 0 && before->kind == HBK_RING && before->x == mark->x &&
           before->y == mark->y && before->dx > mark->dx;
}

/* A number in a dot or ring, which tells less than where that stands. */
static inline bool is_in_dot(const struct hbk_page *page, size_t i)
{
    const struct hbk_mark *mark = &page->marks[i];
    const struct hbk_mark *before = i > 0 ? &page->marks[i - 1] : mark;
    return i > 0 && (before->kind == HBK_RING || before->kind == HBK_DISC) &&
           before->x == mark->x && mark->kind == HBK_TEXT;
}

/* Everything a reader must read is large enough, but for drawn tubes. */
static inline void check_sizes(const struct hbk_sheet *sheet, double points)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *page = &sheet->pages[p];
        bool in_figure = false;
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *mark = &page->marks[i];
            in_figure = mark->tag == HBK_TAG_FIGURE && mark->kind != HBK_TEXT
                            ? mark->kind == HBK_OPEN ||
                                  (in_figure && mark->kind != HBK_CLOSE)
                            : in_figure;
            if (mark->kind == HBK_TEXT && !is_in_dot(page, i) &&
                mark->size < HBK_PT(points) - TOL_SIZE) {
                print_error("%s: \"%s\" has %.2f pt\n", sheet->title,
                            mark->text, mark->size / HBK_PT(1.0));
                fail();
            }
            const bool circle =
                mark->kind == HBK_DISC || mark->kind == HBK_RING;
            if (circle && !in_figure && !is_inner(page, i)) {
                const double pen = mark->kind == HBK_RING ? mark->pen : 0.0;
                assert_true(2.0 * mark->dx + pen >= LEAST_CIRCLE - TOL_SIZE);
            }
        }
    }
}

#endif
