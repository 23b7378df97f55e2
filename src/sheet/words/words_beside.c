#include "sheet/words/words_beside.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_system.h"

#include <math.h>
#include <string.h>

/* The namesake of a control in another horn, or -1. */
static int twin(const struct hbk_horn *horn, const struct hbk_control *control)
{
    return hbk_horn_find_control(horn, control->kind, control->name);
}

/* The notes that become `which`, as runs; NULL for none. */
static const char *runs_of(struct hbk_arena *arena,
                           const struct hbk_notes *here,
                           const struct hbk_notes *known,
                           enum hbk_beside_note which)
{
    int list[HBK_NOTE_MAX + 1];
    size_t n = 0;
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        if (hbk_beside_note(here, known, written) == which) {
            list[n++] = written;
        }
    }
    return n == 0 ? NULL : hbk_words_read_runs(arena, here, n, list);
}

/* What becomes of the notes that both horns reach. */
static void add_common(struct hbk_text *text, size_t same, size_t finger,
                       size_t other)
{
    const size_t all = same + finger + other;
    if (all == 0) {
        hbk_text_add(text, "The two horns have no written note in common.");
        return;
    }
    if (same == all) {
        hbk_text_addf(text,
                      "All %zu notes of both horns keep their "
                      "fingering.",
                      all);
        return;
    }
    hbk_text_addf(
        text,
        "Of the %zu written notes that both horns reach, %zu %s fingering", all,
        same, same == 1 ? "keeps its" : "keep their");
    if (finger > 0) {
        hbk_text_addf(text, "%s %zu %s the same number%s under another finger",
                      other > 0 ? "," : " and", finger,
                      finger == 1 ? "has" : "have", finger == 1 ? "" : "s");
    }
    if (other > 0) {
        hbk_text_addf(text, " and %zu %s", other,
                      other == 1 ? "changes" : "change");
    }
    hbk_text_add(text, ".");
}

const char *hbk_beside_summary(struct hbk_arena *arena,
                               const struct hbk_notes *here,
                               const struct hbk_notes *known)
{
    size_t n[HBK_BESIDE_LOST + 1] = {0};
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        n[hbk_beside_note(here, known, written)]++;
    }
    struct hbk_text text = {.arena = arena};
    add_common(&text, n[HBK_BESIDE_SAME], n[HBK_BESIDE_FINGER],
               n[HBK_BESIDE_OTHER]);
    const char *const fresh = runs_of(arena, here, known, HBK_BESIDE_NEW);
    const char *const lost = runs_of(arena, here, known, HBK_BESIDE_LOST);
    if (fresh != NULL) {
        hbk_text_addf(&text, " New within reach: %s.", fresh);
    }
    if (lost != NULL) {
        hbk_text_addf(&text, " Out of reach now: %s.", lost);
    }
    return hbk_text_string(&text);
}

const char *hbk_beside_sounds(struct hbk_arena *arena,
                              const struct hbk_notes *here,
                              const struct hbk_notes *known)
{
    /* Of the C that is read, here and there. */
    const int up = (here->written_c4_sounds - here->notation.shift) -
                   (known->written_c4_sounds - known->notation.shift);
    struct hbk_text text = {.arena = arena};
    if (up == 0) {
        hbk_text_add(&text, "The same written note sounds the same on both.");
    } else {
        hbk_text_addf(&text,
                      "%s. The same written note sounds %s %s than on the "
                      "horn you know, so a part written for that one does "
                      "not fit.",
                      hbk_words_read_sounds(arena, here),
                      hbk_words_interval(arena, up),
                      up > 0 ? "higher" : "lower");
    }
    if (here->notation.clef != known->notation.clef) {
        hbk_text_addf(&text,
                      " It is read in the %s clef, the horn you know in the "
                      "%s clef.",
                      hbk_clef_name(here->notation.clef),
                      hbk_clef_name(known->notation.clef));
    }
    return hbk_text_string(&text);
}

