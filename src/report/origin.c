#include "report/origin.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/stuck.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "report/columns.h"
#include "report/gap.h"
#include "sheet/words/words_read.h"

#include <ctype.h>
#include <math.h>

/* Less than this is not worth a word; our own choice. */
static const double worth_cents = 5.0;

/* A cause is told when it does so much of what the greatest does. */
static const double told_share = 0.4;

/* "51 cents sharp", "in tune". */
static void add_off(double cents, struct hbk_text *out)
{
    const double whole = fabs(hbk_report_whole(cents));
    if (whole < worth_cents) {
        hbk_text_add(out, "in tune");
    } else {
        hbk_text_addf(out, "%.0f cents %s", whole,
                      cents > 0.0 ? "sharp" : "flat");
    }
}

static const char *pressed(const struct hbk_notes *notes, uint32_t press,
                           char label[HBK_LABEL_SIZE])
{
    return press == 0 ? "open"
                      : hbk_horn_press_label(notes->horn, press, label);
}

/* Words as a sentence; nothing of "". */
static void add_sentence(const char *words, struct hbk_text *out)
{
    if (words[0] != '\0') {
        hbk_text_addf(out, " %c%s.", toupper((unsigned char)words[0]),
                      words + 1);
    }
}

static bool is_stuck(const struct hbk_notes *notes)
{
    return hbk_stuck_any(&notes->setting.stuck);
}

/* What the cents of a note come from. */
enum cause { OPEN, PRESS, CAUSES };

/* Harmonics are the reason when they do so much of what is to be explained. */
static const double reason_share = 0.5;

static bool is_reason(double lift, double off)
{
    return fabs(lift) >= worth_cents && lift * off > 0.0 &&
           fabs(lift) >= reason_share * fabs(off);
}

static bool is_natural(const struct hbk_origin *origin)
{
    return fabs(origin->natural_cents) >= worth_cents &&
           fabs(origin->open_cents - origin->natural_cents) < 2.0 * worth_cents;
}

/*
 * Which causes are told: the greatest, and the next if it does nearly as much.
 * None of a usual fingering that the lips put right without a thought.
 */
static void choose_causes(const struct hbk_origin *origin, bool told[CAUSES])
{
    const bool natural = is_natural(origin);
    const double by[CAUSES] = {origin->open_cents, origin->press_cents};
    double most = 0.0;
    for (int c = OPEN; c < CAUSES; c++) {
        most = fmax(most, fabs(by[c])); /* which passes over NAN */
    }
    for (int c = OPEN; c < CAUSES; c++) {
        told[c] = fabs(by[c]) >= fmax(worth_cents, told_share * most);
    }
    /* Of an open note only what is not so in any series is worth it. */
    told[OPEN] =
        told[OPEN] &&
        (origin->first->press != 0 || natural ||
         fabs(origin->open_cents - origin->natural_cents) >= worth_cents);
    if (fabs(origin->first->cents) < HBK_LIP_TOLD_CENTS &&
        origin->first->taught == HBK_TAUGHT_YES) {
        told[OPEN] = told[PRESS] = false;
    }
}

static const char by_nature[] = ", as it is on every horn by nature";

static void add_first(const struct hbk_notes *notes,
                      const struct hbk_origin *origin, bool natural,
                      struct hbk_text *out)
{
    char label[HBK_LABEL_SIZE];
    hbk_text_addf(out, "%s is played %s%s on partial %u and is ",
                  hbk_words_read(out->arena, notes, origin->note->written),
                  origin->first->press == 0 ? "" : "with ",
                  pressed(notes, origin->first->press, label),
                  origin->first->partial);
    add_off(origin->first->cents, out);
    hbk_text_addf(out, "%s.", natural ? by_nature : "");
}

