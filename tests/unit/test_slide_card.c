/* The slide card: true to size, nothing over anything, on every paper. */
#include "render/fonts.h"
#include "solve/setting.h"
#include "support/check.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "horn/horn.h"
#include "horn/pull.h"
#include "reader/horn_file.h"
#include "reader/shipped.h"
#include "sheet/article/slide_card.h"
#include "sheet/words/words_slides.h"
#include "solve/slides.h"
#include "solve/solve.h"

#include <string.h>

/* "Pull the main slide 10 mm", "Push the shank in": one for each slide. */
static void check_orders(const struct hbk_slides *slides,
                         const struct hbk_sheet *sheet)
{
    for (size_t s = 0; s < slides->n; s++) {
        const double mm =
            hbk_pull_slide_mm(slides->horn, s, slides->pulls[s].draw_m);
        const char *const name =
            hbk_words_slide_name(sheet->arena, &slides->horn->slides[s]);
        if (strlen(name) > 12) {
            continue; /* too long for the card: its end is cut */
        }
        check_sheet_says(
            sheet,
            mm > 0.0 ? hbk_arena_printf(sheet->arena, "Pull the %s %.4g mm",
                                        name, mm)
                     : hbk_arena_printf(sheet->arena, "Push the %s in", name));
    }
}

/* No page of a card is left half empty: words and rules reach its foot. */
static void check_full(const struct hbk_sheet *sheet)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *const page = &sheet->pages[p];
        double previous = 0.0;
        double lowest = 0.0;
        double widest = 0.0;
        /* Words come from top to bottom, or side by side. */
        for (size_t i = 0; i < page->n; i++) {
            if (page->marks[i].kind == HBK_TEXT) {
                widest = fmax(widest, page->marks[i].y - previous);
                previous = fmax(previous, page->marks[i].y);
                lowest = fmax(lowest, page->marks[i].y);
            }
        }
        /* What is left for the last one ends where it ends. */
        const double white = p + 1 == sheet->n_pages && p > 0 ? 0.45 : 0.34;
        if (lowest < 0.72 * page->height || widest > white * page->height) {
            print_error("%s, page %zu of %zu on %.0f mm: down to %.0f, %.0f "
                        "white\n",
                        sheet->title, p + 1, sheet->n_pages, page->width,
                        lowest, widest);
            fail();
        }
    }
}

static void draw(const char *path, double a4_hz, int crook,
                 enum hbk_paper paper)
{
    struct hbk_horn horn = {0};
    struct hbk_faults faults = {0};
    struct hbk_arena arena = {0};
    assert_int_equal(hbk_horn_read(path, &horn, &faults), HBK_OK);
    struct hbk_setting setting = hbk_setting_of(&horn);
    setting.a4_hz = a4_hz;
    setting.crook = crook;
    struct hbk_slides slides;
    assert_int_equal(hbk_slides_plan(&horn, &setting, &arena, &slides, &faults),
                     HBK_OK);
    struct hbk_sheet sheet = {.arena = &arena};
    const struct hbk_sheet_options options = {
        .paper = paper, .whom = "Nell Corrigan, Tarn Street Saxhorn Band"};
    const struct hbk_ruler ruler = fixed_ruler();
    hbk_sheet_slide_card(&slides, &options, &ruler, &sheet);
    check_no_clash(&sheet, &ruler);
    check_sizes(&sheet, 7.5);
    check_orders(&slides, &sheet);
    check_sheet_says(&sheet, "For Nell Corrigan, Tarn Street Saxhorn Band");
    /* Each drawn slide has a black bar of its length in mm, and only they. */
    size_t bars = 0;
    for (size_t page = 0; page < sheet.n_pages; page++) {
        for (size_t i = 0; i < sheet.pages[page].n; i++) {
            const struct hbk_mark *const mark = &sheet.pages[page].marks[i];
            if (mark->kind != HBK_PANEL || mark->ink != HBK_BLACK) {
                continue; /* a long wedge is cut by a white panel */
            }
            bool found = false;
            for (size_t s = 0; s < slides.n; s++) {
                found |= fabs(mark->dx -
                              hbk_pull_slide_mm(&horn, s,
                                                slides.pulls[s].draw_m)) < 1e-6;
            }
            assert_true(found);
            bars++;
        }
    }
    size_t drawn = 0;
    for (size_t s = 0; s < slides.n; s++) {
        /* What is longer than the paper is wide has no bar. */
        const double room = sheet.pages[0].width - 2.0 * sheet.pages[0].margin;
        drawn += hbk_pull_slide_mm(&horn, s, slides.pulls[s].draw_m) > 0.0 &&
                         1000.0 * horn.slides[s].travel_m < room
                     ? 1
                     : 0;
    }
    assert_int_equal(bars, drawn);
    hbk_arena_finish(&arena);
    hbk_horn_finish(&horn);
}

