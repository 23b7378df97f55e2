#include "reader/work.h"

#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <stdlib.h>

/*
 * What the horn is called and how it is written: names, tuning, compass,
 * provenance.
 */

enum {
    NAME_COLUMNS_MAX = 120,
    SOURCE_COLUMNS_MAX = 1000,
    REMARK_COLUMNS_MAX = 500,
    REMARKS_MAX = 20
};

static void read_names(struct hbk_work *work)
{
    const struct hbk_fields *const top = &work->top;
    if (hbk_field_text(top, "name", NAME_COLUMNS_MAX, &work->horn->name) ==
        HBK_ABSENT) {
        hbk_fields_missing(top, "name",
                           "what the chart shall call the horn, as in 'name: "
                           "Cornet in B flat'");
    }
    (void)hbk_field_text(top, "source", SOURCE_COLUMNS_MAX,
                         &work->horn->source);
    bool learn_from = true;
    (void)hbk_field_bool(top, "learn_from", &learn_from);
    work->horn->not_to_learn_from = !learn_from;
    const struct hbk_node *list = NULL;
    if (hbk_field_list(top, "remarks", 0, REMARKS_MAX, &list) != HBK_GOT) {
        return;
    }
    const char **const remarks =
        HBK_ARENA_ARRAY(top->arena, const char *, list->n);
    size_t n = 0;
    for (size_t i = 0; i < list->n; i++) {
        const struct hbk_asked asked = {.node = &list->items[i],
                                        .owner = "",
                                        .name = "remarks",
                                        .faults = top->faults};
        n += hbk_value_text(asked, REMARK_COLUMNS_MAX, top->arena, &remarks[n])
                 ? 1
                 : 0;
    }
    work->horn->n_remarks = n;
    work->horn->remarks = remarks;
}

static void read_writing(struct hbk_work *work)
{
    const char *clefs[HBK_CLEF_COUNT];
    const struct hbk_fields *const top = &work->top;
    if (hbk_field_note(top, "written_c4_sounds",
                       &work->horn->written_c4_sounds) == HBK_ABSENT) {
        hbk_fields_missing(top, "written_c4_sounds",
                           "the note that sounds for written C4, as in "
                           "'written_c4_sounds: Bb3'");
    }
    for (int i = 0; i < HBK_CLEF_COUNT; i++) {
        clefs[i] = hbk_clef_name((enum hbk_clef)i);
    }
    size_t clef = 0;
    if (hbk_field_choice(top, "clef", clefs, HBK_CLEF_COUNT, &clef) ==
        HBK_GOT) {
        work->horn->clef = (enum hbk_clef)clef;
    }
}

static void read_compass(struct hbk_work *work)
{
    struct hbk_horn *const horn = work->horn;
    const struct hbk_node *list = NULL;
    if (hbk_field_list(&work->top, "compass", 2, 2, &list) != HBK_GOT) {
        return;
    }
    struct hbk_asked asked = hbk_fields_ask(&work->top, "compass");
    asked.node = &list->items[0];
    const bool has_low = hbk_value_note(asked, &horn->lowest);
    asked.node = &list->items[1];
    const bool has_high = hbk_value_note(asked, &horn->highest);
    if (!has_low || !has_high) {
        return;
    }
    if (horn->lowest > horn->highest) {
        hbk_value_fault(hbk_fields_ask(&work->top, "compass"),
                        HBK_H_COMPASS_UPSIDE_DOWN,
                        "%s is above %s; write the lowest written note "
                        "first, then the highest",
                        list->items[0].text, list->items[1].text);
        return;
    }
    horn->has_compass = true;
}

