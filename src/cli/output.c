#include "cli/output.h"

#include "base/file.h"
#include "cli/terminal.h"
#include "edition/file_names.h"
#include "render/fonts.h"

#include <math.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

static const struct {
    enum hbk_output output;
    const char *name, *ending;
} kinds[] = {{HBK_OUT_TEXT, "text", "txt"},
             {HBK_OUT_CSV, "csv", "csv"},
             {HBK_OUT_JSON, "json", "json"},
             {HBK_OUT_PDF, "pdf", "pdf"},
             {HBK_OUT_SVG, "svg", "svg"},
             {HBK_OUT_PNG, "png", "png"},
             {HBK_OUT_ABC, "abc", "abc"},
             {HBK_OUT_MUSICXML, "musicxml", "musicxml"},
             {HBK_OUT_MUSICXML, "musicxml", "xml"},
             {HBK_OUT_MXL, "mxl", "mxl"}};

enum { N_KINDS = sizeof(kinds) / sizeof(kinds[0]) };

const char *hbk_output_word(unsigned writes, size_t i)
{
    for (size_t k = 0; k < N_KINDS; k++) {
        const bool again = k > 0 && kinds[k].output == kinds[k - 1].output;
        if ((writes & kinds[k].output) != 0 && !again && i-- == 0) {
            return kinds[k].name;
        }
    }
    return NULL;
}

/* The ending of a path without its dot, or NULL. */
static const char *ending_of(const char *path)
{
    const char *const dot = path == NULL ? NULL : strrchr(path, '.');
    return dot == NULL || strchr(dot, '/') != NULL ? NULL : dot + 1;
}

/* Says what there is: "notes are written as text, csv or json". */
static int refuse(const struct hbk_options *options, unsigned allowed,
                  const char *what)
{
    struct hbk_arena arena = {0};
    struct hbk_text list = {.arena = &arena};
    const char *word = NULL;
    for (size_t i = 0; (word = hbk_output_word(allowed, i)) != NULL; i++) {
        const bool is_last = hbk_output_word(allowed, i + 1) == NULL;
        hbk_text_addf(&list, "%s%s",
                      i == 0    ? ""
                      : is_last ? " or "
                                : ", ",
                      word);
    }
    const int code =
        hbk_usage(options->command,
                  "%s written as %s; end the file name so, or give --format",
                  what, hbk_text_string(&list));
    hbk_arena_finish(&arena);
    return code;
}

/*
 * Whether a name without an ending leaves open what is meant: "-o chart". Not
 * so of standard output, a pipe or a device, which have no endings.
 */
static bool wants_ending(const struct hbk_options *options, unsigned allowed)
{
    struct stat there;
    const char *const path = options->output;
    const bool has_choice = (allowed & (allowed - 1)) != 0;
    return has_choice && path != NULL && options->format == NULL &&
           !options->json && ending_of(path) == NULL &&
           strcmp(path, "-") != 0 &&
           (stat(path, &there) != 0 || S_ISREG(there.st_mode));
}

int hbk_read_output(const struct hbk_options *options, unsigned allowed,
                    enum hbk_output usual, const char *what,
                    enum hbk_output *output)
{
    const char *const ending = ending_of(options->output);
    const char *const asked = options->format != NULL ? options->format
                              : options->json         ? "json"
                                                      : ending;
    *output = usual;
    bool known = asked == NULL;
    for (size_t i = 0; i < N_KINDS && !known; i++) {
        if ((allowed & kinds[i].output) != 0 &&
            (strcmp(asked, kinds[i].name) == 0 ||
             (asked == ending && strcasecmp(asked, kinds[i].ending) == 0))) {
            *output = kinds[i].output;
            known = true;
        }
    }
    if (wants_ending(options, allowed)) {
        known = false;
    }
    const bool torn =
        options->json &&
        (*output != HBK_OUT_JSON ||
         (ending != NULL && known && strcasecmp(ending, "csv") == 0));
    if (!known || torn) {
        return refuse(options, allowed, what);
    }
    if ((*output & HBK_OUT_SHEETS) != 0 && options->output == NULL) {
        return hbk_usage(options->command,
                         "say where the sheet goes: -o %s.pdf, or -o - for "
                         "standard output",
                         options->command);
    }
    return HBK_EXIT_DONE;
}

