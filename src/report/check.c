#include "report/check.h"

#include "horn/horn.h"
#include "horn/press.h"
#include "horn/stuck.h"
#include "music/pitch.h"
#include "notes/slides.h"
#include "report/columns.h"
#include "report/gap.h"
#include "report/screen.h"
#include "sheet/words/words.h"
#include "sheet/words/words_system.h"

#include <math.h>

/* What a line is about, in a column of its own. */
static void add_label(const char *label, struct hbk_text *out)
{
    enum { WIDE_LABEL = 10 };
    const size_t start = out->length;
    hbk_text_addf(out, "  %s", label);
    hbk_report_pad(out, start, WIDE_LABEL);
    hbk_text_add(out, HBK_HANG);
}

/* The tuning note as the horn stands, and where the slides can take it. */
static void add_pitch(const struct hbk_understood *found, struct hbk_text *out)
{
    const struct hbk_notes *const notes = found->notes;
    const struct hbk_tuned *const tuned = &notes->tuned;
    const struct hbk_reach *const reach = found->reach;
    char written[HBK_NAME_SIZE];
    char label[HBK_LABEL_SIZE];
    const int sounds = tuned->note + notes->written_c4_sounds - HBK_NOTE_C4;
    const double cents = tuned->before_cents;
    char sounding[HBK_NAME_SIZE];
    hbk_note_name(tuned->note, HBK_UNICODE, written);
    hbk_note_name(sounds, HBK_UNICODE, sounding);
    add_label("pitch", out);
    hbk_text_addf(out, "written %s, %s%s%s, sounds %s on partial %u", written,
                  tuned->press == 0 ? "" : "with ",
                  tuned->press == 0
                      ? "open"
                      : hbk_horn_press_label(notes->horn, tuned->press, label),
                  tuned->press == 0 ? "" : " pressed", sounding,
                  tuned->partial);
    hbk_text_addf(out, "; as the file has it, A4 = %.1f Hz at %g\u00A0\u00B0C",
                  notes->setting.a4_hz * hbk_cents_ratio(cents),
                  notes->setting.temperature_c);
    if (reach->highest_hz - reach->lowest_hz >= 0.05) {
        hbk_text_addf(out, ", with its slides %.1f to %.1f Hz",
                      reach->lowest_hz, reach->highest_hz);
    } else {
        hbk_text_add(out, "; nothing can be pulled to tune it");
    }
    hbk_text_add(out, "\n");
}

/* "1 lowers a tone, 2 lowers a semitone": a slip in a loop shows here. */
static void add_controls(const struct hbk_notes *notes, struct hbk_text *out)
{
    const struct hbk_horn *const horn = notes->horn;
    if (horn->n_controls > 0) {
        add_label("does", out);
    }
    for (size_t i = 0; i < horn->n_controls; i++) {
        char words[48];
        hbk_text_addf(
            out, "%s%s %s", i == 0 ? "" : ", ",
            hbk_control_words(&horn->controls[i], words, sizeof(words)),
            hbk_words_effect(out->arena, notes, i));
    }
    hbk_text_add(out, horn->n_controls > 0 ? "\n" : "");
}

/* Whether two notes are lost for the same reason, so that they go together. */
static bool is_same(const struct hbk_gap *a, const struct hbk_gap *b)
{
    return a->reason == b->reason && a->partial == b->partial;
}

static void add_notes(const struct hbk_understood *found, struct hbk_text *out)
{
    const struct hbk_notes *const notes = found->notes;
    const struct hbk_gaps *const gaps = found->gaps;
    int *const together = HBK_ARENA_ARRAY(out->arena, int, gaps->n + 1);
    bool *const is_told = HBK_ARENA_ARRAY(out->arena, bool, gaps->n + 1);
    char low[HBK_NAME_SIZE];
    char high[HBK_NAME_SIZE];
    add_label("notes", out);
    hbk_text_addf(out, "%zu of %zu from %s to %s are available\n",
                  notes->n - gaps->n, notes->n,
                  hbk_note_name(notes->lowest, HBK_UNICODE, low),
                  hbk_note_name(notes->highest, HBK_UNICODE, high));
    for (size_t i = 0; i < gaps->n; i++) {
        size_t n = 0;
        for (size_t k = i; !is_told[i] && k < gaps->n; k++) {
            if (is_same(&gaps->items[i], &gaps->items[k])) {
                together[n++] = gaps->items[k].written;
                is_told[k] = k > i;
            }
        }
        if (n > 0) {
            add_label("", out);
            hbk_text_addf(
                out, "not %s: ", hbk_words_note_runs(out->arena, n, together));
            hbk_gap_text(gaps, &gaps->items[i], &notes->horn->partials, out);
            hbk_text_add(out, "\n");
        }
    }
}

