#include "sheet/primer/primer_words.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "sheet/block/signs.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_system.h"

#include <math.h>
#include <string.h>

/* Open notes are named up to so many. */
enum { OPEN_MOST = 6 };

const char *hbk_primer_figure(struct hbk_arena *arena,
                              const struct hbk_notes *notes, int written)
{
    const struct hbk_note *const note = hbk_notes_find(notes, written);
    if (note == NULL || note->n == 0) {
        return "\u2013";
    }
    if (hbk_horn_n_controls(notes->horn) == 0) {
        return hbk_arena_printf(arena, "partial %u",
                                note->fingerings[0].partial);
    }
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(notes->horn, note->fingerings[0].press, label);
    return hbk_arena_copy(arena, label, strlen(label));
}

const char *hbk_primer_note(struct hbk_arena *arena,
                            const struct hbk_notes *notes, int written)
{
    return hbk_arena_printf(arena, "%s (%s)",
                            hbk_words_read(arena, notes, written),
                            hbk_primer_figure(arena, notes, written));
}

const char *hbk_primer_called(struct hbk_arena *arena,
                              const struct hbk_notes *notes, int written)
{
    const char *const sounding = hbk_words_read_sounding(arena, notes, written);
    const bool is_same =
        strcmp(sounding, hbk_words_read(arena, notes, written)) == 0;
    return hbk_arena_printf(
        arena, "%s%s%s", hbk_primer_note(arena, notes, written),
        is_same ? "" : ", which a tuner calls ", is_same ? "" : sounding);
}

const char *hbk_primer_expect(struct hbk_arena *arena, double cents)
{
    return fabs(cents) < HBK_PRIMER_IN_TUNE
               ? "in tune"
               : hbk_arena_printf(arena, "about %.0f cents %s", fabs(cents),
                                  cents > 0.0 ? "sharp" : "flat");
}

const char *hbk_primer_correct(double cents)
{
    switch (hbk_sign_lip(cents)) {
    case HBK_SIGN_LIP_UP:
        return "lip up: firmer lips, faster air";
    case HBK_SIGN_LIP_DOWN:
        return "lip down: looser lips, slower air";
    case HBK_SIGN_NONE:
    case HBK_SIGN_CROSSING:
        break;
    }
    return "leave it; play a straight, even tone";
}

const char *hbk_primer_on_tuner(struct hbk_arena *arena, double cents)
{
    const char *const expect = hbk_primer_expect(arena, cents);
    return strcmp(expect, "in tune") == 0 ? "It is in tune."
           : hbk_sign_lip(cents) == HBK_SIGN_NONE
               ? hbk_arena_printf(arena, "On the tuner it is %s: leave it.",
                                  expect)
               : hbk_arena_printf(arena, "On the tuner it is %s; %s.", expect,
                                  hbk_primer_correct(cents));
}

static const struct hbk_fingering *first_of(const struct hbk_notes *notes,
                                            size_t i)
{
    return notes->notes[i].n == 0 ? NULL : &notes->notes[i].fingerings[0];
}

/* "With nothing pressed the lips alone choose the note: C4, G4, C5 ..." */
static void add_open(struct hbk_text *text, const struct hbk_notes *notes)
{
    struct hbk_text list = {.arena = text->arena};
    size_t n = 0;
    for (size_t i = 0; i < notes->n && n < OPEN_MOST; i++) {
        const struct hbk_fingering *const first = first_of(notes, i);
        if (first != NULL && first->press == 0) {
            hbk_text_addf(
                &list, "%s%s", n == 0 ? "" : ", ",
                hbk_words_read(text->arena, notes, notes->notes[i].written));
            n++;
        }
    }
    if (n > 0) {
        hbk_text_addf(text, "%s lips alone choose among the open notes: %s. ",
                      hbk_horn_n_controls(notes->horn) == 0
                          ? "There is nothing to press: the"
                          : "With nothing pressed the",
                      hbk_text_string(&list));
    }
}

/* "key 2 raises a semitone" for each of a kind; false for none of it. */
static bool add_effects(struct hbk_text *text, const struct hbk_notes *notes,
                        enum hbk_control_kind kind)
{
    const struct hbk_horn *const horn = notes->horn;
    bool any = false;
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const struct hbk_control *const control = hbk_horn_control(horn, i);
        const char *const effect = hbk_words_effect(text->arena, notes, i);
        if (control->kind != kind || effect[0] == '\0') {
            continue;
        }
        char words[40];
        hbk_text_addf(text, "%s%s: %s", any ? "; " : "",
                      hbk_control_words(control, words, sizeof(words)), effect);
        any = true;
    }
    return any;
}

/* A note that the same fingers give again, a partial higher. */
static void add_again(struct hbk_text *text, const struct hbk_notes *notes)
{
    for (int pressed = 1; pressed >= 0; pressed--) {
        for (size_t i = notes->n / 4; i < notes->n; i++) {
            const struct hbk_fingering *const low = first_of(notes, i);
            if (low == NULL || (low->press != 0) != (pressed == 1)) {
                continue;
            }
            for (size_t k = i + 1; k < notes->n; k++) {
                const struct hbk_fingering *const high = first_of(notes, k);
                if (high != NULL && high->press == low->press &&
                    high->partial > low->partial) {
                    hbk_text_addf(
                        text,
                        "The same fingers serve again higher up: %s and %s are "
                        "both %s, and the lips decide which you hear; such "
                        "notes are called partials, counted from the lowest of "
                        "the tube. ",
                        hbk_words_read(text->arena, notes,
                                       notes->notes[i].written),
                        hbk_words_read(text->arena, notes,
                                       notes->notes[k].written),
                        hbk_primer_figure(text->arena, notes,
                                          notes->notes[i].written));
                    return;
                }
            }
        }
    }
}

