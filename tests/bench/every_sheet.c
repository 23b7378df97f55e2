/*
 * Every shipped horn in every layout on every paper, with written and with
 * sounding names, beside another horn, its scales, its slide card, its
 * ladders of partials and a part for it, in the real faces: no two marks touch
 * that must not, nothing leaves the page, no letter is too small and none is
 * missing from the fonts. Too long for each build; the tests look at a part of
 * it.
 */
#include "render/fonts.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#include "edition/part_sheet.h"
#include "edition/perform.h"
#include "edition/practice_sheet.h"
#include "edition/primer.h"
#include "passage/scale.h"
#include "render/render.h"
#include "sheet/article/curve_sheet.h"
#include "sheet/article/scales_sheet.h"
#include "sheet/article/slide_card.h"
#include "solve/curve.h"
#include "solve/slides.h"
#include "tune/document.h"

#include <time.h>

static size_t check_clean(struct hbk_sheet *sheet, struct hbk_fonts *fonts)
{
    struct hbk_arena *arena = sheet->arena;
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    check_no_clash(sheet, &ruler);
    const struct hbk_render_job job = {.sheet = sheet, .format = HBK_PDF};
    struct hbk_faults faults = {0};
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(hbk_render(fonts, &job, arena, &bytes, &length, &faults),
                     HBK_OK);
    /* A letter that the fonts lack would be told as a warning. */
    assert_int_equal(faults.count, 0);
    return sheet->n_pages;
}

static size_t check_sheet(struct hbk_sheet *sheet, struct hbk_fonts *fonts,
                          double points)
{
    check_sizes(sheet, points);
    return check_clean(sheet, fonts);
}

static size_t check_chart(struct solved *solved, struct hbk_fonts *fonts,
                          enum hbk_layout layout,
                          struct hbk_sheet_options options)
{
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    struct hbk_sheet sheet = {.arena = &solved->arena};
    options = with_trills(options, layout, &solved->notes, &solved->arena);
    assert_int_equal(
        hbk_sheet_chart(layout, &solved->notes, &options, &ruler, &sheet),
        HBK_OK);
    return check_sheet(&sheet, fonts, least_points(layout));
}

static size_t check_scales(struct solved *solved, struct hbk_fonts *fonts,
                           struct hbk_sheet_options options)
{
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    struct hbk_sheet sheet = {.arena = &solved->arena};
    assert_int_equal(
        hbk_sheet_scales(&solved->notes,
                         hbk_scales_of(&solved->notes, &solved->arena),
                         &options, &ruler, &sheet),
        HBK_OK);
    return check_sheet(&sheet, fonts, least_points(HBK_LAYOUT_WALL));
}

/* Points of the smallest letters on cards and ladders. */
static const double least_printed = 7.5;

static size_t check_slides(struct solved *solved, struct hbk_fonts *fonts,
                           struct hbk_sheet_options options)
{
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    struct hbk_sheet sheet = {.arena = &solved->arena};
    struct hbk_slides slides;
    struct hbk_faults faults = {0};
    assert_int_equal(hbk_slides_plan(&solved->horn, &solved->setting,
                                     &solved->arena, &slides, &faults),
                     HBK_OK);
    hbk_sheet_slide_card(&slides, &options, &ruler, &sheet);
    return check_sheet(&sheet, fonts, least_printed);
}

/* The open horn and up to five presses more; nothing of a horn by length. */
static size_t check_curves(struct solved *solved, struct hbk_fonts *fonts,
                           struct hbk_sheet_options options)
{
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    struct hbk_sheet sheet = {.arena = &solved->arena};
    struct hbk_curves curves;
    struct hbk_faults faults = {0};
    const uint32_t presses[HBK_CURVES_MAX] = {0, 1, 2, 4, 3, 5};
    const size_t controls = solved->horn.n_controls;
    const struct hbk_curve_ask ask = {.n = controls >= 3   ? HBK_CURVES_MAX
                                           : controls == 0 ? 1
                                                           : 2,
                                      .presses = presses,
                                      .to_hz = HBK_CURVE_TO_USUAL_HZ,
                                      .n_points = 200};
    if (solved->horn.model != HBK_MODEL_BORE) {
        return 0;
    }
    assert_int_equal(hbk_curves_compute(&solved->horn, &solved->setting, &ask,
                                        &solved->arena, &curves, &faults),
                     HBK_OK);
    hbk_sheet_curves(&curves, &options, &ruler, &sheet);
    return check_sheet(&sheet, fonts, least_printed);
}

/*
 * A part and its hard places alone, in numbers and circles;
 * tests/unit/test_part looks at their sizes, for dots of notes are none.
 */
