#include "report/troubles.h"

#include "base/json.h"
#include "fit/parameters.h"
#include "fit/trouble_priors.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "report/columns.h"
#include "report/members.h"
#include "report/screen.h"
#include "report/trouble_words.h"

#include <ctype.h>
#include <math.h>

/* So many things that may be wrong are shown, and no unlikelier ones. */
enum { SHOWN_MOST = 4 };
static const double shown_least = 0.01;
/* Less likely, a thing is not said to be what is wrong. */
static const double odds_on = 0.67;

/* The words of one thing: in full as a sentence, or short within another. */
static void add_words(const struct hbk_troubles *found, size_t at,
                      bool is_start, struct hbk_text *out)
{
    const size_t begin = out->length;
    const bool in_short = !is_start;
    hbk_trouble_words(found->horn, &found->items[at], in_short, out);
    if (is_start && out->length > begin) {
        out->bytes[begin] = (char)toupper((unsigned char)out->bytes[begin]);
    }
}

/* The word after a number of cents that is told as a whole one. */
static const char *cents_word(double cents)
{
    return fabs(hbk_report_whole(cents)) == 1.0 ? "cent" : "cents";
}

/* "5 cents sharp", "1 cent flat". */
static void add_off(double cents, struct hbk_text *out)
{
    hbk_text_addf(out, "%.0f %s %s", hbk_report_whole(fabs(cents)),
                  cents_word(cents), cents < 0.0 ? "flat" : "sharp");
}

static void text_share(double probability, struct hbk_text *out)
{
    if (probability > 0.995) {
        hbk_text_add(out, "> 99 %  ");
    } else if (probability < 0.005) {
        hbk_text_add(out, " < 1 %  ");
    } else {
        hbk_text_addf(out, "%4.0f %%  ", 100.0 * probability);
    }
}

static void text_item(const struct hbk_troubles *found, size_t at,
                      struct hbk_text *out)
{
    const struct hbk_trouble *const item = &found->items[at];
    text_share(item->probability, out);
    hbk_text_add(out, HBK_HANG);
    hbk_trouble_words(found->horn, item, false, out);
    if (item->what.kind == HBK_TROUBLE_OTHER) {
        hbk_text_add(out, "\n");
        return;
    }
    hbk_text_add(out, ": ");
    const bool moves = hbk_report_whole(item->most_cents) != 0.0;
    if (item->what.kind != HBK_TROUBLE_NONE && !moves) {
        hbk_text_add(out, "no note read would show it, ");
    } else if (item->what.kind != HBK_TROUBLE_NONE) {
        add_off(item->most_cents, out);
        hbk_text_add(out, " at most, ");
    }
    if (hbk_report_whole(item->pitch_cents) != 0.0) {
        hbk_text_add(out, "all ");
        add_off(item->pitch_cents, out);
        hbk_text_add(out, ", ");
    }
    hbk_text_addf(out, "then within %.0f %s (rms)",
                  hbk_report_whole(item->rms_cents),
                  cents_word(item->rms_cents));
    if (item->n_aside > 0) {
        hbk_text_addf(out, ", but for %zu note%s", item->n_aside,
                      item->n_aside == 1 ? "" : "s");
    }
    hbk_text_add(out, "\n");
}

/* What is to be read again, and by how much it stands out. */
static void text_astray(const struct hbk_troubles *found, struct hbk_text *out)
{
    const size_t n = found->n_astray;
    if (n == 0) {
        return;
    }
    hbk_text_add(out, n == 1 ? "One note does not fit the others: "
                             : "These notes do not fit the others: ");
    for (size_t k = 0; k < n; k++) {
        const struct hbk_trouble_astray *const astray = &found->astray[k];
        char label[HBK_LABEL_SIZE];
        char name[HBK_NAME_SIZE];
        hbk_text_addf(out, "%s%s with %s, ", k > 0 ? "; " : "",
                      hbk_note_name(astray->reading->note, HBK_UNICODE, name),
                      hbk_horn_press_label(found->horn, astray->press, label));
        if (fabs(astray->cents) < HBK_SEMITONE_CENTS) {
            add_off(astray->cents, out);
        } else {
            /* Nearer to another note: what it is off from that says nothing. */
            hbk_text_addf(out, "%+.0f cents on the page",
                          hbk_report_whole(astray->reading->cents));
        }
    }
    hbk_text_addf(out, ". Read %s again.\n", n == 1 ? "it" : "them");
}

