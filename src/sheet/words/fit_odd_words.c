#include "base/text.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "music/standard.h"
#include "sheet/words/fit_words.h"

#include <math.h>

/* A value that moves by more than so many standard deviations is odd. */
static const double odd_moved = 2.0;

/* The readings lie off by more than that together: nobody misses so much, */
static const double odd_pitch_cents = 20.0;
/* and a pitch is a standard as near as this. */
static const double standard_cents = 8.0;

static void add_moved(struct hbk_text *out, const struct hbk_fit_value *value)
{
    const bool is_more = value->after > value->before;
    if (value->part == HBK_FIT_PART_SHAPE) {
        hbk_text_addf(out,
                      "%sThe bore between its ends comes out further from the "
                      "file than is likely: are its diameters right?",
                      out->length > 0 ? " " : "");
        return;
    }
    hbk_text_addf(
        out,
        "%sThe %s comes out %s than is likely: ", out->length > 0 ? " " : "",
        value->what,
        value->part == HBK_FIT_PART_LOOP  ? is_more ? "longer" : "shorter"
        : value->part == HBK_FIT_PART_CUP ? is_more ? "larger" : "smaller"
        : is_more                         ? "wider"
                                          : "narrower");
    hbk_text_add(out, value->part == HBK_FIT_PART_LOOP
                          ? is_more
                                ? "was its slide pulled?"
                                : "was its slide further in than the file has "
                                  "it?"
                      : value->part == HBK_FIT_PART_CUP
                          ? "was another mouthpiece in?"
                          : "are the diameters of the bore right?");
}

/* The pitch the readings have the horn at, if that is a known one. */
static const struct hbk_standard *
standard_of(const struct hbk_fit_report *report)
{
    const struct hbk_standard *list = NULL;
    const size_t n = hbk_standards(&list);
    const double a4_hz =
        report->horn->a4_hz * hbk_cents_ratio(report->before_mean);
    const struct hbk_standard *best = NULL;
    double nearest = standard_cents;
    for (size_t i = 0; i < n && fabs(report->before_mean) > odd_pitch_cents;
         i++) {
        const double off = fabs(hbk_cents(list[i].a4_hz, a4_hz));
        if (off < nearest) {
            nearest = off;
            best = &list[i];
        }
    }
    return best;
}

const char *hbk_fit_words_odd(struct hbk_arena *arena,
                              const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    const struct hbk_standard *const standard = standard_of(report);
    bool has_shape = false;
    if (standard != NULL) {
        hbk_text_addf(&out,
                      "All readings together lie %.0f cents %s than the file "
                      "has them, as they would with the horn at A = %g Hz "
                      "(%s): is the pitch in the horn's file right, and that "
                      "of the tuner?",
                      fabs(report->before_mean),
                      report->before_mean > 0.0 ? "sharper" : "flatter",
                      standard->a4_hz, standard->name);
    }
    for (size_t p = 0; p < report->n_values; p++) {
        const struct hbk_fit_value *const value = &report->values[p];
        const bool is_shape = value->part == HBK_FIT_PART_SHAPE;
        if (value->part != HBK_FIT_PART_OTHER &&
            fabs(value->moved) > odd_moved && !(is_shape && has_shape)) {
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
