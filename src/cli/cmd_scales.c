#include "cli/commands.h"

#include "cli/output.h"
#include "cli/setting.h"
#include "horn/about.h"
#include "passage/scale.h"
#include "report/scales.h"
#include "sheet/article/scales_sheet.h"
#include "solve/solve.h"

/* Everything one table of keys needs, so that it can be handed on as one. */
struct scales {
    const struct hbk_options *options;
    enum hbk_output output;
    struct hbk_sheet_options sheet;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_notes notes;
    const struct hbk_scales *found;
};

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct scales *const scales = ctx;
    return hbk_sheet_scales(&scales->notes, scales->found, &scales->sheet,
                            ruler, sheet);
}

static int tell(struct scales *scales)
{
    const struct hbk_notes *const notes = &scales->notes;
    const struct hbk_scales_view view = {notes, scales->found};
    struct hbk_text out = {.arena = &scales->arena};
    if (scales->output == HBK_OUT_CSV) {
        hbk_scales_csv(&view, &out);
    } else if (scales->output == HBK_OUT_JSON) {
        hbk_scales_json(&view, &out);
    } else {
        hbk_scales_text(&view, &out);
    }
    return hbk_write_text(scales->options, scales->output, &out);
}

static int look(struct scales *scales, const struct hbk_horn *horn)
{
    struct hbk_setting setting;
    const int usable = hbk_read_setting(horn, scales->options, &setting);
    if (usable != HBK_EXIT_DONE) {
        return usable;
    }
    const enum hbk_status status = hbk_solve(horn, &setting, &scales->arena,
                                             &scales->notes, &scales->faults);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    scales->found = hbk_scales_of(&scales->notes, &scales->arena);
    return (scales->output & HBK_OUT_SHEETS) != 0
               ? hbk_draw_sheet(scales->options, scales->output, lay, scales,
                                &scales->arena, &scales->faults)
               : tell(scales);
}

int hbk_cmd_scales(const struct hbk_options *options)
{
    struct scales scales = {.options = options};
    struct hbk_horn *const horn = hbk_horn_new(&scales.arena);
    const struct hbk_one_horn asked = {options->writes, HBK_OUT_TEXT,
                                       "keys are"};
    int code =
        hbk_read_one_horn(options, &asked, &scales.output, &scales.sheet, horn);
    if (code == HBK_EXIT_DONE) {
        code = look(&scales, horn);
        hbk_print_faults(&scales.faults, options->quiet);
    }
    hbk_horn_finish(horn);
    hbk_arena_finish(&scales.arena);
    return code;
}
