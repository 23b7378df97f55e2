#ifndef HBK_EDITION_FILE_NAMES_H
#define HBK_EDITION_FILE_NAMES_H

#include "reader/order_file.h"

/*
 * The names of the files, without folder and ending, for every sheet of
 * every player in turn: names[player][sheet]. They hold small letters of
 * ASCII, figures and - _ only, no two are alike, and none is the name of a
 * further page of another. Live in the arena.
 */
const char *const *const *hbk_order_names(const struct hbk_order *order,
                                          struct hbk_arena *arena);

/*
 * The file that a page of a sheet goes into, when each has one of its own:
 * "bugle.svg" for page 0, "bugle-2.svg" for page 1; "-", standard output, is
 * left as it is. `path` is what the user gave; lives in the arena or is `path`.
 */
const char *hbk_page_file_name(const char *path, size_t page,
                               struct hbk_arena *arena);

#endif
