#include "reader/tree_edit.h"

#include "base/number.h"

#include <stdio.h>
#include <string.h>

struct editor {
    const struct hbk_horn_changes *changes;
    struct hbk_arena *arena;
};

/* A change whose path has been followed down to a node. */
struct pending {
    const char *const *path;
    const struct hbk_horn_change *change;
};

struct hbk_node hbk_tree_scalar(const char *text, bool is_quoted)
{
    return (struct hbk_node){
        .kind = HBK_SCALAR, .text = text, .is_quoted = is_quoted};
}

struct hbk_node hbk_tree_with(const struct hbk_node *map, const char *name,
                              struct hbk_node value, struct hbk_arena *arena)
{
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(arena, struct hbk_entry, map->n + 1);
    struct hbk_node changed = *map;
    size_t at = map->n;
    for (size_t i = 0; i < map->n; i++) {
        entries[i] = map->entries[i];
        at = strcmp(entries[i].name, name) == 0 ? i : at;
    }
    changed.n += at == map->n ? 1 : 0;
    entries[at] = (struct hbk_entry){.name = name, .value = value};
    changed.entries = entries;
    return changed;
}

static bool is_at(const struct hbk_node *node, struct hbk_place place)
{
    return place.line > 0 && node->place.line == place.line &&
           node->place.column == place.column &&
           (node->place.file == place.file ||
            (node->place.file != NULL && place.file != NULL &&
             strcmp(node->place.file, place.file) == 0));
}

/* Those that follow the path into an item; how many. */
static size_t follow(size_t n, const struct pending from[], const char *name,
                     struct pending into[])
{
    size_t found = 0;
    for (size_t i = 0; i < n; i++) {
        if (from[i].path[0] != NULL && strcmp(from[i].path[0], name) == 0) {
            into[found++] = (struct pending){from[i].path + 1, from[i].change};
        }
    }
    return found;
}

/* Whether "crook=A" means this item of a list. */
static bool means(const char *word, const struct hbk_node *item)
{
    const char *const sign = strchr(word, '=');
    if (sign == NULL || item->kind != HBK_MAP) {
        return false;
    }
    for (size_t i = 0; i < item->n; i++) {
        const struct hbk_entry *const entry = &item->entries[i];
        if (strlen(entry->name) == (size_t)(sign - word) &&
            strncmp(entry->name, word, (size_t)(sign - word)) == 0) {
            return entry->value.kind == HBK_SCALAR &&
                   strcmp(entry->value.text, sign + 1) == 0;
        }
    }
    return false;
}

/* A branch with what a path that leads beyond it builds there. */
static struct hbk_node grown(const struct editor *e, const struct hbk_node *old,
                             const char *const *path, const char *text)
{
    static const struct hbk_node empty = {.kind = HBK_MAP};
    if (path[0] == NULL) {
        return hbk_tree_scalar(text, false);
    }
    const struct hbk_node *const base =
        old != NULL && old->kind == HBK_MAP ? old : &empty;
    const struct hbk_entry *const entry = hbk_node_entry(base, path[0]);
    return hbk_tree_with(
        base, path[0],
        grown(e, entry == NULL ? NULL : &entry->value, path + 1, text),
        e->arena);
}

static struct hbk_node rebuild(const struct editor *e,
                               const struct hbk_node *node, size_t n,
                               const struct pending given[]);

static struct hbk_node rebuild_map(const struct editor *e,
                                   const struct hbk_node *node, size_t n,
                                   const struct pending here[],
                                   struct pending into[])
{
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(e->arena, struct hbk_entry, node->n);
    struct hbk_node changed = *node;
    changed.entries = entries;
    for (size_t i = 0; i < node->n; i++) {
        entries[i] = node->entries[i];
        const size_t found = follow(n, here, entries[i].name, into);
        entries[i].value = rebuild(e, &node->entries[i].value, found, into);
    }
    for (size_t i = 0; i < n; i++) {
        const char *const name = here[i].path[0];
        if (name != NULL && hbk_node_entry(node, name) == NULL &&
            !here[i].change->if_there) {
            changed = grown(e, &changed, here[i].path, here[i].change->text);
        }
    }
    return changed;
}

static struct hbk_node rebuild_list(const struct editor *e,
                                    const struct hbk_node *node, size_t n,
                                    const struct pending here[],
                                    struct pending into[])
{
    struct hbk_node *const items =
        HBK_ARENA_ARRAY(e->arena, struct hbk_node, node->n);
    struct hbk_node changed = *node;
    changed.items = items;
    for (size_t i = 0; i < node->n; i++) {
        char number[24];
        (void)snprintf(number, sizeof(number), "%zu", i);
        size_t found = follow(n, here, number, into);
        for (size_t k = 0; k < n; k++) {
            if (here[k].path[0] != NULL &&
                means(here[k].path[0], &node->items[i])) {
                into[found++] =
                    (struct pending){here[k].path + 1, here[k].change};
            }
        }
        items[i] = rebuild(e, &node->items[i], found, into);
    }
    return changed;
}

