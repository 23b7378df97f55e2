#include "reader/horn_write.h"

#include "base/number.h"
#include "horn/fitted.h"
#include "reader/based.h"
#include "reader/kind.h"
#include "reader/tree_edit.h"
#include "reader/tree_write.h"

#include <math.h>
#include <string.h>

enum { REMARKS_MAX = 20 };

static struct hbk_node number_node(double value, int decimals,
                                   struct hbk_arena *arena)
{
    return hbk_tree_scalar(hbk_arena_printf(arena, "%.*f", decimals, value),
                           false);
}

static struct hbk_node whole_node(size_t value, struct hbk_arena *arena)
{
    return hbk_tree_scalar(hbk_arena_printf(arena, "%zu", value), false);
}

static struct hbk_node value_node(const struct hbk_fitted_value *value,
                                  struct hbk_arena *arena)
{
    struct hbk_node map = {.kind = HBK_MAP};
    /* Nothing is known more closely than the files can say. */
    const double uncertainty = fmax(value->uncertainty, 0.0001);
    const int decimals = hbk_known_decimals(uncertainty);
    map =
        hbk_tree_with(&map, "what", hbk_tree_scalar(value->what, true), arena);
    map = hbk_tree_with(&map, "was", number_node(value->was, decimals, arena),
                        arena);
    map = hbk_tree_with(&map, "is", number_node(value->is, decimals, arena),
                        arena);
    map = hbk_tree_with(&map, "uncertainty",
                        number_node(uncertainty, decimals, arena), arena);
    map =
        hbk_tree_with(&map, "unit", hbk_tree_scalar(value->unit, true), arena);
    return hbk_tree_with(&map, "readings", whole_node(value->n_readings, arena),
                         arena);
}

static struct hbk_node fitted_node(const struct hbk_fitted *fitted,
                                   struct hbk_arena *arena)
{
    struct hbk_node map = {.kind = HBK_MAP};
    struct hbk_node *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_node, fitted->n);
    for (size_t i = 0; i < fitted->n; i++) {
        items[i] = value_node(&fitted->values[i], arena);
    }
    const struct hbk_node list = {
        .kind = HBK_LIST, .n = fitted->n, .items = items};
    if (fitted->n_names > 0) {
        map = hbk_tree_with(&map, "names", whole_node(fitted->n_names, arena),
                            arena);
    }
    map = hbk_tree_with(&map, "readings", whole_node(fitted->n_readings, arena),
                        arena);
    map = hbk_tree_with(&map, "set_aside",
                        whole_node(fitted->n_set_aside, arena), arena);
    map = hbk_tree_with(&map, "left_out_error",
                        number_node(fitted->left_out_cents, 1, arena), arena);
    if (fitted->source != NULL) {
        map = hbk_tree_with(&map, "source",
                            hbk_tree_scalar(fitted->source, true), arena);
    }
    return hbk_tree_with(&map, "values", list, arena);
}

static bool begins(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

/* Whether an earlier fit made that remark. */
static bool is_of_a_fit(const char *remark)
{
    return begins(remark, HBK_FITTED_REMARK) ||
           begins(remark, HBK_SHAPED_REMARK);
}

static struct hbk_node remarks_node(const struct hbk_node *root,
                                    const char *remark, struct hbk_arena *arena)
{
    const struct hbk_entry *const old = hbk_node_entry(root, "remarks");
    const size_t n =
        old != NULL && old->value.kind == HBK_LIST ? old->value.n : 0;
    struct hbk_node *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_node, n + 1);
    struct hbk_node list = {.kind = HBK_LIST, .items = items};
    for (size_t i = 0; i < n; i++) {
        const struct hbk_node *const item = &old->value.items[i];
        if (item->kind != HBK_SCALAR || !is_of_a_fit(item->text)) {
            items[list.n++] = *item;
        }
    }
    if (list.n < REMARKS_MAX) {
        items[list.n++] = hbk_tree_scalar(remark, true);
    }
    return list;
}

