#include "report/resonances.h"

#include "base/json.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "report/members.h"

#include <math.h>

static const char *label_of(const struct hbk_curves *curves, size_t i,
                            char label[HBK_LABEL_SIZE])
{
    return hbk_horn_press_label(curves->about.horn, curves->curves[i].press,
                                label);
}

/*
 * Which maximum is told in which row of a table: each in the row of the grid
 * that lies nearest, or the next that is free. NULL for most.
 */
static void set_rows(const struct hbk_curves *curves,
                     const struct hbk_curve *curve,
                     const struct hbk_curve_maximum *rows[])
{
    const double step_hz = curves->to_hz / (double)curves->n_points;
    for (size_t k = 0; k < curve->n_maxima; k++) {
        const double place = round(curve->maxima[k].at.hz / step_hz) - 1.0;
        size_t row = place > 0.0 ? (size_t)place : 0;
        while (row < curves->n_points && rows[row] != NULL) {
            row++;
        }
        if (row < curves->n_points) {
            rows[row] = &curve->maxima[k];
        }
    }
}

static void csv_maximum(const struct hbk_curve_maximum *m, struct hbk_text *out)
{
    if (m == NULL) {
        hbk_text_add(out, ",,");
    } else {
        hbk_text_addf(out, ",%.3f,%.3f", m->at.hz, m->heard.hz);
    }
}

/* What a mouthpiece does that is not the horn's own, as names of columns. */
static void csv_change_names(const struct hbk_notes *about,
                             struct hbk_text *out)
{
    const struct hbk_mouthpiece_change *const change = &about->tuned.mouthpiece;
    if (about->setting.mouthpiece == 0) {
        return;
    }
    hbk_text_add(out, ",mouthpiece,pitch_cents");
    for (size_t i = 0; i < change->n; i++) {
        hbk_text_addf(out, ",octave_%u_%u_cents", change->octaves[i].low,
                      change->octaves[i].high);
    }
}

/* The same in every row, so that tables may be put under one another. */
static void csv_change(const struct hbk_notes *about, struct hbk_text *out)
{
    const struct hbk_mouthpiece_change *const change = &about->tuned.mouthpiece;
    const size_t in = about->setting.mouthpiece;
    if (in == 0) {
        return;
    }
    hbk_text_add(out, ",");
    hbk_text_add_csv(out, about->horn->mouthpieces[in - 1].name);
    hbk_text_addf(out, ",%.2f", change->pitch_cents);
    for (size_t i = 0; i < change->n; i++) {
        hbk_text_addf(out, ",%.2f", change->octaves[i].cents);
    }
}

void hbk_resonances_csv(const struct hbk_curves *curves, struct hbk_text *out)
{
    char label[HBK_LABEL_SIZE];
    const struct hbk_curve_maximum **rows[HBK_CURVES_MAX] = {NULL};
    for (size_t i = 0; i < curves->n; i++) {
        rows[i] = HBK_ARENA_ARRAY(out->arena, const struct hbk_curve_maximum *,
                                  curves->n_points);
    }
    hbk_text_add(out, "hz");
    for (size_t i = 0; i < curves->n; i++) {
        hbk_text_addf(out, ",level_db %s", label_of(curves, i, label));
    }
    for (size_t i = 0; i < curves->n; i++) {
        (void)label_of(curves, i, label);
        hbk_text_addf(out, ",maximum_hz %s,played_hz %s", label, label);
    }
    csv_change_names(&curves->about, out);
    hbk_text_add(out, "\r\n");
    for (size_t i = 0; i < curves->n; i++) {
        set_rows(curves, &curves->curves[i], rows[i]);
    }
    for (size_t k = 0; k < curves->n_points; k++) {
        hbk_text_addf(out, "%.3f", curves->hz[k]);
        for (size_t i = 0; i < curves->n; i++) {
            hbk_text_addf(out, ",%.3f", curves->curves[i].level_db[k]);
        }
        for (size_t i = 0; i < curves->n; i++) {
            csv_maximum(rows[i][k], out);
        }
        csv_change(&curves->about, out);
        hbk_text_add(out, "\r\n");
    }
}

static void json_place(const char *note, const char *cents,
                       const struct hbk_curve_place *place,
                       struct hbk_json *json)
{
    char name[HBK_NAME_SIZE];
    if (place->written >= 0 && place->written <= HBK_NOTE_MAX) {
        hbk_json_string(
            json, note,
            hbk_spelling_name(hbk_note_sharp(place->written), HBK_ASCII, name));
        hbk_json_number(json, cents, place->cents, 2);
    } else {
        hbk_json_null(json, note);
        hbk_json_null(json, cents);
    }
}

static void json_maximum(const struct hbk_curve_maximum *m,
                         struct hbk_json *json)
{
    hbk_json_open_object(json, NULL);
    if (m->partial > 0) {
        hbk_json_whole(json, "partial", (long)m->partial);
    } else {
        hbk_json_null(json, "partial");
    }
    hbk_json_number(json, "hz", m->at.hz, 3);
    json_place("note", "cents", &m->at, json);
    hbk_json_number(json, "played_hz", m->heard.hz, 3);
    json_place("played_note", "played_cents", &m->heard, json);
    hbk_json_number(json, "height", m->height, 0);
    hbk_json_number(json, "level_db", m->level_db, 3);
    hbk_json_number(json, "q", m->q, 1);
    hbk_json_number(json, "response_db", m->response_db, 1);
    hbk_json_close_object(json);
}

static void json_press(const struct hbk_horn *horn, uint32_t press,
                       struct hbk_json *json)
{
    char label[HBK_LABEL_SIZE];
    hbk_json_open_array(json, "press");
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        if ((press >> i & 1U) != 0) {
            hbk_json_string(
                json, NULL,
                hbk_horn_control_label(horn, i, label, sizeof(label)));
        }
    }
    hbk_json_close_array(json);
}

static void json_curve(const struct hbk_curves *curves, size_t i,
                       struct hbk_json *json)
{
    const struct hbk_curve *const curve = &curves->curves[i];
    char label[HBK_LABEL_SIZE];
    hbk_json_open_object(json, NULL);
    json_press(curves->about.horn, curve->press, json);
    hbk_json_string(json, "label", label_of(curves, i, label));
    hbk_json_open_array(json, "maxima");
    for (size_t k = 0; k < curve->n_maxima; k++) {
        json_maximum(&curve->maxima[k], json);
    }
    hbk_json_close_array(json);
    hbk_json_open_array(json, "level_db");
    for (size_t k = 0; k < curves->n_points; k++) {
        hbk_json_number(json, NULL, curve->level_db[k], 3);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

void hbk_resonances_json(const struct hbk_curves *curves, struct hbk_text *out)
{
    const struct hbk_notes *const about = &curves->about;
    struct hbk_json json = hbk_report_json_begin("hornbook-resonances/1", out);
    hbk_notes_json_horn(about, &json);
    hbk_json_bool(&json, "tuned", !about->setting.raw);
    hbk_json_number(&json, "wave_impedance", curves->wave_impedance, 0);
    hbk_json_open_array(&json, "hz");
    for (size_t k = 0; k < curves->n_points; k++) {
        hbk_json_number(&json, NULL, curves->hz[k], 3);
    }
    hbk_json_close_array(&json);
    hbk_json_open_array(&json, "fingerings");
    for (size_t i = 0; i < curves->n; i++) {
        json_curve(curves, i, &json);
    }
    hbk_json_close_array(&json);
    hbk_report_json_end(&json);
}