/* The partial of the open tube, as every fingering on it has it. */
static void add_open(const struct hbk_notes *notes,
                     const struct hbk_origin *origin, struct hbk_text *out)
{
    if (origin->first->press != 0) {
        hbk_text_addf(out, "partial %u of the open horn%s, %s, is itself ",
                      origin->first->partial,
                      is_stuck(notes) ? " with what is stuck" : "",
                      hbk_words_read(out->arena, notes, origin->open_note));
        add_off(origin->open_cents, out);
        hbk_text_add(out, is_natural(origin) ? by_nature : "");
        return;
    }
    const double by = origin->open_cents - origin->natural_cents;
    hbk_text_add(out, "in a true series of partials it would be ");
    add_off(origin->natural_cents, out);
    hbk_text_addf(out, ", and this horn has it %.0f cents %s",
                  fabs(hbk_report_whole(by)), by > 0.0 ? "higher" : "lower");
    if (is_reason(origin->open_lift_cents, by)) {
        hbk_text_addf(out,
                      ": the harmonics that sound with it draw it %s by %.0f "
                      "cents",
                      by > 0.0 ? "up" : "down",
                      fabs(hbk_report_whole(origin->open_lift_cents)));
    }
}

/* ", with its slide all in": why it cannot be mended there. */
static const char *slide_end(const struct hbk_notes *notes, int valve,
                             bool too_long)
{
    const double end_m = 0.0005;
    for (size_t s = 0; s < notes->horn->n_slides; s++) {
        const struct hbk_slide *const slide = &notes->horn->slides[s];
        const double out_m = notes->tuned.draw_m[s];
        if (slide->valve != valve) {
            continue;
        }
        if (too_long && out_m < end_m) {
            return ", with its slide all in";
        }
        if (!too_long && out_m > slide->travel_m - end_m) {
            return ", with its slide out as far as it goes";
        }
    }
    return "";
}

/* What is wrong with the loops, where they do too little or too much. */
static void add_loops(const struct hbk_notes *notes,
                      const struct hbk_origin *origin, bool too_long,
                      struct hbk_text *out)
{
    if (origin->alone >= 0) {
        hbk_text_addf(out, ": its loop is too %s%s",
                      too_long ? "long" : "short",
                      slide_end(notes, origin->alone, too_long));
    } else if (!too_long && origin->note->written < origin->open_note) {
        hbk_text_add(out, ": loops that are right one at a time are too short "
                          "together");
    } else {
        hbk_text_addf(out, ": together the loops are too %s",
                      too_long ? "long" : "short");
    }
}

/* The hole that a key opens, or that one alone shuts. */
static void add_hole(const struct hbk_notes *notes,
                     const struct hbk_origin *origin, bool too_much,
                     struct hbk_text *out)
{
    const int key = origin->opens >= 0 ? origin->opens : origin->alone;
    char words[48];
    if (key < 0 || notes->horn->controls[key].kind != HBK_KEY) {
        return;
    }
    (void)hbk_control_words(&notes->horn->controls[key], words, sizeof(words));
    if (origin->opens < 0) {
        if (notes->horn->controls[key].stands_open) {
            hbk_text_addf(out, ": the hole that %s shuts lies too %s the bell",
                          words, too_much ? "far from" : "near");
        }
        return;
    }
    hbk_text_addf(out,
                  ": the hole of %s is the open one nearest the mouthpiece and "
                  "sets the pitch%s",
                  words,
                  origin->n_pressed > 1 ? ", and what is pressed below it "
                                          "bends that"
                                        : "");
}

/*
 * Why the press leads further or less far than it should: by off cents, and by
 * usual cents on most partials.
 */
static void add_reason(const struct hbk_notes *notes,
                       const struct hbk_origin *origin, double off,
                       double usual, bool too_much, struct hbk_text *out)
{
    /* Whether it is this partial, and not what is pressed. */
    const bool is_here =
        fabs(off - usual) >= worth_cents && fabs(off - usual) > fabs(usual);
    const uint32_t press = origin->first->press;
    const bool valves =
        (press & hbk_horn_kind_press(notes->horn, HBK_VALVE)) != 0;
    const bool keys = (press & hbk_horn_kind_press(notes->horn, HBK_KEY)) != 0;
    const double lift = origin->press_lift_cents;
    if (is_reason(lift, off)) {
        hbk_text_addf(out,
                      ", for its harmonics draw it %s by %.0f cents against "
                      "the open note",
                      lift > 0.0 ? "up" : "down", fabs(hbk_report_whole(lift)));
        return;
    }
    if (is_here && valves && !keys) {
        hbk_text_addf(out, ", for the bore makes %s of the loop%s there",
                      too_much ? "more" : "less",
                      origin->alone >= 0 ? "" : "s");
    }
    const double own = HBK_SEMITONE_CENTS * origin->own;
    if (is_here && (own + off) * (own + usual) > 0.0) {
        hbk_text_addf(out, " (%.0f on most partials)",
                      fabs(hbk_report_whole(own + usual)));
    }
    if (!valves) {
        add_hole(notes, origin, too_much, out);
    } else if (!is_here && !keys && !is_stuck(notes)) {
        add_loops(notes, origin, too_much, out);
    }
}

