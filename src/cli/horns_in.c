#include "cli/horns_in.h"

#include "reader/shipped.h"

#include <unistd.h>

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

bool hbk_is_shipped_name(const struct hbk_options *options, const char *word,
                         const char *wanted)
{
    struct hbk_arena arena = {0};
    const char *nearest = NULL;
    const bool is = access(word, F_OK) != 0 &&
                    hbk_shipped_search(word, &arena, &nearest) != NULL;
    hbk_arena_finish(&arena);
    if (is) {
        (void)hbk_usage(options->command, "%s is a horn, and %s is wanted here",
                        word, wanted);
    }
    return is;
}
