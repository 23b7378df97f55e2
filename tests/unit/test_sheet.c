#include "support/charts.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "horn/horn.h"
#include "sheet/block/wedge.h"
#include "sheet/chart/chart.h"
#include "sheet/words/words.h"
#include "support/collide.h"
#include "support/golden.h"

/* Set by --update: the golden files are written anew. */
struct run {
    bool update;
};

/* Every layout on every paper it takes stays clear and within the page. */
static void check_all(struct chart *chart)
{
    for (int k = 0; k < HBK_PAPER_COUNT * HBK_LAYOUT_COUNT; k++) {
        const enum hbk_layout layout = (enum hbk_layout)(k % HBK_LAYOUT_COUNT);
        const enum hbk_paper paper = (enum hbk_paper)(k / HBK_LAYOUT_COUNT);
        if (!hbk_layout_takes(layout, paper)) {
            continue;
        }
        lay_out_as(chart, layout, (struct hbk_sheet_options){.paper = paper});
        const struct hbk_ruler ruler = fixed_ruler();
        check_no_clash(&chart->sheet, &ruler);
    }
}

static void lines_keep_to_their_column(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_sheet sheet = {.arena = &arena};
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_pad pad = {.sheet = &sheet, .ruler = &ruler};
    const struct hbk_style style = {.size = 2.0};
    const struct hbk_lines lines = hbk_pad_wrap(
        &pad, style, 14.0,
        "dry the horn\nafter playingplayingplayingplaying \u266D\u266D");
    assert_true(lines.n >= 4);
    assert_string_equal(lines.text[0], "dry the horn");
    assert_string_equal(lines.text[1], "after");
    for (size_t i = 0; i < lines.n; i++) {
        assert_true(hbk_pad_width(&pad, style, lines.text[i]) <= 14.0 + 1e-9);
        assert_true(hbk_text_is_utf8(lines.text[i], strlen(lines.text[i])));
    }
    assert_int_equal(hbk_pad_wrap(&pad, style, 14.0, "").n, 0);
    assert_int_equal(hbk_pad_wrap(&pad, style, 14.0, "  ").n, 0);
    hbk_arena_finish(&arena);
}

static void check_wrapped(const char *text, const char *wanted)
{
    struct hbk_arena arena = {0};
    struct hbk_sheet sheet = {.arena = &arena};
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_pad pad = {.sheet = &sheet, .ruler = &ruler};
    const struct hbk_style style = {.size = 2.0};
    /* Room for the first line of what is wanted and one letter more. */
    char first[64] = {0};
    memcpy(first, wanted, strcspn(wanted, "|"));
    const double width =
        hbk_pad_width(&pad, style, first) + hbk_pad_width(&pad, style, "n");
    const struct hbk_lines lines = hbk_pad_wrap(&pad, style, width, text);
    struct hbk_text all = {.arena = &arena};
    for (size_t i = 0; i < lines.n; i++) {
        hbk_text_addf(&all, "%s%s", i > 0 ? "|" : "", lines.text[i]);
    }
    assert_string_equal(hbk_text_string(&all), wanted);
    hbk_arena_finish(&arena);
}

static void a_number_stays_with_its_unit(void **state)
{
    (void)state;
    check_wrapped("the main slide 70 mm out", "the main slide|70 mm out");
    check_wrapped("this horn plays at A = 430.8.",
                  "this horn plays at|A = 430.8.");
    check_wrapped("valve slides 1: 3, 2: 1 mm", "valve slides 1: 3,|2: 1 mm");
    check_wrapped("warm it to 20 \u00B0C now", "warm it to|20 \u00B0C now");
    check_wrapped("it has 12 more slides", "it has 12|more|slides");
    /* In a column too narrow for both they part as words do. */
    check_wrapped("12345 cents", "12345|cents");
}

static void cents_carry_their_sign(void **state)
{
    (void)state;
    char text[HBK_CENTS_SIZE];
    assert_string_equal(hbk_cents_text(13.6, text), "+14");
    assert_string_equal(hbk_cents_text(-13.6, text), "\u221214");
    assert_string_equal(hbk_cents_text(-0.4, text), "\u00B10");
    assert_string_equal(hbk_words_lip(17.0), "lip down");
    assert_string_equal(hbk_words_lip(-17.0), "lip up");
    assert_string_equal(hbk_words_lip(9.0), "");
}

