#include "edition/practice_sheet.h"

#include "edition/part_given.h"
#include "horn/about.h"
#include "report/passage_practice.h"
#include "sheet/part/part_sheet.h"

static struct hbk_part_excerpts excerpts_of(const struct hbk_passage_view *view,
                                            struct hbk_arena *arena)
{
    size_t n = 0;
    const struct hbk_practice_place *const places =
        hbk_practice_find(view, arena, &n);
    struct hbk_part_excerpt *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_part_excerpt, n + 1);
    for (size_t i = 0; i < n; i++) {
        items[i] = (struct hbk_part_excerpt){
            .first_bar = places[i].first,
            .n_bars = places[i].end - places[i].first,
            .heading = hbk_practice_heading(view, &places[i], arena)};
        items[i].lines =
            hbk_practice_lines(view, &places[i], arena, &items[i].n_lines);
    }
    return (struct hbk_part_excerpts){.n = n, .items = items};
}

enum hbk_status hbk_passage_practice(const struct hbk_passage_view *view,
                                     const struct hbk_sheet_options *options,
                                     bool circles,
                                     const struct hbk_ruler *ruler,
                                     struct hbk_sheet *sheet)
{
    struct hbk_arena arena = {0};
    struct hbk_part_given given;
    hbk_part_give(view, options, circles, view->others, &arena, &given);
    const struct hbk_part_excerpts excerpts = excerpts_of(view, &arena);
    given.options.excerpts = &excerpts;
    given.words.n_hard = 0;
    given.words.said = hbk_practice_said(view, excerpts.n, &arena);
    if (given.options.title == NULL) {
        given.options.title = hbk_arena_printf(
            &arena, "%s: practice",
            view->tune->title[0] == '\0' ? "Passage" : view->tune->title);
    }
    const enum hbk_status status =
        hbk_sheet_part(view->tune, given.fingerings, &given.words,
                       &given.options, view->notes->horn, ruler, sheet);
    hbk_arena_finish(&arena);
    return status;
}
