#include "cli/horns_in.h"

size_t hbk_read_horn_words(const struct hbk_options *options, size_t first,
                           struct hbk_arena *arena,
                           struct hbk_horn_words *words)
{
    size_t n_faulty = 0;
    *words = (struct hbk_horn_words){.arena = arena};
    for (size_t i = first; i < options->n_words; i++) {
        struct hbk_faults faults = {0};
        n_faulty +=
            hbk_horn_words_add(words, options->words[i], &faults) ? 0 : 1;
        hbk_print_faults(&faults, options->quiet);
    }
    return n_faulty;
}
