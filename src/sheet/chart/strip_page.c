#include "sheet/chart/strip_page.h"

#include "sheet/chart/strip_draw.h"
#include "sheet/chart/strip_hands.h"

typedef void draw_row(struct hbk_pad *pad, const struct hbk_strip *strip,
                      const struct hbk_strip_run *run, double x, double y);

/* What there is in a strip of that kind, of every row. */
static void draw_rows(struct hbk_pad *pad, const struct hbk_strip *strip,
                      const struct hbk_strip_page *page, draw_row *draw)
{
    double y = page->at.y;
    for (size_t i = 0; i < page->n; i++) {
        draw(pad, strip, &page->runs[i], page->at.x, y);
        y += hbk_strip_height(strip, &page->runs[i]) + page->gap;
    }
}

void hbk_strip_draw_page(struct hbk_pad *pad, const struct hbk_strip *strip,
                         const struct hbk_strip_page *page)
{
    if (page->n == 0) {
        return;
    }
    draw_rows(pad, strip, page, hbk_strip_draw);
    draw_rows(pad, strip, page, hbk_strip_hands);
}