static size_t check_music(struct solved *solved, struct hbk_fonts *fonts,
                          struct hbk_sheet_options options)
{
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {0};
    struct hbk_performed performed;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    ask.tempo = 200.0;
    ask.choices = 2.0;
    assert_int_equal(
        hbk_tune_read("charts/attic-galop.abc", NULL, &document, &faults),
        HBK_OK);
    assert_int_equal(hbk_perform(&ask, &document.tune, &solved->notes,
                                 &solved->arena, &performed, &faults),
                     HBK_OK);
    size_t pages = 0;
    for (int k = 0; k < 4; k++) {
        struct hbk_sheet sheet = {.arena = &solved->arena};
        assert_int_equal(
            (k < 2 ? hbk_passage_part : hbk_passage_practice)(
                &performed.view, &options, k % 2 == 1, &ruler, &sheet),
            HBK_OK);
        pages += check_clean(&sheet, fonts);
    }
    hbk_tune_document_finish(&document);
    return pages;
}

/* The longest that a primer took from the solved horn to its pages. */
static double slowest_s;

/* A primer of a size. */
static size_t check_primer(struct solved *solved, struct hbk_fonts *fonts,
                           struct hbk_primer_options options,
                           const struct hbk_notes *known)
{
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    struct hbk_sheet sheet = {.arena = &solved->arena};
    struct hbk_primer_made made = {0};
    const struct hbk_primer_wish wish = {.notes = &solved->notes,
                                         .known = known};
    const clock_t began = clock();
    assert_int_equal(
        hbk_primer_make(&wish, &solved->arena, &made, &solved->faults), HBK_OK);
    assert_int_equal(hbk_sheet_primer(&made.primer, &options, &ruler, &sheet),
                     HBK_OK);
    const double took = (double)(clock() - began) / CLOCKS_PER_SEC;
    slowest_s = took > slowest_s ? took : slowest_s;
    check_no_clash(&sheet, &ruler);
    hbk_primer_finish(&made);
    return sheet.n_pages;
}

enum { PRIMERS = 5 };

static size_t check_primers(struct solved *solved, struct hbk_fonts *fonts,
                            const struct hbk_notes *known)
{
    const struct hbk_primer_options asked[PRIMERS] = {
        {.paper = HBK_A4},
        {.paper = HBK_A5},
        {.paper = HBK_LETTER, .whom = "Ada Fenwick, Larkmoor Band"},
        {.paper = HBK_A4, .large = true},
        {.paper = HBK_A5, .fold = true}};
    size_t pages = 0;
    for (size_t i = 0; i < PRIMERS; i++) {
        pages += check_primer(solved, fonts, asked[i], i == 0 ? known : NULL);
    }
    return pages;
}

static void every_sheet_is_clean(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    size_t sheets = 0, pages = 0;
    struct solved known;
    solved_open(&known, "bass-e-flat-4");
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        solved_open(&solved, horns[i].name);
        struct hbk_fonts *fonts = NULL;
        assert_int_equal(hbk_fonts_open(&solved.arena, &fonts, &faults),
                         HBK_OK);
        for (int k = 0; k < 2 * HBK_PAPER_COUNT * HBK_LAYOUT_COUNT; k++) {
            const enum hbk_layout layout =
                (enum hbk_layout)(k / 2 % HBK_LAYOUT_COUNT);
            struct hbk_sheet_options options = {
                .paper = (enum hbk_paper)(k / 2 / HBK_LAYOUT_COUNT),
                .sounding = k % 2 == 1};
            if (hbk_layout_takes(layout, options.paper)) {
                pages += check_chart(&solved, fonts, layout, options);
                sheets++;
            }
            options.beside = &known.notes;
            options.whom = "Ada Fenwick, Larkmoor Keyed Bugle Band";
            if (hbk_layout_takes(layout, options.paper) &&
                hbk_layout_compares(layout)) {
                pages += check_chart(&solved, fonts, layout, options);
                sheets++;
            }
            if (layout == HBK_LAYOUT_WALL) {
                pages += check_scales(&solved, fonts, options);
                pages += check_slides(&solved, fonts, options);
                pages += check_curves(&solved, fonts, options);
                sheets += solved.horn.model == HBK_MODEL_BORE ? 3 : 2;
            }
            if (layout == HBK_LAYOUT_WALL && !options.sounding) {
                pages += check_music(&solved, fonts, options);
                sheets += 4;
            }
        }
        pages += check_primers(&solved, fonts, &known.notes);
        sheets += PRIMERS;
        hbk_fonts_close(fonts);
        solved_close(&solved);
    }
    solved_close(&known);
    hbk_arena_finish(&arena);
    print_message("%zu sheets of %zu horns on %zu pages are clean\n", sheets, n,
                  pages);
    print_message("the slowest primer took %.0f ms\n", 1e3 * slowest_s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_sheet_is_clean),
    };
    return cmocka_run_group_tests_name("every_sheet", tests, NULL, NULL);
}
