/*
 * A sample of what the benchmark every_sheet goes through in full, in the
 * real faces: each shipped horn in each layout and its scales, on one paper
 * each, the papers and the written or sounding names taking turns.
 */
#include "render/fonts.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#include "passage/scale.h"
#include "render/faces.h"
#include "sheet/article/scales_sheet.h"

/* One more than the layouts: the scales. */
enum { KINDS = HBK_LAYOUT_COUNT + 1 };

static void check_one(struct solved *solved, const struct hbk_ruler *ruler,
                      int kind, size_t turn)
{
    struct hbk_sheet_options options = {
        .paper = (enum hbk_paper)(turn % HBK_PAPER_COUNT),
        .sounding = turn / HBK_PAPER_COUNT % 2 == 1};
    struct hbk_sheet sheet = {.arena = &solved->arena};
    if (kind == HBK_LAYOUT_COUNT) {
        assert_int_equal(
            hbk_sheet_scales(&solved->notes,
                             hbk_scales_of(&solved->notes, &solved->arena),
                             &options, ruler, &sheet),
            HBK_OK);
        check_sizes(&sheet, least_points(HBK_LAYOUT_WALL));
    } else {
        const enum hbk_layout layout = (enum hbk_layout)kind;
        if (!hbk_layout_takes(layout, options.paper)) {
            options.paper = HBK_A4;
        }
        options = with_trills(options, layout, &solved->notes, &solved->arena);
        assert_int_equal(
            hbk_sheet_chart(layout, &solved->notes, &options, ruler, &sheet),
            HBK_OK);
        check_sizes(&sheet, least_points(layout));
    }
    check_no_clash(&sheet, ruler);
}

static void a_sample_of_every_horn_is_clean_in_the_real_faces(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    struct hbk_fonts *fonts = NULL;
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_OK);
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        solved_open(&solved, horns[i].name);
        for (int kind = 0; kind < KINDS; kind++) {
            /* So that each layout meets each paper in turn. */
            check_one(&solved, &ruler, kind, i + (size_t)kind);
        }
        solved_close(&solved);
    }
    hbk_fonts_close(fonts);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sample_of_every_horn_is_clean_in_the_real_faces),
    };
    return cmocka_run_group_tests_name("real_fonts", tests, NULL, NULL);
}
