#include "sheet/words/words.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/pull.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "sheet/words/fit_names_words.h"
#include "sheet/words/words_player.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_slides.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

const char *hbk_words_pitch(struct hbk_arena *arena,
                            const struct hbk_setting *setting)
{
    if (isnan(setting->room_c)) {
        return hbk_arena_printf(arena, "A = %.4g Hz, %.3g \u00B0C in the horn",
                                setting->a4_hz, setting->temperature_c);
    }
    return hbk_arena_printf(
        arena, "A = %.4g Hz, %.3g \u00B0C in the room (%.0f in the horn)",
        setting->a4_hz, setting->room_c, setting->temperature_c);
}

static bool is_stuck(const struct hbk_notes *notes, size_t slide)
{
    return (notes->setting.stuck.slides >> slide & 1U) != 0;
}

/* "main slide 10 mm out", "shank in", "the main slide is stuck 12 mm out". */
static void add_main_slide(struct hbk_text *text, const struct hbk_notes *notes,
                           size_t slide)
{
    const struct hbk_horn *const horn = notes->horn;
    const double draw_m = notes->tuned.draw_m[slide];
    hbk_text_addf(text, "%s%s%s", is_stuck(notes, slide) ? "the " : "",
                  hbk_words_slide_name(text->arena, &horn->slides[slide]),
                  is_stuck(notes, slide) ? " is stuck" : "");
    if (hbk_pull_slide_mm(horn, slide, draw_m) > 0.0) {
        char mm[HBK_PULL_SIZE];
        hbk_text_addf(text, " %s mm out",
                      hbk_pull_slide_text(horn, slide, draw_m, mm));
    } else {
        hbk_text_add(text, " in");
    }
}

static const char *how_words(const struct hbk_notes *notes, bool brief)
{
    if (notes->setting.raw) {
        return "";
    }
    switch (notes->setting.valve_slides) {
    case HBK_VALVE_SLIDES_OWN:
        return brief ? "" : ", keeping each valve\u2019s own interval";
    case HBK_VALVE_SLIDES_BEST:
        return brief ? ", a compromise" : ", the best compromise";
    case HBK_VALVE_SLIDES_HOME:
    case HBK_VALVE_SLIDES_COUNT:
        break;
    }
    return "";
}

/* " (wants 19)" of a valve slide that ends short of its proportion. */
static void add_wanted(struct hbk_text *text, const struct hbk_notes *notes,
                       size_t slide)
{
    const struct hbk_tuned *const tuned = &notes->tuned;
    const struct hbk_horn *const horn = notes->horn;
    if (tuned->want_m == NULL || isnan(tuned->want_m[slide]) ||
        is_stuck(notes, slide)) {
        return;
    }
    const double step_m = hbk_pull_step_m(horn);
    if (fabs(tuned->want_m[slide] - tuned->draw_m[slide]) < step_m) {
        return;
    }
    char mm[HBK_PULL_SIZE];
    hbk_text_addf(text, " (wants %s)",
                  hbk_pull_text(horn, tuned->want_m[slide], mm));
}

/* "valve slides: first 3, second 1 mm, keeping each valve's own interval",
 * "valve slides in". */
static void add_valve_slides(struct hbk_text *text,
                             const struct hbk_notes *notes, bool brief)
{
    const struct hbk_horn *const horn = notes->horn;
    const char *before = "valve slides: ";
    bool any_out = false;
    for (size_t s = 0; s < horn->n_slides; s++) {
        any_out = any_out ||
                  (horn->slides[s].valve >= 0 &&
                   (is_stuck(notes, s) ||
                    hbk_pull_slide_mm(horn, s, notes->tuned.draw_m[s]) > 0.0));
    }
    if (!any_out) {
        hbk_text_add(text, "valve slides in");
        return;
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        if (horn->slides[s].valve < 0) {
            continue;
        }
        char mm[HBK_PULL_SIZE];
        hbk_text_addf(text, "%s%s %s%s", before, horn->slides[s].name,
                      hbk_pull_slide_text(horn, s, notes->tuned.draw_m[s], mm),
                      is_stuck(notes, s) ? " (stuck)" : "");
        add_wanted(text, notes, s);
        before = ", ";
    }
    hbk_text_addf(text, " mm%s", how_words(notes, brief));
}

/*
 * ": main slides, bits; valve slides" and nothing of what the horn has not.
 * What cannot be drawn was not drawn to tune, and follows a semicolon.
 */
