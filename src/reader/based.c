#include "reader/based.h"

#include "base/messages.h"
#include "reader/based_provenance.h"
#include "reader/based_stuck.h"
#include "reader/kind.h"
#include "reader/shipped.h"
#include "reader/shown.h"

#include <string.h>
#include <sys/stat.h>

enum { PATH_COLUMNS_MAX = 1000 };

struct joiner {
    struct hbk_arena *arena;
    struct hbk_faults *faults;
};

/* The files from this one towards the newest. */
struct chain {
    const struct chain *newer;
    const char *path;
    bool is_known; /* device and inode are valid: not standard input */
    dev_t device;
    ino_t inode;
    unsigned length;
};

/* The lists whose entries are overridden one by one. */
static const struct list_kind {
    const char *list, *entry;
} list_kinds[] = {
    {"keys", "key"},     {"valves", "valve"}, {"triggers", "trigger"},
    {"slides", "slide"}, {"crooks", "crook"}, {"mouthpieces", "mouthpiece"},
};

/* Of each group a horn, or an entry, has only one. */
static const char *const rivals[][3] = {
    {"length", "fundamental", "bore"},
    {"from_bell", "at", NULL},
    {"loop", "lowers", "raises"},
};

static const char *const of_bores[] = {"mouthpiece", "mouthpieces",
                                       "wavefronts", "bell", "step_inertance"};

static struct hbk_fields
fields_of(const struct joiner *j, const struct hbk_node *map, const char *words)
{
    return (struct hbk_fields){
        .map = map, .words = words, .arena = j->arena, .faults = j->faults};
}

static const struct list_kind *kind_of(const char *name)
{
    for (size_t i = 0; i < sizeof(list_kinds) / sizeof(list_kinds[0]); i++) {
        if (strcmp(list_kinds[i].list, name) == 0) {
            return &list_kinds[i];
        }
    }
    return NULL;
}

/* Whether `newer` gives another of the group that `name` belongs to. */
static bool has_rival(const struct hbk_node *newer, const char *name)
{
    for (size_t g = 0; g < sizeof(rivals) / sizeof(rivals[0]); g++) {
        bool is_member = false;
        bool has_other = false;
        for (size_t i = 0; i < 3 && rivals[g][i] != NULL; i++) {
            const bool is_same = strcmp(rivals[g][i], name) == 0;
            is_member = is_member || is_same;
            has_other =
                has_other || (!is_same && hbk_node_entry(newer, rivals[g][i]));
        }
        if (is_member && has_other) {
            return true;
        }
    }
    return false;
}

/* Whether the newer horn is no bore any more, so that this has no meaning. */
static bool lost_its_bore(const struct hbk_node *newer, const char *name)
{
    if (hbk_node_entry(newer, "length") == NULL &&
        hbk_node_entry(newer, "fundamental") == NULL) {
        return false;
    }
    for (size_t i = 0; i < sizeof(of_bores) / sizeof(of_bores[0]); i++) {
        if (strcmp(of_bores[i], name) == 0) {
            return true;
        }
    }
    return false;
}

/* The older entries, less what the newer ones replace, then the newer. */
static struct hbk_node join_maps(const struct joiner *j,
                                 const struct hbk_node *older,
                                 const struct hbk_node *newer)
{
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(j->arena, struct hbk_entry, older->n + newer->n);
    size_t n = 0;
    for (size_t i = 0; i < older->n; i++) {
        const char *const name = older->entries[i].name;
        if (hbk_node_entry(newer, name) == NULL && !has_rival(newer, name) &&
            !lost_its_bore(newer, name)) {
            entries[n++] = older->entries[i];
        }
    }
    for (size_t i = 0; i < newer->n; i++) {
        entries[n++] = newer->entries[i];
    }
    struct hbk_node joined = *newer;
    joined.n = n;
    joined.entries = entries;
    return joined;
}

/* The number or name that tells the entries of a list apart, or NULL. */
static const char *identity(const struct hbk_node *entry, const char *kind)
{
    if (entry->kind != HBK_MAP) {
        return NULL;
    }
    const struct hbk_entry *const found = hbk_node_entry(entry, kind);
    return found != NULL && found->value.kind == HBK_SCALAR ? found->value.text
                                                            : NULL;
}

static size_t index_of(const struct hbk_node *items, size_t n, const char *kind,
                       const char *name)
{
    for (size_t i = 0; name != NULL && i < n; i++) {
        const char *const other = identity(&items[i], kind);
        if (other != NULL && strcmp(other, name) == 0) {
            return i;
        }
    }
    return n;
}

