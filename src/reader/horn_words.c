#include "reader/horn_words.h"

#include "base/ending.h"
#include "base/messages.h"
#include "reader/file_kind.h"
#include "reader/shipped.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static void add(struct hbk_horn_words *list, const char *word)
{
    HBK_ARENA_GROW(list->arena, list->words, list->n, list->room);
    list->words[list->n++] = word;
}

static bool is_folder(const char *path)
{
    struct stat found;
    return stat(path, &found) == 0 && S_ISDIR(found.st_mode);
}

static bool is_horn_file(const char *name)
{
    return name[0] != '.' && hbk_ends_as_yaml(name);
}

/*
 * What a folder holds besides files; NULL for a file, and for what cannot be
 * found out, which is told when it is read.
 */
static const char *what_else(const char *path)
{
    struct stat found;
    if (stat(path, &found) != 0 || S_ISREG(found.st_mode)) {
        return NULL;
    }
    return S_ISDIR(found.st_mode)    ? "a folder"
           : S_ISFIFO(found.st_mode) ? "a pipe"
           : S_ISSOCK(found.st_mode) ? "a socket"
                                     : "a device";
}

/* Reading a pipe of a folder would wait for somebody to write into it. */
static bool is_no_file(const char *path, struct hbk_faults *faults)
{
    const char *const what = what_else(path);
    if (what != NULL) {
        hbk_fault_warn(faults, (struct hbk_place){.file = path},
                       HBK_H_HORN_NOT_A_FILE,
                       "this is %s and no horn file; it is passed over", what);
    }
    return what != NULL;
}

/* Readings and orders often lie beside the horns they are about. */
static bool is_other_file(const char *path, struct hbk_faults *faults)
{
    const enum hbk_file_kind kind = hbk_peek_kind(path);
    if (kind != HBK_FILE_READINGS && kind != HBK_FILE_ORDER) {
        return false;
    }
    hbk_fault_warn(faults, (struct hbk_place){.file = path}, HBK_H_NO_HORN_FILE,
                   "this file holds %s and no horn; it is passed over",
                   kind == HBK_FILE_READINGS ? "readings" : "an order");
    return true;
}

static int by_name(const void *a, const void *b)
{
    const char *const *const x = a;
    const char *const *const y = b;
    return strcmp(*x, *y);
}

/* The horn files of a folder, sorted; false when there are none, told. */
static bool add_folder(struct hbk_horn_words *list, const char *folder,
                       struct hbk_faults *faults)
{
    const struct hbk_place place = {.file = folder};
    DIR *const dir = opendir(folder);
    if (dir == NULL) {
        hbk_fault_add(faults, place, HBK_H_NO_LISTING,
                      "the folder cannot be looked through: %s",
                      strerror(errno));
        return false;
    }
    const size_t first = list->n;
    const size_t length = strlen(folder);
    const char *const slash = folder[length - 1] == '/' ? "" : "/";
    for (const struct dirent *entry = readdir(dir); entry != NULL;
         entry = readdir(dir)) {
        if (!is_horn_file(entry->d_name)) {
            continue;
        }
        const char *const path = hbk_arena_printf(list->arena, "%s%s%s", folder,
                                                  slash, entry->d_name);
        if (!is_no_file(path, faults) && !is_other_file(path, faults)) {
            add(list, path);
        }
    }
    (void)closedir(dir);
    if (list->n == first) {
        hbk_fault_add(faults, place, HBK_H_NO_HORNS,
                      "there is no horn file in this folder; their names end "
                      "in .yaml, and folders within it are named on their "
                      "own");
        return false;
    }
    qsort((void *)(list->words + first), list->n - first, sizeof(*list->words),
          by_name);
    return true;
}

/* Whether a word stands for a folder and not for a shipped horn. */
static bool means_folder(const char *word, struct hbk_arena *arena)
{
    const char *nearest = NULL;
    return is_folder(word) &&
           (hbk_shipped_is_path(word) ||
            hbk_shipped_search(word, arena, &nearest) == NULL);
}

bool hbk_horn_words_add(struct hbk_horn_words *list, const char *word,
                        struct hbk_faults *faults)
{
    if (means_folder(word, list->arena)) {
        return add_folder(list, word, faults);
    }
    add(list, word);
    return true;
}
