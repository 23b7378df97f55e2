#ifndef HBK_READER_HORN_WORDS_H
#define HBK_READER_HORN_WORDS_H

#include "base/arena.h"
#include "base/fault.h"

#include <stdbool.h>

/*
 * The horns that words name. Zero-initialise but for the arena, which owns
 * the list and the paths found; other words are borrowed.
 */
struct hbk_horn_words {
    struct hbk_arena *arena;
    size_t n, room;
    const char **words; /* each a horn file or the name of a shipped horn */
};

/*
 * Adds what a word names: a horn file, a shipped horn, or a folder: then it
 * stands for the horn files in it (*.yaml), in the order of their names;
 * folders within it are not looked into, and readings and orders that lie
 * among them are passed over with a warning. A shipped name goes before a
 * folder of that name. Nothing is opened but to tell readings and orders.
 *
 * Returns false, with the reason in `faults`, for a folder without horns.
 */
bool hbk_horn_words_add(struct hbk_horn_words *list, const char *word,
                        struct hbk_faults *faults);

#endif
