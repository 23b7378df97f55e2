#include "cli/slides_out.h"

#include "base/json.h"
#include "cli/notes_out.h"
#include "music/pitch.h"
#include "sheet/words.h"
#include "sheet/words_slides.h"

#include <math.h>

static double mm(double metres)
{
    const double rounded = round(1e4 * metres) / 10.0;
    return rounded == 0.0 ? 0.0 : rounded;
}

/* Whole cents, without a negative zero. */
static double whole(double cents)
{
    const double rounded = round(cents);
    return rounded == 0.0 ? 0.0 : rounded;
}

/* "5.4 mm" or "-" in a column of that width. */
static void add_mm(struct hbk_text *out, double metres, int width)
{
    if (isnan(metres)) {
        hbk_text_addf(out, "%*s", width, "-");
    } else {
        hbk_text_addf(out, "%*.1f", width, mm(metres));
    }
}

static void text_head(const struct hbk_slides *slides, struct hbk_text *out)
{
    const struct hbk_notes *const notes = &slides->notes;
    hbk_text_addf(out, "%s\n%s. %s.\n%s\n", notes->horn->name,
                  hbk_words_sounds(out->arena, notes->written_c4_sounds),
                  hbk_words_pitch(out->arena, &notes->setting),
                  hbk_words_tuning(out->arena, notes));
    const char *const setting = hbk_words_setting(out->arena, notes);
    if (setting[0] != '\0') {
        hbk_text_addf(out, "%s\n", setting);
    }
}

static void text_pulls(const struct hbk_slides *slides, struct hbk_text *out)
{
    const struct hbk_horn *const horn = slides->horn;
    if (slides->n == 0) {
        return;
    }
    hbk_text_addf(out, "\nmm, as the hand draws\n%-12s%8s%15s%8s%10s\n",
                  "slide", "draw", "in proportion", "travel", "cents/mm");
    for (size_t s = 0; s < slides->n; s++) {
        const struct hbk_slide_pull *const pull = &slides->pulls[s];
        hbk_text_addf(out, "%-12s", horn->slides[s].name);
        add_mm(out, pull->draw_m, 8);
        add_mm(out, pull->own_m, 15);
        add_mm(out, horn->slides[s].travel_m, 8);
        if (isnan(pull->cents_per_mm)) {
            hbk_text_addf(out, "%10s\n", "-");
        } else {
            hbk_text_addf(out, "%10.2f\n", pull->cents_per_mm);
        }
    }
}

static void text_limits(const struct hbk_slides *slides, struct hbk_text *out)
{
    hbk_text_add(out, "\n");
    hbk_text_add(out, hbk_words_reach(out->arena, slides));
    hbk_text_add(out, "\n");
    const char *const limits = hbk_words_slide_limits(out->arena, slides);
    if (limits[0] != '\0') {
        hbk_text_addf(out, "%s\n", limits);
    }
    if (slides->has_valve_slides) {
        hbk_text_addf(out,
                      "All notes together lie %.0f cents off with the valve "
                      "slides home, %.0f with them in proportion, %.0f drawn "
                      "as above.\n",
                      whole(slides->home_rms), whole(slides->own_rms),
                      whole(slides->best_rms));
    }
    hbk_text_addf(out, "\n%-14s", "main slide at");
    for (size_t i = 0; i < slides->n_warmths; i++) {
        hbk_text_addf(out, "%6.0f \u00b0C", slides->warmths[i].temperature_c);
    }
    for (size_t s = 0; s < slides->n; s++) {
        if (slides->horn->slides[s].valve >= 0) {
            continue;
        }
        hbk_text_addf(out, "\n%-14s", slides->horn->slides[s].name);
        for (size_t i = 0; i < slides->n_warmths; i++) {
            hbk_text_addf(out, "%6.1f mm", mm(slides->warmths[i].draw_m[s]));
        }
    }
    hbk_text_addf(out, "\n%-14s", "stays");
    for (size_t i = 0; i < slides->n_warmths; i++) {
        hbk_text_addf(out, "%+6.0f c ", whole(slides->warmths[i].after_cents));
    }
    hbk_text_add(out, "\n");
}

