#include "sheet/words/fit_words.h"

#include "base/text.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/stuck.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "sheet/words/fit_names_words.h"

#include <math.h>
#include <string.h>

/* Below this share of its variance nothing was learned of a value. */
static const double learned_least = 0.05;

bool hbk_fit_is_told(const struct hbk_fit_value *value)
{
    return value->learned >= learned_least;
}

/* How far a value moved, in what it is uncertain by now. */
static double changed_by(const struct hbk_fit_value *value)
{
    return value->after_sd > 0.0
               ? fabs(value->after - value->before) / value->after_sd
               : 0.0;
}

/* Whether it has a place in what is said of single values at all. */
static bool is_single(const struct hbk_fit_value *value)
{
    return !value->is_players && value->part != HBK_FIT_PART_SHAPE &&
           hbk_fit_is_told(value);
}

bool hbk_fit_has_row(const struct hbk_fit_value *value)
{
    return is_single(value) && changed_by(value) >= 1.0;
}

const char *hbk_fit_words_kept(struct hbk_arena *arena,
                               const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    for (size_t p = 0; p < report->n_values; p++) {
        const struct hbk_fit_value *const value = &report->values[p];
        if (is_single(value) && !hbk_fit_has_row(value)) {
            hbk_text_addf(&out, "%s%s",
                          out.length == 0
                              ? "Found as the file has them, within what is "
                                "known of them now: "
                              : ", ",
                          value->what);
        }
    }
    hbk_text_add(&out, out.length > 0 ? "." : "");
    return hbk_text_string(&out);
}

const size_t *hbk_fit_rows_order(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report, size_t *n)
{
    size_t *const order = HBK_ARENA_ARRAY(arena, size_t, report->n_values + 1);
    *n = 0;
    for (size_t p = 0; p < report->n_values; p++) {
        if (!hbk_fit_has_row(&report->values[p])) {
            continue;
        }
        size_t at = (*n)++;
        const double by = changed_by(&report->values[p]);
        for (; at > 0 && changed_by(&report->values[order[at - 1]]) < by;
             at--) {
            order[at] = order[at - 1];
        }
        order[at] = p;
    }
    return order;
}

/* Cents of a dozen readings are not known to their tenths. */
static const char *whole_cents(struct hbk_arena *arena, double cents)
{
    return hbk_arena_printf(arena, "%.*f", cents < 2.0 ? 1 : 0, cents);
}

/* "12 cents", "1 cent". */
static const char *cents_words(struct hbk_arena *arena, double cents)
{
    const char *const text = whole_cents(arena, cents);
    return hbk_arena_printf(arena, "%s cent%s", text,
                            strcmp(text, "1") == 0 ? "" : "s");
}

/* From what the file says, and from the fitted horn. */
static const char *errors_words(struct hbk_arena *arena,
                                const struct hbk_fit_report *report)
{
    const char *const what = hbk_fit_words_evidence(report);
    const double mean = round(report->before_mean);
    const char *const before = cents_words(arena, report->before_rms);
    const char *const after = whole_cents(arena, report->after_rms);
    if (report->n_judged == 1) {
        return hbk_arena_printf(arena,
                                "The %s was %s from what the file says and is "
                                "%s from the fitted horn.",
                                what, before, after);
    }
    return hbk_arena_printf(
        arena,
        "The %ss were %s (root mean square) from what the file says, %s on the "
        "average; they are %s from the fitted horn.",
        what, before,
        mean == 0.0 ? "neither sharper nor flatter"
                    : hbk_arena_printf(arena, "%.0f %s", fabs(mean),
                                       mean < 0.0 ? "flatter" : "sharper"),
        after);
}

const char *hbk_fit_words_gain(struct hbk_arena *arena,
                               const struct hbk_fit_report *report)
{
    const char *const what = hbk_fit_words_evidence(report);
    const bool is_one = report->n_judged == 1;
    const bool is_known = report->unread_cents > report->alone_rms;
    const char *why = "";
    if (report->n_judged < HBK_FIT_JUDGED_LEAST) {
        why = hbk_arena_printf(
            arena, "; %s %s%s too few to tell it by leaving %s out",
            is_one ? "one" : hbk_arena_printf(arena, "%zu", report->n_judged),
            what, is_one ? " is" : "s are", is_one ? "it" : "each");
    } else if (is_known) {
        why = hbk_arena_printf(arena,
                               ", as far as the notes of the horn are known "
                               "(each %s left out in turn says %s)",
                               what, whole_cents(arena, report->alone_rms));
    } else {
        why = hbk_arena_printf(arena, " (each %s left out in turn)", what);
    }
    return hbk_arena_printf(
        arena, "%s Error to expect of a note you have not read: %s%s.",
        errors_words(arena, report), cents_words(arena, report->unread_cents),
        why);
}

