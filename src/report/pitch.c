#include "report/pitch.h"

#include "base/json.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/pull.h"
#include "music/pitch.h"
#include "music/standard.h"
#include "notes/verdict.h"
#include "report/columns.h"
#include "report/members.h"
#include "report/screen.h"
#include "sheet/words/words_player.h"

#include <math.h>
#include <string.h>

static const double least_draw_m = 0.05e-3;
/* A narrower range is none. */
static const double least_range_hz = 0.05;

/* The whole reach of a horn, and whether it has gaps between its setups. */
static void ends_of(const struct hbk_pitch_member *member, double *low,
                    double *high)
{
    *low = INFINITY;
    *high = 0.0;
    for (size_t i = 0; i < member->n_setups; i++) {
        *low = fmin(*low, member->setups[i].reach.lowest_hz);
        *high = fmax(*high, member->setups[i].reach.highest_hz);
    }
}

static bool is_stuck(const struct hbk_pitch_member *member, size_t slide)
{
    return (member->setting.stuck.slides >> slide & 1U) != 0;
}

/*
 * "main 12 of 30 mm out (12 left to push in, 18 to pull)": what is left, as
 * far as the pull is told.
 */
static void add_main(const struct hbk_pitch_member *member, size_t slide,
                     double draw_m, struct hbk_text *out)
{
    const struct hbk_horn *const horn = member->horn;
    const double drawn_mm = hbk_pull_slide_mm(horn, slide, draw_m);
    const double travel_mm = 1e3 * horn->slides[slide].travel_m;
    hbk_text_addf(out, "%s %.4g of %.4g mm out (", horn->slides[slide].name,
                  drawn_mm, travel_mm);
    if (is_stuck(member, slide)) {
        hbk_text_add(out, "stuck)");
        return;
    }
    hbk_text_addf(out, "%.4g left to push in, %.4g to pull)", drawn_mm,
                  travel_mm - drawn_mm);
}

static void add_item(struct hbk_text *out, const char *before)
{
    hbk_text_add(out, out->length > 0 ? before : "");
}

/* "valve slides keeping each valve's own interval: first 3 mm, third 5 mm",
 * "valve slides in". */
static void add_valve_slides(const struct hbk_pitch_member *member,
                             const struct hbk_pitch_place *place,
                             struct hbk_text *out)
{
    static const char *const how[] = {
        [HBK_VALVE_SLIDES_OWN] = "keeping each valve\u2019s own interval: ",
        [HBK_VALVE_SLIDES_HOME] = "in, but ",
        [HBK_VALVE_SLIDES_BEST] = "as the best compromise: "};
    const struct hbk_horn *const horn = member->horn;
    bool has_any = false;
    size_t n_out = 0;
    for (size_t s = 0; s < place->tuned.n_draws; s++) {
        const double draw_m = place->tuned.draw_m[s];
        if (horn->slides[s].valve < 0) {
            continue;
        }
        has_any = true;
        if (draw_m < least_draw_m) {
            continue;
        }
        char pull[HBK_PULL_SIZE];
        add_item(out, ", ");
        if (n_out++ == 0) {
            hbk_text_addf(out, "valve slides %s",
                          how[member->setting.valve_slides]);
        }
        hbk_text_addf(out, "%s %s mm%s", horn->slides[s].name,
                      hbk_pull_slide_text(horn, s, draw_m, pull),
                      is_stuck(member, s) ? " (stuck)" : "");
    }
    if (n_out == 0 && has_any) {
        add_item(out, ", ");
        hbk_text_add(out, "valve slides in");
    }
}

/* Crook, main slides, bits and valve slides as they are set. */
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
        if (horn->slides[s].valve < 0) {
            add_item(&text, ", ");
            add_main(member, s, place->tuned.draw_m[s], &text);
        }
    }
    for (size_t b = 0; b < horn->n_bits; b++) {
        if ((place->tuned.bits >> b & 1U) != 0) {
            add_item(&text, ", ");
            hbk_text_addf(&text, "bit of %.3g mm",
                          1000.0 * horn->bits[b].adds_m);
        }
    }
    add_valve_slides(member, place, &text);
    return text.length > 0 ? hbk_text_string(&text) : "nothing to pull";
}

