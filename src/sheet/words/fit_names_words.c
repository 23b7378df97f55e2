#include "sheet/words/fit_names_words.h"

#include "base/text.h"
#include "horn/horn.h"

const char *hbk_words_named_shape(struct hbk_arena *arena,
                                  const struct hbk_horn *horn)
{
    if (horn->fitted.n_names == 0) {
        return "";
    }
    return hbk_arena_printf(arena,
                            "Shape fitted to the key names, good to some %.0f "
                            "cents.",
                            horn->fitted.left_out_cents);
}

const char *hbk_fit_words_fitted(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    const size_t names = report->names.n_used;
    const size_t read = report->n_used - names;
    if (report->names.n > 0) {
        hbk_text_addf(&out, "the names of its keys (%zu notes)", names);
    }
    if (read > 0 || report->names.n == 0) {
        hbk_text_addf(&out, "%s%zu reading%s", out.length > 0 ? " and to " : "",
                      read, read == 1 ? "" : "s");
    }
    return hbk_text_string(&out);
}

const char *hbk_fit_words_evidence(const struct hbk_fit_report *report)
{
    return report->names.n > 0 && report->names.n == report->n ? "name"
                                                               : "reading";
}

const char *hbk_fit_words_names(struct hbk_arena *arena,
                                const struct hbk_fit_report *report)
{
    const struct hbk_fit_names *const names = &report->names;
    if (names->n == 0) {
        return "";
    }
    return hbk_arena_printf(
        arena,
        "Each key is taken to come within %.0f cents of the note it is called, "
        "on the fingering of a tutor. Called a semitone higher or lower, the "
        "same keys would fit this horn worse: %.0f and %.0f, where 0 is best "
        "and "
        "they have %.0f as they are called.",
        names->cents, names->sum_higher, names->sum_lower, names->sum);
}
