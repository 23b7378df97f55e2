#include "sheet/primer/primer_parts.h"

#include "horn/about.h"
#include "horn/press.h"
#include "sheet/primer/primer_words.h"

/* What a section leader says before a note is asked for, in this order. */
static const char posture[] =
    "Sit upright or stand, feet flat, shoulders loose. Bring the horn to your "
    "lips, not your head to the horn, and hold it no harder than it needs.";
static const char breath[] =
    "Breathe in low and wide, as if you yawned: the ribs widen, the shoulders "
    "stay down. Breathe out in one even stream, as if you cooled soup.";
static const char buzz[] =
    "Say \u201Cm\u201D: the lips meet, the corners are firm, the middle is "
    "soft, the teeth are a little apart. Set the mouthpiece on the middle of "
    "the lips, about half on each, as lightly as keeps the air in. Blow until "
    "the lips buzz, first in the mouthpiece alone, then in the horn.";
static const char tongue[] =
    "Begin a note with the tongue, as in \u201Ctoo\u201D: it only lets the air "
    "go. End it with the breath: stop blowing, and leave tongue and throat out "
    "of it.";
static const char rest[] =
    "Rest as long as you play. When the lips tire, put the horn down: ten "
    "minutes twice a day teach more than an hour at once, and pressing harder "
    "only hurts. Put no old mouthpiece to your lips before it has been seen "
    "to, and protect your hearing in a small room.";

/* "Hold ...": the first long tone, and what to do when it is another note. */
static const char *long_tone(struct hbk_arena *arena,
                             const struct hbk_primer *primer)
{
    const struct hbk_notes *const notes = primer->notes;
    const struct hbk_lessons *const lessons = primer->lessons;
    const char *open =
        hbk_horn_n_controls(notes->horn) > 0 ? "Press nothing. " : "";
    const char *wanted = "Any note will do";
    if (lessons->n > 0 && lessons->lessons[0].n_new > 0) {
        const struct hbk_lesson_note *const first =
            &lessons->lessons[0].added[0];
        char label[HBK_LABEL_SIZE];
        if (first->fingering->press != 0) {
            (void)hbk_horn_press_label(notes->horn, first->fingering->press,
                                       label);
            open = hbk_arena_printf(arena, "Press %s. ", label);
        }
        wanted = hbk_arena_printf(
            arena, "Any note will do today; the first lesson wants %s",
            hbk_primer_called(arena, notes, first->written));
    }
    return hbk_arena_printf(
        arena,
        "%sHold the note that comes, straight and even, as long as the breath "
        "lasts: your first long tone. %s. When the note above it comes, loosen "
        "the lips and let the air go slower; when the note below comes, firm "
        "the corners and let the air go faster. Hum the note before you play "
        "it.",
        open, wanted);
}

void hbk_primer_sound(struct hbk_booklet *booklet)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const char *const said[] = {
        posture, breath, buzz, long_tone(arena, booklet->primer), tongue, rest};
    hbk_booklet_chapter(booklet, "The first sound",
                        hbk_booklet_words_height(booklet, posture) +
                            hbk_booklet_words_height(booklet, breath));
    for (size_t i = 0; i < sizeof(said) / sizeof(said[0]); i++) {
        hbk_booklet_words(booklet, said[i]);
    }
}