static const char *off_words(double cents, struct hbk_arena *arena)
{
    const double size = fabs(cents);
    return size <= HBK_IN_TUNE_CENTS
               ? "in tune"
               : hbk_arena_printf(arena, "%.0f cent%s %s", size,
                                  round(size) == 1.0 ? "" : "s",
                                  cents > 0.0 ? "sharp" : "flat");
}

/* Whether a slide that could be kept off its end is near it, in words. */
static const char *margin_words(const struct hbk_pitch_place *place,
                                double a4_hz)
{
    const struct hbk_reach *const reach = &place->reach;
    if (reach->highest_hz <= reach->lowest_hz ||
        fabs(place->tuned.after_cents) > HBK_IN_TUNE_CENTS) {
        return "";
    }
    return a4_hz > reach->kept_highest_hz * hbk_cents_ratio(HBK_IN_TUNE_CENTS)
               ? "; hardly anything is left to push in"
           : a4_hz < reach->kept_lowest_hz * hbk_cents_ratio(-HBK_IN_TUNE_CENTS)
               ? "; hardly anything is left to pull"
               : "";
}

/* Whether the tuning fingering cannot be made with what is stuck. */
static bool is_changed(const struct hbk_pitch_place *place)
{
    return place->partial_now != place->tuned.partial ||
           place->press_now != place->tuned.press;
}

/* How many horns stay off a pitch, and by how many whole cents in all. */
static size_t count_out(const struct hbk_pitch_view *view, double a4_hz,
                        double *sum_cents)
{
    size_t out = 0;
    *sum_cents = 0.0;
    for (size_t i = 0; i < view->n; i++) {
        const double cents = fabs(hbk_pitch_error(&view->members[i], a4_hz));
        if (cents > HBK_IN_TUNE_CENTS) {
            out++;
            *sum_cents += round(cents);
        }
    }
    return out;
}

/* "at 20 \u00b0C", "in a room of 25 \u00b0C (29 \u00b0C in the horns)". */
static void text_temperature(const struct hbk_pitch_view *view,
                             struct hbk_text *out)
{
    const struct hbk_setting *const setting = &view->members[0].setting;
    if (isnan(setting->room_c)) {
        hbk_text_addf(out, " at %g \u00b0C in the horns",
                      setting->temperature_c);
    } else {
        hbk_text_addf(out,
                      " in a room of %g \u00b0C (%.0f \u00b0C in the horns)",
                      setting->room_c, setting->temperature_c);
    }
}

