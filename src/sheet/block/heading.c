#include "sheet/block/heading.h"

#include <math.h>

double hbk_running_head_height(double unit)
{
    return 7.0 * unit;
}

void hbk_running_head_draw(struct hbk_pad *pad, const char *title,
                           const char *page, double unit, double x, double y,
                           double width)
{
    struct hbk_style right = hbk_style_of(HBK_FACE_PLAIN, 8.5, unit, HBK_LEFT);
    const double room = width - hbk_pad_width(pad, right, page) - 4.0 * unit;
    const struct hbk_style full =
        hbk_style_of(HBK_FACE_CAPS, 10.0, unit, HBK_LEFT);
    const double least = fmax(0.75, fmin(1.0, HBK_PT(8.0) / full.size));
    const struct hbk_style left = hbk_pad_fit(pad, full, room, least, title);
    title = hbk_pad_cut(pad, left, room, title);
    right.align = HBK_RIGHT;
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(pad, x, y + 2.9 * unit, left, title);
    hbk_pad_text(pad, x + width, y + 2.9 * unit, right, page);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_line(pad, x, y + 4.4 * unit, width, 0.0, 0.3 * unit);
}