void hbk_slides_text(const struct hbk_slides *slides, struct hbk_text *out)
{
    text_head(slides, out);
    text_pulls(slides, out);
    text_limits(slides, out);
    hbk_text_addf(out, "\ncents\n%-8s%-12s", "written", "fingering");
    hbk_text_add(out, slides->has_valve_slides
                          ? "  home   in proportion   drawn\n"
                          : " drawn\n");
    for (size_t i = 0; i < slides->notes.n; i++) {
        const struct hbk_slide_note *const note = &slides->list[i];
        char name[HBK_NAME_SIZE];
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(
            out, "%-8s",
            hbk_spelling_name(hbk_note_usual(note->written), HBK_ASCII, name));
        if (note->partial == 0) {
            hbk_text_add(out, "out of reach\n");
            continue;
        }
        hbk_text_addf(out, "%-12s",
                      hbk_horn_press_label(slides->horn, note->press, label));
        if (slides->has_valve_slides) {
            hbk_text_addf(out, "%+6.0f%16.0f ", whole(note->home_cents),
                          whole(note->own_cents));
        }
        hbk_text_addf(out, "%+6.0f%s\n", whole(note->best_cents),
                      fabs(note->best_cents) >= HBK_STAYS_OUT_CENTS ? "  *"
                                                                    : "");
    }
    hbk_text_addf(out, "* stays more than %.0f cents out: lip it\n",
                  HBK_STAYS_OUT_CENTS);
}

static void csv_number(struct hbk_text *out, double value, int decimals)
{
    if (isnan(value)) {
        hbk_text_add(out, ",");
    } else {
        hbk_text_addf(out, ",%.*f", decimals, value);
    }
}

void hbk_slides_csv(const struct hbk_slides *slides, struct hbk_text *out)
{
    hbk_text_add(out, "slide,draw_mm,own_mm,travel_mm,legs,"
                      "cents_per_mm\r\n");
    for (size_t s = 0; s < slides->n; s++) {
        const struct hbk_slide *const slide = &slides->horn->slides[s];
        const struct hbk_slide_pull *const pull = &slides->pulls[s];
        hbk_text_add_csv(out, slide->name);
        csv_number(out, 1000.0 * pull->draw_m, 2);
        csv_number(out, 1000.0 * pull->own_m, 2);
        csv_number(out, 1000.0 * slide->travel_m, 1);
        csv_number(out, slide->legs, 0);
        csv_number(out, pull->cents_per_mm, 3);
        hbk_text_add(out, "\r\n");
    }
    hbk_text_add(out, "\r\nwritten,label,partial,home_cents,"
                      "own_cents,cents,weight\r\n");
    for (size_t i = 0; i < slides->notes.n; i++) {
        const struct hbk_slide_note *const note = &slides->list[i];
        char name[HBK_NAME_SIZE];
        char label[HBK_LABEL_SIZE];
        hbk_text_add(out, hbk_spelling_name(hbk_note_sharp(note->written),
                                            HBK_ASCII, name));
        if (note->partial == 0) {
            hbk_text_add(out, ",,,,,,\r\n");
            continue;
        }
        hbk_text_addf(out, ",%s,%u",
                      hbk_horn_press_label(slides->horn, note->press, label),
                      note->partial);
        csv_number(out, note->home_cents, 2);
        csv_number(out, note->own_cents, 2);
        csv_number(out, note->best_cents, 2);
        csv_number(out, note->weight, 1);
        hbk_text_add(out, "\r\n");
    }
}

