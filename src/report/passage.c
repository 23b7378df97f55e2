#include "report/passage.h"

#include "horn/about.h"
#include "horn/press.h"
#include "report/columns.h"
#include "report/fingers.h"
#include "report/passage_hard.h"
#include "report/passage_moved.h"
#include "report/passage_played.h"
#include "report/passage_practice.h"
#include "report/passage_tempo.h"
#include "report/screen.h"
#include "sheet/words/fit_names_words.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>
#include <string.h>

/* A count with its noun: "1 note", "3 notes". */
static void add_count(struct hbk_text *out, size_t n, const char *noun)
{
    hbk_text_addf(out, "%zu %s%s", n, noun, n == 1 ? "" : "s");
}

static const char *event_name(const struct hbk_passage_view *view, size_t event,
                              char name[HBK_NAME_SIZE])
{
    return hbk_spelling_said(view->tune->events[event].spelling,
                             view->notes->notation.naming, HBK_UNICODE, name);
}

static void text_head(const struct hbk_passage_view *view, const char *tempo_by,
                      struct hbk_text *out)
{
    const struct hbk_passage *const passage = view->passage;
    const struct hbk_tune *const tune = view->tune;
    hbk_text_addf(out, "%s%s%s%s%s\n", tune->title,
                  tune->title[0] != '\0' && tune->part[0] != '\0' ? ", " : "",
                  tune->part,
                  tune->title[0] != '\0' || tune->part[0] != '\0' ? ": " : "",
                  hbk_horn_name(view->notes->horn));
    if (view->notes->setting.reads != HBK_READS_OWN) {
        hbk_text_addf(out, "%s%s.\n", hbk_words_reads(out->arena, view->notes),
                      hbk_words_read_sounds(out->arena, view->notes));
    }
    hbk_text_addf(out, "Tempo: %s", hbk_passage_tempo(view, out->arena));
    if (passage->tempo_assumed && tempo_by != NULL) {
        hbk_text_addf(out, "; say another with %s", tempo_by);
    }
    hbk_text_add(out, ".\n");
    hbk_text_addf(out, "%s\n",
                  hbk_words_set(out->arena, view->notes, HBK_WORDS_FULL));
    const char *const rest =
        hbk_words_rest(out->arena, view->notes, HBK_WORDS_FULL);
    hbk_text_addf(out, "%s%s", rest, rest[0] == '\0' ? "" : "\n");
    hbk_report_sentence(out, hbk_words_not_to_learn(out->arena, view->notes));
    hbk_report_sentence(out,
                        hbk_words_named_shape(out->arena, view->notes->horn));
    hbk_report_fingers(view->notes, out);
    const char *const moved = hbk_passage_moved(view, out->arena);
    if (moved != NULL) {
        hbk_text_addf(out, "%s.\n", moved);
    }
    const char *const chosen = hbk_passage_chosen(view, out->arena);
    if (chosen != NULL) {
        hbk_text_addf(out, "%s.\n", chosen);
    }
    hbk_played_text(tune, out);
    const char *const line = hbk_line_words(out->arena, &tune->line);
    if (line[0] != '\0') {
        hbk_text_addf(out, "Read: %s.\n", line);
    }
    const struct hbk_passage_counts counts = hbk_passage_count(view);
    const bool some = view->first > 0 || view->end < tune->n_bars;
    add_count(out, counts.notes, "written note");
    hbk_text_addf(out, "%s, ", some ? " in the bars shown" : "");
    add_count(out, counts.departures, "alternate fingering");
    if (counts.hard > 0) {
        hbk_text_add(out, ", ");
        add_count(out, counts.hard, "hard place");
    }
    if (counts.out > 0) {
        hbk_text_addf(out, ", %zu not available", counts.out);
    }
    hbk_text_add(out, ".\n");
    if (!passage->exact) {
        hbk_text_add(out, "The repeats are too complex to optimize together; "
                          "where they join, the fingering may not be the "
                          "best.\n");
    }
}

enum {
    WIDE_BEAT = 7,
    WIDE_NAME = 6,
    WIDE_SOUND = 8,
    WIDE_PRESS = 12,
    WIDE_PARTIAL = 7
};

/* Text and blanks up to `width` columns, and one blank at least. */
static void add_padded(struct hbk_text *out, const char *text, size_t width)
{
    const size_t start = out->length;
    hbk_text_add(out, text);
    hbk_report_pad(out, start, width);
}

/*
 * A cost as so many cents that one held note would be out of tune: squared
 * cents are no numbers to think in.
 */
static double as_cents(double cost)
{
    return hbk_report_whole(sqrt(fmax(cost, 0.0)));
}