static bool is_removed(const struct joiner *j, const struct hbk_node *entry,
                       const char *words)
{
    bool remove = false;
    if (entry->kind == HBK_MAP) {
        const struct hbk_fields fields = fields_of(j, entry, words);
        (void)hbk_field_bool(&fields, "remove", &remove);
    }
    return remove;
}

static void report_unknown(const struct joiner *j, const struct hbk_node *entry,
                           const char *words)
{
    const struct hbk_fields fields = fields_of(j, entry, words);
    hbk_fields_fault(&fields, HBK_H_NOTHING_TO_REMOVE,
                     "there is none to remove in the horn this one is based "
                     "on; leave the entry out");
}

static struct hbk_node join_lists(const struct joiner *j, const char *kind,
                                  const struct hbk_node *older,
                                  const struct hbk_node *newer)
{
    struct hbk_node *const items =
        HBK_ARENA_ARRAY(j->arena, struct hbk_node, older->n + newer->n);
    size_t n = older->n;
    if (n > 0) {
        memcpy(items, older->items, n * sizeof(*items));
    }
    for (size_t i = 0; i < newer->n; i++) {
        const struct hbk_node *const entry = &newer->items[i];
        const char *const name = identity(entry, kind);
        char shown[HBK_SHOWN_SIZE];
        const char *const words =
            hbk_arena_printf(j->arena, "%s %s", kind,
                             name == NULL ? "?" : hbk_shown(name, shown));
        if (index_of(newer->items, i, kind, name) < i) {
            const struct hbk_fields fields = fields_of(j, entry, words);
            hbk_fields_fault(&fields, HBK_H_SAME_CONTROL,
                             "it is listed twice; keep one entry");
            continue;
        }
        const size_t at = index_of(items, n, kind, name);
        const bool remove = is_removed(j, entry, words);
        if (at == n && remove) {
            report_unknown(j, entry, words);
        } else if (at == n) {
            items[n++] = *entry;
        } else if (remove) {
            n--;
            memmove(&items[at], &items[at + 1], (n - at) * sizeof(*items));
        } else {
            items[at] = join_maps(j, &items[at], entry);
        }
    }
    struct hbk_node joined = *newer;
    joined.n = n;
    joined.items = items;
    return joined;
}

static struct hbk_node join_horns(const struct joiner *j,
                                  const struct hbk_node *older,
                                  const struct hbk_node *newer)
{
    static const struct hbk_node empty = {.kind = HBK_LIST};
    struct hbk_entry *const entries =
        HBK_ARENA_ARRAY(j->arena, struct hbk_entry, newer->n);
    struct hbk_node own = *newer;
    own.entries = entries;
    own.n = 0;
    for (size_t i = 0; i < newer->n; i++) {
        struct hbk_entry entry = newer->entries[i];
        if (strcmp(entry.name, "based_on") == 0) {
            continue;
        }
        const struct list_kind *const kind = kind_of(entry.name);
        const struct hbk_entry *const old = hbk_node_entry(older, entry.name);
        const bool has_list = old != NULL && old->value.kind == HBK_LIST;
        if (kind != NULL && entry.value.kind == HBK_LIST) {
            entry.value = join_lists(
                j, kind->entry, has_list ? &old->value : &empty, &entry.value);
        }
        entries[own.n++] = entry;
    }
    struct hbk_node joined = join_maps(j, older, &own);
    hbk_based_stuck(older, newer, j->arena, &joined);
    return joined;
}

/* A horn that is based on nothing has nothing to remove. */
static void refuse_removals(const struct joiner *j, const struct hbk_node *root)
{
    for (size_t k = 0; k < sizeof(list_kinds) / sizeof(list_kinds[0]); k++) {
        const struct hbk_entry *const list =
            hbk_node_entry(root, list_kinds[k].list);
        for (size_t i = 0;
             list != NULL && list->value.kind == HBK_LIST && i < list->value.n;
             i++) {
            const struct hbk_node *const entry = &list->value.items[i];
            const struct hbk_entry *const found =
                entry->kind == HBK_MAP ? hbk_node_entry(entry, "remove") : NULL;
            if (found != NULL) {
                hbk_fault_add(j->faults, found->place,
                              HBK_H_REMOVE_WITHOUT_BASE,
                              "this horn is based on no other, so there is "
                              "nothing to remove; leave the entry out");
            }
        }
    }
}

