#ifndef HBK_READER_SHIPPED_H
#define HBK_READER_SHIPPED_H

#include "base/arena.h"
#include "base/fault.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * The horns that come with the program: <name>.yaml in the folders
 * `patterns` and `measured` of the data folder. That is the environment's
 * HORNBOOK_INSTRUMENTS where that is set; else the one that lies where the
 * install put it, seen from the program, so that both can be moved together;
 * else `instruments` beside the program, as in a build folder; else the one
 * that the install names.
 */
struct hbk_shipped_horn {
    const char *name; /* "cornet-b-flat" */
    const char *path;
    bool is_measured; /* from a real object; else a generic pattern */
};

/*
 * Whether a word is a path: it has a slash, ends as YAML or as a tune, or is
 * "-".
 */
bool hbk_shipped_is_path(const char *word);

/*
 * The path of the horn a user names: the word itself if it is a path, else
 * where the shipped horn of that name is. NULL, with the nearest name in a
 * fault, when there is none. Lives in the arena (or is `word`).
 */
const char *hbk_shipped_find(const char *word, struct hbk_arena *arena,
                             struct hbk_faults *faults);

/* The sentence that says that there is no shipped horn, and where; or NULL. */
const char *hbk_shipped_none(struct hbk_arena *arena);

/*
 * The path of the shipped horn of that name, or NULL; `nearest` then receives
 * the name most like it, or NULL.
 */
const char *hbk_shipped_search(const char *name, struct hbk_arena *arena,
                               const char **nearest);

/*
 * All shipped horns, in the order of their names; returns how many. 0 when
 * the data folder cannot be read.
 */
size_t hbk_shipped_list(struct hbk_arena *arena,
                        const struct hbk_shipped_horn **horns);

/*
 * The path of the easy tunes that come with the program: primer-tunes.abc in
 * the folder `charts` beside that of the horns, in the first of the places
 * named above that has it. NULL, with a fault, when none has. Lives in the
 * arena.
 */
const char *hbk_shipped_tunes(struct hbk_arena *arena,
                              struct hbk_faults *faults);

#endif
