#include "sheet/part/part_music.h"

#include "sheet/part/part_layout.h"

struct hbk_part_music {
    struct hbk_part_layout layout;
    struct hbk_part_excerpt whole;
};

struct hbk_part_music *
hbk_part_music_engrave(struct hbk_pad *pad, const struct hbk_tune *tune,
                       const struct hbk_part_fingering *fingerings,
                       const struct hbk_part_options *options,
                       const struct hbk_horn *horn,
                       const struct hbk_part_frame *frame)
{
    struct hbk_arena *const arena = pad->sheet->arena;
    struct hbk_part_music *const music =
        HBK_ARENA_ARRAY(arena, struct hbk_part_music, 1);
    music->whole = (struct hbk_part_excerpt){.n_bars = tune->n_bars};
    music->layout = (struct hbk_part_layout){
        .options = options,
        .paper = hbk_paper_size(options->paper),
        .pad = *pad,
        .eng = {.arena = arena, .tune = tune, .naming = options->naming},
        .shown = {.n = 1, .items = &music->whole},
        .fingers = {.tune = tune,
                    .fingerings = fingerings,
                    .horn = horn,
                    .sounding = options->sounding,
                    .sounds_higher_by = options->sounds_higher_by,
                    .naming = options->naming},
        .space = 0.25 * frame->staff_mm,
        .left = frame->x,
        .width = frame->width};
    hbk_part_draw_rows(&music->layout);
    pad->groups = music->layout.pad.groups;
    return music;
}

size_t hbk_part_music_lines(const struct hbk_part_music *music)
{
    return music->layout.n_rows;
}

double hbk_part_music_height(const struct hbk_part_music *music, size_t line)
{
    const struct hbk_part_row *const row = &music->layout.rows[line];
    return row->above + row->below;
}

bool hbk_part_music_has(const struct hbk_part_music *music, uint32_t glyph)
{
    for (size_t line = 0; line < music->layout.n_rows; line++) {
        const struct hbk_page *const page = music->layout.rows[line].page;
        for (size_t i = 0; i < page->n; i++) {
            if (page->marks[i].kind == HBK_GLYPH &&
                page->marks[i].glyph == glyph) {
                return true;
            }
        }
    }
    return false;
}

void hbk_part_music_draw(struct hbk_pad *pad, struct hbk_part_music *music,
                         size_t line, double y)
{
    music->layout.pad = *pad;
    hbk_part_copy_row(&music->layout, line, y + music->layout.rows[line].above);
}
