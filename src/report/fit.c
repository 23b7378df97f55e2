#include "report/fit.h"

#include "base/json.h"
#include "base/number.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "report/columns.h"
#include "report/members.h"
#include "report/screen.h"
#include "sheet/words/fit_names_words.h"
#include "sheet/words/fit_words.h"

#include <math.h>

enum {
    WIDE_NOTE = 8,
    WIDE_PRESS = 10,
    WIDE_WHAT = 26,
    WIDE_SET = 5,
    WIDE_CENTS = 7,
    WIDE_VALUE = 15
};

static void add_note(int written, size_t width, struct hbk_text *out)
{
    char name[HBK_NAME_SIZE];
    const size_t start = out->length;
    hbk_text_add(out, hbk_note_name(written, HBK_UNICODE, name));
    hbk_report_pad(out, start, width);
}

static const char *state_words(const struct hbk_fit_reading *item)
{
    switch (item->state) {
    case HBK_FIT_USED:
        return "";
    case HBK_FIT_FAR:
        return "  no note of that fingering";
    case HBK_FIT_SLIPPED:
        break;
    }
    return item->semitones_off == 0  ? "  not used"
           : item->semitones_off > 0 ? "  not used: a semitone high?"
                                     : "  not used: a semitone low?";
}

static void add_cents(double cents, int width, struct hbk_text *out)
{
    hbk_text_addf(out, "%+*.0f", width, hbk_report_whole(cents));
}

/* Names of keys have no cents. */
static void add_heard(const struct hbk_reading *reading, struct hbk_text *out)
{
    if (reading->is_name) {
        hbk_text_addf(out, "%*s", WIDE_CENTS, "name");
    } else {
        add_cents(reading->cents, WIDE_CENTS, out);
    }
}

static void text_reading(const struct hbk_fit_report *report,
                         const struct hbk_fit_setups *setups, size_t i,
                         struct hbk_text *out)
{
    const struct hbk_fit_reading *const item = &report->items[i];
    char label[HBK_LABEL_SIZE];
    add_note(item->written, WIDE_NOTE, out);
    hbk_text_addf(out, "%-*s", WIDE_PRESS,
                  hbk_horn_press_label(report->horn, item->press, label));
    if (setups->n > 1) {
        hbk_text_addf(out, "%-*s", WIDE_SET,
                      hbk_fit_setup_letters(out->arena, setups->of[i]));
    }
    const bool is_far = item->state == HBK_FIT_FAR;
    if (is_far) {
        hbk_text_addf(out, "%7s", "");
    } else {
        hbk_text_addf(out, "%7u", item->partial);
    }
    if (hbk_fit_has_player(report)) {
        add_heard(item->reading, out);
    }
    if (is_far) {
        hbk_text_addf(out, "%s\n", state_words(item));
        return;
    }
    add_cents(item->before_cents, WIDE_CENTS, out);
    add_cents(item->horn_cents, WIDE_CENTS, out);
    if (hbk_fit_has_player(report)) {
        add_cents(item->after_cents, WIDE_CENTS + 1, out);
    }
    add_cents(item->alone_cents, WIDE_CENTS + 3, out);
    hbk_text_addf(out, " \u00b1%3.0f%s\n", item->alone_sd, state_words(item));
}