/* As long as the name in a horn file may be. */
enum { TITLE_COLUMNS_MAX = 120 };

int hbk_read_paper(const struct hbk_options *options,
                   struct hbk_sheet_options *sheet)
{
    if (options->paper != NULL &&
        !hbk_paper_parse(options->paper, &sheet->paper)) {
        return hbk_usage(options->command,
                         "paper is A3, A4, A5, A6 or Letter, not '%s'",
                         options->paper);
    }
    if (options->title != NULL &&
        (options->title[0] == '\0' ||
         hbk_text_columns(options->title) > TITLE_COLUMNS_MAX ||
         !hbk_text_is_utf8(options->title, strlen(options->title)))) {
        return hbk_usage(options->command,
                         "a title is UTF-8 text of 1 to %d letters",
                         TITLE_COLUMNS_MAX);
    }
    sheet->title = options->title;
    sheet->sounding = options->sounding;
    return HBK_EXIT_DONE;
}

int hbk_read_one_horn(const struct hbk_options *options,
                      const struct hbk_one_horn *asked, enum hbk_output *output,
                      struct hbk_sheet_options *sheet, struct hbk_horn *horn)
{
    if (options->n_words != 1) {
        return hbk_usage(options->command,
                         "name one horn (see 'hornbook horns')");
    }
    int code = hbk_read_output(options, asked->allowed, asked->usual,
                               asked->what, output);
    if (code == HBK_EXIT_DONE) {
        code = hbk_read_paper(options, sheet);
    }
    return code == HBK_EXIT_DONE
               ? hbk_load_horn(options->words[0], options->quiet, horn)
               : code;
}

/*
 * "wrote chart.svg, chart-2.svg" on standard error; not of standard output,
 * a pipe or a device.
 */
static void say_written(const char *path, size_t n_pages, bool quiet,
                        struct hbk_arena *arena)
{
    struct stat there;
    if (quiet || strcmp(path, "-") == 0 || stat(path, &there) != 0 ||
        !S_ISREG(there.st_mode)) {
        return;
    }
    hbk_terminal_wipe();
    for (size_t page = 0; page < n_pages; page++) {
        fprintf(stderr, "%s%s", page == 0 ? "wrote " : ", ",
                hbk_page_file_name(path, page, arena));
    }
    fputc('\n', stderr);
}

/* One file, with another beside it unless that is NULL. */
static int write_file(const struct hbk_outgoing *file,
                      const struct hbk_outgoing *beside, bool quiet)
{
    struct hbk_faults faults = {0};
    struct hbk_outgoing files[2] = {*file};
    const size_t n = beside == NULL ? 1 : 2;
    if (beside != NULL) {
        files[1] = *beside;
    }
    hbk_terminal_wipe();
    const enum hbk_status status = hbk_files_write(files, n, &faults);
    hbk_print_faults(&faults, quiet);
    if (status == HBK_OK) {
        struct hbk_arena arena = {0};
        for (size_t i = 0; i < n; i++) {
            say_written(files[i].path, 1, quiet, &arena);
        }
        hbk_arena_finish(&arena);
    }
    return hbk_exit_of(status);
}

int hbk_write_result(const char *path, const char *bytes, size_t length,
                     bool quiet)
{
    const struct hbk_outgoing file = {
        .path = path == NULL ? "-" : path, .bytes = bytes, .length = length};
    return write_file(&file, NULL, quiet);
}

int hbk_write_over(const struct hbk_options *options, const char *over,
                   const struct hbk_text *text)
{
    const struct hbk_outgoing file = {
        .path = options->output == NULL ? "-" : options->output,
        .bytes = hbk_text_string(text),
        .length = text->length,
        .over = over};
    return write_file(&file, options->with, options->quiet);
}

/* A report as it is laid out for where it goes. */
static void lay_report(const char *path, const struct hbk_text *report,
                       struct hbk_text *laid)
{
    const struct hbk_screen screen = hbk_terminal_of(path);
    hbk_screen_lay(&screen, hbk_text_string(report), laid);
}

int hbk_write_report(const char *path, const struct hbk_text *report,
                     bool quiet)
{
    struct hbk_arena arena = {0};
    struct hbk_text laid = {.arena = &arena};
    lay_report(path, report, &laid);
    const int code =
        hbk_write_result(path, hbk_text_string(&laid), laid.length, quiet);
    hbk_arena_finish(&arena);
    return code;
}

