#include "reader/work.h"

#include "base/messages.h"
#include "horn/horn.h"

#include <string.h>
#include <strings.h>

/* The mouthpiece of the horn, and others that can be put in for it. */

enum { BACKBORE_MAX = 200 };

/* How far the shank goes in, which must leave the horn most of its tube. */
static void read_enters(struct hbk_work *work, const struct hbk_fields *fields,
                        struct hbk_mouthpiece *piece)
{
    static const struct hbk_range range = {0.0, 100.0, HBK_UNIT_MM};
    double mm = 0.0;
    if (hbk_field_number(fields, "enters", range, &mm) != HBK_GOT) {
        return;
    }
    if (mm / 1000.0 > 0.25 * work->tube_m) {
        hbk_value_fault(hbk_fields_ask(fields, "enters"), HBK_H_OUTSIDE_TUBE,
                        "the shank goes %g mm into a bore of %g mm; it goes "
                        "into the receiver only",
                        mm, 1000.0 * work->tube_m);
        return;
    }
    piece->enters_m = mm / 1000.0;
}

/* Cup, throat, backbore and how far it goes in, of either form. */
static void read_piece(struct hbk_work *work, const struct hbk_fields *fields,
                       struct hbk_mouthpiece *piece)
{
    static const struct hbk_range volume = {0.1, 500.0, HBK_UNIT_ML};
    static const struct hbk_range length = {0.1, 200.0, HBK_UNIT_MM};
    static const struct hbk_range diameter = {0.5, 60.0, HBK_UNIT_MM};
    double ml = 0.0;
    if (hbk_field_number(fields, "volume", volume, &ml) == HBK_ABSENT) {
        hbk_fields_missing(fields, "volume", "that of the cup, in ml");
    }
    piece->volume_m3 = ml * 1e-6;
    const struct hbk_node *throat = NULL;
    const enum hbk_got got = hbk_field_list(fields, "throat", 2, 2, &throat);
    if (got == HBK_ABSENT) {
        hbk_fields_missing(fields, "throat",
                           "its length and diameter in mm, as in [6, 4]");
    } else if (got == HBK_GOT) {
        double length_mm = 0.0;
        double diameter_mm = 0.0;
        struct hbk_asked asked = hbk_fields_ask(fields, "throat");
        asked.node = &throat->items[0];
        (void)hbk_value_number(asked, length, &length_mm);
        asked.node = &throat->items[1];
        (void)hbk_value_number(asked, diameter, &diameter_mm);
        piece->throat_length_m = length_mm / 1000.0;
        piece->throat_radius_m = diameter_mm / 2000.0;
    }
    piece->n_backbore =
        hbk_work_stations(fields, "backbore", BACKBORE_MAX, &piece->backbore);
    read_enters(work, fields, piece);
    piece->given = true;
}

static void read_own(struct hbk_work *work)
{
    static const char *const known[] = {"volume", "throat", "backbore",
                                        "enters"};
    struct hbk_fields fields;
    if (hbk_field_map(&work->top, "mouthpiece", "{volume: 5.5, throat: [6, 4]}",
                      &fields) == HBK_GOT) {
        hbk_fields_known(&fields, known, sizeof(known) / sizeof(known[0]));
        read_piece(work, &fields, &work->horn->bore.mouthpiece);
    }
}

static void read_other(struct hbk_work *work,
                       const struct hbk_work_entry *entry,
                       struct hbk_other_mouthpiece *other)
{
    static const char *const known[] = {"mouthpiece", "volume",     "throat",
                                        "backbore",   "provenance", "enters",
                                        "remove"};
    hbk_fields_known(&entry->fields, known, sizeof(known) / sizeof(known[0]));
    *other = (struct hbk_other_mouthpiece){
        .name = entry->name == NULL ? "?" : entry->name};
    read_piece(work, &entry->fields, &other->piece);
    hbk_work_provenance(&entry->fields, "provenance", &other->provenance);
}

/* Against the n before it, capitals or not: nobody tells those apart. */
static void check_name(const struct hbk_work_entry *entry,
                       const struct hbk_other_mouthpiece others[], size_t n)
{
    bool is_taken = false;
    const char *alike = NULL;
    for (size_t k = 0; entry->name != NULL && k < n; k++) {
        is_taken = is_taken || strcmp(others[k].name, entry->name) == 0;
        alike = strcasecmp(others[k].name, entry->name) == 0 ? others[k].name
                                                             : alike;
    }
    if (alike != NULL && !is_taken) {
        hbk_fields_fault(&entry->fields, HBK_H_SAME_NAME,
                         "it differs from '%s' by capitals alone; give each "
                         "its own name",
                         alike);
        return;
    }
    hbk_work_check_name(&entry->fields, "mouthpiece", entry->name, "own",
                        is_taken);
}

static void read_others(struct hbk_work *work)
{
    const struct hbk_node *const list =
        hbk_work_list(work, "mouthpieces", HBK_LIST_MAX);
    if (list == NULL) {
        return;
    }
    struct hbk_other_mouthpiece *const others =
        HBK_ARENA_ARRAY(work->top.arena, struct hbk_other_mouthpiece, list->n);
    size_t n = 0;
    for (size_t i = 0; i < list->n; i++) {
        struct hbk_work_entry entry;
        if (!hbk_work_entry(work, list, i, "mouthpiece", &entry)) {
            continue;
        }
        read_other(work, &entry, &others[n]);
        check_name(&entry, others, n);
        n++;
    }
    work->horn->n_mouthpieces = n;
    work->horn->mouthpieces = others;
}

void hbk_work_mouthpieces(struct hbk_work *work)
{
    struct hbk_horn *const horn = work->horn;
    if (horn->model != HBK_MODEL_BORE) {
        return; /* hbk_work_tube() has refused any that is given */
    }
    read_own(work);
    read_others(work);
    /* Where none is given as the horn's own, it is the first of the list. */
    if (!horn->bore.mouthpiece.given && horn->n_mouthpieces > 0) {
        horn->bore.mouthpiece = horn->mouthpieces[0].piece;
    }
}
