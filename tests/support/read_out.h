#ifndef HBK_TESTS_READ_OUT_H
#define HBK_TESTS_READ_OUT_H

/* That a sheet can be read out: its parts, and what is in them. */

#include "support/check.h"

#include "page/mark.h"

#include <string.h>

/* What is open where a mark stands; parts nest. */
struct nest {
    size_t n;
    enum hbk_tag open[16];
};

static inline bool has(const struct nest *nest, enum hbk_tag tag)
{
    for (size_t i = 0; i < nest->n; i++) {
        if (nest->open[i] == tag) {
            return true;
        }
    }
    return false;
}

/* Where a part may stand: ISO 32000-1, 14.8.4.3.4 for those of a table. */
static inline bool may_stand(const struct nest *nest, enum hbk_tag tag)
{
    const bool in_any = nest->n > 0;
    const enum hbk_tag in = in_any ? nest->open[nest->n - 1] : HBK_TAG_SECTION;
    switch (tag) {
    case HBK_TAG_ROW:
        return in_any && in == HBK_TAG_TABLE;
    case HBK_TAG_COLUMN:
    case HBK_TAG_HEADER:
    case HBK_TAG_CELL:
        return in_any && in == HBK_TAG_ROW;
    case HBK_TAG_SECTION:
    case HBK_TAG_TITLE:
    case HBK_TAG_HEADING:
    case HBK_TAG_PARAGRAPH:
    case HBK_TAG_TABLE:
    case HBK_TAG_FIGURE:
        return in == HBK_TAG_SECTION;
    case HBK_TAG_ARTIFACT:
        return true;
    }
    return false;
}

static inline void step(struct nest *nest, const struct hbk_mark *mark)
{
    if (mark->kind == HBK_OPEN) {
        if (!has(nest, HBK_TAG_ARTIFACT) && !may_stand(nest, mark->tag)) {
            print_error("part %d stands where it may not\n", (int)mark->tag);
            fail();
        }
        if (mark->tag == HBK_TAG_FIGURE) {
            assert_non_null(mark->text);
            assert_true(strlen(mark->text) > 10);
        }
        assert_true(nest->n < sizeof(nest->open) / sizeof(nest->open[0]));
        nest->open[nest->n++] = mark->tag;
    } else if (mark->kind == HBK_CLOSE) {
        assert_true(nest->n > 0);
        assert_int_equal(nest->open[--nest->n], mark->tag);
    } else if ((mark->kind == HBK_TEXT || mark->kind == HBK_SAY) &&
               nest->n == 0) {
        print_error("\"%s\" belongs to no part\n", mark->text);
        fail();
    }
}

/* Parts close with their page, nest as they may, and hold every word. */
static inline void check_read_out(const struct hbk_sheet *sheet)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        struct nest nest = {0};
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            step(&nest, &sheet->pages[p].marks[i]);
        }
        assert_int_equal(nest.n, 0);
    }
}

#endif
