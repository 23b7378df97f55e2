#include "report/identify.h"

#include "base/json.h"
#include "fit/identify.h"
#include "fit/priors.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "report/identify_look.h"
#include "report/members.h"
#include "report/screen.h"

#include <math.h>
#include <string.h>

/* How likely it is, in ten letters. */
static void text_share(const struct hbk_identified_layout *layout, bool is_only,
                       struct hbk_text *out)
{
    const double percent = 100.0 * layout->probability;
    if (layout->impossible != NULL) {
        hbk_text_add(out, "       -  ");
    } else if (!layout->fit.is_good) {
        hbk_text_add(out, "      no  ");
    } else if (is_only) {
        hbk_text_add(out, "     yes  ");
    } else if (percent > 99.95 && percent < 100.0) {
        hbk_text_add(out, "> 99.9 %  ");
    } else if (percent < 0.1) {
        hbk_text_add(out, " < 0.1 %  ");
    } else {
        hbk_text_addf(out, "%6.1f %%  ", percent);
    }
}

/* The horn's name, and its file where several have that name. */
static void text_name(const struct hbk_identified *found, size_t i,
                      struct hbk_text *out)
{
    const char *const name = hbk_horn_name(found->layouts[i].horn);
    size_t n = 0;
    for (size_t k = 0; k < found->n; k++) {
        n += strcmp(hbk_horn_name(found->layouts[k].horn), name) == 0 ? 1 : 0;
    }
    hbk_text_add(out, name);
    if (n > 1) {
        hbk_text_addf(out, " (%s)", hbk_identify_word(found, i));
    }
}

static void text_layout(const struct hbk_identified *found, size_t i,
                        struct hbk_text *out)
{
    const struct hbk_identified_layout *const layout = &found->layouts[i];
    text_share(layout, found->n == 1, out);
    hbk_text_add(out, HBK_HANG);
    text_name(found, i, out);
    hbk_text_add(out, ": ");
    if (layout->impossible != NULL) {
        hbk_text_addf(out, "cannot be; %s\n", layout->impossible);
        return;
    }
    if (fabs(layout->pitch_cents) < 0.5) {
        hbk_text_add(out, "at its pitch, within");
    } else {
        hbk_text_addf(out, "all %.0f cent%s %s, then within",
                      fabs(layout->pitch_cents),
                      fabs(layout->pitch_cents) < 1.5 ? "" : "s",
                      layout->pitch_cents < 0.0 ? "flat" : "sharp");
    }
    hbk_text_addf(out, " %.0f cents (rms)", layout->rms_cents);
    if (layout->fit.is_good && layout->fit.n_aside > 0) {
        hbk_text_addf(out, ", %zu reading%s not used", layout->fit.n_aside,
                      layout->fit.n_aside == 1 ? "" : "s");
    }
    hbk_text_add(out, "\n");
}

