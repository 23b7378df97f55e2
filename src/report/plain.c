#include "report/plain.h"

#include "horn/about.h"
#include "horn/control.h"
#include "report/screen.h"
#include "report/stuck.h"
#include "sheet/words/words.h"
#include "sheet/words/words_said.h"

#include <string.h>

/* Signs that a voice leaves out or reads otherwise, and the words for them. */
static const struct {
    const char *sign, *words;
} spoken[] = {{"\u00B0C", "degrees Celsius"},
              {" = ", " is "},
              {" Hz", " hertz"},
              {"\u2212", "minus "},
              {"\u00B1", "plus or minus"},
              {" \u00B7 ", ", "}};

/* A text that was written to be seen, as it is read out. */
static const char *plain(struct hbk_arena *arena, const char *text)
{
    const char *at = hbk_words_said(arena, text);
    struct hbk_text out = {.arena = arena};
    while (*at != '\0') {
        size_t i = 0;
        const size_t n = sizeof(spoken) / sizeof(spoken[0]);
        while (i < n &&
               strncmp(at, spoken[i].sign, strlen(spoken[i].sign)) != 0) {
            i++;
        }
        if (i < n) {
            hbk_text_add(&out, spoken[i].words);
            at += strlen(spoken[i].sign);
        } else {
            hbk_text_put(&out, at++, 1);
        }
    }
    return hbk_text_string(&out);
}

/* "keys 1, 2 and 5" of the pressed controls of one kind; nothing for none. */
static void add_kind(const struct hbk_horn *horn, enum hbk_control_kind kind,
                     uint32_t press, struct hbk_text *out)
{
    const size_t n = hbk_horn_n_controls(horn);
    size_t count = 0;
    for (size_t i = 0; i < n; i++) {
        count +=
            (press >> i & 1u) != 0 && hbk_horn_control(horn, i)->kind == kind
                ? 1
                : 0;
    }
    size_t told = 0;
    for (size_t i = 0; i < n; i++) {
        const struct hbk_control *control = hbk_horn_control(horn, i);
        if ((press >> i & 1u) == 0 || control->kind != kind) {
            continue;
        }
        char words[40];
        hbk_control_words(control, words, sizeof(words));
        const char *number = strchr(words, ' ');
        if (told == 0) {
            const size_t noun = strcspn(words, " ");
            hbk_text_add(out, out->length > 0 ? " with " : "");
            hbk_text_put(out, words, noun);
            hbk_text_add(out, count > 1 ? "s" : "");
        } else {
            hbk_text_add(out, told + 1 == count ? " and" : ",");
        }
        hbk_text_add(out, number == NULL ? "" : number);
        told++;
    }
}

/* "open", "valve 2", "keys 1 and 3 with valve 1", "partial 5". */
static const char *pressed(struct hbk_arena *arena,
                           const struct hbk_notes *notes,
                           const struct hbk_fingering *fingering)
{
    if (hbk_horn_n_controls(notes->horn) == 0) {
        return hbk_arena_printf(arena, "partial %u", fingering->partial);
    }
    struct hbk_text out = {.arena = arena};
    add_kind(notes->horn, HBK_KEY, fingering->press, &out);
    add_kind(notes->horn, HBK_VALVE, fingering->press, &out);
    add_kind(notes->horn, HBK_TRIGGER, fingering->press, &out);
    const char *pull = hbk_words_draw(arena, notes->horn, fingering);
    if (fingering->press == 0) {
        hbk_text_add(&out, "open");
    }
    hbk_text_addf(&out, "%s%s", pull[0] == '\0' ? "" : ", ", pull);
    return hbk_text_string(&out);
}