/* At arm's length: names of at least 12 pt on both large papers. */
static void large_paper_keeps_names_legible(void **state)
{
    (void)state;
    static const enum hbk_paper papers[] = {HBK_A4, HBK_LETTER};
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    for (size_t i = 0; i < 2 * n; i++) {
        struct chart chart;
        open_chart(&chart, horns[i / 2].name,
                   (struct hbk_sheet_options){.paper = papers[i % 2]});
        size_t names = 0;
        for (size_t p = 0; p < chart.sheet.n_pages; p++) {
            const struct hbk_page *page = &chart.sheet.pages[p];
            for (size_t k = 0; k < page->n; k++) {
                const struct hbk_mark *mark = &page->marks[k];
                if (mark->kind == HBK_TEXT && mark->face == HBK_FACE_BOLD &&
                    strcmp(mark->text, "C") == 0) {
                    names++;
                    assert_true(mark->size >= HBK_PT(12.0) - 1e-9);
                }
            }
        }
        assert_true(names > 0);
        solved_close(&chart.solved);
    }
    hbk_arena_finish(&arena);
}

static void a_small_page_flows_on_with_running_heads(void **state)
{
    (void)state;
    struct chart chart;
    open_chart(&chart, "ophicleide-c-11-museum",
               (struct hbk_sheet_options){.paper = HBK_A4});
    assert_true(chart.sheet.n_pages > 1);
    check_says(&chart, "page 2");
    assert_string_equal(chart.sheet.pages[1].label,
                        "Ophicleide in C, eleven keys: chart, page 2");
    solved_close(&chart.solved);
}

/* A file may hold twenty remarks of five hundred letters. */
static void long_remarks_go_on_pages_of_their_own(void **state)
{
    (void)state;
    struct chart chart;
    solved_open(&chart.solved, "keyed-bugle-c-6");
    char remark[500];
    for (size_t i = 0; i < sizeof(remark) - 1; i++) {
        remark[i] = i % 7 == 6 ? ' ' : 'n';
    }
    remark[sizeof(remark) - 1] = '\0';
    const char *remarks[20];
    for (size_t i = 0; i < 20; i++) {
        remarks[i] = remark;
    }
    chart.solved.horn.remarks = remarks;
    chart.solved.horn.n_remarks = 20;
    check_all(&chart);
    lay_out(&chart, (struct hbk_sheet_options){.paper = HBK_LETTER});
    check_says(&chart, "verdigris");
    solved_close(&chart.solved);
}

/* As many keys as a horn can have, under two fingers. */
static void thirty_two_keys_still_fit(void **state)
{
    (void)state;
    struct chart chart;
    solved_open(&chart.solved, "keyed-bugle-c-6");
    struct hbk_horn *horn = &chart.solved.horn;
    double effects[HBK_CONTROLS_MAX];
    for (size_t i = 0; i < HBK_CONTROLS_MAX; i++) {
        effects[i] = chart.solved.notes.effect_cents[i < 6 ? i : 5];
    }
    chart.solved.notes.effect_cents = effects;
    for (size_t i = horn->n_controls; i < HBK_CONTROLS_MAX; i++) {
        horn->controls[i] = horn->controls[5];
        horn->controls[i].called = NULL;
        horn->controls[i].name =
            hbk_arena_printf(&chart.solved.arena, "%zu", i + 1);
        horn->controls[i].fingers[0] = i % 2 == 0 ? HBK_L_RING : HBK_R_MIDDLE;
    }
    horn->n_controls = HBK_CONTROLS_MAX;
    check_all(&chart);
    solved_close(&chart.solved);
}

/* 120 letters, as long as a title may be. */
static void a_long_title_keeps_its_line(void **state)
{
    (void)state;
    struct chart chart;
    solved_open(&chart.solved, "ophicleide-c-9");
    char title[121];
    memset(title, 'W', sizeof(title) - 1);
    title[sizeof(title) - 1] = '\0';
    chart.solved.horn.name = title;
    check_all(&chart);
    solved_close(&chart.solved);
}

