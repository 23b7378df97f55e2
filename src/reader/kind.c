#include "reader/kind.h"

/* Each kind has had one format so far. */
enum { FORMAT = 1 };

const struct hbk_kind hbk_kind_horn = {"hornbook", "this describes a horn",
                                       HBK_H_VERSION};
const struct hbk_kind hbk_kind_order = {"hornbook_order", "this is an order",
                                        HBK_H_VERSION};
const struct hbk_kind hbk_kind_readings = {
    "hornbook_readings", "these are readings", HBK_H_READINGS_VERSION};

static const char *first_line(const struct hbk_kind *kind,
                              struct hbk_arena *arena)
{
    return hbk_arena_printf(arena, "%s: %d", kind->name, FORMAT);
}

enum hbk_status hbk_kind_parse(const struct hbk_kind *kind, const char *path,
                               const char *bytes, size_t length,
                               struct hbk_arena *arena, struct hbk_node *root,
                               struct hbk_faults *faults)
{
    return hbk_tree_parse(path, bytes, length, arena, first_line(kind, arena),
                          root, faults);
}

enum hbk_status hbk_kind_read(const struct hbk_kind *kind, const char *path,
                              struct hbk_arena *arena, struct hbk_node *root,
                              struct hbk_faults *faults)
{
    return hbk_tree_read(path, arena, first_line(kind, arena), root, faults);
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
