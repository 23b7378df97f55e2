#include "sheet/words.h"

#include "base/text.h"

#include <ctype.h>
#include <math.h>

/* Below this a slide is not drawn and a note is in tune. */
static const double least_draw_m = 0.05e-3;
static const double in_tune_cents = 0.5;
/* Within this the lips make up for it, and the player need not be alarmed. */
static const double alarming_cents = 15.0;

static void add_draws(struct hbk_text *text, const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    const struct hbk_tuned *tuned = &notes->tuned;
    bool any = false;
    for (size_t i = 0; i < tuned->n_draws; i++) {
        if (tuned->draw_m[i] < least_draw_m || horn->slides[i].valve >= 0) {
            continue;
        }
        hbk_text_addf(text, "%s%s%s out %.3g mm", any ? ", " : ": ",
                      horn->slides[i].name,
                      horn->slides[i].legs == 2 ? " slide" : "",
                      round(tuned->draw_m[i] * 1e4) / 10.0);
        any = true;
    }
    for (size_t i = 0; i < horn->n_bits; i++) {
        if ((tuned->bits >> i & 1u) != 0) {
            hbk_text_addf(text, "%stuning bit of %.3g mm in", any ? ", " : ": ",
                          horn->bits[i].adds_m * 1e3);
            any = true;
        }
    }
    if (!any && fabs(tuned->after_cents) <= in_tune_cents) {
        hbk_text_add(text, "; no slide needs drawing");
    } else if (!any) {
        hbk_text_add(text, ", slides home");
    }
}

/* " Valve slides: first out 6.1 mm, third out 8.3 mm." */
static void add_valve_draws(struct hbk_text *text,
                            const struct hbk_notes *notes)
{
    const struct hbk_tuned *tuned = &notes->tuned;
    const char *before = " Valve slides: ";
    for (size_t i = 0; i < tuned->n_draws; i++) {
        if (tuned->draw_m[i] >= least_draw_m &&
            notes->horn->slides[i].valve >= 0) {
            hbk_text_addf(text, "%s%s out %.3g mm", before,
                          notes->horn->slides[i].name,
                          round(tuned->draw_m[i] * 1e4) / 10.0);
            before = ", ";
        }
    }
    hbk_text_add(text, before[0] == ',' ? "." : "");
}

/* Main slides and bits, the things a player tunes with. */
static bool can_tune(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < horn->n_slides; i++) {
        if (horn->slides[i].valve < 0) {
            return true;
        }
    }
    return horn->n_bits > 0;
}

const char *hbk_words_tuning(struct hbk_arena *arena,
                             const struct hbk_notes *notes)
{
    const struct hbk_tuned *tuned = &notes->tuned;
    struct hbk_text text = {.arena = arena};
    if (notes->setting.raw) {
        return "Not tuned first: every slide is home.";
    }
    char name[HBK_NAME_SIZE];
    hbk_text_addf(
        &text, "Tuned on %s",
        hbk_spelling_name(hbk_note_usual(tuned->note), HBK_UNICODE, name));
    if (notes->horn->n_controls > 0) {
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(&text, tuned->press == 0 ? " (open)" : " (%s)",
                      hbk_horn_press_label(notes->horn, tuned->press, label));
    }
    if ((notes->setting.stuck.held_down | notes->setting.stuck.held_up) != 0) {
        hbk_text_add(&text, " before it stuck");
    }
    if (can_tune(notes->horn)) {
        add_draws(&text, notes);
    } else {
        hbk_text_add(&text, "; there is no tuning slide");
    }
    if (fabs(tuned->after_cents) > in_tune_cents) {
        hbk_text_addf(&text, "%s stays %.0f cents %s",
                      fabs(tuned->after_cents) > alarming_cents
                          ? ". CANNOT BE BROUGHT TO PITCH: it"
                          : ". It",
                      fabs(tuned->after_cents),
                      tuned->after_cents > 0.0 ? "sharp" : "flat");
    }
    hbk_text_add(&text, ".");
    add_valve_draws(&text, notes);
    return hbk_text_string(&text);
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
    return down != what->stands_open ? "stuck open" : "stuck shut";
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
    add_stuck(&text, notes);
    return hbk_text_string(&text);
}
