#include "base/text.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "music/standard.h"
#include "sheet/words/fit_words.h"

#include <math.h>
#include <stdlib.h>

/* A value that moves by more than so many standard deviations is odd, */
static const double odd_moved = 2.0;
/* one of a hole by more than that: there are many of them. */
static const double odd_moved_hole = 3.0;

/* The readings lie off by more than that together: nobody misses so much, */
static const double odd_pitch_cents = 20.0;
/* and a pitch is a standard as near as this. */
static const double standard_cents = 8.0;
/*
 * Together means that so large a share of them, each by itself, is nearer to
 * where all lie than to the file.
 */
static const double together_share = 0.75;

/* What came out otherwise than the file has it, and what to ask about that. */
struct question {
    const char *more, *less;         /* of the value, in one word */
    const char *ask_more, *ask_less; /* of the player */
};

static const struct question *question_of(enum hbk_fit_part part)
{
    static const struct question questions[] = {
        [HBK_FIT_PART_LOOP] = {"longer", "shorter", "was its slide pulled?",
                               "was its slide further in than the file has "
                               "it?"},
        [HBK_FIT_PART_CUP] = {"larger", "smaller", "was another mouthpiece in?",
                              "was another mouthpiece in?"},
        [HBK_FIT_PART_FLARE] = {"wider", "narrower",
                                "are the diameters of the bore right?",
                                "are the diameters of the bore right?"},
        [HBK_FIT_PART_STEP] = {"larger", "smaller",
                               "does its pad open further than when the file "
                               "was made?",
                               "does its pad open as far as it should?"},
        [HBK_FIT_PART_HOLE] = {"wider", "narrower",
                               "does its pad open further than the file has "
                               "it?",
                               "does its pad open as far as the file has it?"},
        [HBK_FIT_PART_PLACE] = {"further from the bell", "nearer to the bell",
                                "is the hole where the file has it?",
                                "is the hole where the file has it?"},
        [HBK_FIT_PART_OTHER] = {NULL, NULL, NULL, NULL},
        [HBK_FIT_PART_SHAPE] = {NULL, NULL, NULL, NULL}};
    return &questions[part];
}

static bool is_odd(const struct hbk_fit_value *value)
{
    const bool is_hole = value->part == HBK_FIT_PART_STEP ||
                         value->part == HBK_FIT_PART_HOLE ||
                         value->part == HBK_FIT_PART_PLACE;
    return value->part != HBK_FIT_PART_OTHER &&
           fabs(value->moved) >
               (is_hole && !value->is_let_go ? odd_moved_hole : odd_moved);
}

static void add_moved(struct hbk_text *out, const struct hbk_fit_value *value)
{
    const bool is_more = value->after > value->before;
    const struct question *const ask = question_of(value->part);
    hbk_text_add(out, out->length > 0 ? " " : "");
    if (value->part == HBK_FIT_PART_SHAPE) {
        hbk_text_add(out, "The bore between its ends comes out further from "
                          "the file than is likely: are its diameters right?");
    } else {
        hbk_text_addf(out, "The %s comes out %s than is likely: %s",
                      value->what, is_more ? ask->more : ask->less,
                      is_more ? ask->ask_more : ask->ask_less);
    }
}

static int by_size(const void *a, const void *b)
{
    const double *const x = a;
    const double *const y = b;
    return (*x > *y) - (*x < *y);
}

/*
 * How far the readings of a tuner lie off together, cents: the middle one; 0
 * where they do not, since one valve or a few keys are off and the others not.
 */
static double together_cents(struct hbk_arena *arena,
                             const struct hbk_fit_report *report)
{
    double *const off = HBK_ARENA_ARRAY(arena, double, report->n + 1);
    size_t n = 0;
    for (size_t i = 0; i < report->n; i++) {
        const struct hbk_fit_reading *const item = &report->items[i];
        if (item->state != HBK_FIT_FAR && !item->reading->is_name) {
            off[n++] = item->reading->cents - item->before_cents;
        }
    }
    if (n == 0) {
        return 0.0;
    }
    qsort(off, n, sizeof(*off), by_size);
    const double middle = 0.5 * (off[(n - 1) / 2] + off[n / 2]);
    size_t with = 0;
    for (size_t i = 0; i < n; i++) {
        with += off[i] * middle > 0.5 * middle * middle ? 1 : 0;
    }
    return (double)with >= together_share * (double)n ? middle : 0.0;
}

