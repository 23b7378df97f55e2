#include "sheet/block/foot.h"

#include <math.h>
#include <string.h>

static const double rule_pen = 0.15; /* mm */
static const double rule_gap = 1.0;
static const double columns_gap = 6.0;

/* Of the em. */
static const double leading = 1.16;
static const double ascender = 0.76;
static const double descender = 0.26;

/* Neither column is narrower than this share. */
static const double least_share = 0.25;

struct columns {
    struct hbk_style style;
    struct hbk_lines left, right;
    double second; /* from the left end */
    double height;
};

static struct columns set(const struct hbk_pad *pad,
                          const struct hbk_foot *foot)
{
    struct columns columns = {
        .style = hbk_style_of(HBK_FACE_PLAIN, foot->points, 1.0, HBK_LEFT)};
    const double one = (double)strlen(foot->left);
    const double two = (double)strlen(foot->right);
    double width = foot->width;
    double second = 0.0;
    if (one > 0.0 && two > 0.0) {
        const double share =
            fmin(fmax(one / (one + two), least_share), 1.0 - least_share);
        width = share * (foot->width - columns_gap);
        second = width + columns_gap;
    }
    columns.second = second;
    columns.left = hbk_pad_wrap(pad, columns.style, width, foot->left);
    columns.right =
        hbk_pad_wrap(pad, columns.style, foot->width - second, foot->right);
    const size_t n =
        columns.left.n > columns.right.n ? columns.left.n : columns.right.n;
    if (n > 0) {
        columns.height =
            rule_gap + (ascender + descender + leading * (double)(n - 1)) *
                           columns.style.size;
    }
    return columns;
}

double hbk_foot_height(const struct hbk_pad *pad, const struct hbk_foot *foot)
{
    return set(pad, foot).height;
}

void hbk_foot_draw(struct hbk_pad *pad, const struct hbk_foot *foot, double x,
                   double y)
{
    const struct columns columns = set(pad, foot);
    if (columns.height <= 0.0) {
        return;
    }
    hbk_pad_group(pad);
    hbk_pad_line(pad, x, y + 0.5 * rule_pen, foot->width, 0.0, rule_pen);
    const double base = y + rule_gap + ascender * columns.style.size;
    const double step = leading * columns.style.size;
    if (columns.left.n > 0) {
        hbk_pad_block(pad, HBK_TAG_PARAGRAPH, x, base, columns.style, step,
                      &columns.left);
    }
    if (columns.right.n > 0) {
        hbk_pad_block(pad, HBK_TAG_PARAGRAPH, x + columns.second, base,
                      columns.style, step, &columns.right);
    }
}