static void add_slides(struct hbk_text *text, const struct hbk_notes *notes,
                       bool brief)
{
    const struct hbk_horn *const horn = notes->horn;
    const char *before = NULL;
    bool has_valve_slides = false;
    for (size_t s = 0; s < horn->n_slides; s++) {
        if (horn->slides[s].valve >= 0) {
            has_valve_slides = true;
            continue;
        }
        hbk_text_add(text, before != NULL       ? before
                           : is_stuck(notes, s) ? "; "
                                                : ": ");
        add_main_slide(text, notes, s);
        before = ", ";
    }
    for (size_t b = 0; b < horn->n_bits; b++) {
        if ((notes->tuned.bits >> b & 1U) != 0) {
            hbk_text_addf(text, "%stuning bit of %.3g mm in",
                          before == NULL ? ": " : before,
                          horn->bits[b].adds_m * 1e3);
            before = ", ";
        }
    }
    if (before == NULL) {
        hbk_text_add(text, horn->n_bits > 0 ? ": no tuning bit in"
                                            : ": there is no tuning slide");
    }
    if (has_valve_slides) {
        hbk_text_add(text, "; ");
        add_valve_slides(text, notes, brief);
    }
}

/* " before valve 3 stuck": that a stuck control kept its own tuning. */
static void add_before(struct hbk_text *text, const struct hbk_notes *notes,
                       uint32_t stuck)
{
    char words[64];
    hbk_text_addf(
        text, " before %s stuck",
        __builtin_popcount(stuck) > 1
            ? "they"
            : hbk_control_words(&notes->horn->controls[__builtin_ctz(stuck)],
                                words, sizeof(words)));
}

/*
 * "Tuned on C5 (open)", in brief "Tuned on C5". What is stuck may have taken
 * that note away, so that then the slides are said to be as they were: "Slides
 * as for C5 (open) before valve 3 stuck".
 */
static void add_tuned(struct hbk_text *text, const struct hbk_notes *notes,
                      bool brief)
{
    const struct hbk_tuned *const tuned = &notes->tuned;
    const struct hbk_stuck *const stuck = &notes->setting.stuck;
    const uint32_t which = stuck->held_down | stuck->held_up;
    hbk_text_addf(text, "%s %s", which == 0 ? "Tuned on" : "Slides as for",
                  hbk_words_read(text->arena, notes, tuned->note));
    if (notes->horn->n_controls > 0 && !(brief && tuned->press == 0)) {
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(text, tuned->press == 0 ? " (open)" : " (%s)",
                      hbk_horn_press_label(notes->horn, tuned->press, label));
    }
    if (which != 0) {
        add_before(text, notes, which);
    }
}

const char *hbk_words_tuned(struct hbk_arena *arena,
                            const struct hbk_notes *notes)
{
    struct hbk_text text = {.arena = arena};
    if (notes->setting.raw) {
        return "Not tuned first, as the file has it.";
    }
    add_tuned(&text, notes, false);
    hbk_text_add(&text, ".");
    return hbk_text_string(&text);
}

const char *hbk_words_slides(struct hbk_arena *arena,
                             const struct hbk_notes *notes,
                             enum hbk_words_length length)
{
    const bool brief = length == HBK_WORDS_BRIEF;
    struct hbk_text text = {.arena = arena};
    if (notes->setting.raw) {
        hbk_text_add(&text, "Not tuned first, as the file has it");
    } else {
        add_tuned(&text, notes, brief);
    }
    add_slides(&text, notes, brief);
    hbk_text_add(&text, ".");
    return hbk_text_string(&text);
}

/* With nothing tuned nothing is taken off. */
static const char *raw_rest(struct hbk_arena *arena,
                            const struct hbk_notes *notes)
{
    const double cents = notes->tuned.after_cents;
    if (!(fabs(cents) >= HBK_IN_TUNE_CENTS)) {
        return "";
    }
    return hbk_arena_printf(
        arena,
        "Nothing is taken off: %s is %.0f cents %s of the pitch asked for.",
        hbk_words_read(arena, notes, notes->tuned.note), fabs(cents),
        cents > 0.0 ? "sharp" : "flat");
}

const char *hbk_words_rest(struct hbk_arena *arena,
                           const struct hbk_notes *notes,
                           enum hbk_words_length length)
{
    const struct hbk_tuned *const tuned = &notes->tuned;
    if (notes->setting.raw) {
        return raw_rest(arena, notes);
    }
    if (!(fabs(tuned->left_cents) >= HBK_IN_TUNE_CENTS)) {
        return "";
    }
    const double cents = round(fabs(tuned->left_cents));
    const char *const off = hbk_arena_printf(
        arena, "%.0f cent%s %s", cents, cents == 1.0 ? "" : "s",
        tuned->left_cents > 0.0 ? "sharp" : "flat");
    return length == HBK_WORDS_BRIEF
               ? hbk_arena_printf(arena, "All notes %s of A = %.4g.", off,
                                  notes->setting.a4_hz)
               : hbk_arena_printf(arena,
                                  "All notes are %s of A = %.4g Hz: this horn "
                                  "plays at A = %.1f.",
                                  off, notes->setting.a4_hz, tuned->pitch_hz);
}

bool hbk_rest_alarms(const struct hbk_notes *notes)
{
    return fabs(notes->tuned.left_cents) >= HBK_REST_ALARM_CENTS;
}

/* Words, with a blank before them if they follow others. */
static void add_sentence(struct hbk_text *text, const char *words)
{
    hbk_text_addf(text, "%s%s", text->length > 0 && words[0] != '\0' ? " " : "",
                  words);
}