static void text_readings(const struct hbk_fit_report *report,
                          struct hbk_text *out)
{
    const struct hbk_fit_setups setups = hbk_fit_setups(out->arena, report);
    const bool has_player = hbk_fit_has_player(report);
    hbk_text_addf(out,
                  "\n" HBK_HEAD "%-*s%-*s%-*s%7s%s%7s%7s%s%10s" HBK_PLAIN "\n",
                  WIDE_NOTE, "written", WIDE_PRESS, "fingering",
                  setups.n > 1 ? WIDE_SET : 0, setups.n > 1 ? "set" : "",
                  "partial", has_player ? "  tuner" : "", "file", "horn",
                  has_player ? "  played" : "", "left out");
    for (size_t i = 0; i < report->n; i++) {
        text_reading(report, &setups, i, out);
    }
    hbk_report_sentence(out, hbk_fit_words_columns(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_setups(out->arena, &setups));
    hbk_report_sentence(out, hbk_fit_words_alone(out->arena, report));
}

static void text_value(const struct hbk_fit_value *value, struct hbk_text *out)
{
    char known[HBK_KNOWN_SIZE];
    size_t start = out->length;
    hbk_text_add(out, value->what);
    hbk_report_pad(out, start, WIDE_WHAT);
    start = out->length;
    hbk_text_addf(out, "%s %s",
                  hbk_known_text(value->before, value->after_sd, known),
                  value->unit);
    hbk_report_pad(out, start, WIDE_VALUE);
    start = out->length;
    hbk_text_add(out, hbk_known_text(value->after, value->after_sd, known));
    hbk_text_addf(out, " \u00b1 %s",
                  hbk_known_text(value->after_sd, value->after_sd, known));
    hbk_report_pad(out, start, WIDE_VALUE + 2);
    hbk_text_addf(out, "%zu\n", value->n_readings);
}

static void text_values(const struct hbk_fit_report *report,
                        struct hbk_text *out)
{
    size_t n = 0;
    const size_t *const order = hbk_fit_rows_order(out->arena, report, &n);
    hbk_text_add(out, "\n");
    if (n > 0) {
        hbk_text_addf(out, HBK_HEAD "%-*s%-*s%-*s%s" HBK_PLAIN "\n", WIDE_WHAT,
                      "learned", WIDE_VALUE, "file", WIDE_VALUE + 2, "fitted",
                      hbk_fit_words_told_by(report));
    }
    for (size_t i = 0; i < n; i++) {
        text_value(&report->values[order[i]], out);
    }
    hbk_report_sentence(out, hbk_fit_words_kept(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_player(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_shape(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_untold(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_twins(out->arena, report));
}

static void text_next(const struct hbk_fit_report *report, struct hbk_text *out)
{
    if (report->n_next == 0) {
        return;
    }
    hbk_text_addf(out,
                  "\nRead next, most useful first\n" HBK_HEAD
                  "%-*s%-*s%-24s%s" HBK_PLAIN "\n",
                  WIDE_NOTE, "written", WIDE_PRESS, "fingering",
                  "should read, tuned", "notes then within");
    for (size_t i = 0; i < report->n_next; i++) {
        const struct hbk_fit_next *const next = &report->next[i];
        char label[HBK_LABEL_SIZE];
        add_note(next->written, WIDE_NOTE, out);
        hbk_text_addf(out, "%-*s", WIDE_PRESS,
                      hbk_horn_press_label(report->horn, next->press, label));
        const size_t start = out->length;
        hbk_text_addf(out, "%+.0f \u00b1 %.0f cents",
                      hbk_report_whole(next->cents), next->cents_sd);
        hbk_report_pad(out, start, 24);
        hbk_text_addf(out, "%.1f cents\n", next->notes_sd);
    }
}

void hbk_fit_text(const struct hbk_fit_report *report, struct hbk_text *out)
{
    const size_t aside = report->n - report->n_used;
    hbk_text_addf(out, "%s, fitted to %s", hbk_horn_name(report->horn),
                  hbk_fit_words_fitted(out->arena, report));
    hbk_text_addf(out, aside > 0 ? "; %zu not used.\n" : ".\n", aside);
    hbk_report_sentence(out, hbk_fit_words_gain(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_sure(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_names(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_learning(out->arena, report));
    hbk_report_sentence(out, hbk_fit_words_odd(out->arena, report));
    text_readings(report, out);
    text_values(report, out);
    text_next(report, out);
}

static void json_press(const struct hbk_fit_report *report, int written,
                       uint32_t press, struct hbk_json *json)
{
    char name[HBK_NAME_SIZE];
    char label[HBK_LABEL_SIZE];
    hbk_json_string(
        json, "written",
        hbk_spelling_name(hbk_note_sharp(written), HBK_ASCII, name));
    hbk_json_string(json, "label",
                    hbk_horn_press_label(report->horn, press, label));
}

static void json_text(const char *name, const char *text, struct hbk_json *json)
{
    if (text == NULL) {
        hbk_json_null(json, name);
    } else {
        hbk_json_string(json, name, text);
    }
}

/* How the horn was set up for a reading. */
static void json_set(const struct hbk_reading *reading, struct hbk_json *json)
{
    const struct hbk_reading_set *const set = reading->set;
    hbk_json_number(json, "a4_hz", reading->a4_hz, 3);
    hbk_json_number(json, "temperature_c", reading->temperature_c, 2);
    json_text("crook", set->crook, json);
    json_text("mouthpiece", set->mouthpiece, json);
    hbk_json_open_object(json, "pulled_mm");
    for (size_t i = 0; i < set->n_draws; i++) {
        hbk_json_number(json, set->draws[i].slide,
                        1000.0 * set->draws[i].draw_m, 2);
    }
    hbk_json_close_object(json);
    hbk_json_open_array(json, "bits");
    for (size_t i = 0; i < set->n_bits; i++) {
        hbk_json_whole(json, NULL, (long)set->bits[i]);
    }
    hbk_json_close_array(json);
    json_text("stuck", set->stuck, json);
}

static void json_reading(const struct hbk_fit_report *report,
                         const struct hbk_fit_reading *item,
                         struct hbk_json *json)
{
    static const char *const states[] = {[HBK_FIT_USED] = "used",
                                         [HBK_FIT_SLIPPED] = "slipped",
                                         [HBK_FIT_FAR] = "no note near"};
    const bool has_note = item->state != HBK_FIT_FAR;
    const double none = (double)NAN;
    hbk_json_open_object(json, NULL);
    json_press(report, item->written, item->press, json);
    hbk_json_bool(json, "is_name", item->reading->is_name);
    if (item->reading->is_name) {
        hbk_json_null(json, "line");
    } else {
        hbk_json_whole(json, "line", (long)item->reading->place.line);
    }
    hbk_json_string(json, "state", states[item->state]);
    if (has_note) {
        hbk_json_whole(json, "partial", (long)item->partial);
    } else {
        hbk_json_null(json, "partial");
    }
    hbk_json_number(json, "reading_cents", item->reading->cents, 2);
    hbk_json_number(json, "before_cents", has_note ? item->before_cents : none,
                    2);
    hbk_json_number(json, "after_cents", has_note ? item->after_cents : none,
                    2);
    hbk_json_number(json, "horn_alone_cents",
                    has_note ? item->horn_cents : none, 2);
    hbk_json_number(json, "left_out_cents", has_note ? item->alone_cents : none,
                    2);
    hbk_json_number(json, "left_out_uncertainty_cents",
                    has_note ? item->alone_sd : none, 2);
    hbk_json_bool(json, "alone_on_partial", item->is_alone_on_partial);
    if (item->alone_on < 0) {
        hbk_json_null(json, "alone_on");
    } else {
        char label[HBK_LABEL_SIZE];
        hbk_json_string(json, "alone_on",
                        hbk_horn_control_label(report->horn,
                                               (size_t)item->alone_on, label,
                                               sizeof(label)));
    }
    json_set(item->reading, json);
    hbk_json_close_object(json);
}

static void json_value(const struct hbk_fit_report *report,
                       const struct hbk_fit_value *value, struct hbk_json *json)
{
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "what", value->what);
    hbk_json_bool(json, "is_players", value->is_players);
    hbk_json_string(json, "unit", value->unit);
    hbk_json_number(json, "before", value->before, value->decimals);
    hbk_json_number(json, "before_uncertainty", value->before_sd,
                    value->decimals + 1);
    hbk_json_number(json, "after", value->after, value->decimals);
    hbk_json_number(json, "after_uncertainty", value->after_sd,
                    value->decimals + 1);
    hbk_json_number(json, "learned", value->learned, 3);
    hbk_json_number(json, "moved", value->moved, 2);
    hbk_json_bool(json, "let_go", value->is_let_go);
    hbk_json_whole(json, "readings", (long)value->n_readings);
    if (value->twin < 0) {
        hbk_json_null(json, "not_separated_from");
    } else {
        hbk_json_string(json, "not_separated_from",
                        report->values[value->twin].what);
    }
    hbk_json_close_object(json);
}

static void json_next(const struct hbk_fit_report *report,
                      const struct hbk_fit_next *next, struct hbk_json *json)
{
    hbk_json_open_object(json, NULL);
    json_press(report, next->written, next->press, json);
    hbk_json_whole(json, "partial", (long)next->partial);
    hbk_json_number(json, "cents", next->cents, 1);
    hbk_json_number(json, "uncertainty_cents", next->cents_sd, 1);
    hbk_json_number(json, "gain", next->gain, 3);
    hbk_json_number(json, "notes_uncertainty_then_cents", next->notes_sd, 2);
    hbk_json_close_object(json);
}

static void json_names(const struct hbk_fit_report *report,
                       struct hbk_json *json)
{
    const struct hbk_fit_names *const names = &report->names;
    if (names->n == 0) {
        hbk_json_null(json, "key_names");
        return;
    }
    hbk_json_open_object(json, "key_names");
    hbk_json_whole(json, "notes", (long)names->n);
    hbk_json_whole(json, "used", (long)names->n_used);
    hbk_json_number(json, "uncertainty_cents", names->cents, 1);
    hbk_json_number(json, "sum", names->sum, 1);
    hbk_json_number(json, "sum_semitone_higher", names->sum_higher, 1);
    hbk_json_number(json, "sum_semitone_lower", names->sum_lower, 1);
    hbk_json_close_object(json);
}

static void json_notes(const struct hbk_fit_report *report,
                       struct hbk_json *json)
{
    hbk_json_open_array(json, "notes");
    for (size_t i = 0; i < report->n_notes; i++) {
        const struct hbk_fit_note *const note = &report->notes[i];
        hbk_json_open_object(json, NULL);
        json_press(report, note->written, note->press, json);
        hbk_json_whole(json, "partial", (long)note->partial);
        hbk_json_number(json, "uncertainty_cents", note->sd, 1);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

void hbk_fit_json(const struct hbk_fit_report *report, struct hbk_text *out)
{
    const char *const odd = hbk_fit_words_odd(out->arena, report);
    struct hbk_json json = hbk_report_json_begin("hornbook-fit/1", out);
    hbk_json_string(&json, "horn", hbk_horn_name(report->horn));
    hbk_json_whole(&json, "used", (long)report->n_used);
    hbk_json_whole(&json, "set_aside", (long)(report->n - report->n_used));
    hbk_json_number(&json, "before_rms_cents", report->before_rms, 2);
    hbk_json_number(&json, "before_mean_cents", report->before_mean, 2);
    hbk_json_number(&json, "after_rms_cents", report->after_rms, 2);
    hbk_json_number(&json, "left_out_rms_cents", report->alone_rms, 2);
    hbk_json_number(&json, "unread_error_cents", report->unread_cents, 2);
    hbk_json_number(&json, "notes_uncertainty_before_cents",
                    report->notes_sd_before, 2);
    hbk_json_number(&json, "notes_uncertainty_after_cents",
                    report->notes_sd_after, 2);
    hbk_json_number(&json, "model_cents", report->model_cents, 1);
    hbk_json_bool(&json, "learn_from", !report->horn->not_to_learn_from);
    hbk_json_number(&json, "scatter", report->scatter, 2);
    json_text("odd", odd[0] == '\0' ? NULL : odd, &json);
    json_names(report, &json);
    hbk_json_open_array(&json, "readings");
    for (size_t i = 0; i < report->n; i++) {
        json_reading(report, &report->items[i], &json);
    }
    hbk_json_close_array(&json);
    hbk_json_open_array(&json, "values");
    for (size_t p = 0; p < report->n_values; p++) {
        json_value(report, &report->values[p], &json);
    }
    hbk_json_close_array(&json);
    json_notes(report, &json);
    hbk_json_open_array(&json, "next");
    for (size_t i = 0; i < report->n_next; i++) {
        json_next(report, &report->next[i], &json);
    }
    hbk_json_close_array(&json);
    hbk_report_json_end(&json);
}
