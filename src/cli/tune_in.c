#include "cli/tune_in.h"

int hbk_load_tune(const struct hbk_options *options, const char *word,
                  struct hbk_tune_document *document)
{
    const struct hbk_tune_options which = {
        .tune = options->tune, .part = options->part, .voice = options->voice};
    struct hbk_faults faults = {0};
    const enum hbk_status status =
        hbk_tune_read(word, &which, document, &faults);
    hbk_print_faults(&faults, options->quiet);
    return hbk_exit_of(status);
}
