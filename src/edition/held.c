#include "edition/held.h"

#include "edition/note_list.h"
#include "music/pitch.h"
#include "solve/hold.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The notes that are asked for, and how they are named in words. */
struct list {
    const struct hbk_notation *notation;
    struct hbk_note_list of;
};

/* The root with its octave, or as it was asked for. */
struct root {
    struct hbk_spelling spelling;
    bool has_octave;
};

static bool read_root(const char *text, struct root *root)
{
    char name[HBK_NAME_SIZE];
    root->has_octave = hbk_spelling_parse(text, &root->spelling);
    return root->has_octave ||
           (snprintf(name, sizeof(name), "%s4", text) < HBK_NAME_SIZE &&
            hbk_spelling_parse(name, &root->spelling));
}

static const char *degree_word(unsigned degree)
{
    static const char *const words[] = {NULL, "root",  NULL,    "third",
                                        NULL, "fifth", "sixth", "seventh",
                                        NULL, "ninth"};
    return words[degree];
}

/* A note of the chord as it is read, with its octave or without. */
static char *read_name(const struct list *list, struct hbk_spelling written,
                       bool has_octave, char name[HBK_NAME_SIZE])
{
    const enum hbk_naming naming = list->notation->naming;
    const struct hbk_spelling read =
        hbk_notation_spelling(list->notation, written);
    return has_octave ? hbk_spelling_said(read, naming, HBK_UNICODE, name)
                      : hbk_spelling_called(read, naming, HBK_UNICODE, name);
}

/* "C major": by the letter of the root. */
static void add_chord(struct hbk_text *text, const struct list *list,
                      const struct hbk_chord *chord, struct hbk_spelling root)
{
    char name[HBK_NAME_SIZE];
    hbk_text_addf(text, "%s %s", read_name(list, root, false, name),
                  chord->kind->name);
}

static struct hbk_spelling spelling_of(const struct list *list, int note)
{
    size_t k = 0;
    while (list->of.notes[k] != note) {
        k++;
    }
    return list->of.spelled[k];
}

/* ": the third 14 cents low, the fifth 2 cents high." of the notes held. */
static void add_degrees(struct hbk_text *text, const struct list *list,
                        const struct hbk_chord *chord)
{
    const struct hbk_chord_kind *const kind = chord->kind;
    const char *before = ": ";
    for (size_t i = 1; i < kind->n; i++) {
        size_t k = 0;
        while (k < list->of.n &&
               hbk_chord_degree(chord, list->of.notes[k]) != kind->degrees[i]) {
            k++;
        }
        if (k == list->of.n) {
            continue;
        }
        const double cents = hbk_chord_cents(chord, list->of.notes[k]);
        hbk_text_addf(text, "%sthe %s %.0f cents %s", before,
                      degree_word(kind->degrees[i]), fabs(cents),
                      cents < 0.0 ? "low" : "high");
        before = ", ";
    }
    hbk_text_add(text, ".");
}

/* Which notes could be the root as well; "" for none. */
static const char *other_words(struct hbk_arena *arena, const struct list *list,
                               const char *root_by, size_t n,
                               const struct hbk_chord found[])
{
    if (n < 2) {
        return "";
    }
    struct hbk_text words = {.arena = arena};
    struct hbk_text *const text = &words;
    hbk_text_add(text, "The root can also be ");
    for (size_t i = 1; i < n; i++) {
        const struct hbk_spelling spelling = spelling_of(list, found[i].root);
        char name[HBK_NAME_SIZE];
        hbk_text_addf(text, "%s%s",
                      i == 1      ? ""
                      : i + 1 < n ? ", "
                                  : " or ",
                      read_name(list, spelling, true, name));
        if (found[i].kind != found[0].kind) {
            hbk_text_add(text, " (");
            add_chord(text, list, &found[i], spelling);
            hbk_text_add(text, ")");
        }
    }
    hbk_text_add(text, "; the lowest is taken");
    if (root_by != NULL) {
        hbk_text_addf(text, ", and %s names another", root_by);
    }
    hbk_text_add(text, ".");
    return hbk_text_string(text);
}

/* "; the root C6 would make C major" of those that would; "" for none. */
static const char *better_roots(struct hbk_arena *arena,
                                const struct list *list)
{
    struct hbk_chord found[HBK_CHORD_READINGS];
    const size_t n = hbk_chord_find(list->of.n, list->of.notes, found);
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < n; i++) {
        const struct hbk_spelling root = spelling_of(list, found[i].root);
        char name[HBK_NAME_SIZE];
        hbk_text_addf(&text, "%s the root %s would make ", i == 0 ? ";" : ",",
                      read_name(list, root, false, name));
        add_chord(&text, list, &found[i], root);
    }
    return hbk_text_string(&text);
}