/* What each lengthens, and how far it is out where the file's lengths hold. */
static void add_slides(const struct hbk_horn *horn, struct hbk_text *out)
{
    const struct hbk_stuck *const stuck = &horn->stuck;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        if (s == 0) {
            add_label("slides", out);
        }
        hbk_text_addf(out, "%s%s (", s == 0 ? "" : "; ", slide->name);
        if (slide->valve < 0) {
            hbk_text_add(out, "main tube");
        } else {
            hbk_text_addf(out, "loop of valve %s",
                          horn->controls[slide->valve].name);
        }
        const bool is_stuck = (stuck->slides >> s & 1U) != 0;
        const double out_m =
            is_stuck ? stuck->slide_out_m[s] : slide->stands_out_m;
        hbk_text_addf(out, "%s)%s out %g of %g mm",
                      slide->legs == 1 ? ", one leg" : "",
                      is_stuck ? " stuck," : "", out_m * 1000.0,
                      slide->travel_m * 1000.0);
    }
    hbk_text_add(out, horn->n_slides > 0 ? "\n" : "");
}

static void add_crooks(const struct hbk_horn *horn, struct hbk_text *out)
{
    for (size_t i = 0; i < horn->n_crooks; i++) {
        const struct hbk_crook *const crook = &horn->crooks[i];
        if (i == 0) {
            add_label("crooks", out);
        }
        hbk_text_addf(out, "%s%s (%s) adds %g mm", i == 0 ? "" : "; ",
                      crook->name, crook->kind, crook->adds_m * 1000.0);
        if (crook->has_written_c4) {
            char name[HBK_NAME_SIZE];
            hbk_text_addf(
                out, ", written C sounds %s",
                hbk_spelling_letter(hbk_horn_key(crook->written_c4_sounds),
                                    HBK_UNICODE, name));
        }
        hbk_text_add(out, crook->not_to_learn_from
                              ? ", its chart is none to learn from"
                              : "");
    }
    hbk_text_add(out, horn->n_crooks > 0 ? "\n" : "");
}

/* Those that can be put in, told apart by their cups. */
static void add_mouthpieces(const struct hbk_horn *horn, struct hbk_text *out)
{
    if (horn->n_mouthpieces == 0) {
        return;
    }
    add_label("takes", out);
    hbk_text_addf(out, "mouthpiece own (cup %g ml)",
                  1e6 * horn->bore.mouthpiece.volume_m3);
    for (size_t i = 0; i < horn->n_mouthpieces; i++) {
        const struct hbk_other_mouthpiece *const other = &horn->mouthpieces[i];
        hbk_text_addf(out, ", %s (%g ml)", other->name,
                      1e6 * other->piece.volume_m3);
    }
    hbk_text_add(out, "\n");
}

static void add_stuck(const struct hbk_notes *notes, struct hbk_text *out)
{
    const struct hbk_horn *const horn = notes->horn;
    for (size_t i = 0; i < horn->n_controls; i++) {
        const char *const how = hbk_words_stuck(notes, i);
        char words[48];
        if (how[0] != '\0') {
            add_label("stuck", out);
            hbk_text_addf(
                out, "%s is %s\n",
                hbk_control_words(&horn->controls[i], words, sizeof(words)),
                how);
        }
    }
}

/* Sizes of holes, where the horn is not described by its bore. */
static void add_unused(const struct hbk_horn *horn, struct hbk_text *out)
{
    bool has_sizes = false;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_hole *const hole = &horn->sites[i].hole;
        has_sizes =
            has_sizes || (horn->sites[i].kind == HBK_HOLE &&
                          !(isnan(hole->diameter_m) && isnan(hole->chimney_m) &&
                            isnan(hole->pad_lift_m)));
    }
    if (has_sizes && horn->model == HBK_MODEL_LENGTH) {
        add_label("holes", out);
        hbk_text_add(out, "their sizes and how far pads lift say nothing of a "
                          "horn without a bore: what a key raises stands as "
                          "the file has it\n");
    }
}

/* What an earlier fit took the shape of the horn from, if not a tuner. */
static void add_shape(const struct hbk_horn *horn, struct hbk_text *out)
{
    if (horn->fitted.n_names > 0) {
        add_label("shape", out);
        hbk_text_addf(out,
                      "fitted to the key names: %zu notes, good to some %.0f "
                      "cents\n",
                      horn->fitted.n_names, horn->fitted.left_out_cents);
    }
}

static void add_learning(const struct hbk_horn *horn, struct hbk_text *out)
{
    if (horn->not_to_learn_from) {
        add_label("chart", out);
        hbk_text_add(out, "none to learn from, the file says: learn_from: "
                          "false\n");
    }
}

void hbk_check_text(const struct hbk_understood *found, struct hbk_text *out)
{
    add_pitch(found, out);
    add_controls(found->notes, out);
    add_notes(found, out);
    add_slides(found->notes->horn, out);
    add_crooks(found->notes->horn, out);
    add_mouthpieces(found->notes->horn, out);
    add_unused(found->notes->horn, out);
    add_shape(found->notes->horn, out);
    add_learning(found->notes->horn, out);
    add_stuck(found->notes, out);
}
