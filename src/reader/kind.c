#include "reader/kind.h"

#include "base/ending.h"

#include <string.h>

/* Each kind has had one format so far. */
enum { FORMAT = 1 };

const struct hbk_kind hbk_kind_horn = {
    .name = "hornbook",
    .is = "this describes a horn",
    .wanted = "a horn is",
    .taker = "'hornbook check' takes it",
    .unknown = HBK_H_VERSION,
};
const struct hbk_kind hbk_kind_order = {
    .name = "hornbook_order",
    .is = "this is an order",
    .wanted = "an order is",
    .taker = "'hornbook print' takes it",
    .unknown = HBK_H_VERSION,
};
const struct hbk_kind hbk_kind_readings = {
    .name = "hornbook_readings",
    .is = "these are readings",
    .wanted = "readings are",
    .taker = "'hornbook fit' takes them",
    .unknown = HBK_H_READINGS_VERSION,
};

const struct hbk_kind *const hbk_kinds[HBK_KINDS] = {
    &hbk_kind_horn, &hbk_kind_order, &hbk_kind_readings};

static const char *first_line(const struct hbk_kind *kind,
                              struct hbk_arena *arena)
{
    return hbk_arena_printf(arena, "%s: %d", kind->name, FORMAT);
}

static bool has_name(const struct hbk_node *root, const char *name)
{
    for (size_t i = 0; root->kind == HBK_MAP && i < root->n; i++) {
        if (strcmp(root->entries[i].name, name) == 0) {
            return true;
        }
    }
    return false;
}

/* Refuses what says that it is of another kind than the one asked for. */
static enum hbk_status refuse_others(const struct hbk_kind *kind,
                                     const struct hbk_node *root,
                                     struct hbk_faults *faults)
{
    if (has_name(root, kind->name)) {
        return HBK_OK;
    }
    for (size_t i = 0; i < HBK_KINDS; i++) {
        if (has_name(root, hbk_kinds[i]->name)) {
            hbk_fault_add(faults, root->place, HBK_H_OTHER_KIND,
                          "%s, and %s wanted here; %s", hbk_kinds[i]->is,
                          kind->wanted, hbk_kinds[i]->taker);
            return HBK_ERR_INPUT;
        }
    }
    return HBK_OK;
}

enum hbk_status hbk_kind_parse(const struct hbk_kind *kind, const char *path,
                               const char *bytes, size_t length,
                               struct hbk_arena *arena, struct hbk_node *root,
                               struct hbk_faults *faults)
{
    HBK_TRY(hbk_tree_parse(path, bytes, length, arena, first_line(kind, arena),
                           root, faults));
    return refuse_others(kind, root, faults);
}

enum hbk_status hbk_kind_read(const struct hbk_kind *kind, const char *path,
                              struct hbk_arena *arena, struct hbk_node *root,
                              struct hbk_faults *faults)
{
    if (hbk_ends_as_tune(path)) {
        hbk_fault_add(faults, hbk_whole_file(path), HBK_H_IS_A_TUNE,
                      "this is a tune by its name, and %s wanted here",
                      kind->wanted);
        return HBK_ERR_INPUT;
    }
    HBK_TRY(hbk_tree_read(path, arena, first_line(kind, arena), root, faults));
    return refuse_others(kind, root, faults);
}

void hbk_kind_check(const struct hbk_kind *kind, const struct hbk_fields *top)
{
    const char *const line = first_line(kind, top->arena);
    long version = FORMAT;
    const enum hbk_got got =
        hbk_field_whole(top, kind->name, 0, 999999999, &version);
    if (got == HBK_ABSENT) {
        hbk_fields_missing(
            top, kind->name,
            hbk_arena_printf(top->arena,
                             "'%s' as the first line, to say that %s", line,
                             kind->is));
    } else if (got == HBK_GOT && version != FORMAT) {
        hbk_value_fault(hbk_fields_ask(top, kind->name), kind->unknown,
                        "format %ld is unknown to this program; write '%s'",
                        version, line);
    }
}