/* The entries of keys and other lists without their `remove`. */
static struct hbk_node kept(const struct hbk_node *list,
                            struct hbk_arena *arena)
{
    struct hbk_node *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_node, list->n);
    for (size_t i = 0; i < list->n; i++) {
        items[i] = list->items[i];
        if (items[i].kind != HBK_MAP) {
            continue;
        }
        struct hbk_entry *const entries =
            HBK_ARENA_ARRAY(arena, struct hbk_entry, items[i].n);
        size_t n = 0;
        for (size_t k = 0; k < items[i].n; k++) {
            if (strcmp(items[i].entries[k].name, "remove") != 0) {
                entries[n++] = items[i].entries[k];
            }
        }
        items[i].entries = entries;
        items[i].n = n;
    }
    struct hbk_node changed = *list;
    changed.items = items;
    return changed;
}

/* What a horn file begins with, and then everything else as it was. */
static struct hbk_node in_order(const struct hbk_node *root,
                                struct hbk_arena *arena)
{
    static const char *const first[] = {
        "hornbook", "name",    "source", "written_c4_sounds", "clef",
        "tuning",   "compass", "length", "fundamental",       "bore"};
    static const size_t n_first = sizeof(first) / sizeof(first[0]);
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(arena, struct hbk_entry, root->n);
    struct hbk_node ordered = *root;
    ordered.entries = entries;
    ordered.n = 0;
    for (size_t i = 0; i <= n_first; i++) {
        for (size_t k = 0; k < root->n; k++) {
            size_t rank = 0;
            while (rank < n_first &&
                   strcmp(root->entries[k].name, first[rank]) != 0) {
                rank++;
            }
            if (rank == i) {
                entries[ordered.n] = root->entries[k];
                if (entries[ordered.n].value.kind == HBK_LIST) {
                    entries[ordered.n].value =
                        kept(&root->entries[k].value, arena);
                }
                ordered.n++;
            }
        }
    }
    return ordered;
}

/* The player's offset under its old name goes to where it stands now. */
static struct hbk_node with_player(const struct hbk_node *root,
                                   struct hbk_arena *arena)
{
    const struct hbk_entry *const old = hbk_node_entry(root, "player_offset");
    if (old == NULL) {
        return *root;
    }
    const struct hbk_node none = {.kind = HBK_MAP};
    const struct hbk_entry *const entry = hbk_node_entry(root, "player");
    const struct hbk_node *const player = entry == NULL ? &none : &entry->value;
    struct hbk_node changed =
        hbk_node_entry(player, "offset") != NULL
            ? *root
            : hbk_tree_with(root, "player",
                            hbk_tree_with(player, "offset", old->value, arena),
                            arena);
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(arena, struct hbk_entry, changed.n);
    size_t n = 0;
    for (size_t i = 0; i < changed.n; i++) {
        if (strcmp(changed.entries[i].name, "player_offset") != 0) {
            entries[n++] = changed.entries[i];
        }
    }
    changed.entries = entries;
    changed.n = n;
    return changed;
}

enum hbk_status hbk_horn_rewrite(const struct hbk_horn_edition *edition,
                                 struct hbk_arena *arena, struct hbk_text *out,
                                 struct hbk_faults *faults)
{
    struct hbk_node own = {0};
    struct hbk_node root = {0};
    HBK_TRY(hbk_kind_read(&hbk_kind_horn, edition->path, arena, &own, faults));
    HBK_TRY(hbk_based_on(edition->path, &own, arena, &root, faults));
    root = hbk_tree_edit(&root, edition->changes, arena);
    root = with_player(&root, arena);
    root = hbk_tree_with(&root, "remarks",
                         remarks_node(&root, edition->remark, arena), arena);
    root = hbk_tree_with(&root, "fitted", fitted_node(edition->fitted, arena),
                         arena);
    root = in_order(&root, arena);
    hbk_text_addf(out, "# %s\n", edition->headline);
    return hbk_tree_write(&root, out);
}