/* The node with what was pending for it, and what counts from its place. */
static struct hbk_node rebuild(const struct editor *e,
                               const struct hbk_node *node, size_t n,
                               const struct pending given[])
{
    const struct hbk_horn_changes *const changes = e->changes;
    /* Only here is room made, so that plain branches cost nothing. */
    struct hbk_arena scratch = {0};
    struct pending *const here =
        HBK_ARENA_ARRAY(&scratch, struct pending, 2 * (n + changes->n) + 1);
    struct pending *const into = here + n + changes->n;
    size_t total = n;
    if (n > 0) {
        memcpy(here, given, n * sizeof(*here));
    }
    for (size_t i = 0; i < changes->n; i++) {
        const struct hbk_horn_change *const change = &changes->items[i];
        const bool wants_map = change->path[0] != NULL;
        if (is_at(node, change->at) && (node->kind == HBK_MAP) == wants_map) {
            here[total++] = (struct pending){change->path, change};
        }
    }
    struct hbk_node changed = *node;
    if (node->kind == HBK_MAP) {
        changed = rebuild_map(e, node, total, here, into);
    } else if (node->kind == HBK_LIST) {
        changed = rebuild_list(e, node, total, here, into);
    } else if (total > 0 && here[total - 1].path[0] == NULL) {
        changed = hbk_tree_scalar(here[total - 1].change->text, false);
        changed.place = node->place;
    }
    hbk_arena_finish(&scratch);
    return changed;
}

/* Every place beyond the tube put in, in a branch: 'at', or all numbers. */
static struct hbk_node moved(const struct editor *e,
                             const struct hbk_node *node, bool is_place)
{
    struct hbk_node changed = *node;
    double mm = 0.0;
    if (node->kind == HBK_SCALAR) {
        if (is_place && hbk_number_parse(node->text, &mm) &&
            mm > 1000.0 * e->changes->inserted_at_m) {
            changed.text = hbk_arena_printf(
                e->arena, "%.3f", mm + (1000.0 * e->changes->inserted_m));
        }
    } else if (node->kind == HBK_MAP) {
        struct hbk_entry *const entries =
            HBK_ARENA_ARRAY(e->arena, struct hbk_entry, node->n);
        for (size_t i = 0; i < node->n; i++) {
            entries[i] = node->entries[i];
            entries[i].value = moved(e, &node->entries[i].value,
                                     strcmp(entries[i].name, "at") == 0);
        }
        changed.entries = entries;
    } else {
        struct hbk_node *const items =
            HBK_ARENA_ARRAY(e->arena, struct hbk_node, node->n);
        for (size_t i = 0; i < node->n; i++) {
            items[i] = moved(e, &node->items[i], is_place);
        }
        changed.items = items;
    }
    return changed;
}

struct hbk_node hbk_tree_edit(const struct hbk_node *root,
                              const struct hbk_horn_changes *changes,
                              struct hbk_arena *arena)
{
    static const struct {
        const char *name;
        bool is_places; /* all numbers are, not 'at' only */
    } lists[] = {{"valves", false},
                 {"triggers", false},
                 {"slides", false},
                 {"crooks", false},
                 {"bore_assumed", true}};
    const struct editor e = {.changes = changes, .arena = arena};
    struct hbk_arena scratch = {0};
    struct pending *const whole =
        HBK_ARENA_ARRAY(&scratch, struct pending, changes->n + 1);
    size_t n = 0;
    for (size_t i = 0; i < changes->n; i++) {
        if (changes->items[i].at.line == 0) {
            whole[n++] =
                (struct pending){changes->items[i].path, &changes->items[i]};
        }
    }
    struct hbk_node changed = rebuild(&e, root, n, whole);
    for (size_t i = 0;
         i < sizeof(lists) / sizeof(lists[0]) && changes->inserted_m != 0.0;
         i++) {
        const struct hbk_entry *const list =
            hbk_node_entry(&changed, lists[i].name);
        if (list != NULL) {
            changed = hbk_tree_with(&changed, lists[i].name,
                                    moved(&e, &list->value, lists[i].is_places),
                                    arena);
        }
    }
    hbk_arena_finish(&scratch);
    return changed;
}