/* Where the older file is; NULL after a fault. */
static const char *find_base(const struct joiner *j, const char *path,
                             struct hbk_asked asked)
{
    const char *text = NULL;
    if (!hbk_value_text(asked, PATH_COLUMNS_MAX, j->arena, &text)) {
        return NULL;
    }
    if (!hbk_shipped_is_path(text)) {
        const char *nearest = NULL;
        const char *const shipped =
            hbk_shipped_search(text, j->arena, &nearest);
        const char *const none =
            shipped == NULL ? hbk_shipped_none(j->arena) : NULL;
        if (none != NULL) {
            hbk_value_fault(asked, HBK_H_NO_SHIPPED_HORNS, "%s", none);
        } else if (shipped == NULL) {
            char shown[HBK_SHOWN_SIZE];
            hbk_value_fault(
                asked, HBK_H_BASE_NOT_FOUND,
                "there is no shipped horn called '%s'; %s%s%s",
                hbk_shown(text, shown),
                nearest == NULL ? "a file of your own is named with its ending"
                                : "did you mean '",
                nearest == NULL ? "" : nearest, nearest == NULL ? "" : "'?");
        }
        return shipped;
    }
    const char *const slash = strrchr(path, '/');
    if (text[0] == '/' || slash == NULL) {
        return text;
    }
    return hbk_arena_printf(j->arena, "%.*s%s", (int)(slash - path + 1), path,
                            text);
}

static bool may_follow(const struct chain *newer, struct chain *base,
                       struct hbk_asked asked)
{
    char shown[HBK_SHOWN_SIZE];
    struct stat info;
    hbk_shown(asked.node->text, shown);
    if (stat(base->path, &info) != 0) {
        hbk_value_fault(asked, HBK_H_BASE_NOT_FOUND,
                        "there is no file '%s' here; the path counts from the "
                        "folder of this file",
                        shown);
        return false;
    }
    if (S_ISDIR(info.st_mode)) {
        hbk_value_fault(asked, HBK_H_BASE_NOT_FOUND,
                        "'%s' is a folder; name a horn file in it", shown);
        return false;
    }
    base->is_known = true;
    base->device = info.st_dev;
    base->inode = info.st_ino;
    for (const struct chain *c = newer; c != NULL; c = c->newer) {
        if (c->is_known && c->device == info.st_dev &&
            c->inode == info.st_ino) {
            hbk_value_fault(asked, HBK_H_BASE_CIRCLE,
                            "'%s' is itself based on this horn; one of them "
                            "must stand alone",
                            shown);
            return false;
        }
    }
    if (base->length > HBK_BASES_MAX) {
        hbk_value_fault(asked, HBK_H_BASE_DEPTH,
                        "this is the end of a chain of more than %d files; "
                        "base the horn on an earlier one",
                        HBK_BASES_MAX);
        return false;
    }

    return true;
}

static enum hbk_status follow(const struct joiner *j, const struct chain *here,
                              const struct hbk_node *own, struct hbk_node *root)
{
    const struct hbk_fields top = fields_of(j, own, "");
    hbk_kind_check(&hbk_kind_horn, &top);
    const struct hbk_fields fields = fields_of(j, own, "");
    const struct hbk_asked asked = hbk_fields_ask(&fields, "based_on");
    if (asked.node == NULL) {
        refuse_removals(j, own);
        *root = *own;
        return HBK_OK;
    }
    struct chain base = {.newer = here,
                         .path = find_base(j, here->path, asked),
                         .length = here->length + 1};
    if (base.path == NULL || !may_follow(here, &base, asked)) {
        return HBK_ERR_INPUT;
    }
    struct hbk_node older = {0};
    HBK_TRY(
        hbk_kind_read(&hbk_kind_horn, base.path, j->arena, &older, j->faults));
    struct hbk_node whole = {0};
    HBK_TRY(follow(j, &base, &older, &whole));
    whole = hbk_based_older(&whole, own, j->arena);
    const struct hbk_node newer = hbk_based_newer(&whole, own, j->arena);
    *root = join_horns(j, &whole, &newer);
    return HBK_OK;
}

enum hbk_status hbk_based_on(const char *path, const struct hbk_node *own,
                             struct hbk_arena *arena, struct hbk_node *root,
                             struct hbk_faults *faults)
{
    const struct joiner j = {.arena = arena, .faults = faults};
    struct chain newest = {.path = path, .length = 1};
    struct stat info;
    if (strcmp(path, "-") != 0 && stat(path, &info) == 0) {
        newest.is_known = true;
        newest.device = info.st_dev;
        newest.inode = info.st_ino;
    }
    return follow(&j, &newest, own, root);
}
