#include "sheet/words/fit_names_words.h"

#include "base/text.h"
#include "horn/horn.h"
#include "horn/press.h"

#include <math.h>

/* From there on a player plays another fingering. */
static const double far_cents = 60.0;

const char *hbk_words_named_shape(struct hbk_arena *arena,
                                  const struct hbk_horn *horn)
{
    if (horn->fitted.n_names == 0) {
        return "";
    }
    const double cents = round(horn->fitted.left_out_cents);
    return hbk_arena_printf(arena,
                            "Shape fitted to the key names, good to some %.0f "
                            "cent%s.",
                            cents, cents == 1.0 ? "" : "s");
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

const char *hbk_fit_words_told_by(const struct hbk_fit_report *report)
{
    return report->names.n == 0           ? "readings"
           : report->names.n == report->n ? "names"
                                          : "notes";
}

const char *hbk_fit_words_evidence(const struct hbk_fit_report *report)
{
    return report->names.n > 0 && report->names.n == report->n ? "name"
                                                               : "reading";
}

/* Whether most notes of a key lie further from its name than players bend. */
static bool is_doubtful(const struct hbk_fit_report *report, size_t control)
{
    size_t n = 0;
    size_t n_far = 0;
    for (size_t i = 0; i < report->names.n; i++) {
        const struct hbk_fit_reading *const item = &report->items[i];
        const bool is_its = (item->press >> control & 1U) != 0;
        const bool is_far =
            item->state == HBK_FIT_FAR || fabs(item->alone_cents) > far_cents;
        n += is_its ? 1 : 0;
        n_far += is_its && is_far ? 1 : 0;
    }
    return n > 1 && 2 * n_far > n;
}

/* "4, 5 and 6" */
static size_t add_doubtful(const struct hbk_fit_report *report,
                           struct hbk_text *out)
{
    size_t keys[HBK_CONTROLS_MAX];
    size_t n = 0;
    for (size_t i = 0; i < report->horn->n_controls; i++) {
        if (is_doubtful(report, i)) {
            keys[n++] = i;
        }
    }
    for (size_t k = 0; k < n; k++) {
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(out, "%s%s",
                      k == 0       ? ""
                      : k + 1 == n ? " and "
                                   : ", ",
                      hbk_horn_control_label(report->horn, keys[k], label,
                                             sizeof(label)));
    }
    return n;
}

const char *hbk_fit_words_names(struct hbk_arena *arena,
                                const struct hbk_fit_report *report)
{
    const struct hbk_fit_names *const names = &report->names;
    if (names->n == 0) {
        return "";
    }
    struct hbk_text out = {.arena = arena};
    hbk_text_addf(
        &out,
        "Each key is taken to come within %.0f cents of the note it is called, "
        "on the fingering of a tutor. Had all keys been called a semitone "
        "higher or lower, the names would fit this horn worse",
        names->cents);
    struct hbk_text keys = {.arena = arena};
    const size_t n = add_doubtful(report, &keys);
    if (n == 0) {
        hbk_text_add(&out, ": so they are taken to be right.");
    } else {
        hbk_text_addf(&out,
                      ". But most notes of key%s %s lie further than %.0f "
                      "cents from what %s called, if they sound at all: %s "
                      "called so?",
                      n == 1 ? "" : "s", hbk_text_string(&keys), far_cents,
                      n == 1 ? "it is" : "they are",
                      n == 1 ? "is it" : "are they all");
    }
    return hbk_text_string(&out);
}
