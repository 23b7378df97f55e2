#include "sheet/block/title.h"

#include <math.h>

/* Capitals are so high, of the em. */
static const double capital = 0.65;

/* Gaps at unit 1, mm: name to rule, rule to the line below, its descenders. */
static const double rule_below = 3.4;
static const double line_below = 5.6;
static const double foot = 1.2;

static const double thickest = 1.0;

static struct hbk_style name_style(const struct hbk_title *title)
{
    return hbk_style_of(HBK_FACE_CAPS, title->points, title->unit, HBK_CENTRE);
}

double hbk_title_height(const struct hbk_title *title)
{
    const double line = title->below[0] != '\0' ? line_below + foot : 0.5;
    return capital * name_style(title).size + (rule_below + line) * title->unit;
}

void hbk_title_rule(struct hbk_pad *pad, double centre, double y, double length,
                    double thickness)
{
    enum { HALF = 12 };
    struct hbk_point points[4 * HALF];
    size_t n = 0;
    for (int side = 0; side < 2; side++) {
        for (int i = 0; i < 2 * HALF; i++) {
            const double t =
                (double)(side == 0 ? i : (2 * HALF) - i) / HALF - 1.0;
            const double half = 0.5 * thickness * pow(1.0 - fabs(t), 1.5);
            points[n].x = centre + 0.5 * length * t;
            points[n].y = y + (side == 0 ? -half - 0.05 : half + 0.05);
            n++;
        }
    }
    hbk_pad_shape(pad, n, points);
}

void hbk_title_draw(struct hbk_pad *pad, const struct hbk_title *title,
                    double centre, double y, double width)
{
    const struct hbk_style name =
        hbk_pad_fit(pad, name_style(title), width, 0.4, title->name);
    double base = y + capital * name_style(title).size;
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_TITLE);
    hbk_pad_text(pad, centre, base, name,
                 hbk_pad_cut(pad, name, width, title->name));
    hbk_pad_close(pad, HBK_TAG_TITLE);
    base += rule_below * title->unit;
    hbk_pad_group(pad);
    hbk_title_rule(pad, centre, base, title->rule * title->unit,
                   thickest * title->unit);
    if (title->below[0] == '\0') {
        return;
    }
    struct hbk_style line =
        hbk_style_of(HBK_FACE_ITALIC, 12.0, title->unit, HBK_CENTRE);
    line = hbk_pad_fit(pad, line, width, 0.6, title->below);
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(pad, centre, base + line_below * title->unit, line,
                 title->below);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}
