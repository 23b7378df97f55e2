#include "cli/identify_out.h"

#include "base/json.h"
#include "fit/identify.h"
#include "music/pitch.h"

#include <math.h>

/* Errors so much larger than expected make no layout likely. */
static const double surprise_most = 3.0;

static const char *name_of(int written, enum hbk_accidentals style,
                           char name[HBK_NAME_SIZE])
{
    return written < 0 || written > HBK_NOTE_MAX
               ? "?"
               : hbk_spelling_name(hbk_note_usual(written), style, name);
}

static void text_layout(const struct hbk_identified_layout *layout,
                        bool is_only, struct hbk_text *out)
{
    if (layout->impossible != NULL) {
        hbk_text_addf(out, "       -   %s: cannot be; %s\n", layout->horn->name,
                      layout->impossible);
        return;
    }
    const double percent = 100.0 * layout->probability;
    if (is_only) {
        hbk_text_add(out, "       ?   ");
    } else if (percent > 99.95 && percent < 100.0) {
        hbk_text_add(out, "> 99.9 %  ");
    } else if (percent < 0.1) {
        hbk_text_add(out, " < 0.1 %  ");
    } else {
        hbk_text_addf(out, "%6.1f %%  ", percent);
    }
    hbk_text_addf(out, "%s: ", layout->horn->name);
    if (fabs(layout->pitch_cents) < 0.5) {
        hbk_text_add(out, "at its pitch, within");
    } else {
        hbk_text_addf(out, "all %.0f cents %s, then within",
                      fabs(layout->pitch_cents),
                      layout->pitch_cents < 0.0 ? "flat" : "sharp");
    }
    hbk_text_addf(out, " %.0f cents (rms)\n", layout->rms_cents);
}

/* Whether two layouts expect what no ear could tell apart. */
static bool expect_alike(const struct hbk_identify_next *next, size_t a,
                         size_t b)
{
    return next->written[a] == next->written[b] &&
           fabs(next->cents[a] - next->cents[b]) < 10.0;
}

/* The layouts from place `first` of the order that expect the same. */
static void text_expected(const struct hbk_identified *found,
                          const struct hbk_identify_next *next, size_t first,
                          struct hbk_text *out)
{
    enum { NAMED_MAX = 3 };
    const size_t leader = found->order[first];
    char name[HBK_NAME_SIZE];
    size_t alike = 0;
    hbk_text_addf(out, "      %s %+.0f",
                  name_of(next->written[leader], HBK_UNICODE, name),
                  next->cents[leader]);
    for (size_t i = first; i < found->n; i++) {
        const size_t at = found->order[i];
        if (next->written[at] >= 0 && expect_alike(next, leader, at)) {
            if (alike < NAMED_MAX) {
                hbk_text_addf(out, "%s%s", alike == 0 ? " if it is " : " or ",
                              found->layouts[at].horn->id);
            }
            alike++;
        }
    }
    if (alike > NAMED_MAX) {
        hbk_text_addf(out, " or %zu more", alike - NAMED_MAX);
    }
    hbk_text_add(out, "\n");
}

static void text_next(const struct hbk_identified *found, struct hbk_text *out)
{
    if (found->n_next == 0 && found->n > 1) {
        hbk_text_add(out, "\nNo other note would tell much more.\n");
    }
    for (size_t k = 0; k < found->n_next; k++) {
        const struct hbk_identify_next *const next = &found->next[k];
        hbk_text_addf(out, "%s  %s, partial %u (%.2f bit):\n",
                      k == 0 ? "\nTry next, most telling first:\n" : "",
                      next->fingering, next->partial, next->bits);
        for (size_t i = 0; i < found->n; i++) {
            const size_t at = found->order[i];
            bool is_told = next->written[at] < 0;
            for (size_t b = 0; b < i; b++) {
                is_told = is_told || (next->written[found->order[b]] >= 0 &&
                                      expect_alike(next, found->order[b], at));
            }
            if (!is_told) {
                text_expected(found, next, i, out);
            }
        }
    }
}

void hbk_identify_text(const struct hbk_identified *found, struct hbk_text *out)
{
    const size_t n = found->readings->n;
    hbk_text_addf(out, "%zu note%s tried, %zu layout%s asked about.\n\n", n,
                  n == 1 ? "" : "s", found->n, found->n == 1 ? "" : "s");
    for (size_t i = 0; i < found->n; i++) {
        text_layout(&found->layouts[found->order[i]], found->n == 1, out);
    }
    const struct hbk_identified_layout *const best =
        &found->layouts[found->order[0]];
    if (best->impossible != NULL) {
        hbk_text_add(out, "\nNone of these layouts can be the horn's.\n");
        return;
    }
    if (best->surprise > surprise_most) {
        hbk_text_add(out, "\nNone of them explains the notes well: the "
                          "likeliest is only the least bad. Ask about other "
                          "layouts, or try the notes again.\n");
    }
    if (found->n == 1) {
        hbk_text_add(out, "\nHow likely it is can only be told beside other "
                          "layouts: name some more.\n");
        return;
    }
    hbk_text_addf(
        out,
        "\nTaken for granted: one of these it is, each as likely beforehand; "
        "its overall pitch may be off by %.0f cents, so that pitch does not "
        "decide.\n",
        HBK_IDENTIFY_PITCH_CENTS);
    text_next(found, out);
}

static void json_layout(const struct hbk_identified_layout *layout,
                        struct hbk_json *json)
{
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "horn", layout->horn->name);
    hbk_json_string(json, "id", layout->horn->id);
    hbk_json_number(json, "probability", layout->probability, 6);
    if (layout->impossible != NULL) {
        hbk_json_string(json, "impossible", layout->impossible);
    } else {
        hbk_json_null(json, "impossible");
        hbk_json_number(json, "pitch_cents", layout->pitch_cents, 1);
        hbk_json_number(json, "rms_cents", layout->rms_cents, 1);
        hbk_json_number(json, "surprise", layout->surprise, 2);
    }
    hbk_json_close_object(json);
}

static void json_next(const struct hbk_identified *found,
                      const struct hbk_identify_next *next,
                      struct hbk_json *json)
{
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "label", next->fingering);
    hbk_json_whole(json, "partial", (long)next->partial);
    hbk_json_number(json, "bits", next->bits, 3);
    hbk_json_open_array(json, "expected");
    for (size_t i = 0; i < found->n; i++) {
        const size_t at = found->order[i];
        char name[HBK_NAME_SIZE];
        if (next->written[at] < 0) {
            continue;
        }
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "id", found->layouts[at].horn->id);
        hbk_json_string(json, "written",
                        name_of(next->written[at], HBK_ASCII, name));
        hbk_json_number(json, "cents", next->cents[at], 1);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

void hbk_identify_json(const struct hbk_identified *found, struct hbk_text *out)
{
    struct hbk_json json = {.out = out};
    hbk_json_open_object(&json, NULL);
    hbk_json_string(&json, "format", "hornbook-identify/1");
    hbk_json_whole(&json, "readings", (long)found->readings->n);
    hbk_json_open_array(&json, "layouts");
    for (size_t i = 0; i < found->n; i++) {
        json_layout(&found->layouts[found->order[i]], &json);
    }
    hbk_json_close_array(&json);
    hbk_json_open_array(&json, "next");
    for (size_t k = 0; k < found->n_next; k++) {
        json_next(found, &found->next[k], &json);
    }
    hbk_json_close_array(&json);
    hbk_json_close_object(&json);
    hbk_json_finish(&json);
}
