#include "cli/tune_in.h"

#include "cli/horns_in.h"
#include "horn/about.h"
#include "reader/file_kind.h"

/* Whether a word names a horn, or a file that says it is no tune; told. */
static bool is_no_tune(const struct hbk_options *options, const char *word)
{
    const char *const is = hbk_file_kind_is(hbk_peek_kind(word));
    if (is != NULL) {
        (void)hbk_usage(options->command, "%s: %s, and a tune is wanted here",
                        word, is);
    }
    return is != NULL || hbk_is_shipped_name(options, word, "a tune");
}

int hbk_load_tune(const struct hbk_options *options, const char *word,
                  const struct hbk_horn *horn,
                  struct hbk_tune_document *document)
{
    if (options->run == NULL && is_no_tune(options, word)) {
        return HBK_EXIT_USAGE;
    }
    struct hbk_faults faults = {0};
    struct hbk_tune_options which = {
        .tune = options->tune,
        .part = options->part,
        .voice = options->voice,
        .horn = horn == NULL ? NULL : hbk_horn_name(horn)};
    if (options->line != NULL && !hbk_line_parse(options->line, &which.line)) {
        return hbk_usage(options->command,
                         "--line takes top, bottom, or a "
                         "number from 1 to 9 counted from "
                         "the top, not '%s'",
                         options->line);
    }
    const enum hbk_status status =
        options->run != NULL
            ? hbk_tune_from_run("--run", options->run, document, &faults)
            : hbk_tune_read(word, &which, document, &faults);
    hbk_print_faults(&faults, options->quiet);
    return hbk_exit_of(status);
}

int hbk_read_perform_ask(const struct hbk_options *options, const char *octave,
                         struct hbk_perform_ask *ask)
{
    struct hbk_arena arena = {0};
    struct hbk_text why = {.arena = &arena};
    const struct hbk_move_words words = {
        .octave = options->octave == NULL ? octave : options->octave,
        .transpose = options->transpose,
        .to_key = options->to_key};
    *ask = (struct hbk_perform_ask){.tempo = options->tempo,
                                    .choices = options->choices,
                                    .from_sounding = options->from_sounding,
                                    .keep = options->keep,
                                    .only_departures = options->only_departures,
                                    .sounding = options->sounding};
    const int code =
        hbk_perform_ask_move(ask, &words, &why)
            ? HBK_EXIT_DONE
            : hbk_usage(options->command, "--%s", hbk_text_string(&why));
    hbk_arena_finish(&arena);
    return code;
}
