#include "page/paper.h"

#include <stddef.h>
#include <strings.h>

static const char *const names[HBK_PAPER_COUNT] = {"A4", "A3", "A5", "A6",
                                                   "Letter"};

struct hbk_paper_size hbk_paper_size(enum hbk_paper paper)
{
    static const struct hbk_paper_size sizes[HBK_PAPER_COUNT] = {
        [HBK_A4] = {210.0, 297.0, 10.0},     [HBK_A3] = {297.0, 420.0, 12.0},
        [HBK_A5] = {148.0, 210.0, 8.0},      [HBK_A6] = {105.0, 148.0, 6.0},
        [HBK_LETTER] = {215.9, 279.4, 10.0},
    };
    return sizes[paper];
}

struct hbk_paper_size hbk_paper_turned(struct hbk_paper_size size)
{
    const struct hbk_paper_size turned = {size.height, size.width, size.margin};
    return turned;
}

const char *hbk_paper_name(enum hbk_paper paper)
{
    return names[paper];
}

bool hbk_paper_parse(const char *text, enum hbk_paper *paper)
{
    for (size_t i = 0; i < HBK_PAPER_COUNT; i++) {
        if (strcasecmp(text, names[i]) == 0) {
            *paper = (enum hbk_paper)i;
            return true;
        }
    }
    return false;
}