/* Why there is no chord; on `root`, if it was given. */
static const char *no_chord(struct hbk_arena *arena, const struct list *list,
                            const char *root, const char *root_by)
{
    if (root != NULL) {
        return hbk_arena_printf(arena,
                                "Held by equal temperament: no chord known "
                                "here has these notes on %s%s.",
                                root, better_roots(arena, list));
    }
    unsigned classes = 0;
    for (size_t k = 0; k < list->of.n; k++) {
        classes |= 1U << list->of.notes[k] % 12;
    }
    const int n = __builtin_popcount(classes);
    return hbk_arena_printf(arena, "Held by equal temperament: %s%s%s%s.",
                            n == 1   ? "one note alone has no chord"
                            : n == 2 ? "two notes do not tell their chord"
                                     : "no chord known here has these notes",
                            root_by == NULL ? "" : "; ",
                            root_by == NULL ? "" : root_by,
                            root_by == NULL ? "" : " names a root");
}

/* The root as it was asked for or found, by the horn's written notes. */
static const char *root_name(struct hbk_arena *arena, struct root root)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        root.has_octave ? hbk_spelling_name(root.spelling, HBK_ASCII, name)
                        : hbk_spelling_letter(root.spelling, HBK_ASCII, name));
}

/* Which chord the notes are, and what is said of it. */
static bool find_chord(const struct hbk_hold_ask *ask, const struct list *list,
                       struct hbk_arena *arena, struct hbk_held *held,
                       struct hbk_text *why)
{
    const char *const asked = ask->root;
    struct hbk_chord found[HBK_CHORD_READINGS];
    struct root root = {.has_octave = true};
    size_t n_found = 0;
    held->root_given = asked != NULL;
    if (!held->root_given) {
        n_found = hbk_chord_find(list->of.n, list->of.notes, found);
    } else if (read_root(asked, &root)) {
        const int note = hbk_spelling_note(root.spelling);
        n_found =
            hbk_chord_on(list->of.n, list->of.notes, note, &found[0]) ? 1 : 0;
    } else {
        hbk_text_addf(
            why, "'%s' is not a written note; write one like C5 or Bb", asked);
        return false;
    }
    if (n_found > 0 && !held->root_given) {
        root.spelling = spelling_of(list, found[0].root);
    }
    if (n_found > 0 || held->root_given) {
        held->root = root_name(arena, root);
    }
    char named[HBK_NAME_SIZE];
    read_name(list, root.spelling, root.has_octave, named);
    if (n_found == 0) {
        held->words = no_chord(arena, list, held->root_given ? named : NULL,
                               ask->root_by);
        return true;
    }
    held->is_just = true;
    held->chord = found[0];
    struct hbk_text words = {.arena = arena};
    hbk_text_add(&words, "Held as ");
    add_chord(&words, list, &found[0], root.spelling);
    hbk_text_addf(&words, ", root %s", named);
    add_degrees(&words, list, &found[0]);
    held->words = hbk_text_string(&words);
    held->other_words = other_words(arena, list, ask->root_by, n_found, found);
    for (size_t i = 1; i < n_found; i++) {
        held->other_roots[held->n_other_roots++] = found[i].root;
    }
    return true;
}

enum hbk_hold_fault hbk_hold_notes(const struct hbk_hold_ask *ask,
                                   const struct hbk_notes *notes,
                                   struct hbk_arena *arena,
                                   struct hbk_held *held, struct hbk_text *why)
{
    struct list list = {.notation = &notes->notation};
    *held = (struct hbk_held){.other_words = ""};
    if (!hbk_note_list_read(ask->notes, notes, &list.of, why)) {
        return HBK_HOLD_NOTES;
    }
    if (!find_chord(ask, &list, arena, held, why)) {
        return HBK_HOLD_ROOT;
    }
    struct hbk_held_note *const rows =
        HBK_ARENA_ARRAY(arena, struct hbk_held_note, list.of.n);
    for (size_t k = 0; k < list.of.n; k++) {
        struct hbk_held_note *const row = &rows[k];
        if (held->is_just) {
            row->degree =
                degree_word(hbk_chord_degree(&held->chord, list.of.notes[k]));
            row->aim_cents = hbk_chord_cents(&held->chord, list.of.notes[k]);
        }
        row->note = hbk_hold(notes, hbk_notes_find(notes, list.of.notes[k]),
                             row->aim_cents, held->is_just, arena);
    }
    held->n = list.of.n;
    held->notes = rows;
    return HBK_HOLD_FINE;
}
