#include "cli/commands.h"

#include "base/ending.h"
#include "base/file.h"
#include "cli/horns_in.h"
#include "cli/output.h"
#include "edition/fit.h"
#include "fit/named.h"
#include "horn/about.h"
#include "reader/file_kind.h"
#include "reader/readings_file.h"
#include "report/fit.h"
#include "sheet/article/fit_sheet.h"

#include <string.h>

/* Everything one fit needs, so that it can be handed on as one. */
struct job {
    const struct hbk_options *options;
    struct hbk_options report; /* the same, but --output is --report */
    enum hbk_output kind;      /* of the report */
    struct hbk_sheet_options sheet;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_horn *horn;
    struct hbk_readings readings;
    struct hbk_fit fit;
};

/* A horn goes to a .yaml file, or with - to standard output. */
static bool is_horn_name(const char *path)
{
    return strcmp(path, "-") == 0 || hbk_ends_as_yaml(path);
}

/* Whether a result goes to standard output by its name. */
static bool is_printed(const char *path)
{
    return path != NULL && strcmp(path, "-") == 0;
}

static int read_usage(struct job *job)
{
    const struct hbk_options *const options = job->options;
    const bool has_readings = options->n_words == 2;
    if (!has_readings && (options->n_words != 1 || !options->key_names)) {
        return hbk_usage("fit", "name a horn and a file of readings, or with "
                                "--key-names a horn alone");
    }
    if (strcmp(options->words[0], "-") == 0) {
        return hbk_usage("fit", "the horn is read twice, so it must be a file; "
                                "the readings can come from -");
    }
    if (options->output != NULL && !is_horn_name(options->output)) {
        return hbk_usage(
            "fit",
            "'%s' is no name for a horn, which is yaml: write "
            "-o my-horn.yaml; the sheet goes to --report %s",
            options->output,
            strchr(options->output, '.') == NULL ? "fit.pdf" : options->output);
    }
    if (has_readings && hbk_peek_kind(options->words[0]) == HBK_FILE_READINGS &&
        hbk_peek_kind(options->words[1]) != HBK_FILE_READINGS) {
        return hbk_usage("fit",
                         "%s holds the readings: name the horn first, "
                         "then the readings",
                         options->words[0]);
    }
    if (has_readings &&
        hbk_is_shipped_name(options, options->words[1], "a file of readings")) {
        return HBK_EXIT_USAGE;
    }
    job->report = *options;
    job->report.output = options->report;
    job->report.json = options->json && is_printed(options->report);
    if (options->report == NULL) {
        return HBK_EXIT_DONE;
    }
    if (is_printed(options->report) && is_printed(options->output)) {
        return hbk_usage("fit", "-o and --report cannot both be standard "
                                "output; give one of them a name");
    }
    const int code = hbk_read_output(
        &job->report, HBK_OUT_TEXT | HBK_OUT_JSON | HBK_OUT_SHEETS,
        HBK_OUT_TEXT, "a report is", &job->kind);
    return code == HBK_EXIT_DONE ? hbk_read_paper(options, &job->sheet) : code;
}

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct job *const job = ctx;
    hbk_sheet_fit(&job->fit.report, &job->sheet, ruler, sheet);
    return HBK_OK;
}

static int write_report(struct job *job)
{
    struct hbk_text out = {.arena = &job->arena};
    if (job->kind == HBK_OUT_JSON) {
        hbk_fit_json(&job->fit.report, &out);
    } else if (job->kind == HBK_OUT_TEXT) {
        hbk_fit_text(&job->fit.report, &out);
    } else {
        return hbk_draw_sheet(&job->report, job->kind, lay, job, &job->arena,
                              &job->faults);
    }
    return hbk_write_text(&job->report, job->kind, &out);
}

static int write_horn(struct job *job)
{
    struct hbk_text out = {.arena = &job->arena};
    const enum hbk_status status =
        hbk_fit_write_horn(&job->fit, job->horn, &out, &job->faults);
    return status == HBK_OK
               ? hbk_write_result(job->options->output, hbk_text_string(&out),
                                  out.length, job->options->quiet)
               : HBK_EXIT_INPUT;
}

/* The report on standard output, unless it or the horn went there. */
static int tell(struct job *job)
{
    const struct hbk_options *const options = job->options;
    struct hbk_text out = {.arena = &job->arena};
    if (is_printed(options->output) || is_printed(options->report)) {
        return HBK_EXIT_DONE;
    }
    if (options->json) {
        hbk_fit_json(&job->fit.report, &out);
        return hbk_write_result(NULL, out.bytes, out.length, options->quiet);
    }
    hbk_fit_text(&job->fit.report, &out);
    if (options->output == NULL) {
        hbk_text_add(&out, "\nNothing was written; -o my-horn.yaml keeps "
                           "the fitted horn.\n");
    }
    return hbk_write_report(NULL, &out, options->quiet);
}

static enum hbk_status fit(struct job *job)
{
    const struct hbk_options *const options = job->options;
    const struct hbk_readings *read = NULL;
    if (options->n_words == 2) {
        HBK_TRY(
            hbk_readings_read(options->words[1], &job->readings, &job->faults));
        read = &job->readings;
    }
    return options->key_names ? hbk_fit_named(job->horn, read, &job->arena,
                                              &job->fit, &job->faults)
                              : hbk_fit_horn(job->horn, read, &job->arena,
                                             &job->fit, &job->faults);
}

static int run(struct job *job)
{
    const struct hbk_options *const options = job->options;
    const enum hbk_status status = fit(job);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    int code = HBK_EXIT_DONE;
    if (options->report != NULL) {
        /* What keeps it from being written is told before there is a horn. */
        code = hbk_exit_of(hbk_file_may_write(options->report, &job->faults));
    }
    if (code == HBK_EXIT_DONE && options->output != NULL) {
        code = write_horn(job);
        hbk_file_guard(options->output);
    }
    if (code == HBK_EXIT_DONE && options->report != NULL) {
        code = write_report(job);
    }
    return code == HBK_EXIT_DONE ? tell(job) : code;
}

int hbk_cmd_fit(const struct hbk_options *options)
{
    struct job job = {.options = options};
    int code = read_usage(&job);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    job.horn = hbk_horn_new(&job.arena);
    code = hbk_load_horn(options->words[0], options->quiet, job.horn);
    if (code == HBK_EXIT_DONE) {
        code = run(&job);
        hbk_print_faults(&job.faults, options->quiet);
    }
    hbk_readings_finish(&job.readings);
    hbk_horn_finish(job.horn);
    hbk_arena_finish(&job.arena);
    return code;
}
