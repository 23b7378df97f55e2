#include "cli/tune_in.h"

enum hbk_status hbk_read_tune(const struct hbk_options *options,
                              const char *word,
                              struct hbk_tune_document *document,
                              struct hbk_faults *faults)
{
    const struct hbk_tune_options which = {
        .tune = options->tune, .part = options->part, .voice = options->voice};
    return options->run != NULL
               ? hbk_tune_from_run(options->run, document, faults)
               : hbk_tune_read(word, &which, document, faults);
}

int hbk_load_tune(const struct hbk_options *options, const char *word,
                  struct hbk_tune_document *document)
{
    struct hbk_faults faults = {0};
    const enum hbk_status status =
        hbk_read_tune(options, word, document, &faults);
    hbk_print_faults(&faults, options->quiet);
    return hbk_exit_of(status);
}
