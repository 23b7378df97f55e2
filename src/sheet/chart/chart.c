#include "sheet/chart/chart.h"

#include "base/text.h"
#include "sheet/article/beside.h"
#include "sheet/article/trills.h"
#include "sheet/chart/card.h"
#include "sheet/chart/stand.h"
#include "sheet/chart/wall.h"

#include <strings.h>

typedef enum hbk_status lay_out(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet);

static const struct {
    const char *name;
    lay_out *lay_out;
    bool is_large;    /* needs more than A6 */
    bool is_compared; /* tells what changes beside another horn */
} layouts[HBK_LAYOUT_COUNT] = {
    [HBK_LAYOUT_WALL] = {"wall", hbk_sheet_wall, false, true},
    [HBK_LAYOUT_STAND] = {"stand", hbk_sheet_stand, true, true},
    [HBK_LAYOUT_CARD] = {"card", hbk_sheet_card, false, false},
    [HBK_LAYOUT_TRILLS] = {"trills", hbk_sheet_trills, false, false},
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
    return paper != HBK_A6 || !layouts[layout].is_large;
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
