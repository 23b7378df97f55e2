/*
 * Every shipped horn for a player of every other, on every paper, in the real
 * faces: one page on A4, A3 and Letter, no two marks touch that must not,
 * nothing leaves the page, no letter is too small and none is missing from the
 * fonts. tests/unit/test_beside_pairs.c sees it without fonts.
 */
#include "render/fonts.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "render/render.h"
#include "sheet/article/beside.h"

struct horns {
    size_t n;
    struct solved *of;
    struct hbk_arena arena;
};

static void open_all(struct horns *horns)
{
    const struct hbk_shipped_horn *const shipped =
        all_shipped(&horns->arena, &horns->n);
    horns->of = HBK_ARENA_ARRAY(&horns->arena, struct solved, horns->n);
    for (size_t i = 0; i < horns->n; i++) {
        solved_open(&horns->of[i], shipped[i].name);
    }
}

static void close_all(struct horns *horns)
{
    for (size_t i = 0; i < horns->n; i++) {
        solved_close(&horns->of[i]);
    }
    hbk_arena_finish(&horns->arena);
}

static size_t check_pair(const struct hbk_notes *here,
                         const struct hbk_notes *known, enum hbk_paper paper,
                         struct hbk_fonts *fonts)
{
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    const struct hbk_sheet_options options = {
        .paper = paper, .whom = "Ada Fenwick", .beside = known};
    struct hbk_sheet sheet = {.arena = &arena, .title = here->horn->name};
    hbk_sheet_beside(here, &options, &ruler, &sheet);
    check_no_clash(&sheet, &ruler);
    check_sizes(&sheet, 7.0);
    const struct hbk_render_job job = {.sheet = &sheet, .format = HBK_PDF};
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(hbk_render(fonts, &job, &arena, &bytes, &length, &faults),
                     HBK_OK);
    /* A letter that the fonts lack would be told as a warning. */
    assert_int_equal(faults.count, 0);
    const size_t pages = sheet.n_pages;
    if (pages > 1 && paper != HBK_A5 && paper != HBK_A6) {
        print_error("%s beside %s: %zu pages of %s\n", here->horn->id,
                    known->horn->id, pages, paper_name(paper));
        fail();
    }
    hbk_arena_finish(&arena);
    return pages;
}

static void every_pair_is_clean(void **state)
{
    (void)state;
    struct horns horns = {0};
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_fonts *fonts = NULL;
    size_t pages[HBK_PAPER_COUNT] = {0};
    open_all(&horns);
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_OK);
    for (size_t i = 0; i < horns.n; i++) {
        for (size_t k = 0; k < horns.n; k++) {
            for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
                pages[paper] +=
                    check_pair(&horns.of[i].notes, &horns.of[k].notes,
                               (enum hbk_paper)paper, fonts);
            }
        }
    }
    hbk_fonts_close(fonts);
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        print_message("%zu pairs on %zu pages of %s\n", horns.n * horns.n,
                      pages[paper], paper_name((enum hbk_paper)paper));
    }
    close_all(&horns);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_pair_is_clean),
    };
    return cmocka_run_group_tests_name("every_pair", tests, NULL, NULL);
}