/*
 * A key that gives another note than its own: because the open partial lies
 * so low or high, or for what the key itself does.
 */
static void add_other_note(const struct hbk_notes *notes,
                           const struct hbk_origin *origin, double off,
                           double usual, bool too_much, struct hbk_text *out)
{
    const int wanted = origin->note->written - origin->open_note;
    const double step = wanted - origin->own;
    const char *const note =
        hbk_words_read(out->arena, notes, origin->note->written);
    hbk_text_addf(
        out, " where %.0f lead to %s, its own note",
        fabs(HBK_SEMITONE_CENTS * origin->own),
        hbk_words_read(out->arena, notes, origin->open_note + origin->own));
    const bool by_open =
        off * step <= 0.0 || (origin->open_cents * step > 0.0 &&
                              fabs(origin->open_cents) >= fabs(off));
    if (by_open) {
        hbk_text_addf(out, ", but partial %u lies so %s that it gives %s",
                      origin->first->partial,
                      origin->open_cents < 0.0 ? "low" : "high", note);
        return;
    }
    hbk_text_addf(out, ", and so it gives %s", note);
    add_reason(notes, origin, off, usual, too_much, out);
}

/* How far the press leads, how far it should, and why it does not. */
static void add_press(const struct hbk_notes *notes,
                      const struct hbk_origin *origin, struct hbk_text *out)
{
    const double wanted =
        HBK_SEMITONE_CENTS * (origin->note->written - origin->open_note);
    const double own = HBK_SEMITONE_CENTS * origin->own;
    const double moves = wanted + origin->press_cents;
    const double off = moves - own;
    const double usual = wanted + origin->usual_press_cents - own;
    const bool too_much = fabs(moves) > fabs(own);
    char label[HBK_LABEL_SIZE];
    hbk_text_addf(out, "%s %s partial %u by %.0f cents",
                  pressed(notes, origin->first->press, label),
                  moves < 0.0 ? "lowers" : "raises", origin->first->partial,
                  fabs(hbk_report_whole(moves)));
    if (own != wanted) {
        add_other_note(notes, origin, off, usual, too_much, out);
    } else if (wanted == 0.0) {
        hbk_text_add(out,
                     fabs(origin->open_cents + off) < fabs(origin->open_cents)
                         ? ", which brings it nearer"
                         : "");
    } else {
        hbk_text_addf(out, " where %.0f are wanted", fabs(wanted));
        add_reason(notes, origin, off, usual, too_much, out);
    }
}

/* The sentence of the causes. */
static void add_causes(const struct hbk_notes *notes,
                       const struct hbk_origin *origin, const bool told[CAUSES],
                       struct hbk_text *out)
{
    struct hbk_text said = {.arena = out->arena};
    for (int c = OPEN; c < CAUSES; c++) {
        if (!told[c]) {
            continue;
        }
        hbk_text_add(&said, said.length > 0 ? "; " : "");
        if (c == OPEN) {
            add_open(notes, origin, &said);
        } else {
            add_press(notes, origin, &said);
        }
    }
    add_sentence(hbk_text_string(&said), out);
}

/* Whether it is the low E flat of a bugle: keys alone, treble clef. */
static bool is_low_e_flat(const struct hbk_notes *notes,
                          const struct hbk_origin *origin)
{
    return hbk_horn_has_kind(notes->horn, HBK_KEY) &&
           !hbk_horn_has_kind(notes->horn, HBK_VALVE) &&
           notes->horn->clef == HBK_TREBLE && origin->first->partial == 2 &&
           origin->note->written == origin->open_note + 3;
}