static void text_others(const struct hbk_passage_view *view,
                        const struct hbk_passage_note *note,
                        struct hbk_text *out)
{
    for (size_t k = 1; k < note->n_choices && k <= view->others; k++) {
        const struct hbk_passage_choice *const choice = &note->choices[k];
        const struct hbk_fingering *const f =
            note->candidates->of[choice->candidate];
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(out, "%s%s" HBK_KEPT_BLANK "(%u)" HBK_KEPT_BLANK "+%.0f",
                      k == 1 ? "   " HBK_HANG : ", ",
                      hbk_horn_press_label(view->notes->horn, f->press, label),
                      f->partial, as_cents(choice->extra_cost));
    }
}

static void text_trill(const struct hbk_passage_view *view,
                       const struct hbk_passage_note *note,
                       struct hbk_text *out)
{
    char words[HBK_MOVE_WORDS_SIZE];
    char label[HBK_LABEL_SIZE];
    if (note->trill.kind == HBK_TRILL_NONE) {
        hbk_text_add(out, "        trill: the note above is not available\n");
        return;
    }
    hbk_text_addf(out, "        trill with %s, %s: %s\n",
                  hbk_horn_press_label(view->notes->horn,
                                       note->trill.upper->press, label),
                  hbk_trill_kind_name(note->trill.kind),
                  hbk_trill_words(view->keywork, &note->trill, words));
}

static void text_note(const struct hbk_passage_view *view, size_t event,
                      struct hbk_text *out)
{
    const size_t i = view->passage->note_of[event];
    char beat[HBK_TUNE_BEAT_SIZE];
    char name[HBK_NAME_SIZE];
    const bool grace = view->tune->events[event].kind == HBK_TUNE_GRACE;
    hbk_text_add(out, "  ");
    add_padded(out, grace ? "grace" : hbk_tune_beat(view->tune, event, beat),
               WIDE_BEAT);
    add_padded(out, event_name(view, event, name), WIDE_NAME);
    if (view->sounding) {
        const struct hbk_spelling sounds =
            hbk_spelling_moved(view->tune->events[event].spelling,
                               view->notes->written_c4_sounds - HBK_NOTE_C4 -
                                   view->notes->notation.shift);
        add_padded(out,
                   hbk_spelling_said(sounds, view->notes->notation.naming,
                                     HBK_UNICODE, name),
                   WIDE_SOUND);
    }
    if (i == HBK_TUNE_NONE) {
        hbk_text_add(out, HBK_CAUTION "not available" HBK_PLAIN "\n");
        return;
    }
    const struct hbk_passage_note *const note = &view->passage->notes[i];
    const struct hbk_fingering *const f = note->candidates->of[note->taken];
    char label[HBK_LABEL_SIZE + 2];
    hbk_horn_press_label(view->notes->horn, f->press, label);
    (void)strcat(label, note->taken > 0 ? " *" : "");
    add_padded(out, label, WIDE_PRESS);
    hbk_text_addf(out, "%*u %+6.0f", WIDE_PARTIAL, f->partial,
                  hbk_report_whole(f->cents));
    text_others(view, note, out);
    hbk_text_addf(out, "%s\n", note->playable_quarters > 0.0 ? "   !" : "");
    if (note->why != NULL) {
        hbk_text_addf(out, "        %s\n", note->why);
    }
    if (note->wants_trill) {
        text_trill(view, note, out);
    }
}

/* Whether the event is to be played, available or not. */
static bool is_note(const struct hbk_passage_view *view, size_t event)
{
    return view->passage->note_of[event] != HBK_TUNE_NONE ||
           hbk_passage_is_out(view->passage, event);
}

static void text_bars(const struct hbk_passage_view *view, struct hbk_text *out)
{
    for (size_t b = view->first; b < view->end; b++) {
        const struct hbk_tune_bar *const bar = &view->tune->bars[b];
        bool opened = false;
        for (size_t e = bar->first; e < bar->first + bar->count; e++) {
            if (!is_note(view, e) || !hbk_passage_shows(view, e)) {
                continue;
            }
            if (!opened) {
                hbk_text_addf(out, HBK_HEAD "bar %s" HBK_PLAIN "\n",
                              bar->number);
            }
            opened = true;
            text_note(view, e, out);
        }
    }
}

static void text_hard(const struct hbk_passage_view *view, struct hbk_text *out)
{
    size_t n = 0;
    const char *const *const hard = hbk_passage_hard(view, out->arena, &n);
    hbk_text_add(out,
                 n > 0 ? "\n" HBK_HEAD "Hard places (!)" HBK_PLAIN "\n" : "");
    for (size_t i = 0; i < n; i++) {
        hbk_text_addf(out, "  %s\n", hard[i]);
    }
}

enum { DIFFERENCES_MAX = 6 };

