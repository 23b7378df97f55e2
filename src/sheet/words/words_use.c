#include "sheet/words/words_use.h"

#include "base/text.h"
#include "sheet/words/words_read.h"

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
        hbk_text_addf(&text, "Note%s that speak%s freely: %s. ",
                      n_free == 1 ? "" : "s", n_free == 1 ? "s" : "", freely);
    }
    if (n_care > 0) {
        hbk_text_addf(&text, "Note%s that need%s care: %s. ",
                      n_care == 1 ? "" : "s", n_care == 1 ? "s" : "", care);
    }
    return hbk_text_string(&text);
}
