#include "sheet/block/frame.h"

#include <math.h>

/* At unit 1, mm. */
static const double outer_rule = 0.55;
static const double inner_rule = 0.15;
static const double between_rules = 1.1;
static const double thinnest = 0.12;

void hbk_page_frame_draw(struct hbk_pad *pad,
                         const struct hbk_page_frame *frame)
{
    hbk_pad_group(pad);
    for (int inner = 0; inner < 2; inner++) {
        const double at = frame->edge + between_rules * frame->unit * inner;
        const double pen =
            fmax((inner ? inner_rule : outer_rule) * frame->unit, thinnest);
        const double right = frame->width - at;
        const double foot = frame->height - at;
        for (int far = 0; far < 2; far++) {
            hbk_pad_line(pad, at - 0.5 * pen, far ? foot : at, right - at + pen,
                         0.0, pen);
            hbk_pad_line(pad, far ? right : at, at, 0.0, foot - at, pen);
        }
    }
}

double hbk_page_frame_depth(double unit)
{
    return between_rules * unit + 0.5 * fmax(inner_rule * unit, thinnest);
}
