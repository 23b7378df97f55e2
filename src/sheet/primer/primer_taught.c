#include "sheet/primer/primer_taught.h"

#include "base/text.h"
#include "sheet/article/scale_staff.h"

const struct hbk_fingering *hbk_primer_taught(const struct hbk_primer *primer,
                                              int written)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    const struct hbk_note *const note = hbk_notes_find(primer->notes, written);
    return lessons->n > 0 && note != NULL && note->n > 0 &&
                   hbk_lesson_knows(&lessons->lessons[lessons->n - 1], written)
               ? &note->fingerings[0]
               : NULL;
}

bool hbk_primer_asks(const struct hbk_primer *primer, int written)
{
    const struct hbk_note *const note = hbk_notes_find(primer->notes, written);
    return primer->lessons->n > 0 ? hbk_primer_taught(primer, written) != NULL
                                  : note != NULL && note->n > 0;
}

/* The key without the notes that no lesson has. */
static struct hbk_scale taught_part(const struct hbk_primer *primer,
                                    const struct hbk_scale *scale,
                                    struct hbk_arena *arena)
{
    struct hbk_scale_note *const notes =
        HBK_ARENA_ARRAY(arena, struct hbk_scale_note, scale->n + 1);
    for (size_t i = 0; i < scale->n; i++) {
        notes[i] = scale->notes[i];
        if (hbk_primer_taught(primer, notes[i].written) == NULL) {
            notes[i].taken = NULL;
        }
    }
    struct hbk_scale part = *scale;
    part.notes = notes;
    return part;
}

const struct hbk_scales *hbk_primer_keys(const struct hbk_primer *primer,
                                         struct hbk_arena *arena)
{
    const struct hbk_scales *const all = primer->scales;
    struct hbk_scales *const keys =
        HBK_ARENA_ARRAY(arena, struct hbk_scales, 1);
    for (size_t i = 0; i < HBK_KEYS; i++) {
        keys->keys[i] = taught_part(primer, &all->keys[i], arena);
    }
    for (size_t i = 0; i < all->n_placed; i++) {
        struct hbk_scale_octave octave;
        if (hbk_scale_octave_find(primer->notes, &keys->keys[all->order[i]],
                                  &octave)) {
            keys->order[keys->n_placed++] = all->order[i];
        }
    }
    return keys;
}

const char *hbk_primer_keys_left(const struct hbk_primer *primer, size_t most,
                                 struct hbk_arena *arena)
{
    const struct hbk_scales *const all = primer->scales;
    const struct hbk_scales *const keys = hbk_primer_keys(primer, arena);
    const char *left[HBK_KEYS];
    size_t n = 0;
    for (size_t i = 0, k = 0; i < all->n_placed && i < most; i++) {
        if (k < keys->n_placed && keys->order[k] == all->order[i]) {
            k++;
        } else {
            left[n++] = hbk_scale_heading(arena, &all->keys[all->order[i]],
                                          &primer->notes->notation);
        }
    }
    struct hbk_text names = {.arena = arena};
    for (size_t i = 0; i < n; i++) {
        hbk_text_addf(&names, "%s%s",
                      i == 0       ? ""
                      : i + 1 == n ? " and "
                                   : ", ",
                      left[i]);
    }
    return n == 0 ? ""
                  : hbk_arena_printf(arena,
                                     " Left out %s of %s, which %s notes that "
                                     "no lesson has.",
                                     n == 1 ? "is the key" : "are the keys",
                                     hbk_text_string(&names),
                                     n == 1 ? "needs" : "need");
}
