#include "sheet/primer/primer.h"

#include "horn/about.h"
#include "page/impose.h"
#include "sheet/chart/chart.h"
#include "sheet/primer/primer_parts.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>

/* Height of a staff, mm; in large print. */
static const double large_staff = 9.0;
static const double large_unit = 1.4;
/* What a gap takes at most of a page that is not full, mm at unit 1. */
static const double most_spread = 8.0;

bool hbk_primer_takes(enum hbk_paper paper)
{
    return paper == HBK_A4 || paper == HBK_A5 || paper == HBK_LETTER;
}

static double staff_of(const struct hbk_primer_options *options)
{
    return options->large ? large_staff : options->paper == HBK_A5 ? 6.8 : 7.6;
}

/* The paper that is folded to pages of a size; false for none that is had. */
static bool sheet_of(enum hbk_paper page, enum hbk_paper *paper)
{
    *paper = page == HBK_A5 ? HBK_A4 : HBK_A3;
    return page == HBK_A5 || page == HBK_A4;
}

/* How the chart is laid out, which may draw the instrument. */
static enum hbk_layout layout_of(const struct hbk_primer_options *options,
                                 enum hbk_paper paper)
{
    return options->large ? HBK_LAYOUT_STAND : hbk_layout_usual(paper);
}

/* The chart of the horn, on pages on their side. */
static enum hbk_status put_plate(const struct hbk_primer *primer,
                                 const struct hbk_primer_options *options,
                                 enum hbk_paper paper,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet)
{
    const struct hbk_sheet_options chart = {.paper = paper,
                                            .title = options->title,
                                            .whom = options->whom,
                                            .beside = primer->known};
    return hbk_sheet_chart(layout_of(options, paper), primer->notes, &chart,
                           ruler, sheet);
}

static void name_sheet(const struct hbk_primer *primer, const char *name,
                       struct hbk_sheet *sheet)
{
    struct hbk_arena *const arena = sheet->arena;
    const struct hbk_notes *const notes = primer->notes;
    sheet->title = hbk_arena_printf(arena, "%s: a primer", name);
    sheet->kind = "primer";
    sheet->subject =
        hbk_arena_printf(arena, "%s. %s.", hbk_words_read_sounds(arena, notes),
                         hbk_words_pitch(arena, &notes->setting));
}

/* The pages after the plate, one after the other. */
static void put_pages(const struct hbk_primer *primer,
                      const struct hbk_primer_options *options,
                      const char *name, const struct hbk_ruler *ruler,
                      struct hbk_sheet *sheet)
{
    struct hbk_booklet *const booklet =
        HBK_ARENA_ARRAY(sheet->arena, struct hbk_booklet, 1);
    enum hbk_paper chart = options->paper;
    if (options->fold) {
        (void)sheet_of(options->paper, &chart);
    }
    *booklet = (struct hbk_booklet){.primer = primer,
                                    .options = options,
                                    .has_plate = layout_of(options, chart) ==
                                                 HBK_LAYOUT_PLATE,
                                    .staff = staff_of(options)};
    hbk_article_begin(
        &booklet->article, sheet, ruler, hbk_paper_size(options->paper),
        hbk_article_unit(options->paper) * (options->large ? large_unit : 1.0),
        name);
    booklet->article.spread = hbk_booklet_mm(booklet, most_spread);
    hbk_primer_horn(booklet);
    hbk_primer_care(booklet);
    hbk_primer_sound(booklet);
    hbk_primer_first(booklet);
    hbk_primer_lessons(booklet);
    hbk_primer_tunes(booklet);
    hbk_primer_scales(booklet);
    hbk_primer_tuner(booklet);
}

/*
 * In saddle order, the plate over the two pages in the middle; what the chart
 * has besides follows as leaves of their own.
 */
static void fold(const struct hbk_sheet *pages, const struct hbk_sheet *plate,
                 enum hbk_paper paper, const struct hbk_ruler *ruler,
                 struct hbk_sheet *sheet)
{
    struct hbk_pad pad = {.sheet = sheet, .ruler = ruler};
    struct hbk_folding how = {.paper = hbk_paper_turned(hbk_paper_size(paper)),
                              .middle = &plate->pages[0]};
    /* Whatever stands there keeps to the margins of its own page. */
    how.paper.margin = fmin(plate->pages[0].margin, pages->pages[0].margin);
    hbk_fold(&pad, &how, pages);
    for (size_t i = 1; i < plate->n_pages; i++) {
        const struct hbk_sheet leaf = {.n_pages = 1, .pages = &plate->pages[i]};
        const struct hbk_imposition alone = {how.paper, 1, 1};
        hbk_impose(&pad, &alone, &leaf);
    }
}

enum hbk_status hbk_sheet_primer(const struct hbk_primer *primer,
                                 const struct hbk_primer_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet)
{
    struct hbk_arena *const arena = sheet->arena;
    enum hbk_paper paper = options->paper;
    if (!hbk_primer_takes(paper) ||
        (options->fold && !sheet_of(options->paper, &paper))) {
        return HBK_ERR_DOMAIN;
    }
    const char *const name = options->title == NULL
                                 ? hbk_horn_name(primer->notes->horn)
                                 : options->title;
    struct hbk_sheet plate = {.arena = arena};
    struct hbk_sheet pages = {.arena = arena};
    struct hbk_sheet *const first = options->fold ? &plate : sheet;
    HBK_TRY(put_plate(primer, options, paper, ruler, first));
    name_sheet(primer, name, sheet);
    if (!options->fold) {
        put_pages(primer, options, name, ruler, sheet);
        return HBK_OK;
    }
    name_sheet(primer, name, &pages);
    put_pages(primer, options, name, ruler, &pages);
    fold(&pages, &plate, paper, ruler, sheet);
    return HBK_OK;
}
