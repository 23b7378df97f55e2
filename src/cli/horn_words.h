#ifndef HBK_CLI_HORN_WORDS_H
#define HBK_CLI_HORN_WORDS_H

#include "cli/cli.h"

/*
 * The horns that the words of a command name. A word is a horn file, the
 * name of a shipped horn, or a folder: then it stands for the horn files in
 * it (*.yaml), in the order of their names; folders within it are not looked
 * into, and readings and orders that lie among them are passed over with a
 * line. A shipped name goes before a folder of that name.
 */
struct hbk_horn_words {
    size_t n;
    const char *const *words; /* in the arena, or of the options */
    size_t n_faulty; /* folders that hold no horn, told on standard error */
};

/* What the first name in a YAML file says it is. */
enum hbk_file_kind {
    HBK_FILE_OTHER, /* also what cannot be opened */
    HBK_FILE_HORN,
    HBK_FILE_READINGS,
    HBK_FILE_ORDER
};

enum hbk_file_kind hbk_peek_kind(const char *path);

/* first   index of the first word that names a horn */
void hbk_read_horn_words(const struct hbk_options *options, size_t first,
                         struct hbk_arena *arena, struct hbk_horn_words *words);

#endif