static void text_layouts(const struct hbk_identified *found,
                         struct hbk_text *out)
{
    for (size_t i = 0; i < found->n; i++) {
        text_layout(found, found->order[i], out);
    }
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
                  hbk_note_name(next->written[leader], HBK_UNICODE, name),
                  next->cents[leader]);
    for (size_t i = first; i < found->n; i++) {
        const size_t at = found->order[i];
        if (next->written[at] >= 0 && expect_alike(next, leader, at)) {
            if (alike < NAMED_MAX) {
                hbk_text_addf(out, "%s%s", alike == 0 ? " if it is " : " or ",
                              hbk_identify_word(found, at));
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
    for (size_t k = 0; k < found->n_next; k++) {
        const struct hbk_identify_next *const next = &found->next[k];
        hbk_text_addf(out, "%s  %s, partial %u (%.2f bit):\n",
                      k == 0 ? "\nTry next, most useful first:\n" : "",
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

/* What a look at the horn tells, if other notes do not or beside them. */
static void text_look(const struct hbk_identified *found, struct hbk_text *out)
{
    struct hbk_text look = {.arena = out->arena};
    if (hbk_identify_look(found, &look)) {
        hbk_text_addf(out, "\n%s\n%s",
                      found->n_next > 0
                          ? "What to look for on the horn, too:"
                          : "No other note would help much more. What to look "
                            "for on the horn:",
                      hbk_text_string(&look));
    } else if (found->n_next == 0) {
        hbk_text_add(out, "\nNo other note would help much more.\n");
    }
}

/* By how much the tuner itself may be off, as the readings say. */
static double tuner_cents(const struct hbk_readings *readings)
{
    double sum = 0.0;
    for (size_t i = 0; i < readings->n; i++) {
        const double cents = readings->readings[i].uncertainty_cents;
        sum += cents * cents;
    }
    return sqrt(sum / (double)readings->n);
}

/* Why it is none of them, and by how much. */
static void text_none(const struct hbk_identified *found, struct hbk_text *out)
{
    const struct hbk_identified_layout *const best =
        &found->layouts[found->order[0]];
    if (best->impossible != NULL) {
        hbk_text_add(out, found->n == 1
                              ? "\nThis layout cannot be the horn's.\n"
                              : "\nNone of these layouts can be the "
                                "horn's.\n");
        return;
    }
    const bool is_one = found->readings->n == 1;
    hbk_text_addf(out,
                  "\n%s. Tuner, maker and overall pitch together do not "
                  "explain how far off the notes are%s: the reading%s it by "
                  "%.0f cents%s, where %.0f would be the tuner's own error.\n",
                  found->n == 1 ? "Not this one" : "None of these",
                  found->n == 1 ? "" : ", even for the nearest",
                  is_one ? " misses" : "s miss", best->rms_cents,
                  is_one ? "" : " on average", tuner_cents(found->readings));
    if (found->otherwise == NULL) {
        hbk_text_add(out, "Ask about other layouts, or try the notes again.\n");
    }
}

static bool has_keys(const struct hbk_identified *found)
{
    return hbk_horn_has_kind(found->layouts[found->order[0]].horn, HBK_KEY);
}

/* The page understood another way, and what to do if that is right. */
static void text_otherwise(const struct hbk_identified *found,
                           struct hbk_text *out)
{
    const struct hbk_identified *const other = found->otherwise;
    if (other == NULL) {
        return;
    }
    const bool is_renamed = other->naming != HBK_NUMBERED_OTHERWISE;
    const bool is_turned = other->naming != HBK_NAMED_OTHERWISE;
    const bool is_concert = !found->readings->has_written_c4;
    const bool are_keys = has_keys(other);
    hbk_text_addf(out, "\n%s if ",
                  found->is_explained ? "That is far from its pitch. It is near"
                                      : "But it is explained");
    if (is_turned) {
        hbk_text_addf(out, "the %s are counted from the other end%s",
                      are_keys ? "keys" : "valves", is_renamed ? " and " : "");
    }
    if (is_renamed) {
        hbk_text_addf(out, "the notes are %s",
                      is_concert ? "the names the tuner shows (concert names)"
                                 : "those written for the horn");
    }
    hbk_text_add(out, ":\n\n");
    for (size_t i = 0; i < other->n; i++) {
        if (other->layouts[other->order[i]].fit.is_good) {
            text_layout(other, other->order[i], out);
        }
    }
    hbk_text_add(out, "\nIf that is so, ");
    if (is_turned) {
        hbk_text_addf(out, "write the fingerings anew (%s)%s",
                      are_keys ? "key 1 is the one nearest to the bell"
                               : "valve 1 is the first finger's",
                      is_renamed ? ", " : "");
    }
    if (is_renamed) {
        hbk_text_add(out, is_concert ? "write 'written_c4_sounds: C4' at the "
                                       "top of the readings"
                                     : "leave 'written_c4_sounds' out of the "
                                       "readings");
    }
    hbk_text_add(out, " and ask again.\n");
}

void hbk_identify_text(const struct hbk_identified *found, struct hbk_text *out)
{
    const size_t n = found->readings->n;
    hbk_text_addf(out, "%zu note%s tried, %zu layout%s asked about.\n\n", n,
                  n == 1 ? "" : "s", found->n, found->n == 1 ? "" : "s");
    text_layouts(found, out);
    if (!found->is_explained) {
        text_none(found, out);
        text_otherwise(found, out);
        return;
    }
    text_otherwise(found, out);
    if (found->n == 1) {
        hbk_text_add(out,
                     "\nIt explains the notes. Name some more horns to see "
                     "whether another explains them as well.\n");
        return;
    }
    hbk_text_addf(
        out,
        "\nThis assumes that one of these is right, and that all were equally "
        "likely before. The overall pitch may be off by %.0f cents, so pitch "
        "does not decide.\n",
        HBK_IDENTIFY_PITCH_CENTS);
    text_next(found, out);
    text_look(found, out);
}

static void json_layout(const struct hbk_identified_layout *layout,
                        struct hbk_json *json)
{
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "horn", hbk_horn_name(layout->horn));
    hbk_json_string(json, "id", layout->horn->id);
    char name[HBK_NAME_SIZE];
    hbk_json_string(
        json, "written_c4_sounds",
        hbk_note_name(layout->horn->written_c4_sounds, HBK_ASCII, name));
    struct hbk_text look = {.arena = json->out->arena};
    hbk_identify_count(layout->horn, &look);
    hbk_json_string(json, "has", hbk_text_string(&look));
    hbk_json_number(json, "probability", layout->probability, 6);
    hbk_json_bool(json, "explains", layout->fit.is_good);
    if (layout->impossible != NULL) {
        hbk_json_string(json, "impossible", layout->impossible);
    } else {
        hbk_json_null(json, "impossible");
        hbk_json_number(json, "pitch_cents", layout->pitch_cents, 1);
        hbk_json_number(json, "rms_cents", layout->rms_cents, 1);
        hbk_json_number(json, "chi_square", layout->fit.chi_square, 2);
        hbk_json_number(json, "chi_square_limit", layout->fit.limit, 2);
        hbk_json_whole(json, "readings", (long)layout->fit.n);
        hbk_json_whole(json, "set_aside", (long)layout->fit.n_aside);
    }
    hbk_json_close_object(json);
}

static void json_layouts(const struct hbk_identified *found,
                         struct hbk_json *json)
{
    hbk_json_open_array(json, "layouts");
    for (size_t i = 0; i < found->n; i++) {
        json_layout(&found->layouts[found->order[i]], json);
    }
    hbk_json_close_array(json);
}

static void json_otherwise(const struct hbk_identified *found,
                           struct hbk_json *json)
{
    const struct hbk_identified *const other = found->otherwise;
    if (other == NULL) {
        hbk_json_null(json, "otherwise");
        return;
    }
    hbk_json_open_object(json, "otherwise");
    if (other->naming == HBK_NUMBERED_OTHERWISE) {
        hbk_json_null(json, "notes");
    } else {
        hbk_json_string(json, "notes",
                        found->readings->has_written_c4 ? "written"
                                                        : "concert");
    }
    hbk_json_bool(json, "from_other_end", other->naming != HBK_NAMED_OTHERWISE);
    json_layouts(other, json);
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
                        hbk_note_name(next->written[at], HBK_ASCII, name));
        hbk_json_number(json, "cents", next->cents[at], 1);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

void hbk_identify_json(const struct hbk_identified *found, struct hbk_text *out)
{
    struct hbk_json json = hbk_report_json_begin("hornbook-identify/1", out);
    hbk_json_whole(&json, "readings", (long)found->readings->n);
    hbk_json_bool(&json, "explained", found->is_explained);
    json_layouts(found, &json);
    json_otherwise(found, &json);
    hbk_json_open_array(&json, "next");
    for (size_t k = 0; k < found->n_next; k++) {
        json_next(found, &found->next[k], &json);
    }
    hbk_json_close_array(&json);
    hbk_report_json_end(&json);
}
