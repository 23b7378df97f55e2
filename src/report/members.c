#include "report/members.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "notes/verdict.h"

void hbk_report_json_line(const struct hbk_tune_line *line,
                          struct hbk_json *json)
{
    hbk_json_open_object(json, "line");
    hbk_json_string(json, "read",
                    hbk_line_word(json->out->arena, line->number));
    hbk_json_whole(json, "chords", (long)line->chords);
    hbk_json_whole(json, "bars", (long)line->bars);
    hbk_json_whole(json, "staves", line->staves > 1 ? (long)line->staves : 1);
    hbk_json_close_object(json);
}

/* What is held of a fingering, and what it is good for beside the first. */
static void json_verdict(const struct hbk_fingering *f, struct hbk_json *json)
{
    hbk_json_open_array(json, "verdict");
    for (unsigned i = 0; i < HBK_VERDICT_COUNT; i++) {
        const unsigned verdict = 1U << i;
        if ((f->verdict & verdict) != 0) {
            hbk_json_string(json, NULL,
                            hbk_verdict_name((enum hbk_verdict)verdict));
        }
    }
    hbk_json_close_array(json);
    if (f->use == HBK_USE_NONE) {
        hbk_json_null(json, "use");
    } else {
        hbk_json_string(json, "use", hbk_use_name(f->use));
    }
    if (f->use == HBK_USE_AS_FOR) {
        char name[HBK_NAME_SIZE];
        hbk_json_string(
            json, "as_for",
            hbk_spelling_name(hbk_note_sharp(f->as_for), HBK_ASCII, name));
    }
}

void hbk_notes_json_fields(const struct hbk_notes *notes,
                           const struct hbk_fingering *f, struct hbk_json *json)
{
    char label[HBK_LABEL_SIZE];
    hbk_json_open_array(json, "press");
    for (size_t i = 0; i < notes->horn->n_controls; i++) {
        if ((f->press >> i & 1U) != 0) {
            hbk_json_string(
                json, NULL,
                hbk_horn_control_label(notes->horn, i, label, sizeof(label)));
        }
    }
    hbk_json_close_array(json);
    hbk_json_string(json, "label",
                    hbk_horn_press_label(notes->horn, f->press, label));
    hbk_json_whole(json, "partial", (long)f->partial);
    hbk_json_number(json, "hz", f->hz, 3);
    hbk_json_number(json, "cents", f->cents, 2);
    hbk_json_number(json, "response_db", f->response_db, 1);
    hbk_json_number(json, "cost", f->cost, 1);
    if (f->taught == HBK_TAUGHT_UNSAID) {
        hbk_json_null(json, "taught");
    } else {
        hbk_json_bool(json, "taught", f->taught == HBK_TAUGHT_YES);
    }
    if (f->drawn_m > 0.0) {
        hbk_json_number(json, "pulled_mm", 1000.0 * f->drawn_m, 1);
    }
    json_verdict(f, json);
}

/* Which mouthpiece is in for the horn's own, and what it does. */
static void json_mouthpiece(const struct hbk_notes *notes,
                            struct hbk_json *json)
{
    const struct hbk_mouthpiece_change *const change = &notes->tuned.mouthpiece;
    hbk_json_open_object(json, "mouthpiece");
    hbk_json_string(
        json, "name",
        notes->horn->mouthpieces[notes->setting.mouthpiece - 1].name);
    hbk_json_number(json, "pitch_cents", change->pitch_cents, 2);
    hbk_json_open_array(json, "octaves");
    for (size_t i = 0; i < change->n; i++) {
        hbk_json_open_object(json, NULL);
        hbk_json_whole(json, "from", (long)change->octaves[i].low);
        hbk_json_whole(json, "to", (long)change->octaves[i].high);
        hbk_json_number(json, "cents", change->octaves[i].cents, 2);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

void hbk_report_json_player(const struct hbk_horn *horn, struct hbk_json *json)
{
    hbk_json_open_object(json, "player");
    hbk_json_number(json, "offset_cents", horn->habit.offset_cents, 2);
    hbk_json_number(json, "slope_cents", horn->habit.slope_cents, 2);
    hbk_json_close_object(json);
}

void hbk_notes_json_setting(const struct hbk_notes *notes,
                            struct hbk_json *json)
{
    const struct hbk_setting *const setting = &notes->setting;
    hbk_json_number(json, "a4_hz", setting->a4_hz, 2);
    hbk_json_number(json, "pitch_hz", notes->tuned.pitch_hz, 2);
    hbk_json_number(json, "left_cents", notes->tuned.left_cents, 2);
    hbk_json_number(json, "temperature_c", setting->temperature_c, 1);
    hbk_json_number(json, "room_c", setting->room_c, 1);
    if (setting->crook >= 0) {
        hbk_json_string(json, "crook",
                        notes->horn->crooks[setting->crook].name);
    } else {
        hbk_json_null(json, "crook");
    }
    if (setting->mouthpiece > 0) {
        json_mouthpiece(notes, json);
    }
    if (setting->as_played) {
        hbk_report_json_player(notes->horn, json);
    }
    hbk_json_string(json, "valve_slides",
                    hbk_valve_slides_name(setting->valve_slides));
    if (setting->reads != HBK_READS_OWN) {
        hbk_json_open_object(json, "reads");
        hbk_json_string(json, "as", hbk_reads_name(setting->reads));
        hbk_json_string(json, "clef", hbk_clef_name(notes->notation.clef));
        hbk_json_whole(json, "semitones", notes->notation.shift);
        hbk_json_close_object(json);
    }
    if (setting->names != HBK_NAMES_ENGLISH) {
        hbk_json_string(json, "names", hbk_naming_name(setting->names));
    }
}

void hbk_report_json_shape(const struct hbk_horn *horn, struct hbk_json *json)
{
    if (horn->fitted.n_names == 0) {
        hbk_json_null(json, "fitted_shape");
        return;
    }
    hbk_json_open_object(json, "fitted_shape");
    hbk_json_whole(json, "key_names", (long)horn->fitted.n_names);
    hbk_json_number(json, "left_out_cents", horn->fitted.left_out_cents, 1);
    hbk_json_close_object(json);
}

struct hbk_json hbk_report_json_begin(const char *format, struct hbk_text *out)
{
    struct hbk_json json = {.out = out};
    hbk_json_open_object(&json, NULL);
    hbk_json_string(&json, "format", format);
    return json;
}

void hbk_report_json_end(struct hbk_json *json)
{
    hbk_json_close_object(json);
    hbk_json_finish(json);
}

void hbk_notes_json_horn(const struct hbk_notes *notes, struct hbk_json *json)
{
    char name[HBK_NAME_SIZE];
    hbk_json_string(json, "horn", hbk_horn_name(notes->horn));
    hbk_json_string(json, "written_c4_sounds",
                    hbk_spelling_name(hbk_note_sharp(notes->written_c4_sounds),
                                      HBK_ASCII, name));
    hbk_notes_json_setting(notes, json);
}
