#include "cli/cli.h"

#include "cli/column_out.h"
#include "render/render.h"
#include "sheet/curve_sheet.h"
#include "solve/curve.h"

#include <math.h>
#include <string.h>

/* Everything one column needs, so that it can be handed on as one. */
struct column {
    const struct hbk_options *options;
    /* How to write figures; NULL for a plot in `format`. */
    void (*write)(const struct hbk_curves *curves, struct hbk_text *out);
    enum hbk_format format;
    struct hbk_sheet_options sheet;
    struct hbk_arena arena;
    struct hbk_faults faults;
};

/* The ending of --output, or --format; "" for neither. */
static const char *wanted(const struct hbk_options *options)
{
    if (options->json) {
        return "json";
    }
    if (options->format != NULL) {
        return options->format;
    }
    const char *const dot =
        options->output == NULL ? NULL : strrchr(options->output, '.');
    return dot == NULL || strchr(dot, '/') != NULL ? "" : dot + 1;
}

static int read_format(struct column *column)
{
    const struct hbk_options *const options = column->options;
    const char *const name = wanted(options);
    if (strcmp(name, "csv") == 0 || name[0] == '\0') {
        column->write = hbk_column_csv;
        return HBK_EXIT_DONE;
    }
    if (strcmp(name, "json") == 0) {
        column->write = hbk_column_json;
        return HBK_EXIT_DONE;
    }
    char ending[16] = ".";
    strncat(ending, name, sizeof(ending) - 2);
    if (!hbk_format_of(ending, &column->format)) {
        return hbk_usage("column", "a column is written as csv or json, or "
                                   "drawn as pdf, svg or png");
    }
    if (options->output == NULL) {
        return hbk_usage("column",
                         "say where the plot goes: -o column.pdf, or -o - "
                         "for standard output");
    }
    return HBK_EXIT_DONE;
}

static int read_sheet(struct column *column)
{
    const struct hbk_options *const options = column->options;
    if (options->n_words != 1) {
        return hbk_usage("column", "name one horn (see 'hornbook horns')");
    }
    if (options->paper != NULL &&
        !hbk_paper_parse(options->paper, &column->sheet.paper)) {
        return hbk_usage("column", "paper is A4, A5, A6 or Letter, not '%s'",
                         options->paper);
    }
    column->sheet.title = options->title;
    return read_format(column);
}

/* The presses of --fingering; the open horn when none is given. */
static int read_presses(const struct hbk_horn *horn,
                        const struct hbk_options *options,
                        const struct hbk_setting *setting,
                        uint32_t presses[HBK_CURVES_MAX])
{
    for (size_t i = 0; i < options->n_fingerings; i++) {
        const char *const label = options->fingerings[i];
        if (!hbk_horn_press_parse(horn, label, &presses[i])) {
            return hbk_usage("column",
                             "--fingering '%s': write 0, or keys and valves "
                             "of this horn like 1-3",
                             label);
        }
        if ((presses[i] & (setting->held_up | setting->held_down)) != 0) {
            return hbk_usage("column", "--fingering '%s' presses what is stuck",
                             label);
        }
        for (size_t k = 0; k < i; k++) {
            if (presses[k] == presses[i]) {
                return hbk_usage("column", "--fingering '%s' is given twice",
                                 label);
            }
        }
    }
    return HBK_EXIT_DONE;
}

static int draw(struct column *column, const struct hbk_curves *curves)
{
    const struct hbk_options *const options = column->options;
    struct hbk_fonts *fonts = NULL;
    enum hbk_status status =
        hbk_fonts_open(&column->arena, &fonts, &column->faults);
    char *bytes = NULL;
    size_t length = 0;
    if (status == HBK_OK) {
        const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
        struct hbk_sheet sheet = {.arena = &column->arena};
        hbk_sheet_curves(curves, &column->sheet, &ruler, &sheet);
        const struct hbk_render_job job = {
            .sheet = &sheet,
            .format = column->format,
            .dpi = isnan(options->dpi) ? HBK_DPI_USUAL : options->dpi};
        status = hbk_render(fonts, &job, &column->arena, &bytes, &length,
                            &column->faults);
    }
    hbk_fonts_close(fonts);
    return status == HBK_OK ? hbk_write_result(options->output, bytes, length,
                                               options->quiet)
                            : hbk_exit_of(status);
}

static int look(struct column *column, const struct hbk_horn *horn)
{
    const struct hbk_options *const options = column->options;
    struct hbk_setting setting;
    uint32_t presses[HBK_CURVES_MAX] = {0};
    int code = hbk_read_setting(horn, options, "column", &setting);
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
    struct hbk_curves curves;
    const enum hbk_status status = hbk_curves_compute(
        horn, &setting, &ask, &column->arena, &curves, &column->faults);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    if (column->write == NULL) {
        return draw(column, &curves);
    }
    struct hbk_text out = {.arena = &column->arena};
    column->write(&curves, &out);
    return hbk_write_result(options->output, out.bytes, out.length,
                            options->quiet);
}

int hbk_cmd_column(int argc, char *argv[])
{
    struct hbk_options options;
    if (!hbk_options_read(
            argc, argv, HBK_TAKES_SETTING | HBK_TAKES_OUTPUT | HBK_TAKES_COLUMN,
            &options)) {
        return HBK_EXIT_USAGE;
    }
    if (!isnan(options.lip_cents)) {
        return hbk_usage(argv[0], "--lip does not belong to this command");
    }
    struct column column = {.options = &options};
    int code = read_sheet(&column);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_horn horn = {0};
    code = hbk_load_horn(options.words[0], options.quiet, &horn);
    if (code == HBK_EXIT_DONE) {
        code = look(&column, &horn);
        hbk_print_faults(&column.faults, options.quiet);
    }
    hbk_arena_finish(&column.arena);
    hbk_horn_finish(&horn);
    return code;
}
