#include "cli/commands.h"

#include "cli/output.h"
#include "cli/setting.h"
#include "horn/about.h"
#include "report/slides.h"
#include "sheet/article/slide_card.h"
#include "solve/slides.h"

/* Everything one answer needs, so that it can be handed on as one. */
struct ask {
    const struct hbk_options *options;
    enum hbk_output output;
    struct hbk_sheet_options sheet;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_slides slides;
};

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct ask *const ask = ctx;
    hbk_sheet_slide_card(&ask->slides, &ask->sheet, ruler, sheet);
    return HBK_OK;
}

static int answer(struct ask *ask, const struct hbk_horn *horn)
{
    struct hbk_setting setting;
    const int usable = hbk_read_setting(horn, ask->options, &setting);
    if (usable != HBK_EXIT_DONE) {
        return usable;
    }
    const enum hbk_status status = hbk_slides_plan(horn, &setting, &ask->arena,
                                                   &ask->slides, &ask->faults);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    struct hbk_text out = {.arena = &ask->arena};
    if ((ask->output & HBK_OUT_SHEETS) != 0) {
        return hbk_draw_sheet(ask->options, ask->output, lay, ask, &ask->arena,
                              &ask->faults);
    }
    if (ask->output == HBK_OUT_CSV) {
        hbk_slides_csv(&ask->slides, &out);
    } else if (ask->output == HBK_OUT_JSON) {
        hbk_slides_json(&ask->slides, &out);
    } else {
        hbk_slides_text(&ask->slides, &out);
    }
    return hbk_write_text(ask->options, ask->output, &out);
}

int hbk_cmd_slides(const struct hbk_options *options)
{
    /* A card for the case, unless another paper is asked for. */
    struct ask ask = {.options = options, .sheet = {.paper = HBK_A6}};
    struct hbk_horn *const horn = hbk_horn_new(&ask.arena);
    const struct hbk_one_horn asked = {options->writes, HBK_OUT_TEXT,
                                       "slides are"};
    int code =
        hbk_read_one_horn(options, &asked, &ask.output, &ask.sheet, horn);
    if (code == HBK_EXIT_DONE) {
        code = answer(&ask, horn);
        hbk_print_faults(&ask.faults, options->quiet);
    }
    hbk_horn_finish(horn);
    hbk_arena_finish(&ask.arena);
    return code;
}