/* Where the usual fingering lies, and why it is not the first. */
static void add_taught(const struct hbk_notes *notes,
                       const struct hbk_origin *origin, struct hbk_text *out)
{
    const struct hbk_fingering *const taught = &origin->taught;
    const bool to_avoid = notes->horn->partials.avoid[taught->partial];
    char label[HBK_LABEL_SIZE];
    hbk_text_addf(out, "the usual fingering, %s on partial %u, %s ",
                  pressed(notes, taught->press, label), taught->partial,
                  fabs(hbk_report_whole(taught->cents)) < worth_cents ? "is"
                                                                      : "lies");
    add_off(taught->cents, out);
    hbk_text_addf(
        out, " on this horn%s%s",
        to_avoid ? ", but its players avoid that partial" : "",
        (taught->verdict & HBK_VERDICT_CARE) != 0 ? ", and it needs care" : "");
}

/* The sentence of what else there would be. */
static void add_others(const struct hbk_notes *notes,
                       const struct hbk_origin *origin, struct hbk_text *out)
{
    const bool is_usual = origin->first->taught == HBK_TAUGHT_YES;
    const struct hbk_fingering *const avoided = origin->avoided;
    struct hbk_text said = {.arena = out->arena};
    char label[HBK_LABEL_SIZE];
    if (origin->has_taught) {
        add_taught(notes, origin, &said);
    } else if (!is_usual) {
        hbk_text_add(&said, "no usual fingering gives the note on this horn");
    } else if (avoided != NULL) {
        hbk_text_addf(&said, "%s on partial %u would be ",
                      pressed(notes, avoided->press, label), avoided->partial);
        add_off(avoided->cents, &said);
        hbk_text_add(&said, ", but players avoid that partial");
    }
    if ((!is_usual || fabs(origin->first->cents) >= HBK_UNRELIABLE_CENTS) &&
        is_low_e_flat(notes, origin)) {
        hbk_text_addf(&said,
                      "%sit is a poor note of many keyed bugles, and some "
                      "makers gave them a second key for it",
                      said.length > 0 ? "; " : "");
    }
    add_sentence(hbk_text_string(&said), out);
}

static void add_missing(const struct hbk_notes *notes,
                        const struct hbk_origin *origin,
                        const struct hbk_gaps *gaps, struct hbk_text *out)
{
    hbk_text_addf(out, "%s is not available: ",
                  hbk_words_read(out->arena, notes, origin->note->written));
    for (size_t i = 0; i < gaps->n; i++) {
        if (gaps->items[i].written == origin->note->written) {
            const struct hbk_gaps alone = {.n = 1, .items = &gaps->items[i]};
            hbk_gap_text(&alone, &gaps->items[i], &notes->horn->partials, out);
        }
    }
    if (origin->has_taught) {
        hbk_text_add(out, "; ");
        add_taught(notes, origin, out);
    }
    hbk_text_add(out, ".");
}

void hbk_origin_text(const struct hbk_notes *notes,
                     const struct hbk_origin *origin,
                     const struct hbk_gaps *gaps, struct hbk_text *out)
{
    bool told[CAUSES];
    if (origin->first == NULL) {
        add_missing(notes, origin, gaps, out);
        hbk_text_add(out, "\n");
        return;
    }
    choose_causes(origin, told);
    /* Of an open note that is as nature has it there is no more to say. */
    const bool natural =
        origin->first->press == 0 && told[OPEN] && is_natural(origin);
    told[OPEN] = told[OPEN] && !natural;
    add_first(notes, origin, natural, out);
    const size_t length = out->length;
    add_causes(notes, origin, told, out);
    add_others(notes, origin, out);
    const bool is_all =
        out->length == length && origin->first->taught == HBK_TAUGHT_YES;
    add_sentence(is_all ? "it is the usual fingering" : "", out);
    hbk_text_add(out, "\n");
}
