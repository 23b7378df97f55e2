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

#include <math.h>

/* Less than this is not worth a sentence; our own choice. */
static const double worth_cents = 5.0;

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

static void add_first(const struct hbk_notes *notes,
                      const struct hbk_origin *origin, struct hbk_text *out)
{
    char label[HBK_LABEL_SIZE];
    hbk_text_addf(out, "%s is played %s%s on partial %u and is ",
                  hbk_words_read(out->arena, notes, origin->note->written),
                  origin->first->press == 0 ? "" : "with ",
                  pressed(notes, origin->first->press, label),
                  origin->first->partial);
    add_off(origin->first->cents, out);
    hbk_text_add(out, ".");
}

static bool is_stuck(const struct hbk_notes *notes)
{
    return hbk_stuck_any(&notes->setting.stuck);
}

/* The partial itself, as every fingering on it has it. */
static void add_partial(const struct hbk_notes *notes,
                        const struct hbk_origin *origin, struct hbk_text *out)
{
    const double off = origin->open_cents;
    const unsigned partial = origin->first->partial;
    if (isnan(off) || fabs(off) < worth_cents) {
        return;
    }
    const bool is_natural =
        fabs(origin->natural_cents) >= worth_cents &&
        fabs(off - origin->natural_cents) < 2.0 * worth_cents;
    hbk_text_addf(out, " Partial %u of the open horn%s, %s, is itself ",
                  partial, is_stuck(notes) ? " with what is stuck" : "",
                  hbk_words_read(out->arena, notes, origin->open_note));
    add_off(off, out);
    hbk_text_add(out, is_natural ? ", as it is on every horn by nature" : "");
    hbk_text_add(out, origin->first->press == 0
                          ? ""
                          : ", and so is all that is played on it");
    hbk_text_add(out, ".");
}

/* How far the press leads, and how far it should. */
static void add_press(const struct hbk_notes *notes,
                      const struct hbk_origin *origin, struct hbk_text *out)
{
    const double off = origin->press_cents;
    const int wanted =
        (int)HBK_SEMITONE_CENTS * (origin->note->written - origin->open_note);
    const double moves = wanted + off;
    char label[HBK_LABEL_SIZE];
    if (isnan(off) || origin->first->press == 0 || fabs(off) < worth_cents) {
        return;
    }
    hbk_text_addf(out, " %s %s it by %.0f cents",
                  pressed(notes, origin->first->press, label),
                  moves < 0.0 ? "lowers" : "raises",
                  fabs(hbk_report_whole(moves)));
    if (wanted == 0) {
        hbk_text_add(out, ", which brings it nearer.");
        return;
    }
    hbk_text_addf(out, " where %d are wanted.", wanted < 0 ? -wanted : wanted);
    if (origin->control >= 0) {
        char key[48];
        hbk_text_addf(
            out,
            " The hole of %s is the open one nearest the mouthpiece and "
            "sets the pitch%s.",
            hbk_control_words(&notes->horn->controls[origin->control], key,
                              sizeof(key)),
            origin->n_pressed > 1 ? "; what is pressed below it bends that"
                                  : "");
    } else if (origin->n_pressed > 1 && off > 0.0 && wanted < 0 &&
               !is_stuck(notes)) {
        hbk_text_add(out, " Loops that are right one at a time are too short "
                          "together.");
    }
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

static void add_taught(const struct hbk_notes *notes,
                       const struct hbk_origin *origin, struct hbk_text *out)
{
    char label[HBK_LABEL_SIZE];
    const bool is_off = fabs(origin->first->cents) >= HBK_UNRELIABLE_CENTS;
    if (origin->taught != NULL) {
        hbk_text_addf(out,
                      " The usual fingering, %s on partial %u, is an alternate "
                      "here: it is ",
                      pressed(notes, origin->taught->press, label),
                      origin->taught->partial);
        add_off(origin->taught->cents, out);
        hbk_text_add(out, ".");
    } else if (origin->first->taught != HBK_TAUGHT_YES) {
        hbk_text_add(out, " No usual fingering gives the note on this horn.");
    }
    if ((is_off || origin->first->taught != HBK_TAUGHT_YES) &&
        is_low_e_flat(notes, origin)) {
        hbk_text_add(out, " It is a poor note of many keyed bugles; some "
                          "makers gave them a second key for it.");
    }
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
    hbk_text_add(out, ".");
}

void hbk_origin_text(const struct hbk_notes *notes,
                     const struct hbk_origin *origin,
                     const struct hbk_gaps *gaps, struct hbk_text *out)
{
    if (origin->first == NULL) {
        add_missing(notes, origin, gaps, out);
    } else {
        add_first(notes, origin, out);
        add_partial(notes, origin, out);
        add_press(notes, origin, out);
        add_taught(notes, origin, out);
    }
    hbk_text_add(out, "\n");
}