static void text_pitch(const struct hbk_pitch_view *view, struct hbk_text *out)
{
    const struct hbk_common_pitch *const pitch = &view->pitch;
    double sum_cents = 0.0;
    const size_t off = count_out(view, pitch->a4_hz, &sum_cents);
    hbk_text_addf(out, "%s: A4 = %.1f Hz",
                  view->asked ? "Pitch asked for" : "Common pitch",
                  pitch->a4_hz);
    if (pitch->named != NULL) {
        hbk_text_addf(out, " (%s)", pitch->named->name);
    }
    text_temperature(view, out);
    if (off > 0 && view->n == 1) {
        hbk_text_addf(out, ". It cannot be tuned to that: still %s.\n",
                      off_words(view->places[0].tuned.after_cents, out->arena));
    } else if (off > 0) {
        hbk_text_addf(out,
                      ". %zu of %zu cannot be tuned to that; together they "
                      "are still %.0f cents off.\n",
                      off, view->n, sum_cents);
    } else if (isnan(pitch->from_hz) ||
               pitch->to_hz - pitch->from_hz < least_range_hz) {
        hbk_text_add(out, view->n == 1 ? ". It fits.\n" : ". All fit.\n");
    } else {
        hbk_text_addf(out, ". %s from %.1f to %.1f Hz.\n",
                      view->n == 1 ? "It fits, as it does"
                                   : "All fit, as they do",
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

/* The pitch in Hz and how it fits. */
enum { WIDE_FIT = 36 };

static void text_standards(const struct hbk_pitch_view *view,
                           struct hbk_text *out)
{
    const struct hbk_standard *standards = NULL;
    const size_t n = hbk_standards(&standards);
    hbk_text_add(out, "\n" HBK_HEAD "Pitches of the past" HBK_PLAIN "\n");
    if (view->n > 1) {
        hbk_text_add(out, "Of horns that cannot be tuned to it, their cents "
                          "are added up.\n");
    }
    for (size_t i = 0; i < n; i++) {
        double sum_cents = 0.0;
        const size_t off = count_out(view, standards[i].a4_hz, &sum_cents);
        const size_t start = out->length;
        hbk_text_addf(out, "%6.1f Hz  ", standards[i].a4_hz);
        if (off == 0) {
            hbk_text_add(out, view->n == 1 ? "fits" : "all fit");
        } else if (view->n == 1) {
            hbk_text_add(out, off_words(hbk_pitch_error(&view->members[0],
                                                        standards[i].a4_hz),
                                        out->arena));
        } else {
            hbk_text_addf(out, "%zu off by %.0f cents", off, sum_cents);
        }
        hbk_report_pad(out, start, WIDE_FIT);
        hbk_text_addf(out, HBK_HANG "%s\n", standards[i].name);
    }
    text_sources(n, standards, out);
}

static const char *press_words(const struct hbk_horn *horn, uint32_t press,
                               char label[HBK_LABEL_SIZE])
{
    return press == 0 ? "open" : hbk_horn_press_label(horn, press, label);
}

/* What gives the tuning note when its own fingering cannot be made. */
static void text_now(const struct hbk_pitch_member *member,
                     const struct hbk_pitch_place *place, struct hbk_text *out)
{
    char own[HBK_LABEL_SIZE];
    char now[HBK_LABEL_SIZE];
    char name[HBK_NAME_SIZE];
    const struct hbk_tuned *const tuned = &place->tuned;
    if (!is_changed(place)) {
        return;
    }
    hbk_note_name(tuned->note, HBK_UNICODE, name);
    hbk_text_addf(out, "    with what is stuck %s cannot be made %s%s", name,
                  tuned->press == 0 ? "" : "with ",
                  press_words(member->horn, tuned->press, own));
    if (place->partial_now == 0) {
        hbk_text_addf(out,
                      ", nor otherwise: the slides stay as they were before\n");
        return;
    }
    hbk_text_addf(out,
                  ": take %s in its place, partial %u, which should sound "
                  "%+.0f cents\n",
                  press_words(member->horn, place->press_now, now),
                  place->partial_now, place->cents_now);
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
        hbk_text_addf(out, HBK_HEAD "%s (%s)" HBK_PLAIN "\n",
                      hbk_horn_name(member->horn), view->words[i]);
        if (high - low < least_range_hz) {
            hbk_text_addf(out, "    plays at %.1f Hz; ", high);
        } else {
            hbk_text_addf(out, "    can play at %.1f to %.1f Hz; ", low, high);
        }
        hbk_text_addf(out, "%s: %s%s\n", draw_words(member, place, out->arena),
                      off_words(place->tuned.after_cents, out->arena),
                      margin_words(place, view->pitch.a4_hz));
        if (member->setting.as_played) {
            hbk_text_addf(out, "    %s\n",
                          hbk_words_player(out->arena, member->horn));
        }
        text_now(member, place, out);
    }
    text_standards(view, out);
}

void hbk_pitch_csv(const struct hbk_pitch_view *view, struct hbk_text *out)
{
    hbk_text_add(out, "horn,name,lowest_a4_hz,highest_a4_hz,a4_hz,set,"
                      "after_cents\r\n");
    for (size_t i = 0; i < view->n; i++) {
        double low = 0.0;
        double high = 0.0;
        ends_of(&view->members[i], &low, &high);
        hbk_text_add_csv(out, view->words[i]);
        hbk_text_add(out, ",");
        hbk_text_add_csv(out, hbk_horn_name(view->members[i].horn));
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
        hbk_json_number(json, "lowest_a4_hz", setup->reach.lowest_hz, 2);
        hbk_json_number(json, "highest_a4_hz", setup->reach.highest_hz, 2);
        hbk_json_number(json, "kept_lowest_a4_hz", setup->reach.kept_lowest_hz,
                        2);
        hbk_json_number(json, "kept_highest_a4_hz",
                        setup->reach.kept_highest_hz, 2);
        hbk_json_number(json, "cents_per_degree", setup->reach.cents_per_degree,
                        3);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_note(const char *name, const struct hbk_horn *horn,
                      uint32_t press, unsigned partial, double cents,
                      struct hbk_json *json)
{
    char label[HBK_LABEL_SIZE];
    if (partial == 0) {
        hbk_json_null(json, name);
        return;
    }
    hbk_json_open_object(json, name);
    hbk_json_string(json, "label", hbk_horn_press_label(horn, press, label));
    hbk_json_whole(json, "partial", (long)partial);
    hbk_json_number(json, "cents", cents, 2);
    hbk_json_close_object(json);
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
        const double drawn_mm = 1000.0 * place->tuned.draw_m[s];
        const double travel_mm = 1000.0 * horn->slides[s].travel_m;
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "slide", horn->slides[s].name);
        hbk_json_bool(json, "main", horn->slides[s].valve < 0);
        hbk_json_bool(json, "stuck", is_stuck(member, s));
        hbk_json_number(json, "pulled_mm", drawn_mm, 2);
        hbk_json_number(json, "travel_mm", travel_mm, 2);
        hbk_json_number(json, "left_mm", travel_mm - drawn_mm, 2);
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
    json_note("tuned_on", horn, place->tuned.press, place->tuned.partial,
              place->tuned.after_cents, json);
    json_note("stuck_gives", horn, place->press_now, place->partial_now,
              place->cents_now, json);
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
        double sum_cents = 0.0;
        hbk_json_whole(json, "off",
                       (long)count_out(view, standards[i].a4_hz, &sum_cents));
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

void hbk_pitch_json(const struct hbk_pitch_view *view, struct hbk_text *out)
{
    struct hbk_json json = hbk_report_json_begin("hornbook-pitch/1", out);
    const struct hbk_setting *const setting = &view->members[0].setting;
    hbk_json_number(&json, "temperature_c", setting->temperature_c, 1);
    hbk_json_number(&json, "room_c", setting->room_c, 1);
    hbk_json_string(&json, "valve_slides",
                    hbk_valve_slides_name(setting->valve_slides));
    hbk_json_number(&json, "a4_hz", view->pitch.a4_hz, 2);
    if (view->pitch.named != NULL) {
        hbk_json_string(&json, "named", view->pitch.named->name);
    } else {
        hbk_json_null(&json, "named");
    }
    hbk_json_number(&json, "total_cents", view->pitch.total_cents, 2);
    hbk_json_number(&json, "all_fit_from_hz", view->pitch.from_hz, 2);
    hbk_json_number(&json, "all_fit_to_hz", view->pitch.to_hz, 2);
    hbk_json_open_array(&json, "horns");
    for (size_t i = 0; i < view->n; i++) {
        hbk_json_open_object(&json, NULL);
        hbk_json_string(&json, "horn", view->words[i]);
        hbk_json_string(&json, "name", hbk_horn_name(view->members[i].horn));
        if (view->members[i].setting.as_played) {
            hbk_report_json_player(view->members[i].horn, &json);
        }
        json_setups(&view->members[i], &json);
        json_place(&view->members[i], &view->places[i], &json);
        hbk_json_close_object(&json);
    }
    hbk_json_close_array(&json);
    json_standards(view, &json);
    hbk_report_json_end(&json);
}
