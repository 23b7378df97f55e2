#include "sheet/chart/chart.h"

#include "base/text.h"
#include "sheet/article/beside.h"
#include "sheet/article/trills.h"
#include "sheet/chart/card.h"
#include "sheet/chart/large.h"
#include "sheet/chart/plate.h"
#include "sheet/chart/stand.h"

#include <strings.h>

typedef enum hbk_status lay_out(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet);

enum {
    large = 1u << HBK_A4 | 1u << HBK_A3 | 1u << HBK_LETTER,
    but_a6 = large | 1u << HBK_A5,
    all = but_a6 | 1u << HBK_A6
};

static const struct {
    const char *name;
    lay_out *lay_out;
    unsigned papers;  /* that are large enough: a bit each */
    bool is_compared; /* tells what changes beside another horn */
} layouts[HBK_LAYOUT_COUNT] = {
    [HBK_LAYOUT_PLATE] = {"plate", hbk_sheet_plate, large, true},
    [HBK_LAYOUT_WALL] = {"wall", hbk_sheet_wall, large, true},
    [HBK_LAYOUT_STAND] = {"stand", hbk_sheet_stand, but_a6, true},
    [HBK_LAYOUT_CARD] = {"card", hbk_sheet_card, all, false},
    [HBK_LAYOUT_LARGE] = {"large", hbk_sheet_large, but_a6, false},
    [HBK_LAYOUT_TRILLS] = {"trills", hbk_sheet_trills, all, false},
};

const char *hbk_layout_name(enum hbk_layout layout)
{
    return layouts[layout].name;
}

bool hbk_layout_parse(const char *text, enum hbk_layout *layout)
{
    for (size_t i = 0; i < HBK_LAYOUT_COUNT; i++) {
        if (strcasecmp(text, layouts[i].name) == 0) {
            *layout = (enum hbk_layout)i;
            return true;
        }
    }
    return false;
}

const char *hbk_layout_words(struct hbk_arena *arena)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < HBK_LAYOUT_COUNT; i++) {
        hbk_text_addf(&text, "%s%s",
                      i == 0                       ? ""
                      : i == HBK_LAYOUT_COUNT - 1u ? " or "
                                                   : ", ",
                      layouts[i].name);
    }
    return hbk_text_string(&text);
}

bool hbk_layout_takes(enum hbk_layout layout, enum hbk_paper paper)
{
    return (layouts[layout].papers >> paper & 1u) != 0;
}

const char *hbk_layout_papers(enum hbk_layout layout)
{
    return layouts[layout].papers == large    ? "A4, A3 or Letter"
           : layouts[layout].papers == but_a6 ? "A5 or larger"
                                              : "any size";
}

enum hbk_layout hbk_layout_usual(enum hbk_paper paper)
{
    return hbk_layout_takes(HBK_LAYOUT_PLATE, paper)   ? HBK_LAYOUT_PLATE
           : hbk_layout_takes(HBK_LAYOUT_STAND, paper) ? HBK_LAYOUT_STAND
                                                       : HBK_LAYOUT_CARD;
}

bool hbk_layout_compares(enum hbk_layout layout)
{
    return layouts[layout].is_compared;
}

bool hbk_layout_shows_trills(enum hbk_layout layout)
{
    return layout == HBK_LAYOUT_TRILLS;
}

enum hbk_status hbk_sheet_chart(enum hbk_layout layout,
                                const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet)
{
    if (!hbk_layout_takes(layout, options->paper)) {
        return HBK_ERR_DOMAIN;
    }
    HBK_TRY(layouts[layout].lay_out(notes, options, ruler, sheet));
    if (options->beside != NULL && layouts[layout].is_compared) {
        hbk_sheet_beside(notes, options, ruler, sheet);
    }
    return HBK_OK;
}
