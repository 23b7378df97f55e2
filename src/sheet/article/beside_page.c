#include "sheet/article/beside_page.h"

#include "sheet/block/frame.h"
#include "sheet/block/heading.h"

#include <math.h>

static const double least_title_unit = 0.8;

struct hbk_style hbk_beside_style(const struct hbk_beside_page *page,
                                  enum hbk_face face, double points,
                                  double least)
{
    return hbk_style_of(face, fmax(points * page->s, least), 1.0, HBK_LEFT);
}

double hbk_beside_title_unit(const struct hbk_beside_page *page)
{
    return fmax(page->s, least_title_unit);
}

void hbk_beside_begin(struct hbk_beside_page *page)
{
    struct hbk_paper_size paper = page->paper;
    paper.margin = (HBK_BESIDE_EDGE - 0.5) * page->s;
    hbk_pad_page(&page->pad, paper, page->coming);
    const struct hbk_page_frame frame = {.width = paper.width,
                                         .height = paper.height,
                                         .edge = HBK_BESIDE_EDGE * page->s,
                                         .unit = page->s};
    hbk_page_frame_draw(&page->pad, &frame);
}

double hbk_beside_top(const struct hbk_beside_page *page)
{
    return HBK_BESIDE_MARGIN * page->s +
           hbk_running_head_height(hbk_beside_title_unit(page)) + 2.0 * page->s;
}

void hbk_beside_room(struct hbk_beside_page *page, double height)
{
    const double top = hbk_beside_top(page);
    if (page->y + height <= page->end + 1e-6 || page->y <= top) {
        return;
    }
    hbk_beside_begin(page);
    hbk_running_head_draw(&page->pad, page->coming, "",
                          hbk_beside_title_unit(page), page->x,
                          HBK_BESIDE_MARGIN * page->s, page->width);
    page->y = top;
}