int hbk_write_text(const struct hbk_options *options, enum hbk_output output,
                   const struct hbk_text *text)
{
    struct hbk_arena arena = {0};
    struct hbk_text laid = {.arena = &arena};
    if (output == HBK_OUT_TEXT) {
        lay_report(options->output, text, &laid);
    }
    const struct hbk_text *const whole = output == HBK_OUT_TEXT ? &laid : text;
    const struct hbk_outgoing file = {
        .path = options->output == NULL ? "-" : options->output,
        .bytes = hbk_text_string(whole),
        .length = whole->length};
    const int code = write_file(&file, options->with, options->quiet);
    hbk_arena_finish(&arena);
    return code;
}

static int draw_pages(const struct hbk_options *options, enum hbk_format format,
                      struct hbk_fonts *fonts, const struct hbk_sheet *sheet,
                      struct hbk_arena *arena, struct hbk_faults *faults)
{
    const size_t n = format == HBK_PDF ? 1 : sheet->n_pages;
    const size_t n_beside = options->with == NULL ? 0 : 1;
    if (n > 1 && strcmp(options->output, "-") == 0) {
        return hbk_usage(options->command,
                         "there are %zu pages; name a file, or take pdf", n);
    }
    struct hbk_outgoing *const files =
        HBK_ARENA_ARRAY(arena, struct hbk_outgoing, n + n_beside);
    for (size_t page = 0; page < n; page++) {
        const struct hbk_render_job job = {
            .sheet = sheet,
            .format = format,
            .page = page,
            .dpi = isnan(options->dpi) ? HBK_DPI_USUAL : options->dpi};
        char *bytes = NULL;
        const enum hbk_status status =
            hbk_render(fonts, &job, arena, &bytes, &files[page].length, faults);
        if (status != HBK_OK) {
            return hbk_exit_of(status);
        }
        files[page].path = hbk_page_file_name(options->output, page, arena);
        files[page].bytes = bytes;
    }
    if (n_beside > 0) {
        files[n] = *options->with;
    }
    return hbk_exit_of(hbk_files_write(files, n + n_beside, faults));
}

int hbk_write_sheet(const struct hbk_options *options, enum hbk_output output,
                    struct hbk_fonts *fonts, const struct hbk_sheet *sheet,
                    struct hbk_faults *faults)
{
    const enum hbk_format format = output == HBK_OUT_SVG   ? HBK_SVG
                                   : output == HBK_OUT_PNG ? HBK_PNG
                                                           : HBK_PDF;
    struct hbk_arena arena = {0};
    const int code = draw_pages(options, format, fonts, sheet, &arena, faults);
    hbk_arena_finish(&arena);
    return code;
}

int hbk_draw_sheet(const struct hbk_options *options, enum hbk_output output,
                   hbk_lay_sheet *lay, void *ctx, struct hbk_arena *arena,
                   struct hbk_faults *faults)
{
    struct hbk_fonts *fonts = NULL;
    struct hbk_sheet sheet = {.arena = arena};
    enum hbk_status status = hbk_fonts_open(arena, &fonts, faults);
    if (status == HBK_OK) {
        const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
        status = lay(ctx, &ruler, &sheet);
    }
    const int code = status == HBK_OK ? hbk_write_sheet(options, output, fonts,
                                                        &sheet, faults)
                                      : hbk_exit_of(status);
    if (code == HBK_EXIT_DONE) {
        say_written(options->output, output == HBK_OUT_PDF ? 1 : sheet.n_pages,
                    options->quiet, arena);
        if (options->with != NULL) {
            say_written(options->with->path, 1, options->quiet, arena);
        }
    }
    hbk_fonts_close(fonts);
    return code;
}

void hbk_progress(bool quiet, size_t count, size_t n, const char *things)
{
    if (quiet || isatty(STDERR_FILENO) == 0) {
        return;
    }
    hbk_terminal_wipe(); /* a count says more than the time */
    if (count < n) {
        fprintf(stderr, "\r%zu of %zu %s ", count, n, things);
    } else {
        fprintf(stderr, "\r%*s\r", 48, "");
    }
    (void)fflush(stderr);
}