static void add_note(const struct hbk_notes_view *view,
                     const struct hbk_note *note, struct hbk_text *out)
{
    struct hbk_arena *arena = out->arena;
    const struct hbk_notes *notes = view->notes;
    hbk_text_add(out, hbk_words_said_note(arena, notes, note->written));
    if (view->sounding) {
        hbk_text_addf(
            out, ", sounding %s",
            plain(arena, hbk_words_sounding(arena, note->written,
                                            notes->written_c4_sounds)));
    }
    if (note->n == 0) {
        hbk_text_add(out, ": not available.\n");
        return;
    }
    const char *tuning = hbk_words_said_tuning(arena, &note->fingerings[0]);
    hbk_text_addf(out, ": %s. %s.", pressed(arena, notes, &note->fingerings[0]),
                  strcmp(tuning, "in tune") == 0 ? "In tune" : tuning);
    size_t i = 1;
    for (; i < note->n && i <= view->alternates; i++) {
        const struct hbk_fingering *other = &note->fingerings[i];
        hbk_text_addf(out, "%s %s, %s", i == 1 ? " Also" : ";",
                      pressed(arena, notes, other),
                      hbk_words_said_tuning(arena, other));
    }
    if (i < note->n) {
        hbk_text_addf(out, "; and %zu more", note->n - i);
    }
    hbk_text_add(out, i > 1 ? ".\n" : "\n");
}

void hbk_notes_plain(const struct hbk_notes_view *view, struct hbk_text *out)
{
    struct hbk_arena *arena = out->arena;
    hbk_text_addf(out, "%s\n",
                  plain(arena, hbk_words_head(arena, view->notes)));
    for (size_t i = 0; i < view->notes->n; i++) {
        add_note(view, &view->notes->notes[i], out);
    }
    if (view->stuck != NULL) {
        struct hbk_text stuck = {.arena = arena};
        hbk_stuck_text(view->notes, view->stuck, &stuck);
        hbk_text_add(out, plain(arena, hbk_text_string(&stuck)));
    }
}

static void add_trill(const struct hbk_trills_view *view,
                      const struct hbk_trill *trill, struct hbk_text *out)
{
    struct hbk_arena *arena = out->arena;
    const struct hbk_notes *notes = view->notes;
    const int read = hbk_notation_note(&notes->notation, trill->written);
    char lower[HBK_NAME_SIZE];
    char upper[HBK_NAME_SIZE];
    hbk_spelling_said(hbk_trill_lower(read, trill->interval),
                      notes->notation.naming, HBK_UNICODE, lower);
    hbk_spelling_said(hbk_trill_upper(read, trill->interval),
                      notes->notation.naming, HBK_UNICODE, upper);
    hbk_text_addf(out, "%s to %s", plain(arena, lower), plain(arena, upper));
    if (view->sounding) {
        hbk_text_addf(
            out, ", from sounding %s",
            plain(arena, hbk_words_sounding(arena, trill->written,
                                            notes->written_c4_sounds)));
    }
    if (trill->kind == HBK_TRILL_NONE) {
        hbk_text_add(out, ": not playable.\n");
        return;
    }
    hbk_text_addf(out, ": %s, then %s. %s.\n",
                  pressed(arena, notes, trill->main),
                  pressed(arena, notes, trill->upper),
                  trill->kind == HBK_TRILL_EASY      ? "Easy"
                  : trill->kind == HBK_TRILL_AWKWARD ? "Awkward"
                                                     : "By lip");
}

void hbk_trills_plain(const struct hbk_trills_view *view, struct hbk_text *out)
{
    struct hbk_arena *arena = out->arena;
    hbk_text_addf(out, "%s\n",
                  plain(arena, hbk_words_head(arena, view->notes)));
    for (int k = 0; k < 2; k++) {
        hbk_text_addf(out, "%sTrills to the %s above.\n", k == 0 ? "" : "\n",
                      k == 0 ? "semitone" : "whole tone");
        for (size_t i = 0; i < view->trills->n; i++) {
            add_trill(view,
                      k == 0 ? &view->trills->half[i] : &view->trills->whole[i],
                      out);
        }
    }
}
