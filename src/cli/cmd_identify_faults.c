#include "cli/cmd_identify_faults.h"

#include "cli/horns_in.h"
#include "cli/output.h"
#include "fit/trouble.h"
#include "horn/about.h"
#include "reader/file_kind.h"
#include "reader/readings_file.h"
#include "report/troubles.h"

static int answer(const struct hbk_options *options,
                  const struct hbk_horn *horn,
                  const struct hbk_readings *readings, enum hbk_output output)
{
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_troubles found;
    struct hbk_text out = {.arena = &arena};
    const enum hbk_status status =
        hbk_trouble_find(horn, readings, &arena, &found, &faults);
    hbk_print_faults(&faults, options->quiet);
    int code = hbk_exit_of(status);
    if (code == HBK_EXIT_DONE) {
        if (output == HBK_OUT_JSON) {
            hbk_troubles_json(&found, &out);
        } else {
            hbk_troubles_text(&found, &out);
        }
        code = hbk_write_text(options, output, &out);
        code = code == HBK_EXIT_DONE && found.verdict == HBK_TROUBLE_MIXED
                   ? HBK_EXIT_NO
                   : code;
    }
    hbk_arena_finish(&arena);
    return code;
}

int hbk_identify_faults(const struct hbk_options *options)
{
    enum hbk_output output = HBK_OUT_TEXT;
    if (options->n_words != 2) {
        return hbk_usage("identify",
                         "--faults: name one horn, then a file of readings");
    }
    if (hbk_peek_kind(options->words[1]) == HBK_FILE_HORN) {
        return hbk_usage("identify",
                         "--faults: %s is a horn: name the horn first, then "
                         "its readings",
                         options->words[1]);
    }
    if (hbk_is_shipped_name(options, options->words[1], "a file of readings")) {
        return HBK_EXIT_USAGE;
    }
    int code = hbk_read_output(options, options->writes, HBK_OUT_TEXT,
                               "faults are", &output);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_readings readings = {0};
    struct hbk_horn *const horn = hbk_horn_new(&arena);
    code = hbk_load_horn(options->words[0], options->quiet, horn);
    if (code == HBK_EXIT_DONE) {
        code = hbk_exit_of(
            hbk_readings_read(options->words[1], &readings, &faults));
        hbk_print_faults(&faults, options->quiet);
    }
    if (code == HBK_EXIT_DONE) {
        code = answer(options, horn, &readings, output);
    }
    hbk_horn_finish(horn);
    hbk_readings_finish(&readings);
    hbk_arena_finish(&arena);
    return code;
}
