#ifndef HBK_CLI_HORNS_IN_H
#define HBK_CLI_HORNS_IN_H

#include "cli/cli.h"
#include "reader/horn_words.h"

/*
 * The horns that the words of a command name, from the word `first` on; the
 * faults are printed. Returns how many folders hold no horn.
 */
size_t hbk_read_horn_words(const struct hbk_options *options, size_t first,
                           struct hbk_arena *arena,
                           struct hbk_horn_words *words);

/*
 * Whether a word that should name a file is that of a shipped horn, where no
 * file is so called. That is wrong usage, and told with what is `wanted`:
 * "a tune".
 */
bool hbk_is_shipped_name(const struct hbk_options *options, const char *word,
                         const char *wanted);

#endif