#define PATTERN(name) "instruments/patterns/" name ".yaml"

static void nothing_lies_over_anything_on_any_paper(void **state)
{
    (void)state;
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        draw(PATTERN("cornopean-b-flat"), 440.0, 0, (enum hbk_paper)paper);
        draw(PATTERN("cornopean-b-flat"), 430.0, 2, (enum hbk_paper)paper);
        draw(PATTERN("bass-e-flat-4"), 452.5, -1, (enum hbk_paper)paper);
        draw(PATTERN("euphonium-b-flat-compensating-4"), 433.0, -1,
             (enum hbk_paper)paper);
        draw(PATTERN("keyed-bugle-c-6"), 425.0, -1, (enum hbk_paper)paper);
        draw(PATTERN("cornet-six-independent"), 435.0, -1,
             (enum hbk_paper)paper);
    }
}

static void a_bored_horn_gets_its_card(void **state)
{
    (void)state;
    draw("instruments/measured/keyed-bugle-b-flat-7-saxon.yaml", 440.0, -1,
         HBK_A6);
    draw(PATTERN("cornet-b-flat-bore"), 430.0, -1, HBK_A6);
}

/* A slide with a long name, one longer than the paper, bits and no valves. */
static void hostile_horns_are_laid_out_too(void **state)
{
    (void)state;
    draw("tests/data/good/long-slides.yaml", 425.0, -1, HBK_A6);
    draw("tests/data/good/long-slides.yaml", 425.0, -1, HBK_A4);
}

static void every_shipped_horn_has_a_card_for_the_case(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        draw(horns[i].path, 431.0, -1, HBK_A6);
    }
    hbk_arena_finish(&arena);
}

/* In the real faces: the fixed ruler is wider than they are. */
static void no_card_is_left_half_empty(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    struct hbk_fonts *fonts = NULL;
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_OK);
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        struct hbk_slides slides;
        solved_open(&solved, horns[i].name);
        assert_int_equal(hbk_slides_plan(&solved.horn, &solved.setting,
                                         &solved.arena, &slides, &faults),
                         HBK_OK);
        for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
            const struct hbk_sheet_options options = {
                .paper = (enum hbk_paper)paper};
            struct hbk_sheet sheet = {.arena = &solved.arena};
            hbk_sheet_slide_card(&slides, &options, &ruler, &sheet);
            check_no_clash(&sheet, &ruler);
            check_sizes(&sheet, 7.5);
            check_full(&sheet);
            assert_true(sheet.n_pages == 1 ||
                        (paper == HBK_A6 && sheet.n_pages == 2));
        }
        solved_close(&solved);
    }
    hbk_fonts_close(fonts);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_lies_over_anything_on_any_paper),
        cmocka_unit_test(hostile_horns_are_laid_out_too),
        cmocka_unit_test(every_shipped_horn_has_a_card_for_the_case),
        cmocka_unit_test(a_bored_horn_gets_its_card),
        cmocka_unit_test(no_card_is_left_half_empty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