const char *hbk_words_set(struct hbk_arena *arena,
                          const struct hbk_notes *notes,
                          enum hbk_words_length length)
{
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "%s.", hbk_words_pitch(arena, &notes->setting));
    add_sentence(&text, hbk_words_setting(arena, notes));
    add_sentence(&text, hbk_words_slides(arena, notes, length));
    return hbk_text_string(&text);
}

const char *hbk_words_mouthpiece(struct hbk_arena *arena,
                                 const struct hbk_notes *notes)
{
    const size_t in = notes->setting.mouthpiece;
    const struct hbk_mouthpiece_change *const change = &notes->tuned.mouthpiece;
    if (in == 0) {
        return "";
    }
    struct hbk_text text = {.arena = arena};
    const double pitch = round(change->pitch_cents);
    hbk_text_addf(&text, "In place of the horn's own, the mouthpiece %s ",
                  notes->horn->mouthpieces[in - 1].name);
    if (pitch == 0.0) {
        hbk_text_add(&text, "leaves the pitch as it is.");
    } else {
        hbk_text_addf(&text,
                      "makes the horn %.0f cent%s %s before it is tuned.",
                      fabs(pitch), fabs(pitch) == 1.0 ? "" : "s",
                      pitch > 0.0 ? "sharper" : "flatter");
    }
    for (size_t i = 0; i < change->n; i++) {
        const struct hbk_octave_change *const octave = &change->octaves[i];
        const double cents = round(octave->cents);
        hbk_text_addf(&text, "%s partial %u to %u ",
                      i == 0 ? " The octave from" : ", that from", octave->low,
                      octave->high);
        if (cents == 0.0) {
            hbk_text_add(&text, "stays as wide");
        } else {
            hbk_text_addf(&text, "is %.0f cent%s %s", fabs(cents),
                          fabs(cents) == 1.0 ? "" : "s",
                          cents > 0.0 ? "wider" : "narrower");
        }
    }
    hbk_text_add(&text, change->n == 0 ? "" : ".");
    return hbk_text_string(&text);
}

const char *hbk_words_head(struct hbk_arena *arena,
                           const struct hbk_notes *notes)
{
    const char *const rest = hbk_words_rest(arena, notes, HBK_WORDS_FULL);
    const char *const not_to_learn = hbk_words_not_to_learn(arena, notes);
    const char *const change = hbk_words_mouthpiece(arena, notes);
    const char *const shape = hbk_words_named_shape(arena, notes->horn);
    return hbk_arena_printf(
        arena, "%s\n%s%s.\n%s\n%s%s%s%s%s%s%s%s", hbk_horn_name(notes->horn),
        hbk_words_reads(arena, notes), hbk_words_read_sounds(arena, notes),
        hbk_words_set(arena, notes, HBK_WORDS_FULL), rest,
        rest[0] == '\0' ? "" : "\n", change, change[0] == '\0' ? "" : "\n",
        not_to_learn, not_to_learn[0] == '\0' ? "" : "\n", shape,
        shape[0] == '\0' ? "" : "\n");
}

const char *hbk_words_stuck(const struct hbk_notes *notes, size_t control)
{
    const struct hbk_control *what = &notes->horn->controls[control];
    const bool down = (notes->setting.stuck.held_down >> control & 1u) != 0;
    if (!down && (notes->setting.stuck.held_up >> control & 1u) == 0) {
        return "";
    }
    if (what->kind != HBK_KEY) {
        return down ? "stuck down" : "stuck up";
    }
    return down != what->stands_open ? "stuck open" : "stuck closed";
}

static void add_stuck(struct hbk_text *text, const struct hbk_notes *notes)
{
    for (size_t i = 0; i < notes->horn->n_controls; i++) {
        const char *stuck = hbk_words_stuck(notes, i);
        if (stuck[0] == '\0') {
            continue;
        }
        char words[64];
        hbk_control_words(&notes->horn->controls[i], words, sizeof(words));
        words[0] = (char)toupper((unsigned char)words[0]);
        hbk_text_addf(text, "%s%s is %s.", text->length > 0 ? " " : "", words,
                      stuck);
    }
}

const char *hbk_words_setting(struct hbk_arena *arena,
                              const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    struct hbk_text text = {.arena = arena};
    if (notes->setting.crook >= 0) {
        const struct hbk_crook *crook = &horn->crooks[notes->setting.crook];
        hbk_text_addf(&text, "With the %s %s.",
                      hbk_words_key(arena, crook->name),
                      crook->kind == NULL ? "crook" : crook->kind);
    }
    if (notes->setting.mouthpiece > 0) {
        hbk_text_addf(&text, "%sWith the mouthpiece %s.",
                      text.length > 0 ? " " : "",
                      horn->mouthpieces[notes->setting.mouthpiece - 1].name);
    }
    add_stuck(&text, notes);
    if (notes->setting.as_played) {
        add_sentence(&text, hbk_words_player(arena, horn));
    }
    return hbk_text_string(&text);
}