/* The standard pitch of which that would have the horn; NULL for none. */
static const struct hbk_standard *standard_of(const struct hbk_horn *horn,
                                              double together)
{
    const struct hbk_standard *list = NULL;
    const size_t n = hbk_standards(&list);
    const double a4_hz = horn->a4_hz * hbk_cents_ratio(together);
    const struct hbk_standard *best = NULL;
    double nearest = standard_cents;
    for (size_t i = 0; i < n && fabs(together) > odd_pitch_cents; i++) {
        const double off = fabs(hbk_cents(list[i].a4_hz, a4_hz));
        if (off < nearest) {
            nearest = off;
            best = &list[i];
        }
    }
    return best;
}

static bool is_mouthpiece_named(const struct hbk_fit_report *report)
{
    bool is_named = false;
    for (size_t i = 0; i < report->n; i++) {
        is_named =
            is_named || report->items[i].reading->set->mouthpiece != NULL;
    }
    return is_named;
}

/* Another mouthpiece moves all notes of a bored horn, as another pitch does. */
static const char *mouthpiece_question(struct hbk_arena *arena,
                                       const struct hbk_fit_report *report)
{
    const struct hbk_horn *const horn = report->horn;
    struct hbk_text out = {.arena = arena};
    if (!horn->bore.mouthpiece.given) {
        return "";
    }
    if (is_mouthpiece_named(report)) {
        return " Was the mouthpiece the one that you named?";
    }
    hbk_text_add(&out, " Was the mouthpiece the one that the file has");
    for (size_t i = 0; i < horn->n_mouthpieces; i++) {
        hbk_text_addf(&out, "%s%s", i == 0 ? ", and not " : " or ",
                      horn->mouthpieces[i].name);
    }
    hbk_text_add(&out, "?");
    return hbk_text_string(&out);
}

/* Whether that asks after the mouthpiece. */
static bool add_together(struct hbk_text *out,
                         const struct hbk_fit_report *report)
{
    const double together = together_cents(out->arena, report);
    const struct hbk_standard *const standard =
        standard_of(report->horn, together);
    const char *const ask = mouthpiece_question(out->arena, report);
    if (standard != NULL) {
        hbk_text_addf(out,
                      "All readings together lie %.0f cents %s than the file "
                      "has them, as they would with the horn at A = %g Hz "
                      "(%s): is the pitch in the horn's file right, and that "
                      "of the tuner?%s",
                      fabs(together), together > 0.0 ? "sharper" : "flatter",
                      standard->a4_hz, standard->name, ask);
    }
    return standard != NULL && ask[0] != '\0';
}

const char *hbk_fit_words_odd(struct hbk_arena *arena,
                              const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    bool has_shape = false;
    const bool has_cup = add_together(&out, report);
    for (size_t p = 0; p < report->n_values; p++) {
        const struct hbk_fit_value *const value = &report->values[p];
        const bool is_shape = value->part == HBK_FIT_PART_SHAPE;
        if (is_odd(value) && !(is_shape && has_shape) &&
            !(value->part == HBK_FIT_PART_CUP && has_cup)) {
            add_moved(&out, value);
            has_shape = has_shape || is_shape;
        }
    }
    if (report->is_scattered && report->scatter > 1.0) {
        hbk_text_addf(&out,
                      "%sThe readings scatter %.1f times as far as their "
                      "uncertainty says, and every uncertainty given here is "
                      "the larger for it.",
                      out.length > 0 ? " " : "", report->scatter);
    }
    return hbk_text_string(&out);
}