/* What another way does otherwise. */
static void text_way(const struct hbk_passage_view *view, size_t w,
                     struct hbk_text *out)
{
    const struct hbk_passage *const passage = view->passage;
    hbk_text_addf(out, "  +%.0f:",
                  as_cents(passage->ways[w].price - passage->ways[0].price));
    size_t n = 0;
    for (size_t i = 0; i < passage->n; i++) {
        const size_t pick = passage->ways[w].pick[i];
        if (pick == passage->ways[0].pick[i] ||
            !hbk_passage_in_bars(view, passage->notes[i].event)) {
            continue;
        }
        if (n++ >= DIFFERENCES_MAX) {
            continue;
        }
        const struct hbk_passage_note *const note = &passage->notes[i];
        char where[HBK_TUNE_WHERE_SIZE];
        char name[HBK_NAME_SIZE];
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(out, "%s %s %s on %s", n == 1 ? "" : ";",
                      hbk_tune_where(view->tune, note->event, where),
                      event_name(view, note->event, name),
                      hbk_horn_press_label(view->notes->horn,
                                           note->candidates->of[pick]->press,
                                           label));
    }
    if (n > DIFFERENCES_MAX) {
        hbk_text_addf(out, "; and %zu more", n - DIFFERENCES_MAX);
    }
    hbk_text_add(out, "\n");
}

/* Of one event, where it is a note: "C5 0", as in "bar 3: C5 0  E5 1-2". */
static void brief_note(const struct hbk_passage_view *view, size_t event,
                       struct hbk_text *out)
{
    const size_t i = view->passage->note_of[event];
    char name[HBK_NAME_SIZE];
    char label[HBK_LABEL_SIZE] = "-";
    if (i != HBK_TUNE_NONE) {
        const struct hbk_passage_note *const note = &view->passage->notes[i];
        hbk_horn_press_label(view->notes->horn,
                             note->candidates->of[note->taken]->press, label);
    }
    hbk_text_addf(out, "  %s" HBK_KEPT_BLANK "%s",
                  event_name(view, event, name), label);
}

/* Says so where nothing is to be practised; returns whether that is so. */
static bool says_nothing_hard(const struct hbk_passage_view *view,
                              struct hbk_text *out)
{
    size_t n_hard = 0;
    (void)hbk_practice_find(view, out->arena, &n_hard);
    const bool is_easy = view->practised != NULL && n_hard == 0;
    if (is_easy) {
        hbk_text_addf(out, "%s\n", hbk_practice_said(view, 0, out->arena));
    }
    return is_easy;
}

void hbk_passage_brief(const struct hbk_passage_view *view,
                       struct hbk_text *out)
{
    if (says_nothing_hard(view, out)) {
        return;
    }
    for (size_t b = view->first; b < view->end; b++) {
        const struct hbk_tune_bar *const bar = &view->tune->bars[b];
        bool opened = false;
        for (size_t e = bar->first; e < bar->first + bar->count; e++) {
            if (!is_note(view, e) || !hbk_passage_shows(view, e)) {
                continue;
            }
            if (!opened) {
                hbk_text_addf(out, "bar %s:" HBK_HANG, bar->number);
            }
            opened = true;
            brief_note(view, e, out);
        }
        hbk_text_add(out, opened ? "\n" : "");
    }
}

void hbk_passage_text(const struct hbk_passage_view *view, const char *tempo_by,
                      struct hbk_text *out)
{
    text_head(view, tempo_by, out);
    hbk_text_add(out, "\n");
    if (says_nothing_hard(view, out)) {
        return;
    }
    hbk_text_add(out, "  " HBK_HEAD);
    add_padded(out, "beat", WIDE_BEAT);
    add_padded(out, "note", WIDE_NAME);
    if (view->sounding) {
        add_padded(out, "sounds", WIDE_SOUND);
    }
    add_padded(out, "fingering", WIDE_PRESS);
    hbk_text_addf(out, "%*s %6s   %s" HBK_PLAIN "\n", WIDE_PARTIAL, "partial",
                  "cents",
                  view->others > 0 ? "alternates (partial), extra cost" : "");
    text_bars(view, out);
    text_hard(view, out);
    const bool departs = hbk_passage_count(view).departures > 0;
    hbk_text_add(out, departs ? "\n* alternate fingering\n" : "");
    if (view->others > 0) {
        hbk_text_addf(
            out,
            "%sAn extra cost of 20 is as bad as a held note 20 cents out of "
            "tune.\n",
            departs ? "" : "\n");
    }
    bool headed = false;
    for (size_t w = 1; view->other_ways && w < view->passage->n_ways; w++) {
        if (hbk_passage_is_new_way(view, w)) {
            hbk_text_add(out, headed ? ""
                                     : "\n" HBK_HEAD
                                       "Next best for the whole" HBK_PLAIN
                                       "\n");
            text_way(view, w, out);
            headed = true;
        }
    }
}
