#include "report/members.h"

#include "music/pitch.h"

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
        hbk_json_number(json, "drawn_mm", 1000.0 * f->drawn_m, 1);
    }
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
    hbk_json_string(json, "valve_slides",
                    hbk_valve_slides_name(setting->valve_slides));
}
