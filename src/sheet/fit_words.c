#include "sheet/fit_words.h"

#include "base/text.h"

/* Below this share of its variance nothing was learned of a value. */
static const double learned_least = 0.05;

bool hbk_fit_is_told(const struct hbk_fit_value *value)
{
    return value->learned >= learned_least;
}

const char *hbk_fit_words_untold(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    for (size_t p = 0; p < report->n_values; p++) {
        if (!hbk_fit_is_told(&report->values[p])) {
            hbk_text_addf(&out, "%s%s",
                          out.length == 0
                              ? "Not told by these readings, and kept at or "
                                "near what the file says: "
                              : ", ",
                          report->values[p].what);
        }
    }
    hbk_text_add(&out, out.length > 0 ? "." : "");
    return hbk_text_string(&out);
}

const char *hbk_fit_words_twins(struct hbk_arena *arena,
                                const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    for (size_t p = 0; p < report->n_values; p++) {
        const struct hbk_fit_value *const value = &report->values[p];
        if (value->twin < 0 || !hbk_fit_is_told(value) ||
            (size_t)value->twin < p) {
            continue;
        }
        hbk_text_addf(&out,
                      "%sThese readings cannot tell %s from %s: only the two "
                      "together are known well.",
                      out.length == 0 ? "" : " ", value->what,
                      report->values[value->twin].what);
    }
    return hbk_text_string(&out);
}
