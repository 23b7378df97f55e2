#ifndef HBK_TESTS_COLLIDE_H
#define HBK_TESTS_COLLIDE_H

#include "base/text.h"
#include "page/mark.h"

/* What is wrong with a laid out sheet. */
enum hbk_clash_kind {
    HBK_CLASH_OVERLAP, /* two marks of different groups touch */
    HBK_CLASH_MARGIN   /* a mark reaches beyond the margin */
};

struct hbk_clash {
    enum hbk_clash_kind kind;
    size_t page;
    size_t a, b; /* indices of the marks; a alone for a margin */
};

enum { HBK_CLASHES_MAX = 64 };

struct hbk_clashes {
    size_t n; /* kept, at most HBK_CLASHES_MAX */
    size_t found;
    struct hbk_clash items[HBK_CLASHES_MAX];
};

/*
 * Checks every page. Marks touch when their boxes do: text as wide as the
 * ruler says and as tall as its letters, lines with their pen, music glyphs
 * as engrave/glyph.h has them, slurs and slanted bars in slices. Allowed are:
 * marks of one group; marks of group 0 with anything; a staff as mark.h says;
 * a glyph on a line, which is what a staff is for.
 */
void hbk_sheet_clashes(const struct hbk_sheet *sheet,
                       const struct hbk_ruler *ruler,
                       struct hbk_clashes *clashes);

/* One line a clash, with what the marks are, for a person to read. */
void hbk_clashes_print(const struct hbk_sheet *sheet,
                       const struct hbk_clashes *clashes, struct hbk_text *out);

#endif
