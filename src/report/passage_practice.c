#include "report/passage_practice.h"

#include "base/text.h"
#include "report/passage_hard.h"
#include "report/passage_tempo.h"

#include <ctype.h>
#include <string.h>

/* As many as one can mind at a time. */
enum { WORST_MAX = 3 };

const char *hbk_practice_said(const struct hbk_passage_view *view, size_t n,
                              struct hbk_arena *arena)
{
    const bool is_whole = view->first == 0 && view->end == view->tune->n_bars;
    const char *const which = is_whole ? "this part" : "these bars";
    if (n > 0) {
        return hbk_arena_printf(
            arena,
            "The hard places of %s, in their order. Begin no faster than the "
            "tempo of each, then come up. Tempos are estimates.",
            which);
    }
    return hbk_arena_printf(arena,
                            "Nothing in %s is too fast for hands or lip, "
                            "and no trill is awkward: play it through and "
                            "enjoy it.",
                            which);
}

/* "Bar 8", "Bars 8 and 9", "Bars 7 to 9" */
static const char *bars_words(const struct hbk_tune *tune, size_t first,
                              size_t end, struct hbk_arena *arena)
{
    const char *const from = tune->bars[first].number;
    const char *const to = tune->bars[end - 1].number;
    /* Both halves of a bar that is split have its number. */
    if (strcmp(from, to) == 0) {
        return hbk_arena_printf(arena, "Bar %s", from);
    }
    return hbk_arena_printf(arena, "Bars %s %s %s", from,
                            end - first == 2 ? "and" : "to", to);
}

/* ", letter B", ", number 5", ", Trio"; "" for none. */
static const char *letter_words(const char *letter, struct hbk_arena *arena)
{
    if (letter == NULL) {
        return "";
    }
    const bool is_number = strspn(letter, "0123456789") == strlen(letter);
    const bool is_letter =
        isalpha((unsigned char)letter[0]) &&
        (letter[1] == '\0' || (letter[1] == letter[0] && letter[2] == '\0'));
    return hbk_arena_printf(arena, ", %s%s",
                            is_number   ? "number "
                            : is_letter ? "letter "
                                        : "",
                            letter);
}

const char *hbk_practice_heading(const struct hbk_passage_view *view,
                                 const struct hbk_practice_place *place,
                                 struct hbk_arena *arena)
{
    const struct hbk_passage_view narrow = hbk_practice_view(view, place);
    const char *const from = hbk_passage_playable(&narrow, arena);
    return hbk_arena_printf(
        arena, "%s%s: %s%s%s",
        bars_words(view->tune, place->first, place->end, arena),
        letter_words(place->letter, arena),
        from == NULL ? "an awkward trill" : "playable from about ",
        from == NULL ? "" : from, from == NULL ? "" : " down");
}

/* "the same again in bars 24 and 40" */
static const char *again_words(const struct hbk_passage_view *view,
                               const struct hbk_practice_place *place,
                               struct hbk_arena *arena)
{
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "The same again %s bar%s",
                  place->hard_end - place->hard > 1 ? "from" : "in",
                  place->n_again > 1 ? "s" : "");
    for (size_t i = 0; i < place->n_again; i++) {
        hbk_text_addf(&text, "%s %s",
                      i == 0                   ? ""
                      : i + 1 < place->n_again ? ","
                                               : " and",
                      view->tune->bars[place->again[i]].number);
    }
    hbk_text_add(&text, place->hard_end - place->hard > 1 ? " on" : "");
    return hbk_text_string(&text);
}

/* "Bar 1, beat 4, awkward trill on F4: right ring finger on key 8; key 6 is
 * held" */
static const char *trill_words(const struct hbk_passage_view *view,
                               const struct hbk_passage_note *note,
                               struct hbk_arena *arena)
{
    char where[HBK_TUNE_WHERE_SIZE];
    char name[HBK_NAME_SIZE];
    char words[HBK_MOVE_WORDS_SIZE];
    return hbk_arena_printf(
        arena, "B%s, awkward trill on %s: %s",
        hbk_tune_where(view->tune, note->event, where) + 1,
        hbk_spelling_said(view->tune->events[note->event].spelling,
                          view->notes->notation.naming, HBK_UNICODE, name),
        hbk_trill_words(view->keywork, &note->trill, words));
}

const char *const *hbk_practice_lines(const struct hbk_passage_view *view,
                                      const struct hbk_practice_place *place,
                                      struct hbk_arena *arena, size_t *n)
{
    const struct hbk_passage_view narrow = hbk_practice_view(view, place);
    const struct hbk_passage *const passage = view->passage;
    const char **const worst = hbk_passage_worst(&narrow, WORST_MAX, arena, n);
    const char **const lines =
        HBK_ARENA_ARRAY(arena, const char *, (2 * WORST_MAX) + 1);
    for (size_t i = 0; i < *n; i++) {
        lines[i] = worst[i];
    }
    const size_t most = *n + WORST_MAX;
    for (size_t i = 0; i < passage->n && *n < most; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        if (hbk_practice_is_trill(note) &&
            hbk_passage_in_bars(&narrow, note->event)) {
            lines[(*n)++] = trill_words(view, note, arena);
        }
    }
    if (place->n_again > 0) {
        lines[(*n)++] = again_words(view, place, arena);
    }
    return lines;
}
