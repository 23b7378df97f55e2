#include "reader/work.h"

#include "horn/horn.h"
#include "music/pitch.h"

/* What an earlier fit left in the file. */

enum {
    VALUES_MAX = 300,
    READINGS_MAX = 1000,
    WORDS_COLUMNS_MAX = 60,
    SOURCE_COLUMNS_MAX = 1000
};

static const struct hbk_range any_range = {-1e6, 1e6, HBK_UNIT_NONE};
static const struct hbk_range sure_range = {0.0001, 1e6, HBK_UNIT_NONE};
static const struct hbk_range cents_range = {0.0, HBK_OCTAVE_CENTS,
                                             HBK_UNIT_CENTS};

static void read_count(const struct hbk_fields *fields, const char *name,
                       size_t *count)
{
    long whole = 0;
    const enum hbk_got got =
        hbk_field_whole(fields, name, 0, READINGS_MAX, &whole);
    if (got == HBK_ABSENT) {
        hbk_fields_missing(fields, name, "how many, as a whole number");
    }
    *count = (size_t)whole;
}

static void need_number(const struct hbk_fields *fields, const char *name,
                        struct hbk_range range, double *value)
{
    if (hbk_field_number(fields, name, range, value) == HBK_ABSENT) {
        hbk_fields_missing(fields, name, "the number");
    }
}

static void read_value(const struct hbk_fields *fields,
                       struct hbk_fitted_value *value)
{
    static const char *const known[] = {"what",        "was",  "is",
                                        "uncertainty", "unit", "readings"};
    static const char *const units[] = {"mm", "%",         "cents",
                                        "ml", "semitones", "Hz"};
    hbk_fields_known(fields, known, sizeof(known) / sizeof(known[0]));
    if (hbk_field_text(fields, "what", WORDS_COLUMNS_MAX, &value->what) ==
        HBK_ABSENT) {
        hbk_fields_missing(fields, "what", "which number it is");
    }
    need_number(fields, "was", any_range, &value->was);
    need_number(fields, "is", any_range, &value->is);
    need_number(fields, "uncertainty", sure_range, &value->uncertainty);
    size_t unit = 0;
    if (hbk_field_choice(fields, "unit", units,
                         sizeof(units) / sizeof(units[0]),
                         &unit) == HBK_ABSENT) {
        hbk_fields_missing(fields, "unit", "mm, %, cents, ml, semitones or Hz");
    }
    value->unit = units[unit];
    read_count(fields, "readings", &value->n_readings);
}

void hbk_work_fitted(struct hbk_work *work)
{
    static const char *const known[] = {
        "readings", "set_aside", "left_out_error", "source", "values", "names"};
    struct hbk_fitted *const fitted = &work->horn->fitted;
    struct hbk_fields fields;
    if (hbk_field_map(&work->top, "fitted", "{readings: 12, values: [...]}",
                      &fields) != HBK_GOT) {
        return;
    }
    hbk_fields_known(&fields, known, sizeof(known) / sizeof(known[0]));
    read_count(&fields, "readings", &fitted->n_readings);
    if (hbk_fields_find(&fields, "names") != NULL) {
        read_count(&fields, "names", &fitted->n_names);
    }
    read_count(&fields, "set_aside", &fitted->n_set_aside);
    need_number(&fields, "left_out_error", cents_range,
                &fitted->left_out_cents);
    (void)hbk_field_text(&fields, "source", SOURCE_COLUMNS_MAX,
                         &fitted->source);
    const struct hbk_node *list = NULL;
    if (hbk_field_list(&fields, "values", 0, VALUES_MAX, &list) != HBK_GOT) {
        return;
    }
    struct hbk_fitted_value *const values =
        HBK_ARENA_ARRAY(fields.arena, struct hbk_fitted_value, list->n);
    for (size_t i = 0; i < list->n; i++) {
        const struct hbk_asked asked = {
            .node = &list->items[i],
            .owner = hbk_arena_printf(fields.arena, "fitted: value %zu", i + 1),
            .name = "",
            .faults = fields.faults};
        if (hbk_value_map(asked, "{what: length, was: 1472, is: 1460}")) {
            const struct hbk_fields item = {.map = asked.node,
                                            .words = asked.owner,
                                            .arena = fields.arena,
                                            .faults = fields.faults};
            read_value(&item, &values[i]);
        }
    }
    fitted->n = list->n;
    fitted->values = values;
}
