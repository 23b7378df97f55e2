#include "cli/commands.h"

#include "cli/cmd_identify_faults.h"
#include "cli/horns_in.h"
#include "cli/output.h"
#include "fit/identify.h"
#include "horn/about.h"
#include "reader/file_kind.h"
#include "reader/readings_file.h"
#include "report/identify.h"

/* The horns that could be read, and what became of the others. */
struct lot {
    const struct hbk_options *options;
    struct hbk_arena arena;
    struct hbk_readings readings;
    size_t n_words;
    size_t n;
    struct hbk_horn **horns;
    const struct hbk_horn **good;
    int passed_over; /* exit code of the first word that was refused */
};

static int read_readings(struct lot *lot)
{
    struct hbk_faults faults = {0};
    const enum hbk_status status =
        hbk_readings_read(lot->options->words[0], &lot->readings, &faults);
    hbk_print_faults(&faults, lot->options->quiet);
    return hbk_exit_of(status);
}

static void read_horns(struct lot *lot)
{
    struct hbk_horn_words words;
    const size_t n_faulty =
        hbk_read_horn_words(lot->options, 1, &lot->arena, &words);
    const size_t n = words.n;
    lot->n_words = n;
    lot->passed_over = n_faulty > 0 ? HBK_EXIT_INPUT : HBK_EXIT_DONE;
    lot->horns = HBK_ARENA_ARRAY(&lot->arena, struct hbk_horn *, n);
    lot->good = HBK_ARENA_ARRAY(&lot->arena, const struct hbk_horn *, n);
    for (size_t i = 0; i < n; i++) {
        lot->horns[i] = hbk_horn_new(&lot->arena);
        const int code =
            hbk_load_horn(words.words[i], lot->options->quiet, lot->horns[i]);
        if (code == HBK_EXIT_DONE) {
            lot->good[lot->n++] = lot->horns[i];
        } else if (lot->passed_over == HBK_EXIT_DONE) {
            lot->passed_over = code;
        }
    }
}

static int answer(struct lot *lot, enum hbk_output output)
{
    struct hbk_identified found;
    struct hbk_text out = {.arena = &lot->arena};
    const enum hbk_status status =
        hbk_identify(lot->n, lot->good, &lot->readings, &lot->arena, &found);
    if (output == HBK_OUT_JSON) {
        hbk_identify_json(&found, &out);
    } else {
        hbk_identify_text(&found, &out);
    }
    const int code = hbk_write_text(lot->options, output, &out);
    const bool is_no = status != HBK_OK || lot->passed_over != HBK_EXIT_DONE;
    return code == HBK_EXIT_DONE && is_no ? HBK_EXIT_NO : code;
}

int hbk_cmd_identify(const struct hbk_options *options)
{
    if (options->faults) {
        return hbk_identify_faults(options);
    }
    if (options->n_words < 2) {
        return hbk_usage("identify", "name a file of readings, then the horns "
                                     "whose layouts it may be");
    }
    if (hbk_peek_kind(options->words[0]) == HBK_FILE_HORN) {
        return hbk_usage("identify",
                         "%s is a horn: name the readings first, "
                         "then the horns",
                         options->words[0]);
    }
    if (hbk_is_shipped_name(options, options->words[0], "a file of readings")) {
        return HBK_EXIT_USAGE;
    }
    enum hbk_output output = HBK_OUT_TEXT;
    int code = hbk_read_output(options, options->writes, HBK_OUT_TEXT,
                               "layouts are", &output);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct lot lot = {.options = options};
    code = read_readings(&lot);
    if (code == HBK_EXIT_DONE) {
        read_horns(&lot);
        code = lot.n == 0 ? lot.passed_over : answer(&lot, output);
    }
    for (size_t i = 0; i < lot.n_words; i++) {
        hbk_horn_finish(lot.horns[i]);
    }
    hbk_readings_finish(&lot.readings);
    hbk_arena_finish(&lot.arena);
    return code;
}