const char *hbk_fit_words_sure(struct hbk_arena *arena,
                               const struct hbk_fit_report *report)
{
    const struct hbk_fit_note *least = NULL;
    char name[HBK_NAME_SIZE];
    char label[HBK_LABEL_SIZE];
    for (size_t i = 0; i < report->n_notes; i++) {
        if (least == NULL || report->notes[i].sd > least->sd) {
            least = &report->notes[i];
        }
    }
    if (least == NULL) {
        return "";
    }
    return hbk_arena_printf(
        arena,
        "The notes of the horn, tuned, were known within %s and are "
        "within %s; least surely %s with %s, within %s.",
        cents_words(arena, report->notes_sd_before),
        whole_cents(arena, report->notes_sd_after),
        hbk_note_name(least->written, HBK_UNICODE, name),
        hbk_horn_press_label(report->horn, least->press, label),
        whole_cents(arena, least->sd));
}

const char *hbk_fit_words_shape(struct hbk_arena *arena,
                                const struct hbk_fit_report *report)
{
    double square = 0.0;
    double variance = 0.0;
    bool is_told = false;
    for (size_t p = 0; p < report->n_values; p++) {
        const struct hbk_fit_value *const value = &report->values[p];
        if (value->part == HBK_FIT_PART_SHAPE) {
            is_told = is_told || hbk_fit_is_told(value);
            square += value->after * value->after;
            variance += value->after_sd * value->after_sd;
        }
    }
    /* Half of a square of waves is its mean. */
    return is_told && square > variance
               ? hbk_arena_printf(
                     arena,
                     "Between its ends the bore is taken to be wider here "
                     "and narrower there, too, by %.1f %% on the average.",
                     sqrt(0.5 * square))
               : "";
}

const char *hbk_fit_words_marks(struct hbk_arena *arena,
                                const struct hbk_fit_report *report)
{
    const bool has_player = hbk_fit_has_player(report);
    const char *const what = hbk_fit_words_evidence(report);
    return hbk_arena_printf(
        arena,
        "Ring: %s less what the file says. Dot: the same less what the fitted "
        "horn says%s. Cross: contradicts the other %ss and was not used. "
        "Arrow: beyond the scale. Horn: the fitted horn alone%s. Left out: the "
        "%s less what the fit to all the others says, and how far that may be "
        "off by chance.",
        has_player ? "the tuner's reading" : "the note that is named",
        has_player ? " as this player plays it" : "", what,
        has_player ? "; played: as this player plays it" : "", what);
}

bool hbk_fit_has_player(const struct hbk_fit_report *report)
{
    return report->names.n < report->n;
}

const char *hbk_fit_words_columns(struct hbk_arena *arena,
                                  const struct hbk_fit_report *report)
{
    const char *const what = hbk_fit_words_evidence(report);
    return hbk_arena_printf(
        arena,
        "Cents from the note. File: what the horn's file says%s. Left out: the "
        "%s less what the fit to all the others says, and how far that may be "
        "off by chance.",
        hbk_fit_has_player(report)
            ? "; horn: the fitted horn alone; played: the fitted horn as this "
              "player plays it"
            : "; horn: the fitted horn",
        what);
}

const char *hbk_fit_words_untold(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    for (size_t p = 0; p < report->n_values; p++) {
        if (!hbk_fit_is_told(&report->values[p]) &&
            report->values[p].part != HBK_FIT_PART_SHAPE) {
            hbk_text_addf(
                &out, "%s%s",
                out.length == 0
                    ? hbk_arena_printf(arena,
                                       "Not determined by these %ss, and kept "
                                       "at or near what the file says: ",
                                       hbk_fit_words_evidence(report))
                    : ", ",
                report->values[p].what);
        }
    }
    hbk_text_add(&out, out.length > 0 ? "." : "");
    return hbk_text_string(&out);
}

/* "12 \u00b1 5 cents sharper"; a habit within its error may be none. */
static void add_habit(struct hbk_text *out, const struct hbk_fit_value *value)
{
    if (round(fabs(value->after)) == 0.0) {
        hbk_text_addf(out, "nothing beyond %s",
                      cents_words(out->arena, value->after_sd));
    } else {
        hbk_text_addf(
            out, "%.0f \u00b1 %.0f cents %s%s", fabs(value->after),
            value->after_sd, value->after < 0.0 ? "flatter" : "sharper",
            fabs(value->after) < value->after_sd ? " (which may be nothing)"
                                                 : "");
    }
}

