#include "sheet/chart/card_words.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/press.h"
#include "sheet/words/words.h"

const char *hbk_card_hands(struct hbk_arena *arena,
                           const struct hbk_notes *notes,
                           const struct hbk_hands *hands)
{
    static const char *const digits[] = {"thumb", "index", "middle", "ring",
                                         "little"};
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < hands->n; i++) {
        const struct hbk_spot *spot = &hands->spots[i];
        const struct hbk_control *control =
            hbk_horn_control(notes->horn, spot->control);
        const bool begins = i == 0 || spot->row != hands->spots[i - 1].row;
        char label[32];
        hbk_horn_control_label(notes->horn, spot->control, label,
                               sizeof(label));
        hbk_text_addf(&text, "%s%s%s %s", begins && i > 0 ? ". " : "",
                      !begins                  ? ", "
                      : hands->left[spot->row] ? "Left hand: "
                                               : "Right hand: ",
                      label, digits[hbk_finger_digit(spot->finger)]);
        for (size_t k = 1; k < control->n_fingers; k++) {
            const enum hbk_finger other = control->fingers[k];
            hbk_text_addf(&text, " or %s",
                          hbk_finger_is_left(other) ==
                                  hbk_finger_is_left(spot->finger)
                              ? digits[hbk_finger_digit(other)]
                              : hbk_finger_name(other));
        }
        const char *stuck = hbk_words_stuck(notes, spot->control);
        hbk_text_addf(&text, "%s%s%s", stuck[0] == '\0' ? "" : " (", stuck,
                      stuck[0] == '\0' ? "" : ")");
    }
    hbk_text_add(&text, hands->n > 0 ? ". " : "");
    return hbk_text_string(&text);
}

/* Which marks stand on the card. */
struct marks {
    bool open_key, ascending, stuck, doubt, reach, draw;
};

static struct marks marks_of(const struct hbk_notes *notes)
{
    const struct hbk_horn *horn = notes->horn;
    const uint32_t stuck =
        notes->setting.stuck.held_down | notes->setting.stuck.held_up;
    struct marks marks = {.stuck = stuck != 0};
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const bool moves = (stuck >> i & 1u) == 0;
        marks.open_key =
            marks.open_key || (moves && hbk_horn_control(horn, i)->stands_open);
        marks.ascending =
            marks.ascending || (moves && hbk_horn_control(horn, i)->rests_in);
    }
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *note = &notes->notes[i];
        if (note->n == 0) {
            marks.reach = true;
            continue;
        }
        const struct hbk_fingering *first = &note->fingerings[0];
        marks.doubt =
            marks.doubt || (first->verdict & HBK_VERDICT_UNRELIABLE) != 0;
        marks.draw = marks.draw || first->drawn_m > 0.0;
    }
    return marks;
}

const char *hbk_card_signs(struct hbk_arena *arena,
                           const struct hbk_notes *notes)
{
    const struct marks marks = marks_of(notes);
    struct hbk_text text = {.arena = arena};
    if (hbk_horn_n_controls(notes->horn) == 0) {
        hbk_text_add(&text, "The number: the note of the tube\u2019s natural "
                            "series, counted from its lowest. ");
    } else {
        hbk_text_add(&text, "0: nothing pressed. Filled: a finger presses. ");
        hbk_text_add(&text, marks.open_key
                                ? "Square: a key that stands open; filled, "
                                  "the finger shuts it. "
                                : "");
        hbk_text_add(&text, marks.ascending
                                ? "Double circle: a valve that raises. "
                                : "");
        hbk_text_add(&text, marks.stuck ? "Crossed: stuck. " : "");
        hbk_text_add(&text, marks.reach ? "\u2013: out of reach. " : "");
    }
    hbk_text_add(&text, marks.draw ? "Draw: how far the hand draws the "
                                     "trigger. "
                                   : "");
    hbk_text_add(&text, marks.doubt ? "?: more than 30 cents off, or on a "
                                      "partial to avoid. "
                                    : "");
    return hbk_text_string(&text);
}
