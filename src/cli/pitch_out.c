#include "cli/pitch_out.h"

#include "base/json.h"
#include "music/pitch.h"
#include "music/standard.h"

#include <math.h>
#include <string.h>

/* Nearer than this a horn counts as in tune. */
static const double in_tune_cents = 0.5;
static const double least_draw_m = 0.05e-3;

/* The whole reach of a horn, and whether it has gaps between its setups. */
static void ends_of(const struct hbk_pitch_member *member, double *low,
                    double *high)
{
    *low = INFINITY;
    *high = 0.0;
    for (size_t i = 0; i < member->n_setups; i++) {
        *low = fmin(*low, member->setups[i].lowest_hz);
        *high = fmax(*high, member->setups[i].highest_hz);
    }
}

/* "main 12.3 mm, bit of 6 mm, low-pitch shank", or "all home". */
static const char *draw_words(const struct hbk_pitch_member *member,
                              const struct hbk_pitch_place *place,
                              struct hbk_arena *arena)
{
    const struct hbk_horn *const horn = member->horn;
    struct hbk_text text = {.arena = arena};
    if (place->crook >= 0) {
        const struct hbk_crook *const crook = &horn->crooks[place->crook];
        hbk_text_addf(&text, "%s %s", crook->name,
                      crook->kind == NULL ? "crook" : crook->kind);
    }
    for (size_t s = 0; s < place->tuned.n_draws; s++) {
        if (place->tuned.draw_m[s] >= least_draw_m) {
            hbk_text_addf(&text, "%s%s %.1f mm", text.length > 0 ? ", " : "",
                          horn->slides[s].name,
                          1000.0 * place->tuned.draw_m[s]);
        }
    }
    for (size_t b = 0; b < horn->n_bits; b++) {
        if ((place->tuned.bits >> b & 1U) != 0) {
            hbk_text_addf(&text, "%sbit of %.3g mm",
                          text.length > 0 ? ", " : "",
                          1000.0 * horn->bits[b].adds_m);
        }
    }
    return text.length > 0 ? hbk_text_string(&text) : "all home";
}

static const char *stays_words(double cents, struct hbk_arena *arena)
{
    return fabs(cents) <= in_tune_cents
               ? "in tune"
               : hbk_arena_printf(arena, "%.0f cents %s", fabs(cents),
                                  cents > 0.0 ? "sharp" : "flat");
}

static size_t count_out(const struct hbk_pitch_view *view, double a4_hz)
{
    size_t out = 0;
    for (size_t i = 0; i < view->n; i++) {
        out += fabs(hbk_pitch_error(&view->members[i], a4_hz)) > in_tune_cents
                   ? 1
                   : 0;
    }
    return out;
}

static void text_pitch(const struct hbk_pitch_view *view, struct hbk_text *out)
{
    const struct hbk_common_pitch *const pitch = &view->pitch;
    hbk_text_addf(out, "%s: A4 = %.1f Hz at %g \u00b0C. ",
                  view->asked ? "Pitch asked for" : "Common pitch",
                  pitch->a4_hz, view->temperature_c);
    if (isnan(pitch->from_hz)) {
        hbk_text_addf(out,
                      "%zu of %zu cannot be brought there; together they "
                      "stay %.0f cents off.\n",
                      count_out(view, pitch->a4_hz), view->n,
                      pitch->total_cents);
    } else {
        hbk_text_addf(out, "All fit, as they do from %.1f to %.1f Hz.\n",
                      pitch->from_hz, pitch->to_hz);
    }
}

/* Each source once, after all the pitches it stands for. */
static void text_sources(size_t n, const struct hbk_standard standards[],
                         struct hbk_text *out)
{
    hbk_text_add(out, "Sources:");
    for (size_t i = 0; i < n; i++) {
        bool is_told = false;
        for (size_t k = 0; k < i; k++) {
            is_told = is_told ||
                      strcmp(standards[k].source, standards[i].source) == 0;
        }
        for (size_t k = i; k < n && !is_told; k++) {
            if (strcmp(standards[k].source, standards[i].source) == 0) {
                hbk_text_addf(out, "%s %.1f",
                              k > i   ? ","
                              : i > 0 ? ";"
                                      : "",
                              standards[k].a4_hz);
            }
        }
        hbk_text_addf(out, "%s%s", is_told ? "" : " ",
                      is_told ? "" : standards[i].source);
    }
    hbk_text_add(out, ".\n");
}

static void text_standards(const struct hbk_pitch_view *view,
                           struct hbk_text *out)
{
    const struct hbk_standard *standards = NULL;
    const size_t n = hbk_standards(&standards);
    hbk_text_add(out, "\nPitches of the past\n");
    for (size_t i = 0; i < n; i++) {
        const struct hbk_common_pitch pitch =
            hbk_common_pitch_at(view->n, view->members, standards[i].a4_hz);
        const size_t off = count_out(view, standards[i].a4_hz);
        hbk_text_addf(out, "%6.1f Hz  %-58s ", standards[i].a4_hz,
                      standards[i].name);
        if (off == 0) {
            hbk_text_add(out, "all fit\n");
        } else {
            hbk_text_addf(out, "%zu off by %.0f cents together\n", off,
                          pitch.total_cents);
        }
    }
    text_sources(n, standards, out);
}