/* What is known less well of a habit is not worth a figure. */
static const double habit_least = 0.3;

const char *hbk_fit_words_player(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    bool is_hidden = false;
    for (size_t p = 0; p < report->n_values; p++) {
        const struct hbk_fit_value *const value = &report->values[p];
        const bool is_slope = strstr(value->what, "octave") != NULL;
        if (!value->is_players || !hbk_fit_is_told(value)) {
            continue;
        }
        if (value->learned < habit_least) {
            is_hidden = true;
            continue;
        }
        hbk_text_add(&out,
                     out.length == 0 ? "The player, not the horn: " : "; ");
        add_habit(&out, value);
        hbk_text_add(&out,
                     is_slope ? " with every octave" : " on the tuning note");
    }
    if (is_hidden) {
        hbk_text_add(&out, out.length > 0 ? ". " : "");
        hbk_text_add(&out, "What the player adds on the tuning note cannot "
                           "well be told from the length of the tube");
    }
    if (out.length > 0) {
        hbk_text_add(&out, ". The notes and charts of the fitted file show the "
                           "horn alone; with --player, as this player plays "
                           "it.");
    }
    return hbk_text_string(&out);
}

const char *hbk_fit_words_twins(struct hbk_arena *arena,
                                const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    for (size_t p = 0; p < report->n_values; p++) {
        const struct hbk_fit_value *const value = &report->values[p];
        if (value->twin < 0 || !hbk_fit_is_told(value) ||
            (size_t)value->twin < p || value->part == HBK_FIT_PART_SHAPE ||
            report->values[value->twin].part == HBK_FIT_PART_SHAPE ||
            !(hbk_fit_has_row(value) ||
              hbk_fit_has_row(&report->values[value->twin]))) {
            continue;
        }
        hbk_text_addf(&out,
                      "%sThese %ss cannot tell %s from %s: only the two "
                      "together are known well.",
                      out.length == 0 ? "" : " ",
                      hbk_fit_words_evidence(report), value->what,
                      report->values[value->twin].what);
    }
    return hbk_text_string(&out);
}

const char *hbk_fit_words_alone(struct hbk_arena *arena,
                                const struct hbk_fit_report *report)
{
    struct hbk_text out = {.arena = arena};
    const struct hbk_horn *const horn = report->horn;
    size_t n = 0;
    for (size_t i = 0; i < report->n; i++) {
        const struct hbk_fit_reading *const item = &report->items[i];
        char name[HBK_NAME_SIZE];
        char label[HBK_LABEL_SIZE];
        if (item->alone_on < 0 && !item->is_alone_on_partial) {
            continue;
        }
        n++;
        hbk_note_name(item->written, HBK_UNICODE, name);
        hbk_text_addf(&out, "%s%s with %s",
                      out.length == 0
                          ? hbk_arena_printf(
                                arena,
                                "Alone on a key, a valve or a partial, so that "
                                "no other %s could contradict it: ",
                                hbk_fit_words_evidence(report))
                          : ", ",
                      name, hbk_horn_press_label(horn, item->press, label));
    }
    if (n > 0 && hbk_fit_has_player(report)) {
        hbk_text_addf(&out,
                      ". Read %s again, or other notes with the same key, "
                      "valve or partial.",
                      n == 1 ? "it" : "them");
    } else if (n > 0) {
        hbk_text_add(&out, ".");
    }
    return hbk_text_string(&out);
}

/* A crook that was in for a reading, with which nobody should learn. */
static const struct hbk_crook *
find_no_chart(const struct hbk_fit_report *report)
{
    const struct hbk_horn *const horn = report->horn;
    for (size_t i = 0; i < report->n; i++) {
        const char *const name = report->items[i].reading->set->crook;
        for (size_t c = 0; name != NULL && c < horn->n_crooks; c++) {
            if (horn->crooks[c].not_to_learn_from &&
                strcmp(horn->crooks[c].name, name) == 0) {
                return &horn->crooks[c];
            }
        }
    }
    return NULL;
}

