#include "sheet/article/scales_sheet.h"

#include "horn/about.h"
#include "sheet/article/scales_ranking.h"
#include "sheet/words/words.h"

enum hbk_status hbk_sheet_scales(const struct hbk_notes *notes,
                                 const struct hbk_scales *scales,
                                 const struct hbk_sheet_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet)
{
    struct hbk_arena *const arena = sheet->arena;
    bool reached = false;
    for (size_t i = 0; i < notes->n; i++) {
        reached = reached || notes->notes[i].n > 0;
    }
    if (!reached) {
        return HBK_ERR_DOMAIN;
    }
    const char *const name =
        options->title == NULL ? hbk_horn_name(notes->horn) : options->title;
    sheet->title = hbk_arena_printf(arena, "%s: scales", name);
    sheet->kind = "scales";
    sheet->subject = hbk_arena_printf(
        arena, "%s. %s.", hbk_words_sounds(arena, notes->written_c4_sounds),
        hbk_words_pitch(arena, &notes->setting));
    struct hbk_article *const article =
        HBK_ARENA_ARRAY(arena, struct hbk_article, 1);
    hbk_article_begin(article, sheet, ruler, hbk_paper_size(options->paper),
                      hbk_article_unit(options->paper), name);
    hbk_article_horn(article, notes, options);
    hbk_scales_ranking_draw(article, notes, scales);
    return HBK_OK;
}