/* Semitones by which a valve of that name lowers; 0 for no such valve. */
static int lowers(const struct hbk_notes *notes, const char *name)
{
    const int i = hbk_horn_find_control(notes->horn, HBK_VALVE, name);
    const double cents = i < 0 ? (double)NAN : notes->effect_cents[i];
    return isnan(cents) ? 0 : (int)lround(-cents / HBK_SEMITONE_CENTS);
}

const char *hbk_beside_warning(struct hbk_arena *arena,
                               const struct hbk_notes *here,
                               const struct hbk_notes *known)
{
    const int one = lowers(here, "1");
    const int two = lowers(here, "2");
    if (one == 0 || two == 0 || one == two || one != lowers(known, "2") ||
        two != lowers(known, "1")) {
        return "";
    }
    return hbk_arena_printf(
        arena,
        "%s: valve 1 lowers %s and valve 2 %s, the other way round than you "
        "are used to. Nothing on the horn shows it. What you know as 1 is 2 "
        "here, and 2 is 1.",
        one < two ? "HALF TONE FIRST" : "WHOLE TONE FIRST",
        hbk_words_interval(arena, one), hbk_words_interval(arena, two));
}

static void add_line(struct hbk_text *text, const char *line)
{
    hbk_text_addf(text, "%s%s", text->length == 0 ? "" : "\n", line);
}

/* "Valve 1" for "valve 1". */
static const char *capital(struct hbk_arena *arena,
                           const struct hbk_control *control)
{
    char words[64];
    hbk_control_words(control, words, sizeof(words));
    char *const copy = hbk_arena_copy(arena, words, strlen(words));
    copy[0] = (char)(copy[0] - 'a' + 'A');
    return copy;
}

static void add_change(struct hbk_text *text, const struct hbk_notes *here,
                       size_t i, const struct hbk_notes *known)
{
    struct hbk_arena *const arena = text->arena;
    const struct hbk_control *const now = &here->horn->controls[i];
    const int k = twin(known->horn, now);
    const char *const does = hbk_words_effect(arena, here, i);
    if (k < 0) {
        add_line(text, hbk_arena_printf(
                           arena, "%s is new: %s; %s.", capital(arena, now),
                           hbk_finger_name(now->fingers[0]), does));
        return;
    }
    const struct hbk_control *const then = &known->horn->controls[k];
    const char *const did = hbk_words_effect(arena, known, (size_t)k);
    const bool is_other = strcmp(does, did) != 0;
    const bool moved = now->fingers[0] != then->fingers[0];
    if (!is_other && !moved) {
        return;
    }
    const char *line = capital(arena, now);
    if (is_other) {
        line = hbk_arena_printf(arena, "%s %s; on the horn you know it %s.",
                                line, does, did);
    }
    if (moved) {
        line = hbk_arena_printf(arena, "%s %s under the %s, not the %s.", line,
                                is_other ? "It lies" : "lies",
                                hbk_finger_name(now->fingers[0]),
                                hbk_finger_name(then->fingers[0]));
    }
    add_line(text, line);
}

const char *hbk_beside_controls(struct hbk_arena *arena,
                                const struct hbk_notes *here,
                                const struct hbk_notes *known)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < here->horn->n_controls; i++) {
        add_change(&text, here, i, known);
    }
    struct hbk_text missing = {.arena = arena};
    for (size_t i = 0; i < known->horn->n_controls; i++) {
        const struct hbk_control *const then = &known->horn->controls[i];
        if (twin(here->horn, then) < 0) {
            char words[64];
            hbk_text_addf(&missing, "%s%s", missing.length == 0 ? "" : ", ",
                          hbk_control_words(then, words, sizeof(words)));
        }
    }
    if (missing.length > 0) {
        add_line(&text, hbk_arena_printf(arena, "Not on this horn: %s.",
                                         hbk_text_string(&missing)));
    }
    return hbk_text_string(&text);
}
