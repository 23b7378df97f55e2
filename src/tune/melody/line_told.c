#include "tune/melody/line_told.h"

#include "base/messages.h"

/* "the top note", and what else could be asked for. */
struct words {
    const char *note, *voice, *other;
};

static struct words words_of(struct hbk_build *build)
{
    const struct hbk_tune_line *const line = &build->tune->line;
    if (line->number == HBK_TUNE_LINE_BOTTOM) {
        return (struct words){"the bottom note", "the lower one",
                              "--line top takes the other"};
    }
    if (line->number > 1) {
        return (struct words){
            hbk_arena_printf(build->arena, "note %d from the top",
                             line->number),
            hbk_arena_printf(build->arena, "line %d from the top",
                             line->number),
            "where there are fewer, the lowest"};
    }
    return (struct words){"the top note", "the upper one",
                          line->most > 2 || line->staves > 1
                              ? "--line 2 or --line bottom takes "
                                "another"
                              : "--line bottom takes the other"};
}

void hbk_line_tell(struct hbk_build *build)
{
    const struct hbk_tune *const tune = build->tune;
    const struct hbk_place place = {.file = tune->file};
    const struct words words = words_of(build);
    if (tune->line.chords > 0) {
        hbk_fault_warn(build->faults, place, HBK_H_LINE_OF_CHORDS,
                       "%zu chord%s: %s is taken; %s", tune->line.chords,
                       tune->line.chords == 1 ? "" : "s", words.note,
                       words.other);
    }
    if (tune->line.bars > 0) {
        hbk_fault_warn(build->faults, place, HBK_H_LINE_OF_VOICES,
                       "%zu bar%s with a second voice: %s is taken; %s",
                       tune->line.bars, tune->line.bars == 1 ? "" : "s",
                       words.voice, words.other);
    }
    if (tune->line.staves > 1) {
        hbk_fault_warn(build->faults, place, HBK_H_LINE_OF_STAVES,
                       "%zu staves: %s is taken; %s", tune->line.staves,
                       words.voice, words.other);
    }
}
