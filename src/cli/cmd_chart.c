#include "cli/commands.h"

#include "cli/output.h"
#include "cli/setting.h"
#include "edition/beside.h"
#include "horn/about.h"
#include "passage/trill.h"
#include "sheet/chart/chart.h"
#include "solve/solve.h"

/* Everything one chart needs, so that it can be handed on as one. */
struct chart {
    const struct hbk_options *options;
    enum hbk_output output;
    enum hbk_layout layout;
    struct hbk_sheet_options sheet;
    struct hbk_horn *known; /* of --beside */
    struct hbk_notes known_notes;
    struct hbk_notes notes;
    struct hbk_arena arena;
    struct hbk_faults faults;
};

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct chart *const chart = ctx;
    return hbk_sheet_chart(chart->layout, &chart->notes, &chart->sheet, ruler,
                           sheet);
}

static int draw(struct chart *chart, const struct hbk_horn *horn)
{
    struct hbk_setting setting;
    const int usable = hbk_read_setting(horn, chart->options, &setting);
    if (usable != HBK_EXIT_DONE) {
        return usable;
    }
    enum hbk_status status =
        hbk_solve(horn, &setting, &chart->arena, &chart->notes, &chart->faults);
    if (status == HBK_OK && chart->options->beside != NULL) {
        const struct hbk_wishes wishes = hbk_wishes_of(chart->options);
        status = hbk_solve_beside(chart->known, &wishes, &chart->arena,
                                  &chart->known_notes, &chart->faults);
        chart->sheet.beside = &chart->known_notes;
    }
    if (status == HBK_OK && hbk_layout_shows_trills(chart->layout)) {
        chart->sheet.trills = hbk_trills_of(&chart->notes, &chart->arena);
    }
    const int code = status == HBK_OK
                         ? hbk_draw_sheet(chart->options, chart->output, lay,
                                          chart, &chart->arena, &chart->faults)
                         : hbk_exit_of(status);
    hbk_print_faults(&chart->faults, chart->options->quiet);
    return code;
}

/* What the sheet options ask for; HBK_EXIT_DONE or the usage told. */
static int read_sheet(const struct hbk_options *options, struct chart *chart)
{
    if (options->n_words != 1) {
        return hbk_usage("chart", "name one horn (see 'hornbook horns')");
    }
    if (options->layout != NULL &&
        !hbk_layout_parse(options->layout, &chart->layout)) {
        return hbk_usage("chart", "there is no layout '%s'; there is %s",
                         options->layout, hbk_layout_words(&chart->arena));
    }
    if (options->large && options->layout != NULL) {
        return hbk_usage("chart", "--large is a layout of its own; leave out "
                                  "--layout");
    }
    if (options->beside != NULL && !hbk_layout_compares(chart->layout)) {
        return hbk_usage("chart", "--beside goes with the plate, wall and "
                                  "stand layouts");
    }
    if (options->output == NULL) {
        return hbk_usage("chart", "say where the chart goes: -o chart.pdf");
    }
    int code = hbk_read_output(options, options->writes, 0, "a chart is",
                               &chart->output);
    if (code == HBK_EXIT_DONE) {
        code = hbk_read_paper(options, &chart->sheet);
    }
    if (options->large) {
        chart->layout = HBK_LAYOUT_LARGE;
    } else if (options->layout == NULL) {
        chart->layout = hbk_layout_usual(chart->sheet.paper);
    }
    if (code == HBK_EXIT_DONE &&
        !hbk_layout_takes(chart->layout, chart->sheet.paper)) {
        return hbk_usage("chart", "a %s chart needs paper of %s",
                         hbk_layout_name(chart->layout),
                         hbk_layout_papers(chart->layout));
    }
    return code;
}

int hbk_cmd_chart(const struct hbk_options *options)
{
    struct chart chart = {.options = options};
    struct hbk_horn *const horn = hbk_horn_new(&chart.arena);
    chart.known = hbk_horn_new(&chart.arena);
    int code = read_sheet(options, &chart);
    if (code == HBK_EXIT_DONE) {
        code = hbk_load_horn(options->words[0], options->quiet, horn);
    }
    if (code == HBK_EXIT_DONE && options->beside != NULL) {
        code = hbk_load_horn(options->beside, options->quiet, chart.known);
    }
    if (code == HBK_EXIT_DONE) {
        code = draw(&chart, horn);
    }
    hbk_horn_finish(horn);
    hbk_horn_finish(chart.known);
    hbk_arena_finish(&chart.arena);
    return code;
}