/* C5, or where that is not in the compass the C nearest to it that is. */
static int usual_tuning_note(const struct hbk_horn *horn)
{
    const int c5 = HBK_NOTE_C4 + 12;
    if (!horn->has_compass || (c5 >= horn->lowest && c5 <= horn->highest)) {
        return c5;
    }
    const int end = horn->highest < c5 ? horn->highest : horn->lowest;
    int best = end;
    for (int c = 0; c <= HBK_NOTE_MAX; c += 12) {
        if (c >= horn->lowest && c <= horn->highest &&
            (best % 12 != 0 || abs(c - c5) < abs(best - c5))) {
            best = c;
        }
    }
    return best;
}

static void read_tuning(struct hbk_work *work)
{
    static const char *const known[] = {"note", "a4", "temperature",
                                        "fingering"};
    struct hbk_horn *const horn = work->horn;
    horn->tuning_note = usual_tuning_note(horn);
    struct hbk_fields tuning;
    if (hbk_field_map(&work->top, "tuning", "{note: C5, a4: 440}", &tuning) !=
        HBK_GOT) {
        return;
    }
    hbk_fields_known(&tuning, known, sizeof(known) / sizeof(known[0]));
    (void)hbk_field_number(&tuning, "a4", HBK_RANGE_A4, &horn->a4_hz);
    (void)hbk_field_number(&tuning, "temperature", HBK_RANGE_AIR,
                           &horn->temperature_c);
    if (hbk_field_note(&tuning, "note", &horn->tuning_note) == HBK_GOT &&
        horn->has_compass &&
        (horn->tuning_note < horn->lowest ||
         horn->tuning_note > horn->highest)) {
        hbk_value_fault(hbk_fields_ask(&tuning, "note"),
                        HBK_H_TUNING_NOTE_OUTSIDE,
                        "the tuning note %s is outside the compass; write a "
                        "note the horn plays",
                        hbk_fields_find(&tuning, "note")->text);
    }
}

static void read_provenance(struct hbk_work *work)
{
    const char *known[HBK_PART_COUNT];
    for (int p = 0; p < HBK_PART_COUNT; p++) {
        known[p] = hbk_part_name((enum hbk_part)p);
    }
    struct hbk_fields fields;
    if (hbk_field_map(&work->top, "provenance",
                      "{bore: measured, fingers: assumed}",
                      &fields) != HBK_GOT) {
        return;
    }
    hbk_fields_known(&fields, known, HBK_PART_COUNT);
    for (int p = 0; p < HBK_PART_COUNT; p++) {
        hbk_work_provenance(&fields, known[p], &work->horn->provenance[p]);
    }
}

/* The habit of whoever plays it; once only an offset, under its old name. */
static void read_player(struct hbk_work *work)
{
    static const struct hbk_range offset = {-200.0, 200.0, HBK_UNIT_CENTS};
    static const struct hbk_range slope = {-100.0, 100.0, HBK_UNIT_CENTS};
    static const char *const known[] = {"offset", "slope"};
    struct hbk_habit *const habit = &work->horn->habit;
    (void)hbk_field_number(&work->top, "player_offset", offset,
                           &habit->offset_cents);
    struct hbk_fields fields;
    if (hbk_field_map(&work->top, "player", "{offset: 12, slope: 5}",
                      &fields) != HBK_GOT) {
        return;
    }
    hbk_fields_known(&fields, known, sizeof(known) / sizeof(known[0]));
    (void)hbk_field_number(&fields, "offset", offset, &habit->offset_cents);
    (void)hbk_field_number(&fields, "slope", slope, &habit->slope_cents);
    if (hbk_fields_find(&work->top, "player_offset") != NULL &&
        hbk_fields_find(&fields, "offset") != NULL) {
        hbk_value_fault(hbk_fields_ask(&work->top, "player_offset"),
                        HBK_H_PLAYER_TWICE,
                        "the player's offset is given twice; take out this "
                        "one and keep 'player: {offset: ...}'");
    }
}

void hbk_work_about(struct hbk_work *work)
{
    read_names(work);
    read_writing(work);
    read_compass(work);
    read_tuning(work);
    read_provenance(work);
    read_player(work);
}