/* The likeliest, and always what it stands against. */
static void text_items(const struct hbk_troubles *found, struct hbk_text *out)
{
    size_t shown = 0;
    for (size_t i = 0; i < found->n; i++) {
        const struct hbk_trouble *const item = &found->items[found->order[i]];
        const bool is_case = item->what.kind >= HBK_TROUBLE_LEAK;
        if (is_case &&
            (shown == SHOWN_MOST || item->probability < shown_least)) {
            continue;
        }
        shown += is_case ? 1 : 0;
        text_item(found, found->order[i], out);
    }
}

/* The likeliest thing that is wrong, whatever stands before it. */
static size_t first_case(const struct hbk_troubles *found)
{
    for (size_t i = 0; i < found->n; i++) {
        if (found->items[found->order[i]].what.kind >= HBK_TROUBLE_LEAK) {
            return found->order[i];
        }
    }
    return 0;
}

/* Cents an octave: less is no habit, players differ by twice as much. */
static const double slope_told = 0.5 * HBK_FIT_SLOPE_CENTS;

/* What is put down to the player, by the likeliest of what may be so. */
static void text_player(const struct hbk_troubles *found, struct hbk_text *out)
{
    const size_t first = found->order[0];
    const bool is_other = found->items[first].what.kind == HBK_TROUBLE_OTHER;
    const double slope =
        found->items[is_other ? found->order[1] : first].slope_cents;
    if (found->verdict == HBK_TROUBLE_MIXED || fabs(slope) < slope_told) {
        return;
    }
    hbk_text_addf(out,
                  "\nThe player is taken to sound %.0f %s %s with every "
                  "octave%s, which is no fault of the horn.\n",
                  hbk_report_whole(fabs(slope)), cents_word(slope),
                  slope < 0.0 ? "flatter" : "sharper",
                  found->horn->habit.slope_cents != 0.0
                      ? " than the one in the horn's file"
                      : "");
}

/* The answer in a sentence. */
static void text_verdict(const struct hbk_troubles *found, struct hbk_text *out)
{
    const size_t first = first_case(found);
    const struct hbk_trouble *const item = &found->items[first];
    switch (found->verdict) {
    case HBK_TROUBLE_SOUND:
        hbk_text_add(out, "Nothing seems to be wrong with it. What is wrong "
                          "without moving a note of this page is not seen.\n");
        return;
    case HBK_TROUBLE_FOUND:
        if (item->probability < odds_on) {
            hbk_text_add(out, "One thing seems to be wrong, but these notes "
                              "do not decide which. The likeliest: ");
            hbk_trouble_words(found->horn, item, false, out);
        } else {
            add_words(found, first, true, out);
        }
        hbk_text_addf(out, ": %s.\n", hbk_trouble_odds(item->probability));
        return;
    case HBK_TROUBLE_MIXED:
        hbk_text_add(out,
                     "No single thing explains these notes. More than one "
                     "thing may be wrong, or something else, such as a dent, "
                     "another mouthpiece, or fingerings and notes that were "
                     "written down wrong.\n");
        return;
    case HBK_TROUBLE_UNCLEAR:
        hbk_text_add(out, "These notes do not decide it. Read more of them.\n");
        return;
    }
}

/* "a whole tone", for semitones. */
static const char *interval_words(unsigned semitones)
{
    static const char *const words[] = {"nothing", "a semitone", "a whole tone",
                                        "a minor third", "a major third"};
    const size_t most = (sizeof(words) / sizeof(words[0])) - 1;
    return semitones <= most ? words[semitones] : "more than a third";
}

/* From so far off on, a note is named as the other one that comes out. */
static const double another_note = 75.0;

/* What the tuner would show of a note that was played. */
static int note_heard(const struct hbk_trouble_next *next, size_t which)
{
    const int note = next->written + (int)round(0.01 * next->cents[which]);
    return note < 0 ? 0 : note > HBK_NOTE_MAX ? HBK_NOTE_MAX : note;
}

