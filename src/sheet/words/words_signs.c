#include "sheet/words/words_signs.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "notes/verdict.h"

#include <math.h>

static uint32_t stuck_of(const struct hbk_notes *notes)
{
    return notes->setting.stuck.held_down | notes->setting.stuck.held_up;
}

/* Whether a first fingering is unreliable. */
static bool any_doubt(const struct hbk_notes *notes)
{
    bool doubt = false;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *note = &notes->notes[i];
        doubt = doubt || (note->n > 0 && (note->fingerings[0].verdict &
                                          HBK_VERDICT_UNRELIABLE) != 0);
    }
    return doubt;
}

/* Whether a trigger moves a slide for a first fingering. */
static bool any_slide(const struct hbk_notes *notes)
{
    bool slide = false;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *note = &notes->notes[i];
        slide = slide || (note->n > 0 &&
                          round(note->fingerings[0].drawn_m * 1e3) >= 1.0);
    }
    return slide;
}

/* "Key 1 (double ring) is open at rest; pressing closes it. " */
static void add_open(struct hbk_text *text, const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    size_t n = 0;
    size_t done = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const bool moves = (stuck_of(notes) >> i & 1u) == 0;
        n += hbk_horn_control(horn, i)->stands_open && moves ? 1 : 0;
    }
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const bool moves = (stuck_of(notes) >> i & 1u) == 0;
        if (!hbk_horn_control(horn, i)->stands_open || !moves) {
            continue;
        }
        done++;
        hbk_text_addf(text, "%s%s",
                      done == 1   ? (n == 1 ? "Key " : "Keys ")
                      : done == n ? " and "
                                  : ", ",
                      hbk_horn_control(horn, i)->name);
    }
    if (n > 0) {
        hbk_text_add(text, n == 1 ? " (double ring) is open at rest; pressing "
                                    "closes it. "
                                  : " (double rings) are open at rest; "
                                    "pressing closes them. ");
    }
}

const char *hbk_words_signs(struct hbk_arena *arena,
                            const struct hbk_notes *notes, bool out)
{
    const bool doubt = any_doubt(notes);
    struct hbk_text text = {.arena = arena};
    const bool fingers = hbk_horn_n_controls(notes->horn) > 0;
    hbk_text_add(&text, fingers ? "Black: the finger presses; a small ring: it "
                                  "does not. "
                                : "The figure: the partial, counted from the "
                                  "lowest note of the tube. ");
    add_open(&text, notes);
    hbk_text_add(&text, stuck_of(notes) != 0 ? "Crossed: stuck. " : "");
    hbk_text_add(&text, !doubt    ? ""
                        : fingers ? "White with a rim: unreliable. "
                                  : "In a ring: unreliable. ");
    hbk_text_add(&text, any_slide(notes) ? "Slide: how many mm the trigger "
                                           "moves it. "
                                         : "");
    hbk_text_add(&text, out ? "\u2013: no usable fingering. " : "");
    return hbk_text_string(&text);
}

const char *hbk_words_unmeasured(struct hbk_arena *arena,
                                 const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    if (horn->model != HBK_MODEL_LENGTH) {
        return "";
    }
    const bool keys = hbk_horn_has_kind(horn, HBK_KEY) &&
                      horn->provenance[HBK_PART_KEYS] != HBK_MEASURED &&
                      horn->provenance[HBK_PART_HOLES] != HBK_MEASURED;
    const bool valves = hbk_horn_has_kind(horn, HBK_VALVE) &&
                        horn->provenance[HBK_PART_VALVES] != HBK_MEASURED;
    if (!keys && !valves) {
        return "";
    }
    return hbk_arena_printf(arena, "%s not measured: trust your tuner. ",
                            keys && valves ? "Holes and loops were"
                            : keys         ? "Hole places were"
                                           : "Valve loops were");
}

const char *hbk_words_choices(struct hbk_arena *arena,
                              const struct hbk_horn *horn)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const struct hbk_control *control = hbk_horn_control(horn, i);
        char words[HBK_LABEL_SIZE];
        if (control->n_fingers < 2) {
            continue;
        }
        hbk_control_words(control, words, sizeof(words));
        if (words[0] >= 'a' && words[0] <= 'z') {
            words[0] = (char)(words[0] - 'a' + 'A');
        }
        for (size_t k = 0; k < control->n_fingers; k++) {
            hbk_text_addf(&text, "%s%s", k == 0 ? words : " or ",
                          k == 0 ? ": " : "");
            hbk_text_add(&text, hbk_finger_words(control->fingers[k]));
        }
        hbk_text_add(&text, ". ");
    }
    return hbk_text_string(&text);
}
