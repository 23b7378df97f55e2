#include "reader/based_provenance.h"

#include <string.h>

static const char provenance[] = "provenance";

/* What changes a part when the newer file gives it. */
static const struct {
    const char *part;
    const char *names[2];
} whole_parts[] = {
    {"length", {"length", "fundamental"}}, {"bore", {"bore", NULL}},
    {"mouthpiece", {"mouthpiece", NULL}},  {"slides", {"bits", NULL}},
    {"tuning", {"tuning", NULL}},          {"partials", {"partials", NULL}},
};

/* Lists whose entries, given with more than their names, change a part. */
static const struct {
    const char *part, *list;
} listed_parts[] = {
    {"keys", "keys"},       {"holes", "keys"},    {"valves", "valves"},
    {"valves", "triggers"}, {"slides", "slides"}, {"crooks", "crooks"},
};

static const char *const lists[] = {"keys",   "valves", "triggers",
                                    "slides", "crooks", "mouthpieces"};

enum {
    WHOLE_PARTS = sizeof(whole_parts) / sizeof(whole_parts[0]),
    LISTED_PARTS = sizeof(listed_parts) / sizeof(listed_parts[0]),
    LISTS = sizeof(lists) / sizeof(lists[0])
};

static bool is_among(const char *name, const char *const names[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (names[i] != NULL && strcmp(name, names[i]) == 0) {
            return true;
        }
    }
    return false;
}

static const struct hbk_node *list_of(const struct hbk_node *horn,
                                      const char *name)
{
    const struct hbk_entry *const entry = hbk_node_entry(horn, name);
    return entry != NULL && entry->value.kind == HBK_LIST ? &entry->value
                                                          : NULL;
}

/* Whether an entry says more than which it is, and who works it and how. */
static bool changes_tube(const struct hbk_node *entry)
{
    static const char *const no_matter[] = {
        "key",    "valve",  "trigger",    "slide",   "crook",
        "called", "finger", "mouthpiece", "alone",   "kind",
        "action", "stroke", "remove",     provenance};
    bool changes = false;
    for (size_t i = 0; entry->kind == HBK_MAP && i < entry->n; i++) {
        changes =
            changes || !is_among(entry->entries[i].name, no_matter,
                                 sizeof(no_matter) / sizeof(no_matter[0]));
    }
    return changes;
}

static bool changes_fingers(const struct hbk_node *newer)
{
    for (size_t k = 0; k < LISTS; k++) {
        const struct hbk_node *const list = list_of(newer, lists[k]);
        for (size_t i = 0; list != NULL && i < list->n; i++) {
            if (list->items[i].kind == HBK_MAP &&
                hbk_node_entry(&list->items[i], "finger") != NULL) {
                return true;
            }
        }
    }
    return false;
}

static bool changes(const struct hbk_node *newer, const char *part)
{
    if (strcmp(part, "fingers") == 0) {
        return changes_fingers(newer);
    }
    for (size_t p = 0; p < WHOLE_PARTS; p++) {
        for (size_t k = 0; strcmp(whole_parts[p].part, part) == 0 && k < 2;
             k++) {
            const char *const name = whole_parts[p].names[k];
            if (name != NULL && hbk_node_entry(newer, name) != NULL) {
                return true;
            }
        }
    }
    for (size_t p = 0; p < LISTED_PARTS; p++) {
        const struct hbk_node *const list =
            strcmp(listed_parts[p].part, part) == 0
                ? list_of(newer, listed_parts[p].list)
                : NULL;
        for (size_t i = 0; list != NULL && i < list->n; i++) {
            if (changes_tube(&list->items[i])) {
                return true;
            }
        }
    }
    return false;
}

/* "pattern" in place of a word; what is no word is left to be refused. */
static void take_over(struct hbk_node *word)
{
    static const char *const words[] = {"measured", "catalogue", "assumed"};
    if (word->kind == HBK_SCALAR && is_among(word->text, words, 3)) {
        word->text = HBK_WORD_OF_PATTERN;
    }
}

/* The provenance of parts: less what the newer horn changes. */
static struct hbk_node older_parts(const struct hbk_node *map,
                                   const struct hbk_node *newer,
                                   struct hbk_arena *arena)
{
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(arena, struct hbk_entry, map->n + 1);
    struct hbk_node parts = *map;
    parts.entries = entries;
    parts.n = 0;
    for (size_t i = 0; i < map->n; i++) {
        if (!changes(newer, map->entries[i].name)) {
            entries[parts.n] = map->entries[i];
            take_over(&entries[parts.n++].value);
        }
    }
    return parts;
}

/* A list of keys and the like: the provenance of each entry. */
static struct hbk_node older_list(const struct hbk_node *list,
                                  struct hbk_arena *arena)
{
    struct hbk_node *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_node, list->n + 1);
    for (size_t i = 0; i < list->n; i++) {
        items[i] = list->items[i];
        if (items[i].kind != HBK_MAP ||
            hbk_node_entry(&items[i], provenance) == NULL) {
            continue;
        }
        struct hbk_entry *const entries =
            HBK_ARENA_ARRAY(arena, struct hbk_entry, items[i].n);
        for (size_t k = 0; k < items[i].n; k++) {
            entries[k] = items[i].entries[k];
            if (strcmp(entries[k].name, provenance) == 0) {
                take_over(&entries[k].value);
            }
        }
        items[i].entries = entries;
    }
    struct hbk_node changed = *list;
    changed.items = items;
    return changed;
}

struct hbk_node hbk_based_older(const struct hbk_node *older,
                                const struct hbk_node *newer,
                                struct hbk_arena *arena)
{
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(arena, struct hbk_entry, older->n + 1);
    for (size_t i = 0; i < older->n; i++) {
        entries[i] = older->entries[i];
        struct hbk_node *const value = &entries[i].value;
        if (strcmp(entries[i].name, provenance) == 0 &&
            value->kind == HBK_MAP) {
            *value = older_parts(value, newer, arena);
        } else if (value->kind == HBK_LIST &&
                   is_among(entries[i].name, lists, LISTS)) {
            *value = older_list(value, arena);
        }
    }
    struct hbk_node changed = *older;
    changed.entries = entries;
    return changed;
}

struct hbk_node hbk_based_newer(const struct hbk_node *older,
                                const struct hbk_node *newer,
                                struct hbk_arena *arena)
{
    const struct hbk_entry *const old = hbk_node_entry(older, provenance);
    const struct hbk_entry *const own = hbk_node_entry(newer, provenance);
    if (old == NULL || own == NULL || old->value.kind != HBK_MAP ||
        own->value.kind != HBK_MAP) {
        return *newer;
    }
    struct hbk_node parts = own->value;
    struct hbk_entry *const said =
        HBK_ARENA_ARRAY(arena, struct hbk_entry, parts.n + old->value.n + 1);
    memcpy(said, parts.entries, parts.n * sizeof(*said));
    parts.entries = said;
    for (size_t i = 0; i < old->value.n; i++) {
        if (hbk_node_entry(&own->value, old->value.entries[i].name) == NULL) {
            said[parts.n++] = old->value.entries[i];
        }
    }
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(arena, struct hbk_entry, newer->n);
    for (size_t i = 0; i < newer->n; i++) {
        entries[i] = newer->entries[i];
        if (strcmp(entries[i].name, provenance) == 0) {
            entries[i].value = parts;
        }
    }
    struct hbk_node changed = *newer;
    changed.entries = entries;
    return changed;
}
