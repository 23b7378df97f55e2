#include "sheet/part/part_walk.h"

void hbk_part_paragraph(struct hbk_part_walk *walk, struct hbk_style style,
                        enum hbk_tag tag, const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const double leading = 1.25 * style.size;
    const struct hbk_lines lines =
        hbk_pad_wrap(walk->pad, style, walk->width, text);
    if (walk->draw) {
        hbk_pad_block(walk->pad, tag, walk->x, walk->y + 0.76 * style.size,
                      style, leading, &lines);
    }
    walk->y += (double)lines.n * leading;
}
