#include "reader/based_stuck.h"

#include "horn/stuck.h"
#include "horn/stuck_list.h"

#include <stdio.h>
#include <string.h>

/* A text or a list of texts that the reader would take. */
static bool can_split(const struct hbk_node *node)
{
    const bool is_list = node->kind == HBK_LIST;
    const size_t n = is_list ? node->n : 1;
    bool is_sound = n <= HBK_STUCK_ITEMS_MAX;
    for (size_t i = 0; is_sound && i < n; i++) {
        const struct hbk_node *const text = is_list ? &node->items[i] : node;
        is_sound = text->kind == HBK_SCALAR && !text->is_faulty &&
                   strlen(text->text) <= HBK_STUCK_COLUMNS_MAX;
    }
    return is_sound;
}

/* The items of such, one a node; how many. `items` NULL: only counts. */
static size_t split(const struct hbk_node *node, struct hbk_arena *arena,
                    struct hbk_node *items)
{
    const bool is_list = node->kind == HBK_LIST;
    size_t n = 0;
    for (size_t i = 0; i < (is_list ? node->n : 1); i++) {
        const struct hbk_node *const text = is_list ? &node->items[i] : node;
        const char *at = text->text;
        for (bool is_last = false; !is_last; n++) {
            at += strspn(at, " ");
            const size_t length = hbk_stuck_item_length(at);
            if (items != NULL) {
                items[n] = *text;
                items[n].text = hbk_arena_copy(arena, at, length);
            }
            is_last = at[length] == '\0';
            at += length + (is_last ? 0 : 1);
        }
    }
    return n;
}

/* Whether both say something of the same control or slide. */
static bool is_same(const struct hbk_node *a, const struct hbk_node *b)
{
    const size_t length = hbk_stuck_subject_length(a->text, strlen(a->text));
    return length == hbk_stuck_subject_length(b->text, strlen(b->text)) &&
           strncmp(a->text, b->text, length) == 0;
}

static const char *text_of(const struct hbk_node *map, const char *name)
{
    const struct hbk_entry *const entry =
        map->kind == HBK_MAP ? hbk_node_entry(map, name) : NULL;
    return entry == NULL || entry->value.kind != HBK_SCALAR ? ""
                                                            : entry->value.text;
}

/* Whether the newer horn removes the control or slide of an item. */
static bool removes(const struct hbk_node *newer, const struct hbk_node *item)
{
    static const char *const kinds[] = {"key", "valve", "trigger", "slide"};
    for (size_t k = 0; k < sizeof(kinds) / sizeof(kinds[0]); k++) {
        char list[12];
        const size_t n = strlen(kinds[k]);
        (void)snprintf(list, sizeof(list), "%ss", kinds[k]);
        const struct hbk_entry *const entry = hbk_node_entry(newer, list);
        if (entry == NULL || entry->value.kind != HBK_LIST ||
            strncmp(item->text, kinds[k], n) != 0 || item->text[n] != ':') {
            continue;
        }
        const char *const name = item->text + n + 1;
        const size_t length = hbk_stuck_subject_length(name, strlen(name));
        for (size_t i = 0; i < entry->value.n; i++) {
            const struct hbk_node *const other = &entry->value.items[i];
            const char *const named = text_of(other, kinds[k]);
            if (strcmp(text_of(other, "remove"), "true") == 0 &&
                strlen(named) == length && strncmp(named, name, length) == 0) {
                return true;
            }
        }
    }
    return false;
}

static struct hbk_node join(const struct hbk_node *older,
                            const struct hbk_node *newer,
                            const struct hbk_node *horn,
                            struct hbk_arena *arena)
{
    const size_t n_older = split(older, arena, NULL);
    const size_t n = n_older + (newer == NULL ? 0 : split(newer, arena, NULL));
    struct hbk_node *const items = HBK_ARENA_ARRAY(arena, struct hbk_node, n);
    (void)split(older, arena, items);
    if (newer != NULL) {
        (void)split(newer, arena, items + n_older);
    }
    struct hbk_node joined = newer == NULL ? *older : *newer;
    joined.kind = HBK_LIST;
    joined.items = items;
    joined.n = 0;
    for (size_t i = 0; i < n; i++) {
        bool is_kept = i >= n_older || !removes(horn, &items[i]);
        for (size_t k = n_older; is_kept && i < n_older && k < n; k++) {
            is_kept = !is_same(&items[i], &items[k]);
        }
        if (is_kept) {
            items[joined.n++] = items[i];
        }
    }
    return joined;
}

void hbk_based_stuck(const struct hbk_node *older, const struct hbk_node *newer,
                     struct hbk_arena *arena, struct hbk_node *joined)
{
    const struct hbk_entry *const old = hbk_node_entry(older, "stuck");
    const struct hbk_entry *const own = hbk_node_entry(newer, "stuck");
    if (old == NULL || !can_split(&old->value) ||
        (own != NULL && !can_split(&own->value))) {
        return;
    }
    const struct hbk_node list =
        join(&old->value, own == NULL ? NULL : &own->value, newer, arena);
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(arena, struct hbk_entry, joined->n);
    for (size_t i = 0; i < joined->n; i++) {
        entries[i] = joined->entries[i];
        if (strcmp(entries[i].name, "stuck") == 0) {
            entries[i].value = list;
        }
    }
    joined->entries = entries;
}
