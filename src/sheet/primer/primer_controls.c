#include "sheet/primer/primer_controls.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/press.h"
#include "sheet/block/instrument.h"

#include <math.h>

/* mm at unit 1. */
static const double clear_right = 3.0;
static const double below = 2.0;
/* Letters of the picture are no smaller than at this unit. */
static const double least_unit = 1.0;

void hbk_primer_draw_horn(struct hbk_booklet *booklet)
{
    struct hbk_article *const article = &booklet->article;
    const double u = fmax(article->unit, least_unit);
    const double left = HBK_INSTRUMENT_MOUTHPIECE * u;
    const struct hbk_instrument instrument = {.notes = booklet->primer->notes,
                                              .unit = u,
                                              .growth = 1.0,
                                              .x = article->x + left,
                                              .width = article->width - left -
                                                       clear_right * u,
                                              .is_bare = true};
    const double above = hbk_instrument_above(&instrument);
    const double tall = above + hbk_instrument_below(&instrument);
    hbk_booklet_room(booklet, tall);
    hbk_instrument_draw(&article->pad, &instrument, article->y + above);
    article->y += tall + below * u;
}

/* All of a kind as they stand from the mouthpiece to the bell. */
struct row {
    size_t n, n_rising; /* neighbors whose numbers rise */
    size_t first, last; /* controls */
    bool is_known;      /* where each of them is */
};

static struct row row_of(const struct hbk_notes *notes,
                         enum hbk_control_kind kind)
{
    const struct hbk_instrument drawn = {
        .notes = notes, .unit = 1.0, .growth = 1.0, .width = 1000.0};
    struct hbk_instrument_layout layout;
    struct row row = {.is_known = true};
    hbk_instrument_lay(&drawn, &layout);
    for (size_t i = 0; i < layout.n; i++) {
        const struct hbk_instrument_part *const part = &layout.parts[i];
        if (hbk_horn_control(notes->horn, part->control)->kind != kind) {
            continue;
        }
        row.is_known &= part->site != NULL;
        row.n_rising += row.n > 0 && part->control > row.last ? 1 : 0;
        row.first = row.n == 0 ? part->control : row.first;
        row.last = part->control;
        row.n++;
    }
    return row;
}

/*
 * "The keys are numbered from the bell: key 1 is nearest to it, under the
 * right little finger. "; of keys in another order which stand at the ends.
 */
static void add_numbers(struct hbk_text *text, const struct hbk_notes *notes,
                        enum hbk_control_kind kind)
{
    const struct row row = row_of(notes, kind);
    if (row.n < 2 || !row.is_known || kind == HBK_TRIGGER) {
        return;
    }
    const char *const kinds = kind == HBK_KEY ? "keys" : "valves";
    const struct hbk_control *const first =
        hbk_horn_control(notes->horn, row.first);
    const struct hbk_control *const last =
        hbk_horn_control(notes->horn, row.last);
    char high[40];
    char low[40];
    hbk_control_words(first, high, sizeof(high));
    hbk_control_words(last, low, sizeof(low));
    if (row.n_rising == 0) {
        hbk_text_addf(text,
                      "The %s are numbered from the bell: %s is nearest to it, "
                      "under the %s. ",
                      kinds, low, hbk_finger_words(last->fingers[0]));
    } else if (row.n_rising + 1 == row.n) {
        hbk_text_addf(text,
                      "The %s are numbered from the mouthpiece: %s is nearest "
                      "to it, under the %s. ",
                      kinds, high, hbk_finger_words(first->fingers[0]));
    } else {
        hbk_text_addf(text,
                      "Of the %s, %s is nearest to the bell, under the %s, "
                      "and %s nearest to the mouthpiece. ",
                      kinds, low, hbk_finger_words(last->fingers[0]), high);
    }
}

/* "index finger on keys 3 and 6" of one finger; false without. */
static bool add_finger(struct hbk_text *text, const struct hbk_horn *horn,
                       enum hbk_finger finger, const char *before)
{
    size_t n = 0;
    size_t all = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        all += hbk_horn_control(horn, i)->fingers[0] == finger ? 1 : 0;
    }
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const struct hbk_control *const control = hbk_horn_control(horn, i);
        if (control->fingers[0] != finger) {
            continue;
        }
        char words[40];
        if (n == 0) {
            const int digit = hbk_finger_digit(finger);
            hbk_text_addf(text, "%s%s%s on ", before, hbk_digit_name(digit),
                          digit == 0 ? "" : " finger");
        }
        hbk_text_addf(text, "%s%s",
                      n == 0         ? ""
                      : n + 1 == all ? " and "
                                     : ", ",
                      hbk_control_words(control, words, sizeof(words)));
        n++;
    }
    return n > 0;
}

/* "Left hand: thumb on key 5, index finger on key 6. " */
static void add_hand(struct hbk_text *text, const struct hbk_horn *horn,
                     bool is_left)
{
    const int first = is_left ? HBK_L_THUMB : HBK_R_THUMB;
    const char *before = is_left ? "Left hand: " : "Right hand: ";
    bool any = false;
    for (int digit = 0; digit < HBK_R_THUMB; digit++) {
        if (add_finger(text, horn, (enum hbk_finger)(first + digit), before)) {
            any = true;
            before = ", ";
        }
    }
    hbk_text_add(text, any ? ". " : "");
}

const char *hbk_primer_where(struct hbk_arena *arena,
                             const struct hbk_notes *notes)
{
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, "");
    for (int kind = HBK_KEY; kind <= HBK_TRIGGER; kind++) {
        add_numbers(&text, notes, (enum hbk_control_kind)kind);
    }
    add_hand(&text, notes->horn, true);
    add_hand(&text, notes->horn, false);
    if (hbk_horn_n_controls(notes->horn) > 0) {
        hbk_text_add(&text, "Rest the fingers there, and press only what a "
                            "note asks for.");
    }
    return hbk_text_string(&text);
}