static void json_pulls(const struct hbk_slides *slides, struct hbk_json *json)
{
    hbk_json_open_array(json, "slides");
    for (size_t s = 0; s < slides->n; s++) {
        const struct hbk_slide *const slide = &slides->horn->slides[s];
        const struct hbk_slide_pull *const pull = &slides->pulls[s];
        char label[HBK_LABEL_SIZE];
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "slide", slide->name);
        if (slide->valve >= 0) {
            hbk_json_string(json, "valve",
                            hbk_horn_control_label(slides->horn,
                                                   (size_t)slide->valve, label,
                                                   sizeof(label)));
        }
        hbk_json_number(json, "draw_mm", 1000.0 * pull->draw_m, 2);
        if (slide->valve >= 0) {
            hbk_json_number(json, "own_mm", 1000.0 * pull->own_m, 2);
            hbk_json_number(json, "best_mm", 1000.0 * pull->best_m, 2);
        }
        hbk_json_number(json, "stands_out_mm", 1000.0 * slide->stands_out_m, 1);
        hbk_json_number(json, "travel_mm", 1000.0 * slide->travel_m, 1);
        hbk_json_whole(json, "legs", slide->legs);
        hbk_json_number(json, "cents_per_mm", pull->cents_per_mm, 3);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_open_array(json, "bits");
    for (size_t b = 0; b < slides->horn->n_bits; b++) {
        hbk_json_open_object(json, NULL);
        hbk_json_number(json, "adds_mm", 1000.0 * slides->horn->bits[b].adds_m,
                        1);
        hbk_json_bool(json, "in", (slides->notes.tuned.bits >> b & 1U) != 0);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_notes(const struct hbk_slides *slides, struct hbk_json *json)
{
    hbk_json_open_array(json, "notes");
    for (size_t i = 0; i < slides->notes.n; i++) {
        const struct hbk_slide_note *const note = &slides->list[i];
        char name[HBK_NAME_SIZE];
        char label[HBK_LABEL_SIZE];
        hbk_json_open_object(json, NULL);
        hbk_json_string(
            json, "written",
            hbk_spelling_name(hbk_note_sharp(note->written), HBK_ASCII, name));
        if (note->partial == 0) {
            hbk_json_null(json, "label");
        } else {
            hbk_json_string(
                json, "label",
                hbk_horn_press_label(slides->horn, note->press, label));
            hbk_json_whole(json, "partial", (long)note->partial);
            hbk_json_number(json, "home_cents", note->home_cents, 2);
            hbk_json_number(json, "own_cents", note->own_cents, 2);
            hbk_json_number(json, "best_cents", note->best_cents, 2);
            hbk_json_number(json, "cents",
                            slides->notes.notes[i].fingerings[0].cents, 2);
            hbk_json_number(json, "weight", note->weight, 1);
        }
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_warmths(const struct hbk_slides *slides, struct hbk_json *json)
{
    hbk_json_open_array(json, "temperatures");
    for (size_t i = 0; i < slides->n_warmths; i++) {
        const struct hbk_warmth *const warmth = &slides->warmths[i];
        hbk_json_open_object(json, NULL);
        hbk_json_number(json, "temperature_c", warmth->temperature_c, 1);
        hbk_json_open_array(json, "draw_mm");
        for (size_t s = 0; s < slides->n; s++) {
            hbk_json_number(json, NULL, 1000.0 * warmth->draw_m[s], 2);
        }
        hbk_json_close_array(json);
        hbk_json_number(json, "after_cents", warmth->after_cents, 2);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

void hbk_slides_json(const struct hbk_slides *slides, struct hbk_text *out)
{
    const struct hbk_notes *const notes = &slides->notes;
    struct hbk_json json = {.out = out};
    char name[HBK_NAME_SIZE];
    hbk_json_open_object(&json, NULL);
    hbk_json_string(&json, "format", "hornbook-slides/2");
    hbk_json_string(&json, "horn", notes->horn->name);
    hbk_json_string(&json, "written_c4_sounds",
                    hbk_spelling_name(hbk_note_sharp(notes->written_c4_sounds),
                                      HBK_ASCII, name));
    hbk_notes_json_setting(notes, &json);
    hbk_json_string(
        &json, "tuning_note",
        hbk_spelling_name(hbk_note_sharp(notes->tuned.note), HBK_ASCII, name));
    hbk_json_number(&json, "before_cents", notes->tuned.before_cents, 2);
    hbk_json_number(&json, "after_cents", notes->tuned.after_cents, 2);
    hbk_json_number(&json, "cents_per_degree", slides->reach.cents_per_degree,
                    3);
    hbk_json_number(&json, "highest_a4_hz", slides->reach.highest_hz, 2);
    hbk_json_number(&json, "lowest_a4_hz", slides->reach.lowest_hz, 2);
    json_pulls(slides, &json);
    hbk_json_number(&json, "home_rms_cents", slides->home_rms, 2);
    hbk_json_number(&json, "own_rms_cents", slides->own_rms, 2);
    hbk_json_number(&json, "best_rms_cents", slides->best_rms, 2);
    json_notes(slides, &json);
    json_warmths(slides, &json);
    hbk_json_close_object(&json);
    hbk_json_finish(&json);
}
