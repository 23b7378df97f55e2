#include "report/check.h"

#include "horn/horn.h"
#include "horn/press.h"
#include "horn/stuck.h"
#include "music/pitch.h"
#include "notes/slides.h"
#include "report/members.h"
#include "sheet/words/words.h"
#include "sheet/words/words_system.h"

#include <stdio.h>

static void json_note(const char *member, int written, struct hbk_json *json)
{
    char name[HBK_NAME_SIZE];
    hbk_json_string(json, member, hbk_note_name(written, HBK_ASCII, name));
}

static void json_place(const char *member, unsigned place,
                       struct hbk_json *json)
{
    if (place > 0) {
        hbk_json_whole(json, member, (long)place);
    } else {
        hbk_json_null(json, member);
    }
}

static void json_messages(const struct hbk_faults *faults,
                          struct hbk_json *json)
{
    hbk_json_open_array(json, "messages");
    for (size_t i = 0; i < faults->count; i++) {
        const struct hbk_fault *const fault = &faults->items[i];
        char code[16];
        (void)snprintf(code, sizeof(code), "H%03u", fault->number);
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "code", code);
        hbk_json_string(json, "kind", fault->warning ? "warning" : "error");
        json_place("line", fault->line, json);
        json_place("column", fault->column, json);
        hbk_json_string(json, "text", fault->text);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_pitch(const struct hbk_understood *found,
                       struct hbk_json *json)
{
    const struct hbk_notes *const notes = found->notes;
    const struct hbk_tuned *const tuned = &notes->tuned;
    char label[HBK_LABEL_SIZE];
    hbk_json_open_object(json, "pitch");
    json_note("note", tuned->note, json);
    json_note("sounding", tuned->note + notes->written_c4_sounds - HBK_NOTE_C4,
              json);
    hbk_json_string(json, "label",
                    hbk_horn_press_label(notes->horn, tuned->press, label));
    hbk_json_whole(json, "partial", (long)tuned->partial);
    hbk_json_number(json, "temperature_c", notes->setting.temperature_c, 1);
    hbk_json_number(json, "a4_hz",
                    notes->setting.a4_hz * hbk_cents_ratio(tuned->before_cents),
                    2);
    hbk_json_number(json, "lowest_a4_hz", found->reach->lowest_hz, 2);
    hbk_json_number(json, "highest_a4_hz", found->reach->highest_hz, 2);
    hbk_json_close_object(json);
}

static void json_controls(const struct hbk_notes *notes, struct hbk_json *json)
{
    hbk_json_open_array(json, "controls");
    for (size_t i = 0; i < notes->horn->n_controls; i++) {
        const char *const stuck = hbk_words_stuck(notes, i);
        char words[48];
        hbk_json_open_object(json, NULL);
        hbk_json_string(
            json, "control",
            hbk_control_words(&notes->horn->controls[i], words, sizeof(words)));
        hbk_json_number(json, "effect_cents", notes->effect_cents[i], 1);
        hbk_json_string(json, "words",
                        hbk_words_effect(json->out->arena, notes, i));
        hbk_json_bool(json, "stuck", stuck[0] != '\0');
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_notes(const struct hbk_understood *found,
                       struct hbk_json *json)
{
    static const char *const reasons[] = {[HBK_GAP_STUCK] = "stuck",
                                          [HBK_GAP_PARTIAL] =
                                              "partial not used",
                                          [HBK_GAP_FAR] = "too far off",
                                          [HBK_GAP_NONE] = "nothing near"};
    const struct hbk_notes *const notes = found->notes;
    const struct hbk_gaps *const gaps = found->gaps;
    hbk_json_open_object(json, "notes");
    json_note("lowest", notes->lowest, json);
    json_note("highest", notes->highest, json);
    hbk_json_whole(json, "count", (long)notes->n);
    hbk_json_whole(json, "available", (long)(notes->n - gaps->n));
    hbk_json_open_array(json, "not_available");
    for (size_t i = 0; i < gaps->n; i++) {
        hbk_json_open_object(json, NULL);
        json_note("written", gaps->items[i].written, json);
        hbk_json_string(json, "reason", reasons[gaps->items[i].reason]);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

static void json_slides(const struct hbk_horn *horn, struct hbk_json *json)
{
    hbk_json_open_array(json, "slides");
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        const bool is_stuck = (horn->stuck.slides >> s & 1U) != 0;
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "slide", slide->name);
        if (slide->valve < 0) {
            hbk_json_null(json, "valve");
        } else {
            hbk_json_string(json, "valve", horn->controls[slide->valve].name);
        }
        hbk_json_number(json, "stands_out_mm",
                        1000.0 * (is_stuck ? horn->stuck.slide_out_m[s]
                                           : slide->stands_out_m),
                        1);
        hbk_json_number(json, "travel_mm", 1000.0 * slide->travel_m, 1);
        hbk_json_bool(json, "stuck", is_stuck);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_crooks(const struct hbk_horn *horn, struct hbk_json *json)
{
    hbk_json_open_array(json, "crooks");
    for (size_t i = 0; i < horn->n_crooks; i++) {
        const struct hbk_crook *const crook = &horn->crooks[i];
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "crook", crook->name);
        hbk_json_string(json, "kind", crook->kind);
        hbk_json_number(json, "adds_mm", 1000.0 * crook->adds_m, 1);
        if (crook->has_written_c4) {
            json_note("written_c4_sounds", crook->written_c4_sounds, json);
        } else {
            hbk_json_null(json, "written_c4_sounds");
        }
        hbk_json_bool(json, "learn_from", !crook->not_to_learn_from);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_mouthpieces(const struct hbk_horn *horn, struct hbk_json *json)
{
    hbk_json_open_array(json, "mouthpieces");
    for (size_t i = 0; i < horn->n_mouthpieces; i++) {
        const struct hbk_other_mouthpiece *const other = &horn->mouthpieces[i];
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "mouthpiece", other->name);
        hbk_json_number(json, "volume_ml", 1e6 * other->piece.volume_m3, 2);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

struct hbk_json hbk_check_json_begin(struct hbk_text *out)
{
    struct hbk_json json = hbk_report_json_begin("hornbook-check/1", out);
    hbk_json_open_array(&json, "horns");
    return json;
}

void hbk_check_json_horn(const struct hbk_checked *checked,
                         struct hbk_json *json)
{
    const struct hbk_understood *const found = checked->found;
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "horn", checked->word);
    hbk_json_string(json, "verdict",
                    found == NULL                ? "refused"
                    : checked->faults->count > 0 ? "warnings"
                                                 : "good");
    json_messages(checked->faults, json);
    if (found != NULL) {
        hbk_json_string(json, "name", found->notes->horn->name);
        hbk_json_bool(json, "learn_from",
                      !found->notes->horn->not_to_learn_from);
        hbk_report_json_shape(found->notes->horn, json);
        json_pitch(found, json);
        json_controls(found->notes, json);
        json_notes(found, json);
        json_slides(found->notes->horn, json);
        json_crooks(found->notes->horn, json);
        json_mouthpieces(found->notes->horn, json);
    }
    hbk_json_close_object(json);
}

void hbk_check_json_end(struct hbk_json *json)
{
    hbk_json_close_array(json);
    hbk_report_json_end(json);
}
