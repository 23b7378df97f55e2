#include "sheet/words/words_said.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/control.h"
#include "horn/press.h"
#include "notes/verdict.h"
#include "sheet/words/words.h"

#include <math.h>
#include <string.h>

const char *hbk_words_said(struct hbk_arena *arena, const char *text)
{
    static const struct {
        const char *sign, *word;
    } signs[] = {
        {"\u266F", " sharp"}, {"\u266D", " flat"}, {"\u266E", " natural"}};
    struct hbk_text said = {.arena = arena};
    for (const char *at = text; *at != '\0';) {
        const char *word = NULL;
        for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
            const size_t length = strlen(signs[i].sign);
            if (strncmp(at, signs[i].sign, length) == 0) {
                word = signs[i].word;
                at += length;
                break;
            }
        }
        if (word == NULL) {
            hbk_text_put(&said, at++, 1);
            continue;
        }
        hbk_text_add(&said, word);
        /* "F sharp 4": the figure of the octave is a word of its own. */
        hbk_text_add(&said, *at >= '0' && *at <= '9' ? " " : "");
    }
    return hbk_text_string(&said);
}

const char *hbk_words_said_note(struct hbk_arena *arena,
                                const struct hbk_notes *notes, int written)
{
    const struct hbk_notation *notation = &notes->notation;
    const int read = hbk_notation_note(notation, written);
    char sharp[HBK_NAME_SIZE];
    char flat[HBK_NAME_SIZE];
    hbk_spelling_said(hbk_note_sharp(read), notation->naming, HBK_UNICODE,
                      sharp);
    if (!hbk_note_is_black(read)) {
        return hbk_words_said(arena, sharp);
    }
    hbk_spelling_said(hbk_note_flat(read), notation->naming, HBK_UNICODE, flat);
    return hbk_words_said(arena,
                          hbk_arena_printf(arena, "%s or %s", sharp, flat));
}

const char *hbk_words_said_fingering(struct hbk_arena *arena,
                                     const struct hbk_notes *notes,
                                     const struct hbk_fingering *fingering)
{
    if (hbk_horn_n_controls(notes->horn) == 0) {
        return hbk_arena_printf(arena, "partial %u", fingering->partial);
    }
    char label[HBK_LABEL_SIZE];
    const char *pressed =
        fingering->press == 0
            ? "open"
            : hbk_horn_press_label(notes->horn, fingering->press, label);
    const char *draw = hbk_words_draw(arena, notes->horn, fingering);
    return hbk_arena_printf(arena, "%s%s%s", pressed,
                            draw[0] == '\0' ? "" : ", ", draw);
}

const char *hbk_words_said_cents(struct hbk_arena *arena, double cents)
{
    const double whole = round(fabs(cents));
    const char *lip = hbk_words_lip(cents);
    return whole < 1.0 ? "in tune"
                       : hbk_arena_printf(arena, "%.0f cent%s %s%s%s", whole,
                                          whole < 2.0 ? "" : "s",
                                          cents < 0.0 ? "flat" : "sharp",
                                          lip[0] == '\0' ? "" : ", ", lip);
}

const char *hbk_words_said_tuning(struct hbk_arena *arena,
                                  const struct hbk_fingering *fingering)
{
    return hbk_arena_printf(
        arena, "%s%s", hbk_words_said_cents(arena, fingering->cents),
        (fingering->verdict & HBK_VERDICT_UNRELIABLE) != 0 ? ", unreliable"
                                                           : "");
}

const char *hbk_words_said_others(struct hbk_arena *arena,
                                  const struct hbk_notes *notes,
                                  const struct hbk_note *note, size_t most)
{
    struct hbk_text said = {.arena = arena};
    for (size_t i = 1; i < note->n && i <= most; i++) {
        const struct hbk_fingering *other = &note->fingerings[i];
        hbk_text_addf(&said, "%s%s, %s", i == 1 ? "" : "; ",
                      hbk_words_said_fingering(arena, notes, other),
                      hbk_words_said_tuning(arena, other));
    }
    return said.length == 0 ? "none" : hbk_text_string(&said);
}

const char *hbk_words_said_controls(struct hbk_arena *arena,
                                    const struct hbk_horn *horn,
                                    const struct hbk_notes *notes)
{
    const size_t n = hbk_horn_n_controls(horn);
    const bool keys_first = n > 0 && hbk_horn_control(horn, 0)->kind == HBK_KEY;
    struct hbk_text said = {.arena = arena};
    for (size_t k = 0; k < n; k++) {
        /* Keys are numbered from the bell. */
        const size_t i = keys_first ? n - 1 - k : k;
        const struct hbk_control *control = hbk_horn_control(horn, i);
        const char *stuck = notes == NULL ? "" : hbk_words_stuck(notes, i);
        char words[40];
        hbk_text_addf(&said, "%s%s, %s", k == 0 ? "" : "; ",
                      hbk_control_words(control, words, sizeof(words)),
                      hbk_finger_words(control->fingers[0]));
        for (size_t f = 1; f < control->n_fingers; f++) {
            hbk_text_addf(&said, " or %s",
                          hbk_finger_words(control->fingers[f]));
        }
        hbk_text_addf(
            &said, "%s%s%s", stuck[0] == '\0' ? "" : ", ", stuck,
            stuck[0] == '\0' && control->stands_open ? ", open at rest" : "");
    }
    return hbk_text_string(&said);
}