static void add_expected(const char *letter,
                         const struct hbk_trouble_next *next, size_t which,
                         struct hbk_text *out)
{
    const double cents = next->cents[which];
    char name[HBK_NAME_SIZE];
    hbk_text_addf(out, "%s ", letter);
    if (fabs(cents) < another_note) {
        hbk_text_addf(out, "%+.0f %s", hbk_report_whole(cents),
                      cents_word(cents));
        return;
    }
    hbk_text_addf(out, "about %s %s, as %s",
                  interval_words((unsigned)round(0.01 * fabs(cents))),
                  cents < 0.0 ? "flat" : "sharp",
                  hbk_note_name(note_heard(next, which), HBK_UNICODE, name));
}

static void text_next(const struct hbk_troubles *found, struct hbk_text *out)
{
    if (found->verdict == HBK_TROUBLE_MIXED) {
        return;
    }
    if (found->n_next == 0) {
        if (found->items[found->order[0]].probability > odds_on) {
            return;
        }
        hbk_text_add(
            out, "\nNo other note would tell the likeliest from another.\n");
        return;
    }
    hbk_text_add(out, "\nTo tell whether ");
    add_words(found, found->pair[0], false, out);
    hbk_text_add(out, " (A) or ");
    add_words(found, found->pair[1], false, out);
    hbk_text_add(out, " (B), play next:\n");
    for (size_t k = 0; k < found->n_next; k++) {
        const struct hbk_trouble_next *const next = &found->next[k];
        char label[HBK_LABEL_SIZE];
        char name[HBK_NAME_SIZE];
        hbk_text_addf(out, "  %s with %s: " HBK_HANG,
                      hbk_note_name(next->written, HBK_UNICODE, name),
                      hbk_horn_press_label(found->horn, next->press, label));
        add_expected("A", next, 0, out);
        add_expected("; B", next, 1, out);
        hbk_text_add(out, "\n");
    }
}

static void text_cautions(const struct hbk_troubles *found,
                          struct hbk_text *out)
{
    if (found->verdict == HBK_TROUBLE_FOUND) {
        hbk_text_addf(out, "\n%s\n",
                      hbk_trouble_look(&found->items[first_case(found)]));
        hbk_text_add(out, HBK_CAUTION
                     "Readings prove nothing: look before you do anything. Do "
                     "not force what sticks, and leave pads, springs and "
                     "solder to a repairer." HBK_PLAIN "\n");
    }
    if (!found->was_fitted) {
        hbk_text_addf(out,
                      "\nThe file of this horn was never fitted to readings, "
                      "so each note may be off by %.0f cents of its own. Fit "
                      "it while it plays well ('hornbook fit'), and less will "
                      "show what is wrong.\n",
                      HBK_TROUBLE_UNFITTED_CENTS);
    }
}

void hbk_troubles_text(const struct hbk_troubles *found, struct hbk_text *out)
{
    const size_t n = found->readings->n;
    hbk_text_addf(out, "%zu note%s read on %s.\n\n", n, n == 1 ? "" : "s",
                  hbk_horn_name(found->horn));
    text_verdict(found, out);
    text_astray(found, out);
    hbk_text_add(out, "\n");
    text_items(found, out);
    text_player(found, out);
    text_next(found, out);
    text_cautions(found, out);
}

static const char *kind_name(enum hbk_trouble_kind kind)
{
    static const char *const names[] = {
        [HBK_TROUBLE_NONE] = "none",
        [HBK_TROUBLE_OTHER] = "other",
        [HBK_TROUBLE_LEAK] = "leak",
        [HBK_TROUBLE_LIFT] = "opens-too-little",
        [HBK_TROUBLE_SLIDE] = "slide",
        [HBK_TROUBLE_STUCK_DOWN] = "sticks-down",
        [HBK_TROUBLE_STUCK_UP] = "sticks-up"};
    return names[kind];
}

