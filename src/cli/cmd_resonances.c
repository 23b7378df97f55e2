#include "cli/commands.h"

#include "cli/output.h"
#include "cli/setting.h"
#include "horn/about.h"
#include "horn/press.h"
#include "report/resonances.h"
#include "sheet/article/curve_sheet.h"
#include "solve/curve.h"

#include <math.h>
#include <string.h>

/* What is asked and found, handed on as one. */
struct request {
    const struct hbk_options *options;
    enum hbk_output output;
    struct hbk_sheet_options sheet;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_curves curves;
};

/* The presses of --fingering; the open horn when none is given. */
static int read_presses(const struct hbk_horn *horn,
                        const struct hbk_options *options,
                        const struct hbk_setting *setting,
                        uint32_t presses[HBK_CURVES_MAX])
{
    for (size_t i = 0; i < options->n_fingerings; i++) {
        const char *const label = options->fingerings[i];
        if (!hbk_horn_press_parse(horn, label, &presses[i])) {
            return hbk_usage("resonances",
                             "--fingering '%s': write 0, or keys and valves "
                             "of this horn like 1-3",
                             label);
        }
        if ((presses[i] &
             (setting->stuck.held_up | setting->stuck.held_down)) != 0) {
            return hbk_usage("resonances",
                             "--fingering '%s' presses what is stuck", label);
        }
        for (size_t k = 0; k < i; k++) {
            if (presses[k] == presses[i]) {
                return hbk_usage("resonances",
                                 "--fingering '%s' is given twice", label);
            }
        }
    }
    return HBK_EXIT_DONE;
}

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct request *const request = ctx;
    hbk_sheet_curves(&request->curves, &request->sheet, ruler, sheet);
    return HBK_OK;
}

static int look(struct request *request, const struct hbk_horn *horn)
{
    const struct hbk_options *const options = request->options;
    struct hbk_setting setting;
    uint32_t presses[HBK_CURVES_MAX] = {0};
    int code = hbk_read_setting(horn, options, &setting);
    if (code == HBK_EXIT_DONE) {
        code = read_presses(horn, options, &setting, presses);
    }
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    const struct hbk_curve_ask ask = {
        .n = options->n_fingerings == 0 ? 1 : options->n_fingerings,
        .presses = presses,
        .to_hz = isnan(options->to_hz) ? HBK_CURVE_TO_USUAL_HZ : options->to_hz,
        .n_points = isnan(options->points) ? HBK_CURVE_POINTS_USUAL
                                           : (size_t)options->points};
    const enum hbk_status status =
        hbk_curves_compute(horn, &setting, &ask, &request->arena,
                           &request->curves, &request->faults);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    struct hbk_text out = {.arena = &request->arena};
    if (request->output == HBK_OUT_CSV) {
        hbk_resonances_csv(&request->curves, &out);
    } else if (request->output == HBK_OUT_JSON) {
        hbk_resonances_json(&request->curves, &out);
    } else {
        return hbk_draw_sheet(options, request->output, lay, request,
                              &request->arena, &request->faults);
    }
    return hbk_write_text(options, request->output, &out);
}

int hbk_cmd_resonances(const struct hbk_options *options)
{
    struct request request = {.options = options};
    struct hbk_horn *const horn = hbk_horn_new(&request.arena);
    const struct hbk_one_horn asked = {options->writes, HBK_OUT_CSV,
                                       "resonances are"};
    int code = hbk_read_one_horn(options, &asked, &request.output,
                                 &request.sheet, horn);
    if (code == HBK_EXIT_DONE) {
        code = look(&request, horn);
        hbk_print_faults(&request.faults, options->quiet);
    }
    hbk_horn_finish(horn);
    hbk_arena_finish(&request.arena);
    return code;
}