static void no_note_is_no_chart(void **state)
{
    (void)state;
    struct chart chart;
    solved_open(&chart.solved, "bugle-b-flat");
    struct hbk_note silent[2] = {{.written = 61}, {.written = 62}};
    chart.solved.notes.notes = silent;
    chart.solved.notes.n = 2;
    chart.sheet = (struct hbk_sheet){.arena = &chart.solved.arena};
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet_options options = {0};
    assert_int_equal(hbk_sheet_chart(HBK_LAYOUT_WALL, &chart.solved.notes,
                                     &options, &ruler, &chart.sheet),
                     HBK_ERR_DOMAIN);
    assert_int_equal(chart.sheet.n_pages, 0);
    solved_close(&chart.solved);
}

/* Parts of a page nest and close, or a reading aloud would lose them. */
static void check_nesting(const struct hbk_page *page)
{
    enum hbk_tag open[8];
    size_t depth = 0;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *mark = &page->marks[i];
        if (mark->kind == HBK_OPEN) {
            assert_true(depth < 8);
            open[depth++] = mark->tag;
        } else if (mark->kind == HBK_CLOSE) {
            assert_true(depth > 0);
            assert_int_equal(open[--depth], mark->tag);
        }
    }
    assert_int_equal(depth, 0);
}

static void parts_of_a_page_nest(void **state)
{
    (void)state;
    static const char *const horns[] = {"keyed-bugle-c-6",
                                        "ophicleide-c-11-museum"};
    for (int k = 0; k < 2 * HBK_LAYOUT_COUNT; k++) {
        struct chart chart;
        solved_open(&chart.solved, horns[k % 2]);
        lay_out_as(&chart, (enum hbk_layout)(k / 2),
                   (struct hbk_sheet_options){.paper = HBK_LETTER});
        for (size_t p = 0; p < chart.sheet.n_pages; p++) {
            check_nesting(&chart.sheet.pages[p]);
        }
        solved_close(&chart.solved);
    }
}

static void check_chart(const struct run *run, enum hbk_layout layout,
                        const char *horn, struct hbk_sheet_options options)
{
    struct chart chart;
    solved_open(&chart.solved, horn);
    lay_out_as(&chart, layout, options);
    check_golden(&chart.sheet,
                 hbk_arena_printf(
                     &chart.solved.arena, "tests/golden/%s-%s-%s.txt",
                     hbk_layout_name(layout), horn, paper_name(options.paper)),
                 run->update);
    solved_close(&chart.solved);
}

static void charts_are_laid_out_as_before(void **state)
{
    const struct run *run = *state;
    check_chart(run, HBK_LAYOUT_WALL, "keyed-bugle-c-6",
                (struct hbk_sheet_options){0});
    check_chart(
        run, HBK_LAYOUT_WALL, "cornet-b-flat",
        (struct hbk_sheet_options){.paper = HBK_LETTER, .sounding = true});
    check_chart(run, HBK_LAYOUT_WALL, "ophicleide-c-11",
                (struct hbk_sheet_options){.paper = HBK_LETTER});
    check_chart(run, HBK_LAYOUT_WALL, "bugle-b-flat",
                (struct hbk_sheet_options){.paper = HBK_LETTER});
    check_chart(run, HBK_LAYOUT_STAND, "cornet-six-independent",
                (struct hbk_sheet_options){0});
    check_chart(run, HBK_LAYOUT_CARD, "keyed-bugle-b-flat-7-f-sharp",
                (struct hbk_sheet_options){.paper = HBK_LETTER});
}

int main(int argc, char **argv)
{
    struct run run = {.update = argc > 1 && strcmp(argv[1], "--update") == 0};
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_keep_to_their_column),
        cmocka_unit_test(a_number_stays_with_its_unit),
        cmocka_unit_test(cents_carry_their_sign),
        cmocka_unit_test(large_paper_keeps_names_legible),
        cmocka_unit_test(a_small_page_flows_on_with_running_heads),
        cmocka_unit_test(long_remarks_go_on_pages_of_their_own),
        cmocka_unit_test(thirty_two_keys_still_fit),
        cmocka_unit_test(a_long_title_keeps_its_line),
        cmocka_unit_test(no_note_is_no_chart),
        cmocka_unit_test(parts_of_a_page_nest),
        cmocka_unit_test_prestate(charts_are_laid_out_as_before, &run),
    };
    return cmocka_run_group_tests_name("sheet", tests, NULL, NULL);
}