static void json_item(const struct hbk_troubles *found, size_t at,
                      struct hbk_json *json)
{
    const struct hbk_trouble *const item = &found->items[at];
    struct hbk_text words = {.arena = json->out->arena};
    char name[64];
    hbk_trouble_words(found->horn, item, false, &words);
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "kind", kind_name(item->what.kind));
    hbk_json_string(json, "words", hbk_text_string(&words));
    if (item->what.control >= 0) {
        hbk_json_string(
            json, "of",
            hbk_control_words(&found->horn->controls[item->what.control], name,
                              sizeof(name)));
    } else if (item->what.slide >= 0) {
        hbk_json_string(json, "of", found->horn->slides[item->what.slide].name);
    } else {
        hbk_json_null(json, "of");
    }
    hbk_json_number(json, "probability", item->probability, 6);
    if (item->what.kind == HBK_TROUBLE_OTHER) {
        hbk_json_close_object(json);
        return;
    }
    hbk_json_number(json, "amount_mm", 1e3 * item->amount_m, 2);
    hbk_json_number(json, "amount_sd_mm", 1e3 * item->amount_sd_m, 2);
    hbk_json_bool(json, "whole", item->is_whole);
    hbk_json_number(json, "most_cents", item->most_cents, 1);
    hbk_json_number(json, "pitch_cents", item->pitch_cents, 1);
    hbk_json_number(json, "slope_cents", item->slope_cents, 1);
    hbk_json_number(json, "rms_cents", item->rms_cents, 1);
    hbk_json_whole(json, "set_aside", (long)item->n_aside);
    hbk_json_close_object(json);
}

static void json_astray(const struct hbk_troubles *found, struct hbk_json *json)
{
    hbk_json_open_array(json, "read_again");
    for (size_t k = 0; k < found->n_astray; k++) {
        const struct hbk_trouble_astray *const astray = &found->astray[k];
        char label[HBK_LABEL_SIZE];
        char name[HBK_NAME_SIZE];
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "note",
                        hbk_note_name(astray->reading->note, HBK_ASCII, name));
        hbk_json_string(
            json, "label",
            hbk_horn_press_label(found->horn, astray->press, label));
        hbk_json_whole(json, "line", (long)astray->reading->place.line);
        hbk_json_number(json, "cents", astray->cents, 1);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_next(const struct hbk_troubles *found, struct hbk_json *json)
{
    hbk_json_open_array(json, "next");
    for (size_t k = 0; k < found->n_next; k++) {
        const struct hbk_trouble_next *const next = &found->next[k];
        char label[HBK_LABEL_SIZE];
        char name[HBK_NAME_SIZE];
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "note",
                        hbk_note_name(next->written, HBK_ASCII, name));
        hbk_json_string(json, "label",
                        hbk_horn_press_label(found->horn, next->press, label));
        hbk_json_whole(json, "partial", (long)next->partial);
        hbk_json_open_array(json, "expected");
        for (size_t i = 0; i < 2; i++) {
            hbk_json_open_object(json, NULL);
            struct hbk_text words = {.arena = json->out->arena};
            hbk_trouble_words(found->horn, &found->items[found->pair[i]], true,
                              &words);
            hbk_json_string(json, "words", hbk_text_string(&words));
            hbk_json_number(json, "cents", next->cents[i], 1);
            hbk_json_string(
                json, "heard",
                hbk_note_name(note_heard(next, i), HBK_ASCII, name));
            hbk_json_close_object(json);
        }
        hbk_json_close_array(json);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

void hbk_troubles_json(const struct hbk_troubles *found, struct hbk_text *out)
{
    static const char *const verdicts[] = {[HBK_TROUBLE_SOUND] = "sound",
                                           [HBK_TROUBLE_FOUND] = "found",
                                           [HBK_TROUBLE_MIXED] = "mixed",
                                           [HBK_TROUBLE_UNCLEAR] = "unclear"};
    struct hbk_json json = hbk_report_json_begin("hornbook-faults/1", out);
    hbk_json_string(&json, "horn", hbk_horn_name(found->horn));
    hbk_json_string(&json, "id", found->horn->id);
    hbk_json_whole(&json, "readings", (long)found->readings->n);
    hbk_json_bool(&json, "fitted", found->was_fitted);
    hbk_json_string(&json, "verdict", verdicts[found->verdict]);
    hbk_json_open_array(&json, "faults");
    for (size_t i = 0; i < found->n; i++) {
        json_item(found, found->order[i], &json);
    }
    hbk_json_close_array(&json);
    json_astray(found, &json);
    json_next(found, &json);
    hbk_report_json_end(&json);
}
