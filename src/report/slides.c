#include "report/slides.h"

#include "base/json.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/pull.h"
#include "music/pitch.h"
#include "report/columns.h"
#include "report/members.h"
#include "report/read.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_slides.h"

#include <math.h>

/* "5" or "-" in a column of that width. */
static void add_mm(struct hbk_text *out, const struct hbk_horn *horn, size_t s,
                   double draw_m, int width)
{
    char mm[HBK_PULL_SIZE];
    hbk_text_addf(out, "%*s", width,
                  isnan(draw_m) ? "-"
                                : hbk_pull_slide_text(horn, s, draw_m, mm));
}

static void text_pulls(const struct hbk_slides *slides, struct hbk_text *out)
{
    const struct hbk_horn *const horn = slides->horn;
    if (slides->n == 0) {
        return;
    }
    hbk_text_addf(out, "\nmm out, as the hand pulls\n%-12s%8s", "slide", "set");
    if (slides->has_valve_slides) {
        hbk_text_addf(out, "%15s%12s", "own interval", "compromise");
    }
    hbk_text_addf(out, "%8s%10s\n", "travel", "cents/mm");
    for (size_t s = 0; s < slides->n; s++) {
        const struct hbk_slide_pull *const pull = &slides->pulls[s];
        hbk_text_addf(out, "%-12s", horn->slides[s].name);
        add_mm(out, horn, s, pull->draw_m, 8);
        if (slides->has_valve_slides) {
            add_mm(out, horn, s, pull->own_m, 15);
            add_mm(out, horn, s, pull->best_m, 12);
        }
        hbk_text_addf(out, "%8.4g", 1000.0 * horn->slides[s].travel_m);
        if (isnan(pull->cents_per_mm)) {
            hbk_text_addf(out, "%10s\n", "-");
        } else {
            hbk_text_addf(out, "%10.1f\n", pull->cents_per_mm);
        }
    }
}

/* The main slides from cold to warm; nothing where nothing can be set. */
static void text_warmths(const struct hbk_slides *slides, struct hbk_text *out)
{
    hbk_text_addf(out, "\n%-17s", "air in the horn");
    for (size_t i = 0; i < slides->n_warmths; i++) {
        hbk_text_addf(out, "%6.0f \u00b0C", slides->warmths[i].temperature_c);
    }
    for (size_t s = 0; s < slides->n; s++) {
        if (slides->horn->slides[s].valve >= 0) {
            continue;
        }
        hbk_text_addf(out, "\n%-17s", slides->horn->slides[s].name);
        for (size_t i = 0; i < slides->n_warmths; i++) {
            add_mm(out, slides->horn, s, slides->warmths[i].draw_m[s], 6);
            hbk_text_add(out, " mm");
        }
    }
    hbk_text_addf(out, "\n%-17s", "still off, cents");
    for (size_t i = 0; i < slides->n_warmths; i++) {
        hbk_text_addf(out, "%+6.0f   ",
                      hbk_report_whole(slides->warmths[i].after_cents));
    }
    hbk_text_add(out, "\n");
}

/* The column headings of the notes. */
enum { WIDE_NAME = 8 };

static void text_ways(const struct hbk_slides *slides, struct hbk_text *out)
{
    hbk_text_addf(out, "\ncents\n%-*s%-12s%6s", WIDE_NAME,
                  hbk_read_heading(&slides->notes), "fingering", "set");
    if (slides->has_valve_slides) {
        hbk_text_addf(out, "%8s%15s%12s", "in", "own interval", "compromise");
    }
    hbk_text_add(out, "\n");
}

void hbk_slides_text(const struct hbk_slides *slides, struct hbk_text *out)
{
    bool any_out = false;
    hbk_text_add(out, hbk_words_head(out->arena, &slides->notes));
    text_pulls(slides, out);
    hbk_text_add(out, "\n");
    hbk_report_sentence(out, hbk_words_reach(out->arena, slides));
    hbk_report_sentence(out, hbk_words_slide_limits(out->arena, slides));
    hbk_report_sentence(out, hbk_words_slide_ways(out->arena, slides));
    text_warmths(slides, out);
    text_ways(slides, out);
    for (size_t i = 0; i < slides->notes.n; i++) {
        const struct hbk_slide_note *const note = &slides->list[i];
        const size_t start = out->length;
        char label[HBK_LABEL_SIZE];
        hbk_text_add(out,
                     hbk_words_read(out->arena, &slides->notes, note->written));
        hbk_report_pad(out, start, WIDE_NAME);
        if (note->partial == 0) {
            hbk_text_add(out, "not available\n");
            continue;
        }
        const double cents = slides->notes.notes[i].fingerings[0].cents;
        const bool is_out =
            fabs(hbk_report_whole(cents)) >= HBK_STAYS_OUT_CENTS;
        any_out = any_out || is_out;
        hbk_text_addf(out, "%-12s%+6.0f%s",
                      hbk_horn_press_label(slides->horn, note->press, label),
                      hbk_report_whole(cents),
                      is_out                     ? " *"
                      : slides->has_valve_slides ? "  "
                                                 : "");
        if (slides->has_valve_slides) {
            hbk_text_addf(out, "%+6.0f%+15.0f%+12.0f",
                          hbk_report_whole(note->home_cents),
                          hbk_report_whole(note->own_cents),
                          hbk_report_whole(note->best_cents));
        }
        hbk_text_add(out, "\n");
    }
    if (any_out) {
        hbk_text_addf(out,
                      "* %.0f cents off or more: lip it or use an alternate\n",
                      HBK_STAYS_OUT_CENTS);
    }
}

