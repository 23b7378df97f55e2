#include "sheet/block/said.h"

#include "music/clef.h"
#include "sheet/words/words_said.h"

static void say_cell(struct hbk_pad *pad, enum hbk_tag tag, struct hbk_point at,
                     const char *text)
{
    hbk_pad_open(pad, tag);
    hbk_pad_say(pad, at.x, at.y, text);
    hbk_pad_close(pad, tag);
}

void hbk_said_heads(struct hbk_pad *pad, struct hbk_point at, bool others)
{
    hbk_pad_open(pad, HBK_TAG_ROW);
    say_cell(pad, HBK_TAG_COLUMN, at, "Note");
    say_cell(pad, HBK_TAG_COLUMN, at, "Fingering");
    say_cell(pad, HBK_TAG_COLUMN, at, "Tuning");
    if (others) {
        say_cell(pad, HBK_TAG_COLUMN, at, "Alternates");
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
}

void hbk_said_open_name(struct hbk_pad *pad, const struct hbk_notes *notes,
                        int written)
{
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_read_as(pad,
                    hbk_words_said_note(pad->sheet->arena, notes, written));
}

void hbk_said_close_name(struct hbk_pad *pad)
{
    hbk_pad_read_as(pad, NULL);
    hbk_pad_close(pad, HBK_TAG_HEADER);
}

void hbk_said_open_fingering(struct hbk_pad *pad, const struct hbk_notes *notes,
                             const struct hbk_fingering *fingering)
{
    hbk_pad_open(pad, HBK_TAG_CELL);
    hbk_pad_read_as(pad, fingering == NULL
                             ? "no usable fingering"
                             : hbk_words_said_fingering(pad->sheet->arena,
                                                        notes, fingering));
}

void hbk_said_close_fingering(struct hbk_pad *pad)
{
    hbk_pad_read_as(pad, NULL);
    hbk_pad_close(pad, HBK_TAG_CELL);
}

void hbk_said_rest(struct hbk_pad *pad, struct hbk_point at,
                   const struct hbk_notes *notes, const struct hbk_note *note,
                   size_t others)
{
    struct hbk_arena *arena = pad->sheet->arena;
    say_cell(pad, HBK_TAG_CELL, at,
             note->n == 0 ? "none"
                          : hbk_words_said_tuning(arena, &note->fingerings[0]));
    if (others > 0) {
        say_cell(pad, HBK_TAG_CELL, at,
                 hbk_words_said_others(arena, notes, note, others));
    }
}

const char *hbk_said_staff(struct hbk_arena *arena,
                           const struct hbk_notes *notes, int lowest,
                           int highest)
{
    return hbk_arena_printf(arena, "Staff in the %s clef, from %s to %s.",
                            hbk_clef_name(notes->notation.clef),
                            hbk_words_said_note(arena, notes, lowest),
                            hbk_words_said_note(arena, notes, highest));
}
