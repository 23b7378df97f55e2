#include "reader/shipped.h"

#include "base/ending.h"
#include "base/messages.h"
#include "base/text.h"
#include "reader/shown.h"
#include "reader/value.h"

#include <dirent.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char ending[] = ".yaml";

bool hbk_shipped_is_path(const char *word)
{
    return strchr(word, '/') != NULL || hbk_ends_as_yaml(word) ||
           hbk_ends_as_tune(word) || strcmp(word, "-") == 0;
}

/* The folder that the running program lies in; NULL where nobody tells. */
static const char *program_folder(struct hbk_arena *arena)
{
    char path[PATH_MAX];
    const ssize_t length = readlink("/proc/self/exe", path, sizeof(path));
    if (length <= 0 || (size_t)length == sizeof(path)) {
        return NULL;
    }
    size_t folder = (size_t)length;
    while (folder > 0 && path[folder - 1] != '/') {
        folder--;
    }
    return hbk_arena_copy(arena, path, folder);
}

static bool is_folder(const char *path)
{
    struct stat there;
    return stat(path, &there) == 0 && S_ISDIR(there.st_mode);
}

/* Where the horns may be, in the order in which they are looked for. */
enum { NAMED, INSTALLED, BUILT, FIXED, PLACES };

static void list_places(struct hbk_arena *arena, const char *places[PLACES])
{
    const char *const named = getenv("HORNBOOK_INSTRUMENTS");
    const char *const own = program_folder(arena);
    places[NAMED] = named == NULL || named[0] == '\0' ? NULL : named;
    places[INSTALLED] = own == NULL ? NULL
                                    : hbk_arena_printf(arena, "%s%s", own,
                                                       HBK_DATA_FROM_PROGRAM);
    places[BUILT] =
        own == NULL ? NULL : hbk_arena_printf(arena, "%sinstruments", own);
    places[FIXED] = HBK_DATA_DIR;
}

static const char *data_folder(struct hbk_arena *arena)
{
    const char *places[PLACES];
    list_places(arena, places);
    if (places[NAMED] != NULL) {
        return places[NAMED];
    }
    for (int i = INSTALLED; i < FIXED; i++) {
        if (places[i] != NULL && is_folder(places[i])) {
            return places[i];
        }
    }
    return places[FIXED];
}

const char *hbk_shipped_tunes(struct hbk_arena *arena,
                              struct hbk_faults *faults)
{
    const char *places[PLACES];
    list_places(arena, places);
    for (int i = NAMED; i < PLACES; i++) {
        const char *const path =
            places[i] == NULL
                ? NULL
                : hbk_arena_printf(arena, "%s/../charts/primer-tunes.abc",
                                   places[i]);
        if (path != NULL && access(path, R_OK) == 0) {
            return path;
        }
    }
    hbk_fault_add(faults, (struct hbk_place){0}, HBK_H_NO_SHIPPED_TUNES,
                  "there is no primer-tunes.abc in the folder charts beside "
                  "%.300s; it comes with the program",
                  data_folder(arena));
    return NULL;
}

struct listing {
    struct hbk_arena *arena;
    const char *data; /* the folder of them all */
    struct hbk_shipped_horn *horns;
    size_t n, room;
};

static void add_horn(struct listing *list, const struct hbk_shipped_horn *horn)
{
    HBK_ARENA_GROW(list->arena, list->horns, list->n, list->room);
    list->horns[list->n++] = *horn;
}

static void add_folder(struct listing *list, const char *folder,
                       bool is_measured)
{
    const char *const path =
        hbk_arena_printf(list->arena, "%s/%s", list->data, folder);
    DIR *const dir = opendir(path);
    if (dir == NULL) {
        return;
    }
    for (const struct dirent *found = readdir(dir); found != NULL;
         found = readdir(dir)) {
        const char *const file = found->d_name;
        if (file[0] == '.' || !hbk_ends(file, ending)) {
            continue;
        }
        const struct hbk_shipped_horn horn = {
            .name = hbk_arena_copy(list->arena, file,
                                   strlen(file) - strlen(ending)),
            .path = hbk_arena_printf(list->arena, "%s/%s", path, file),
            .is_measured = is_measured,
        };
        add_horn(list, &horn);
    }
    (void)closedir(dir);
}

static int by_name(const void *a, const void *b)
{
    const struct hbk_shipped_horn *const first = a;
    const struct hbk_shipped_horn *const second = b;
    const int order = strcmp(first->name, second->name);
    return order != 0 ? order : strcmp(first->path, second->path);
}

size_t hbk_shipped_list(struct hbk_arena *arena,
                        const struct hbk_shipped_horn **horns)
{
    struct listing list = {.arena = arena, .data = data_folder(arena)};
    add_folder(&list, "patterns", false);
    add_folder(&list, "measured", true);
    if (list.n > 0) {
        qsort(list.horns, list.n, sizeof(*list.horns), by_name);
    }
    *horns = list.horns;
    return list.n;
}

const char *hbk_shipped_none(struct hbk_arena *arena)
{
    const struct hbk_shipped_horn *horns = NULL;
    return hbk_shipped_list(arena, &horns) > 0
               ? NULL
               : hbk_arena_printf(arena,
                                  "there are no horns in %.300s; set "
                                  "HORNBOOK_INSTRUMENTS to the folder that "
                                  "they are in",
                                  data_folder(arena));
}

const char *hbk_shipped_search(const char *name, struct hbk_arena *arena,
                               const char **nearest)
{
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(arena, &horns);
    const char **const names = HBK_ARENA_ARRAY(arena, const char *, n);
    for (size_t i = 0; i < n; i++) {
        if (strcmp(horns[i].name, name) == 0) {
            return horns[i].path;
        }
        names[i] = horns[i].name;
    }
    *nearest = hbk_text_nearest(name, names, n);
    return NULL;
}

const char *hbk_shipped_find(const char *word, struct hbk_arena *arena,
                             struct hbk_faults *faults)
{
    if (hbk_shipped_is_path(word)) {
        return word;
    }
    const char *nearest = NULL;
    const char *const path = hbk_shipped_search(word, arena, &nearest);
    const char *const none = path == NULL ? hbk_shipped_none(arena) : NULL;
    if (none != NULL) {
        hbk_fault_add(faults, (struct hbk_place){0}, HBK_H_NO_SHIPPED_HORNS,
                      "%s", none);
    } else if (path == NULL) {
        char shown[HBK_SHOWN_SIZE];
        hbk_fault_add(
            faults, (struct hbk_place){0}, HBK_H_NO_SUCH_HORN,
            "no horn called '%s' comes with the program%s%s%s; a file of "
            "your own is named with its ending, as in my-horn.yaml",
            hbk_shown(word, shown),
            nearest == NULL ? ": 'hornbook horns' lists those that do"
                            : ", but '",
            nearest == NULL ? "" : nearest, nearest == NULL ? "" : "' does");
    }
    return path;
}