static void csv_number(struct hbk_text *out, double value, int decimals)
{
    if (isnan(value)) {
        hbk_text_add(out, ",");
    } else {
        hbk_text_addf(out, ",%.*f", decimals, value);
    }
}

static void csv_end(const struct hbk_slides *slides, int written,
                    struct hbk_text *out)
{
    hbk_read_csv(&slides->notes, hbk_read_sharp(&slides->notes, written), out);
    hbk_text_add(out, "\r\n");
}

void hbk_slides_csv(const struct hbk_slides *slides, struct hbk_text *out)
{
    hbk_text_add(out, "slide,draw_mm,own_mm,best_mm,travel_mm,legs,"
                      "cents_per_mm\r\n");
    for (size_t s = 0; s < slides->n; s++) {
        const struct hbk_slide *const slide = &slides->horn->slides[s];
        const struct hbk_slide_pull *const pull = &slides->pulls[s];
        hbk_text_add_csv(out, slide->name);
        csv_number(out, 1000.0 * pull->draw_m, 2);
        csv_number(out, 1000.0 * pull->own_m, 2);
        csv_number(out, 1000.0 * pull->best_m, 2);
        csv_number(out, 1000.0 * slide->travel_m, 1);
        csv_number(out, slide->legs, 0);
        csv_number(out, pull->cents_per_mm, 3);
        hbk_text_add(out, "\r\n");
    }
    hbk_text_add(out, "\r\nwritten,label,partial,slides_in_cents,"
                      "own_cents,best_cents,cents,weight");
    hbk_read_csv_names(&slides->notes, out);
    hbk_text_add(out, "\r\n");
    for (size_t i = 0; i < slides->notes.n; i++) {
        const struct hbk_slide_note *const note = &slides->list[i];
        char name[HBK_NAME_SIZE];
        char label[HBK_LABEL_SIZE];
        hbk_text_add(out, hbk_spelling_name(hbk_note_sharp(note->written),
                                            HBK_ASCII, name));
        if (note->partial == 0) {
            hbk_text_add(out, ",,,,,,,");
            csv_end(slides, note->written, out);
            continue;
        }
        hbk_text_addf(out, ",%s,%u",
                      hbk_horn_press_label(slides->horn, note->press, label),
                      note->partial);
        csv_number(out, note->home_cents, 2);
        csv_number(out, note->own_cents, 2);
        csv_number(out, note->best_cents, 2);
        csv_number(out, slides->notes.notes[i].fingerings[0].cents, 2);
        csv_number(out, note->weight, 1);
        csv_end(slides, note->written, out);
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
        hbk_json_number(json, "pulled_mm", 1000.0 * pull->draw_m, 2);
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
        hbk_read_json(&slides->notes,
                      hbk_read_sharp(&slides->notes, note->written), json);
        if (note->partial == 0) {
            hbk_json_null(json, "label");
        } else {
            hbk_json_string(
                json, "label",
                hbk_horn_press_label(slides->horn, note->press, label));
            hbk_json_whole(json, "partial", (long)note->partial);
            hbk_json_number(json, "slides_in_cents", note->home_cents, 2);
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
        hbk_json_open_array(json, "pulled_mm");
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
    struct hbk_json json = hbk_report_json_begin("hornbook-slides/2", out);
    char name[HBK_NAME_SIZE];
    hbk_notes_json_horn(notes, &json);
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
    hbk_json_number(&json, "slides_in_rms_cents", slides->home_rms, 2);
    hbk_json_number(&json, "own_rms_cents", slides->own_rms, 2);
    hbk_json_number(&json, "best_rms_cents", slides->best_rms, 2);
    json_notes(slides, &json);
    json_warmths(slides, &json);
    hbk_report_json_end(&json);
}