void hbk_pitch_text(const struct hbk_pitch_view *view, struct hbk_text *out)
{
    text_pitch(view, out);
    hbk_text_add(out, "\n");
    for (size_t i = 0; i < view->n; i++) {
        const struct hbk_pitch_member *const member = &view->members[i];
        const struct hbk_pitch_place *const place = &view->places[i];
        double low = 0.0;
        double high = 0.0;
        ends_of(member, &low, &high);
        hbk_text_addf(out, "%s (%s)\n", member->horn->name, view->words[i]);
        if (high - low < 0.05) {
            hbk_text_addf(out, "    stands at %.1f Hz; ", high);
        } else {
            hbk_text_addf(out, "    reaches %.1f to %.1f Hz; ", low, high);
        }
        hbk_text_addf(out, "%s: %s\n", draw_words(member, place, out->arena),
                      stays_words(place->tuned.after_cents, out->arena));
    }
    text_standards(view, out);
}

void hbk_pitch_csv(const struct hbk_pitch_view *view, struct hbk_text *out)
{
    hbk_text_add(out, "horn,name,lowest_a4_hz,highest_a4_hz,a4_hz,draw,"
                      "after_cents\r\n");
    for (size_t i = 0; i < view->n; i++) {
        double low = 0.0;
        double high = 0.0;
        ends_of(&view->members[i], &low, &high);
        hbk_text_add_csv(out, view->words[i]);
        hbk_text_add(out, ",");
        hbk_text_add_csv(out, view->members[i].horn->name);
        hbk_text_addf(out, ",%.2f,%.2f,%.2f,", low, high, view->pitch.a4_hz);
        hbk_text_add_csv(
            out, draw_words(&view->members[i], &view->places[i], out->arena));
        hbk_text_addf(out, ",%.2f\r\n", view->places[i].tuned.after_cents);
    }
}

static void json_setups(const struct hbk_pitch_member *member,
                        struct hbk_json *json)
{
    hbk_json_open_array(json, "setups");
    for (size_t k = 0; k < member->n_setups; k++) {
        const struct hbk_pitch_setup *const setup = &member->setups[k];
        hbk_json_open_object(json, NULL);
        if (setup->crook >= 0) {
            hbk_json_string(json, "crook",
                            member->horn->crooks[setup->crook].name);
        } else {
            hbk_json_null(json, "crook");
        }
        hbk_json_number(json, "lowest_a4_hz", setup->lowest_hz, 2);
        hbk_json_number(json, "highest_a4_hz", setup->highest_hz, 2);
        hbk_json_number(json, "cents_per_degree", setup->cents_per_degree, 3);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_place(const struct hbk_pitch_member *member,
                       const struct hbk_pitch_place *place,
                       struct hbk_json *json)
{
    const struct hbk_horn *const horn = member->horn;
    if (place->crook >= 0) {
        hbk_json_string(json, "crook", horn->crooks[place->crook].name);
    } else {
        hbk_json_null(json, "crook");
    }
    hbk_json_open_array(json, "slides");
    for (size_t s = 0; s < place->tuned.n_draws; s++) {
        if (horn->slides[s].valve >= 0) {
            continue;
        }
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "slide", horn->slides[s].name);
        hbk_json_number(json, "draw_mm", 1000.0 * place->tuned.draw_m[s], 2);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_open_array(json, "bits_mm");
    for (size_t b = 0; b < horn->n_bits; b++) {
        if ((place->tuned.bits >> b & 1U) != 0) {
            hbk_json_number(json, NULL, 1000.0 * horn->bits[b].adds_m, 1);
        }
    }
    hbk_json_close_array(json);
    hbk_json_number(json, "after_cents", place->tuned.after_cents, 2);
}

static void json_standards(const struct hbk_pitch_view *view,
                           struct hbk_json *json)
{
    const struct hbk_standard *standards = NULL;
    const size_t n = hbk_standards(&standards);
    hbk_json_open_array(json, "standards");
    for (size_t i = 0; i < n; i++) {
        hbk_json_open_object(json, NULL);
        hbk_json_number(json, "a4_hz", standards[i].a4_hz, 1);
        hbk_json_string(json, "name", standards[i].name);
        hbk_json_string(json, "source", standards[i].source);
        hbk_json_number(
            json, "total_cents",
            hbk_common_pitch_at(view->n, view->members, standards[i].a4_hz)
                .total_cents,
            2);
        hbk_json_whole(json, "off", (long)count_out(view, standards[i].a4_hz));
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

void hbk_pitch_json(const struct hbk_pitch_view *view, struct hbk_text *out)
{
    struct hbk_json json = {.out = out};
    hbk_json_open_object(&json, NULL);
    hbk_json_string(&json, "format", "hornbook-pitch/1");
    hbk_json_number(&json, "temperature_c", view->temperature_c, 1);
    hbk_json_number(&json, "a4_hz", view->pitch.a4_hz, 2);
    hbk_json_number(&json, "total_cents", view->pitch.total_cents, 2);
    hbk_json_number(&json, "all_fit_from_hz", view->pitch.from_hz, 2);
    hbk_json_number(&json, "all_fit_to_hz", view->pitch.to_hz, 2);
    hbk_json_open_array(&json, "horns");
    for (size_t i = 0; i < view->n; i++) {
        hbk_json_open_object(&json, NULL);
        hbk_json_string(&json, "horn", view->words[i]);
        hbk_json_string(&json, "name", view->members[i].horn->name);
        json_setups(&view->members[i], &json);
        json_place(&view->members[i], &view->places[i], &json);
        hbk_json_close_object(&json);
    }
    hbk_json_close_array(&json);
    json_standards(view, &json);
    hbk_json_close_object(&json);
    hbk_json_finish(&json);
}