/* Two controls of a kind that move, and that may be pressed together. */
static size_t moving(const struct hbk_notes *notes, enum hbk_control_kind kind)
{
    size_t n = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(notes->horn); i++) {
        const struct hbk_control *const control =
            hbk_horn_control(notes->horn, i);
        n += control->kind == kind && !control->alone &&
                     !hbk_notes_stuck(notes, i)
                 ? 1
                 : 0;
    }
    return n;
}

/* "k1-v1 is key 1 with valve 1", of the first of each that moves. */
static void add_mixed(struct hbk_text *text, const struct hbk_notes *notes)
{
    const struct hbk_horn *const horn = notes->horn;
    uint32_t both = 0;
    char words[2][40];
    for (int kind = HBK_KEY; kind <= HBK_VALVE; kind++) {
        size_t i = 0;
        while (
            i < hbk_horn_n_controls(horn) &&
            (hbk_horn_control(horn, i)->kind != (enum hbk_control_kind)kind ||
             hbk_notes_stuck(notes, i))) {
            i++;
        }
        if (i == hbk_horn_n_controls(horn)) {
            return;
        }
        both |= UINT32_C(1) << i;
        (void)hbk_control_words(hbk_horn_control(horn, i),
                                words[kind == HBK_VALVE], sizeof(words[0]));
    }
    char label[HBK_LABEL_SIZE];
    (void)hbk_horn_press_label(horn, both, label);
    hbk_text_addf(text,
                  "Keys and valves work together: k stands for a key, v for a "
                  "valve, and %s is %s with %s. ",
                  label, words[0], words[1]);
}

/* The control that is open at rest and alone makes that fingering, or NULL. */
static const struct hbk_control *closed_alone(const struct hbk_horn *horn,
                                              const struct hbk_fingering *of)
{
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        if (of->press == UINT32_C(1) << i &&
            hbk_horn_control(horn, i)->stands_open) {
            return hbk_horn_control(horn, i);
        }
    }
    return NULL;
}

/* "... the leading note, ...: B4 below C5", of a C where there is one. */
static void add_leading(struct hbk_text *text, const struct hbk_notes *notes)
{
    enum { OCTAVE = 12 };
    const struct hbk_control *best = NULL;
    int under = 0;
    for (size_t i = notes->n / 4; i + 1 < notes->n; i++) {
        const struct hbk_fingering *const low = first_of(notes, i);
        const struct hbk_fingering *const high = first_of(notes, i + 1);
        const int written = notes->notes[i + 1].written;
        const struct hbk_control *const closed =
            low == NULL || high == NULL || high->press != 0
                ? NULL
                : closed_alone(notes->horn, low);
        if (closed != NULL &&
            (best == NULL || (under % OCTAVE != 0 && written % OCTAVE == 0))) {
            best = closed;
            under = written;
        }
    }
    char words[40];
    if (best != NULL) {
        hbk_text_addf(
            text,
            "Pressing %s closes its hole and gives the leading note, the "
            "semitone below an open note: %s below %s. ",
            hbk_control_words(best, words, sizeof(words)),
            hbk_words_read(text->arena, notes, under - 1),
            hbk_words_read(text->arena, notes, under));
    }
}

static void add_together(struct hbk_text *text, const struct hbk_notes *notes)
{
    const size_t keys = moving(notes, HBK_KEY);
    const size_t valves = moving(notes, HBK_VALVE);
    if (keys > 1 && valves > 1) {
        hbk_text_add(text, "Of several open holes the one nearest the "
                           "mouthpiece sets the pitch; valves pressed together "
                           "add up. ");
    } else if (keys > 1) {
        hbk_text_add(text, "Of several open holes the one nearest the "
                           "mouthpiece sets the pitch, so each next key toward "
                           "the mouthpiece plays higher. ");
    } else if (valves > 1) {
        hbk_text_add(text, "Valves pressed together add up. ");
    } else if (moving(notes, HBK_VALVE) == 0 &&
               hbk_horn_has_kind(notes->horn, HBK_VALVE)) {
        hbk_text_add(text, "Only one valve is pressed at a time. ");
    }
}

const char *hbk_primer_how(struct hbk_arena *arena,
                           const struct hbk_notes *notes)
{
    struct hbk_text text = {.arena = arena};
    add_open(&text, notes);
    struct hbk_text does = {.arena = arena};
    for (int kind = HBK_KEY; kind <= HBK_TRIGGER; kind++) {
        struct hbk_text of = {.arena = arena};
        if (add_effects(&of, notes, (enum hbk_control_kind)kind)) {
            hbk_text_addf(&does, "%s%s", does.length > 0 ? "; " : "",
                          hbk_text_string(&of));
        }
    }
    if (does.length > 0) {
        hbk_text_addf(&text, "Pressed alone: %s. ", hbk_text_string(&does));
    }
    add_together(&text, notes);
    add_mixed(&text, notes);
    add_leading(&text, notes);
    if (hbk_horn_n_controls(notes->horn) > 0) {
        add_again(&text, notes);
    }
    hbk_text_addf(&text, "%s.", hbk_words_read_sounds(arena, notes));
    return hbk_text_string(&text);
}
