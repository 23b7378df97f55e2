#include "cli/cli.h"

#include "base/text.h"
#include "render/render.h"
#include "sheet/chart.h"
#include "solve/solve.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* As long as the name in a horn file may be. */
enum { TITLE_COLUMNS_MAX = 120 };

/* Everything one chart needs, so that it can be handed on as one. */
struct chart {
    const struct hbk_options *options;
    enum hbk_format format;
    enum hbk_layout layout;
    struct hbk_sheet_options sheet;
    struct hbk_arena arena;
    struct hbk_faults faults;
};

/* "bugle.svg" for the first page, "bugle-2.svg" for the second. */
static const char *page_path(struct chart *chart, size_t page)
{
    const char *const path = chart->options->output;
    if (page == 0 || strcmp(path, "-") == 0) {
        return path;
    }
    const char *const slash = strrchr(path, '/');
    const char *const name = slash == NULL ? path : slash + 1;
    const char *const dot = strrchr(name, '.');
    const char *const end = dot == NULL ? name + strlen(name) : dot;
    return hbk_arena_printf(&chart->arena, "%.*s-%zu%s", (int)(end - path),
                            path, page + 1, end);
}

/* What one file of the chart will hold. */
struct drawn {
    const char *path;
    char *bytes;
    size_t length;
};

/*
 * Writes all files or none: what was written before a failure is taken away
 * again, unless it stood there before (then it is the new page, whole).
 */
static int write_files(struct chart *chart, size_t n, const struct drawn *files)
{
    for (size_t i = 0; i < n; i++) {
        const int code =
            hbk_write_result(files[i].path, files[i].bytes, files[i].length,
                             chart->options->quiet);
        if (code != HBK_EXIT_DONE) {
            while (i > 0) {
                (void)remove(files[--i].path);
            }
            return code;
        }
    }
    return HBK_EXIT_DONE;
}

static int write_pages(struct chart *chart, struct hbk_fonts *fonts,
                       const struct hbk_sheet *sheet)
{
    const bool one_file = chart->format == HBK_PDF;
    const size_t n = one_file ? 1 : sheet->n_pages;
    if (n > 1 && strcmp(chart->options->output, "-") == 0) {
        return hbk_usage("chart",
                         "this chart has %zu pages; name a file, or "
                         "take pdf",
                         n);
    }
    struct drawn *const files = HBK_ARENA_ARRAY(&chart->arena, struct drawn, n);
    for (size_t page = 0; page < n; page++) {
        const struct hbk_render_job job = {.sheet = sheet,
                                           .format = chart->format,
                                           .page = page,
                                           .dpi = isnan(chart->options->dpi)
                                                      ? HBK_DPI_USUAL
                                                      : chart->options->dpi};
        files[page].path = page_path(chart, page);
        const enum hbk_status status =
            hbk_render(fonts, &job, &chart->arena, &files[page].bytes,
                       &files[page].length, &chart->faults);
        if (status != HBK_OK) {
            return hbk_exit_of(status);
        }
    }
    return write_files(chart, n, files);
}

static int draw(struct chart *chart, const struct hbk_horn *horn)
{
    struct hbk_setting setting;
    const int usable =
        hbk_read_setting(horn, chart->options, "chart", &setting);
    if (usable != HBK_EXIT_DONE) {
        return usable;
    }
    struct hbk_notes notes;
    enum hbk_status status =
        hbk_solve(horn, &setting, &chart->arena, &notes, &chart->faults);
    struct hbk_fonts *fonts = NULL;
    if (status == HBK_OK) {
        status = hbk_fonts_open(&chart->arena, &fonts, &chart->faults);
    }
    struct hbk_sheet sheet = {.arena = &chart->arena};
    if (status == HBK_OK) {
        const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
        status = hbk_sheet_chart(chart->layout, &notes, &chart->sheet, &ruler,
                                 &sheet);
    }
    const int code = status == HBK_OK ? write_pages(chart, fonts, &sheet)
                                      : hbk_exit_of(status);
    hbk_fonts_close(fonts);
    hbk_print_faults(&chart->faults, chart->options->quiet);
    return code;
}

static bool read_format(const struct hbk_options *options,
                        enum hbk_format *format)
{
    if (options->format == NULL) {
        return hbk_format_of(options->output, format);
    }
    char name[16] = ".";
    strncat(name, options->format, sizeof(name) - 2);
    return hbk_format_of(name, format);
}

/* What the sheet options ask for; HBK_EXIT_DONE or the usage told. */
static int read_sheet(const struct hbk_options *options, struct chart *chart)
{
    if (options->n_words != 1) {
        return hbk_usage("chart", "name one horn (see 'hornbook horns')");
    }
    if (options->output == NULL) {
        return hbk_usage("chart", "say where the chart goes: -o chart.pdf");
    }
    if (!read_format(options, &chart->format)) {
        return hbk_usage("chart", "a chart is a pdf, svg or png; end the file "
                                  "name so, or give --format");
    }
    if (options->layout != NULL &&
        !hbk_layout_parse(options->layout, &chart->layout)) {
        return hbk_usage("chart", "there is no layout '%s'; there is %s",
                         options->layout, hbk_layout_words(&chart->arena));
    }
    if (options->paper != NULL &&
        !hbk_paper_parse(options->paper, &chart->sheet.paper)) {
        return hbk_usage("chart", "paper is A4, A5, A6 or Letter, not '%s'",
                         options->paper);
    }
    if (!hbk_layout_takes(chart->layout, chart->sheet.paper)) {
        return hbk_usage("chart", "a %s chart needs paper of A5 or larger",
                         hbk_layout_name(chart->layout));
    }
    if (options->title != NULL &&
        (options->title[0] == '\0' ||
         hbk_text_columns(options->title) > TITLE_COLUMNS_MAX ||
         !hbk_text_is_utf8(options->title, strlen(options->title)))) {
        return hbk_usage("chart", "a title is UTF-8 text of 1 to %d letters",
                         TITLE_COLUMNS_MAX);
    }
    chart->sheet.title = options->title;
    chart->sheet.sounding = options->sounding;
    return HBK_EXIT_DONE;
}

int hbk_cmd_chart(int argc, char *argv[])
{
    struct hbk_options options;
    if (!hbk_options_read(argc, argv,
                          HBK_TAKES_SETTING | HBK_TAKES_OUTPUT |
                              HBK_TAKES_SHEET | HBK_TAKES_NAMES,
                          &options)) {
        return HBK_EXIT_USAGE;
    }
    struct chart chart = {.options = &options};
    struct hbk_horn horn = {0};
    int code = read_sheet(&options, &chart);
    if (code == HBK_EXIT_DONE) {
        code = hbk_load_horn(options.words[0], options.quiet, &horn);
    }
    if (code == HBK_EXIT_DONE) {
        code = draw(&chart, &horn);
    }
    hbk_arena_finish(&chart.arena);
    hbk_horn_finish(&horn);
    return code;
}
