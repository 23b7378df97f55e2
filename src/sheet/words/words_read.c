#include "sheet/words/words_read.h"

#include "base/text.h"
#include "horn/called.h"
#include "horn/horn.h"
#include "sheet/words/words.h"

enum { OCTAVE = 12 };

static const char *said(struct hbk_arena *arena, const struct hbk_notes *notes,
                        struct hbk_spelling spelling)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_spelling_said(spelling, notes->notation.naming, HBK_UNICODE, name));
}

static const char *called(struct hbk_arena *arena,
                          const struct hbk_notes *notes,
                          struct hbk_spelling spelling)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(arena, "%s",
                            hbk_spelling_called(spelling,
                                                notes->notation.naming,
                                                HBK_UNICODE, name));
}

static int read_note(const struct hbk_notes *notes, int written)
{
    return hbk_notation_note(&notes->notation, written);
}

const char *hbk_words_read(struct hbk_arena *arena,
                           const struct hbk_notes *notes, int written)
{
    return said(arena, notes, hbk_note_usual(read_note(notes, written)));
}

const char *hbk_words_read_both(struct hbk_arena *arena,
                                const struct hbk_notes *notes, int written)
{
    const int note = read_note(notes, written);
    const char *const sharp = said(arena, notes, hbk_note_sharp(note));
    return !hbk_note_is_black(note)
               ? sharp
               : hbk_arena_printf(arena, "%s or %s", sharp,
                                  said(arena, notes, hbk_note_flat(note)));
}

static void add_run(struct hbk_text *text, const struct hbk_notes *notes,
                    int low, int high)
{
    hbk_text_addf(text, "%s%s", text->length > 0 ? ", " : "",
                  hbk_words_read(text->arena, notes, low));
    if (high > low) {
        hbk_text_addf(text, "%s%s", high == low + 1 ? ", " : " to ",
                      hbk_words_read(text->arena, notes, high));
    }
}

const char *hbk_words_read_runs(struct hbk_arena *arena,
                                const struct hbk_notes *notes, size_t n,
                                const int written[])
{
    struct hbk_text text = {.arena = arena};
    size_t from = 0;
    for (size_t i = 1; i <= n; i++) {
        if (i == n || written[i] != written[i - 1] + 1) {
            add_run(&text, notes, written[from], written[i - 1]);
            from = i;
        }
    }
    return hbk_text_string(&text);
}

/* What the C4 that is read sounds. */
static int read_c4_sounds(const struct hbk_notes *notes)
{
    return notes->written_c4_sounds - notes->notation.shift;
}

const char *hbk_words_read_sounds(struct hbk_arena *arena,
                                  const struct hbk_notes *notes)
{
    const int c4 = read_c4_sounds(notes);
    const int up = c4 - HBK_NOTE_C4;
    const char *const c = called(arena, notes, hbk_note_usual(HBK_NOTE_C4));
    return up == 0 ? hbk_arena_printf(arena, "Written %s sounds %s, as written",
                                      c, c)
                   : hbk_arena_printf(arena, "Written %s sounds %s, %s %s", c,
                                      called(arena, notes, hbk_horn_key(c4)),
                                      hbk_words_interval(arena, up),
                                      up > 0 ? "higher" : "lower");
}

const char *hbk_words_read_sounding(struct hbk_arena *arena,
                                    const struct hbk_notes *notes, int written)
{
    return said(arena, notes,
                hbk_sounding_spelling(read_note(notes, written),
                                      read_c4_sounds(notes)));
}

/* The note that a key gives, as it is read; "" where that is its name. */
static const char *key_gives(struct hbk_arena *arena,
                             const struct hbk_notes *notes, size_t control)
{
    const int note = hbk_called_note(notes->horn, control);
    const bool as_named = notes->notation.shift % OCTAVE == 0 &&
                          notes->notation.naming == HBK_NAMES_ENGLISH;
    return note < 0 || as_named
               ? ""
               : called(arena, notes,
                        hbk_note_usual(read_note(notes, HBK_NOTE_C4 + note)));
}

const char *hbk_words_key_short(struct hbk_arena *arena,
                                const struct hbk_notes *notes, size_t control)
{
    const char *const name = notes->horn->controls[control].called;
    const char *const gives = key_gives(arena, notes, control);
    return name == NULL       ? ""
           : gives[0] == '\0' ? hbk_words_key(arena, name)
                              : gives;
}

const char *hbk_words_reads(struct hbk_arena *arena,
                            const struct hbk_notes *notes)
{
    return notes->setting.reads == HBK_READS_OWN
               ? ""
               : hbk_arena_printf(arena, "Read in the %s clef. ",
                                  hbk_clef_name(notes->notation.clef));
}