const char *hbk_fit_words_learning(struct hbk_arena *arena,
                                   const struct hbk_fit_report *report)
{
    const struct hbk_crook *const crook = find_no_chart(report);
    if (!report->horn->not_to_learn_from && crook == NULL) {
        return "";
    }
    const bool of_horn = report->horn->not_to_learn_from;
    return hbk_arena_printf(
        arena,
        "The file says%s%s%s that nobody should learn from its chart "
        "(learn_from: false), and the fitted one still does: take that out "
        "when "
        "the error to expect of a note you have not read is below %.0f cents "
        "and the fingerings that the chart gives first play best on your horn.",
        of_horn ? "" : " of the ", of_horn ? "" : crook->name,
        of_horn ? "" : hbk_arena_printf(arena, " %s", crook->kind),
        HBK_LIP_TOLD_CENTS);
}

static void add_part(struct hbk_text *out, const char *text)
{
    hbk_text_addf(out, "%s%s", out->length > 0 ? ", " : "", text);
}

/* Where a slide was taken to be: as the reading says, stuck, or as it stands.
 */
static double slide_was_m(const struct hbk_horn *horn,
                          const struct hbk_reading_set *set, size_t slide)
{
    for (size_t i = 0; i < set->n_draws; i++) {
        if (strcmp(set->draws[i].slide, horn->slides[slide].name) == 0) {
            return set->draws[i].draw_m;
        }
    }
    return (horn->stuck.slides >> slide & 1U) != 0
               ? horn->stuck.slide_out_m[slide]
               : horn->slides[slide].stands_out_m;
}

static const char *setup_words(struct hbk_arena *arena,
                               const struct hbk_horn *horn,
                               const struct hbk_reading *reading)
{
    const struct hbk_reading_set *const set = reading->set;
    struct hbk_text out = {.arena = arena};
    if (set->crook != NULL) {
        add_part(&out, hbk_arena_printf(arena, "crook %s", set->crook));
    }
    if (set->mouthpiece != NULL) {
        add_part(&out,
                 hbk_arena_printf(arena, "mouthpiece %s", set->mouthpiece));
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        const double draw_m = slide_was_m(horn, set, s);
        if (draw_m > 0.0) {
            add_part(&out,
                     hbk_arena_printf(arena, "%s %g mm", horn->slides[s].name,
                                      1000.0 * draw_m));
        }
    }
    for (size_t i = 0; i < set->n_bits; i++) {
        add_part(&out, hbk_arena_printf(arena, "bit %u", set->bits[i]));
    }
    if (out.length == 0) {
        hbk_text_add(&out, "all in");
    }
    if (hbk_stuck_any(&horn->stuck)) {
        add_part(&out, "stuck as the horn's file says");
    }
    if (set->stuck != NULL) {
        add_part(&out, hbk_arena_printf(arena, "stuck %s", set->stuck));
    }
    add_part(&out, hbk_arena_printf(arena, "A = %g Hz at %g \u00b0C",
                                    reading->a4_hz, reading->temperature_c));
    return hbk_text_string(&out);
}

struct hbk_fit_setups hbk_fit_setups(struct hbk_arena *arena,
                                     const struct hbk_fit_report *report)
{
    const char **const words =
        HBK_ARENA_ARRAY(arena, const char *, report->n + 1);
    size_t *const of = HBK_ARENA_ARRAY(arena, size_t, report->n + 1);
    size_t n = 0;
    for (size_t i = 0; i < report->n; i++) {
        const char *const own =
            setup_words(arena, report->horn, report->items[i].reading);
        size_t k = 0;
        while (k < n && strcmp(words[k], own) != 0) {
            k++;
        }
        if (k == n) {
            words[n++] = own;
        }
        of[i] = k;
    }
    return (struct hbk_fit_setups){.n = n, .words = words, .of = of};
}

const char *hbk_fit_setup_letters(struct hbk_arena *arena, size_t k)
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyz";
    return k < 26 ? hbk_arena_printf(arena, "%c", letters[k])
                  : hbk_arena_printf(arena, "%s%c",
                                     hbk_fit_setup_letters(arena, k / 26 - 1),
                                     letters[k % 26]);
}

const char *hbk_fit_words_setups(struct hbk_arena *arena,
                                 const struct hbk_fit_setups *setups)
{
    struct hbk_text out = {.arena = arena};
    for (size_t k = 0; k < setups->n; k++) {
        hbk_text_addf(&out, "%s%s%s%s", k == 0 ? "Set up: " : "; ",
                      setups->n > 1 ? hbk_fit_setup_letters(arena, k) : "",
                      setups->n > 1 ? ") " : "", setups->words[k]);
    }
    hbk_text_add(&out, setups->n > 0 ? "." : "");
    return hbk_text_string(&out);
}
