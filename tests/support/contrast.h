#ifndef HBK_TESTS_CONTRAST_H
#define HBK_TESTS_CONTRAST_H

/*
 * Contrast of inks as the Web Content Accessibility Guidelines 2.1 (W3C
 * Recommendation, 5 June 2018) measure and ask for it.
 */

#include "support/check.h"

#include "page/ink.h"

#include <math.h>

/* Success criterion 1.4.3, level AA: text that is not large. */
#define CONTRAST_TEXT 4.5
/* 1.4.11: graphics that one must see to understand the content. */
#define CONTRAST_GRAPHIC 3.0

/*
 * "Relative luminance" and "contrast ratio" of the definitions there, for
 * greys. (The guidelines print 0.03928 as the knee; no ink is near it.)
 */
static inline double luminance(double level)
{
    return level <= 0.03928 ? level / 12.92 : pow((level + 0.055) / 1.055, 2.4);
}

static inline double contrast(double one, double other)
{
    const double a = luminance(one);
    const double b = luminance(other);
    return (fmax(a, b) + 0.05) / (fmin(a, b) + 0.05);
}

/* Whether a filled mark lies under a point. */
static inline bool covers(const struct hbk_mark *mark, double x, double y)
{
    if (mark->kind == HBK_DISC) {
        return hypot(x - mark->x, y - mark->y) <= mark->dx;
    }
    if (mark->kind == HBK_PANEL) {
        return x >= fmin(mark->x, mark->x + mark->dx) &&
               x <= fmax(mark->x, mark->x + mark->dx) &&
               y >= fmin(mark->y, mark->y + mark->dy) &&
               y <= fmax(mark->y, mark->y + mark->dy);
    }
    if (mark->kind != HBK_SHAPE) {
        return false;
    }
    bool inside = false;
    for (size_t i = 0, k = mark->n_points - 1; i < mark->n_points; k = i++) {
        const struct hbk_point a = mark->points[i];
        const struct hbk_point b = mark->points[k];
        if ((a.y > y) != (b.y > y) &&
            x < (b.x - a.x) * (y - a.y) / (b.y - a.y) + a.x) {
            inside = !inside;
        }
    }
    return inside;
}

/* How light it is where mark i has its first letter. */
static inline double ground_of(const struct hbk_page *page, size_t i)
{
    const struct hbk_mark *mark = &page->marks[i];
    const double inward = mark->align == HBK_LEFT    ? 0.2
                          : mark->align == HBK_RIGHT ? -0.2
                                                     : 0.0;
    const double x = mark->x + (mark->turned ? -0.3 : inward) * mark->size;
    const double y = mark->y - (mark->turned ? inward : 0.3) * mark->size;
    for (size_t k = i; k > 0; k--) {
        if (covers(&page->marks[k - 1], x, y)) {
            return hbk_ink_level(page->marks[k - 1].ink);
        }
    }
    return hbk_ink_level(HBK_WHITE);
}

/*
 * What need not stand out: white that masks, the tint under the columns of
 * black notes, whose names say the same, and the pale lines of a scale that
 * its figures repeat.
 */
static inline bool is_ground(const struct hbk_mark *mark)
{
    return mark->ink == HBK_WHITE ||
           (mark->ink == HBK_TINT && mark->kind == HBK_PANEL) ||
           (mark->ink == HBK_PALE && mark->kind == HBK_LINE);
}

static inline void check_contrast(const struct hbk_sheet *sheet)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *mark = &page->marks[i];
            const double level = hbk_ink_level(mark->ink);
            if (mark->kind == HBK_OPEN || mark->kind == HBK_CLOSE ||
                mark->kind == HBK_SAY) {
                continue;
            }
            if (mark->kind == HBK_TEXT) {
                const double ratio = contrast(level, ground_of(page, i));
                if (ratio < CONTRAST_TEXT) {
                    print_error("\"%s\" has a contrast of %.2f\n", mark->text,
                                ratio);
                    fail();
                }
            } else if (!is_ground(mark)) {
                /* On the darkest ground there is, but for black. */
                assert_true(contrast(level, hbk_ink_level(HBK_TINT)) >=
                            CONTRAST_GRAPHIC);
            }
        }
    }
}

#endif
