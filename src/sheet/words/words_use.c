#include "sheet/words/words_use.h"

#include "base/text.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

const char *hbk_words_use(struct hbk_arena *arena,
                          const struct hbk_fingering *fingering)
{
    if (fingering->use != HBK_USE_AS_FOR) {
        return hbk_use_name(fingering->use);
    }
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        arena, "as for %s",
        hbk_spelling_letter(hbk_note_usual(fingering->as_for), HBK_UNICODE,
                            name));
}

const char *hbk_words_use_read(struct hbk_arena *arena,
                               const struct hbk_notes *notes,
                               const struct hbk_fingering *fingering)
{
    const struct hbk_notation *const notation = &notes->notation;
    char name[HBK_NAME_SIZE];
    if (fingering->use != HBK_USE_AS_FOR) {
        return hbk_words_use(arena, fingering);
    }
    return hbk_arena_printf(
        arena, "as for %s",
        hbk_spelling_called(
            hbk_note_usual(hbk_notation_note(notation, fingering->as_for)),
            notation->naming, HBK_UNICODE, name));
}

/* Notes whose first choice has that verdict, as runs; "" for none. */
static const char *notes_with(struct hbk_arena *arena,
                              const struct hbk_notes *notes,
                              enum hbk_verdict verdict, size_t *n)
{
    int *found = HBK_ARENA_ARRAY(arena, int, notes->n);
    *n = 0;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *note = &notes->notes[i];
        if (note->n > 0 && (note->fingerings[0].verdict & verdict) != 0) {
            found[(*n)++] = note->written;
        }
    }
    return hbk_words_read_runs(arena, notes, *n, found);
}

const char *hbk_words_response(struct hbk_arena *arena,
                               const struct hbk_notes *notes)
{
    size_t n_free, n_care;
    const char *freely = notes_with(arena, notes, HBK_VERDICT_FREE, &n_free);
    const char *care = notes_with(arena, notes, HBK_VERDICT_CARE, &n_care);
    struct hbk_text text = {.arena = arena};
    /* The usual note speaks freely, so that there is one if this is known. */
    if (n_free > 0) {
        hbk_text_addf(&text, "Speak%s freely: %s. ", n_free == 1 ? "s" : "",
                      freely);
    }
    if (n_care > 0) {
        hbk_text_addf(&text, "Need%s care: %s. ", n_care == 1 ? "s" : "", care);
    }
    return hbk_text_string(&text);
}
