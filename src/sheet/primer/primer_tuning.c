#include "sheet/primer/primer_tuning.h"

#include "base/text.h"
#include "horn/horn.h"
#include "horn/pull.h"
#include "sheet/primer/primer_taught.h"
#include "sheet/primer/primer_words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_slides.h"

#include <string.h>

/* Tuning slides that move; those of valves are set once and left. */
static bool moves(const struct hbk_notes *notes, size_t slide)
{
    return notes->horn->slides[slide].valve < 0 &&
           (notes->setting.stuck.slides >> slide & 1U) == 0;
}

/* The first of them; NULL for none. */
static const struct hbk_slide *main_slide(const struct hbk_notes *notes)
{
    for (size_t s = 0; s < notes->horn->n_slides; s++) {
        if (moves(notes, s)) {
            return &notes->horn->slides[s];
        }
    }
    return NULL;
}

/* Its name without the article that some files have. */
static const char *name_of(struct hbk_arena *arena,
                           const struct hbk_slide *slide)
{
    const char *const name = hbk_words_slide_name(arena, slide);
    return name + (strncmp(name, "the ", 4) == 0 ? 4 : 0);
}

const char *hbk_primer_set(struct hbk_arena *arena,
                           const struct hbk_notes *notes)
{
    struct hbk_text text = {.arena = arena};
    const struct hbk_horn *const horn = notes->horn;
    hbk_text_add(&text, "");
    for (size_t s = 0; s < horn->n_slides && !notes->setting.raw; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        if (!moves(notes, s)) {
            continue;
        }
        const double draw_m = notes->tuned.draw_m[s];
        char mm[HBK_PULL_SIZE];
        hbk_text_addf(&text, "%s the %s ",
                      text.length == 0 ? "Before you play, set" : " Set",
                      name_of(arena, slide));
        if (hbk_pull_slide_mm(horn, s, draw_m) > 0.0) {
            hbk_text_addf(&text, "%s mm out",
                          hbk_pull_slide_text(horn, s, draw_m, mm));
        } else {
            hbk_text_add(&text, "fully in");
        }
        hbk_text_addf(&text, ": it is %s.",
                      slide->legs == 1
                          ? "the straight piece of tube that slides in the "
                            "next one, toward the mouthpiece"
                          : "the bow of tube that slides out of the horn on "
                            "two legs, and belongs to no valve");
    }
    return hbk_text_string(&text);
}

const char *hbk_primer_slide_now(struct hbk_arena *arena,
                                 const struct hbk_notes *notes)
{
    const struct hbk_slide *const slide = main_slide(notes);
    if (slide == NULL) {
        return "";
    }
    const size_t s = (size_t)(slide - notes->horn->slides);
    char mm[HBK_PULL_SIZE];
    return hbk_arena_printf(
        arena, ", as %s %s", name_of(arena, slide),
        hbk_pull_slide_text(notes->horn, s, notes->tuned.draw_m[s], mm));
}

/* The first of the first notes that is fingered as the tuning note. */
static int note_to_tune(const struct hbk_primer *primer)
{
    const struct hbk_first *const first = &primer->lessons->first;
    for (size_t i = 0; i < first->n; i++) {
        if (first->fingerings[i]->press == primer->notes->tuned.press) {
            return first->notes[i];
        }
    }
    return first->notes[0];
}

const char *hbk_primer_tuning(struct hbk_arena *arena,
                              const struct hbk_primer *primer)
{
    const struct hbk_notes *const notes = primer->notes;
    const int written = note_to_tune(primer);
    const int tuned = notes->tuned.note;
    const struct hbk_slide *const slide = main_slide(notes);
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(
        &text,
        "When you can hold a note still, play %s. The tuner should "
        "show it %s. ",
        hbk_primer_called(arena, notes, written),
        hbk_primer_expect(arena,
                          hbk_notes_find(notes, written)->fingerings->cents));
    if (slide != NULL) {
        hbk_text_addf(&text,
                      "If it shows more than 10 cents higher than that, day "
                      "after day, pull the %s a little further out; if lower, "
                      "push it in. ",
                      name_of(arena, slide));
    } else {
        hbk_text_add(&text,
                     "Nothing on this horn slides to tune it: if it shows more "
                     "than 10 cents higher than that, day after day, draw the "
                     "mouthpiece out by a few mm; if lower, warm the horn and "
                     "firm the lips. ");
    }
    if (tuned != written && hbk_primer_asks(primer, tuned)) {
        hbk_text_addf(&text, "Later %s is the note to tune on. ",
                      hbk_words_read(arena, notes, tuned));
    }
    hbk_text_add(&text,
                 "Each lesson says what to expect of its note. If that note "
                 "alone is more than 10 cents higher, loosen the lips and let "
                 "the air go slower; if lower, firm the lips and let the air "
                 "go faster.");
    return hbk_text_string(&text);
}
