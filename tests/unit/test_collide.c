#include "support/ruler.h"
#include "support/sanitized.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "engrave/glyph.h"
#include "sheet/chart/plate.h"
#include "support/collide.h"

struct bench {
    struct hbk_arena arena;
    struct hbk_sheet sheet;
    struct hbk_ruler ruler;
    struct hbk_pad pad;
};

static void open_bench(struct bench *bench)
{
    *bench = (struct bench){.ruler = fixed_ruler()};
    bench->sheet.arena = &bench->arena;
    bench->pad.sheet = &bench->sheet;
    bench->pad.ruler = &bench->ruler;
    hbk_pad_page(&bench->pad, hbk_paper_size(HBK_A5), "bench");
}

static struct hbk_clashes clashes_of(const struct bench *bench)
{
    struct hbk_clashes clashes;
    hbk_sheet_clashes(&bench->sheet, &bench->ruler, &clashes);
    return clashes;
}

static const struct hbk_style words = {.face = HBK_FACE_PLAIN, .size = 4.0};

static void words_over_words_are_found(void **state)
{
    (void)state;
    struct bench bench;
    open_bench(&bench);
    hbk_pad_group(&bench.pad);
    hbk_pad_text(&bench.pad, 20.0, 30.0, words, "low");
    hbk_pad_group(&bench.pad);
    hbk_pad_text(&bench.pad, 22.0, 31.0, words, "high");
    const struct hbk_clashes clashes = clashes_of(&bench);
    assert_int_equal(clashes.found, 1);
    assert_int_equal(clashes.items[0].kind, HBK_CLASH_OVERLAP);
    assert_int_equal(clashes.items[0].a, 0);
    assert_int_equal(clashes.items[0].b, 1);
    struct hbk_text told = {.arena = &bench.arena};
    hbk_clashes_print(&bench.sheet, &clashes, &told);
    assert_string_equal(hbk_text_string(&told),
                        "page 1: \"low\" at 20.00 30.00 touches \"high\" at "
                        "22.00 31.00\n");
    hbk_arena_finish(&bench.arena);
}

static void one_group_and_group_nought_may_touch(void **state)
{
    (void)state;
    struct bench bench;
    open_bench(&bench);
    hbk_pad_panel(&bench.pad, 10.0, 10.0, 60.0, 60.0, HBK_PALE);
    hbk_pad_group(&bench.pad);
    hbk_pad_disc(&bench.pad, 30.0, 30.0, 5.0);
    hbk_pad_ring(&bench.pad, 32.0, 30.0, 5.0, 0.3);
    assert_int_equal(clashes_of(&bench).found, 0);
    hbk_arena_finish(&bench.arena);
}

static void a_head_may_lie_on_a_line_but_not_on_a_head(void **state)
{
    (void)state;
    struct bench bench;
    open_bench(&bench);
    hbk_pad_group(&bench.pad);
    hbk_pad_line(&bench.pad, 10.0, 50.0, 60.0, 0.0, 0.2);
    hbk_pad_group(&bench.pad);
    hbk_pad_glyph(&bench.pad, 30.0, 50.0, 1.7, HBK_GLYPH_WHOLE_HEAD, "B4");
    assert_int_equal(clashes_of(&bench).found, 0);
    hbk_pad_group(&bench.pad);
    hbk_pad_glyph(&bench.pad, 31.0, 50.0, 1.7, HBK_GLYPH_WHOLE_HEAD, "B4");
    assert_int_equal(clashes_of(&bench).found, 1);
    hbk_arena_finish(&bench.arena);
}

static void every_kind_of_mark_is_kept_off_the_margin(void **state)
{
    (void)state;
    for (int kind = 0; kind < 7; kind++) {
        struct bench bench;
        open_bench(&bench); /* margin 8 */
        hbk_pad_group(&bench.pad);
        const struct hbk_point corner[] = {
            {7.0, 40.0}, {20.0, 40.0}, {20.0, 50.0}};
        switch (kind) {
        case 0:
            hbk_pad_line(&bench.pad, 20.0, 20.0, 0.0, -12.5, 0.2);
            break;
        case 1:
            hbk_pad_frame(&bench.pad, 8.0, 20.0, 5.0, 5.0, 0.3);
            break;
        case 2:
            hbk_pad_panel(&bench.pad, 20.0, 20.0, 121.0, 5.0, HBK_BLACK);
            break;
        case 3:
            hbk_pad_ring(&bench.pad, 20.0, 10.0, 1.95, 0.3);
            break;
        case 4:
            hbk_pad_shape(&bench.pad, 3, corner);
            break;
        case 5:
            hbk_pad_text(&bench.pad, 20.0, 201.8, words, "py");
            break;
        default:
            hbk_pad_glyph(&bench.pad, 20.0, 12.0, 1.7, HBK_GLYPH_G_CLEF, NULL);
            break;
        }
        const struct hbk_clashes clashes = clashes_of(&bench);
        assert_int_equal(clashes.found, 1);
        assert_int_equal(clashes.items[0].kind, HBK_CLASH_MARGIN);
        hbk_arena_finish(&bench.arena);
    }
}

static void check_wall(const struct solved *s, enum hbk_paper paper,
                       bool sounding)
{
    struct hbk_arena arena = {0};
    struct hbk_sheet sheet = {.arena = &arena};
    const struct hbk_sheet_options options = {.paper = paper,
                                              .sounding = sounding};
    const struct hbk_ruler ruler = fixed_ruler();
    assert_int_equal(hbk_sheet_wall(&s->notes, &options, &ruler, &sheet),
                     HBK_OK);
    check_no_clash(&sheet, &ruler);
    hbk_arena_finish(&arena);
}

static void no_wall_chart_of_a_shipped_horn_has_a_clash(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_open(&s, horns[i].name);
        for (int k = 0; k < 2 * HBK_PAPER_COUNT; k++) {
            if (k / 2 == HBK_A6 || k / 2 == HBK_A5) {
                continue; /* too small for the wall */
            }
            if (!IS_SANITIZED || k == (int)(i % (2 * HBK_PAPER_COUNT))) {
                check_wall(&s, (enum hbk_paper)(k / 2), k % 2 == 1);
            }
        }
        solved_close(&s);
    }
    hbk_arena_finish(&arena);
}

static void add_band(struct bench *bench, const struct hbk_point points[8])
{
    hbk_pad_group(&bench->pad);
    hbk_pad_add(
        &bench->pad,
        (struct hbk_mark){.kind = HBK_CURVE, .n_points = 8, .points = points});
}

/* A slur passes over what stands under it, though its box covers it. */
static void a_slur_touches_only_where_it_is_drawn(void **state)
{
    (void)state;
    static const struct hbk_point band[8] = {
        {20.0, 40.0}, {30.0, 20.0}, {50.0, 20.0}, {60.0, 40.0},
        {60.0, 40.5}, {50.0, 20.5}, {30.0, 20.5}, {20.0, 40.5}};
    for (int i = 0; i < 2; i++) {
        struct bench bench;
        open_bench(&bench);
        add_band(&bench, band);
        hbk_pad_group(&bench.pad);
        /* The middle of the curve is at 25: three quarters of the way up. */
        hbk_pad_disc(&bench.pad, 40.0, i == 0 ? 30.0 : 25.0, 1.0);
        assert_int_equal(clashes_of(&bench).found, (size_t)i);
        hbk_arena_finish(&bench.arena);
    }
}

static void a_slanted_bar_touches_only_along_itself(void **state)
{
    (void)state;
    static const struct hbk_point bar[4] = {
        {20.0, 20.0}, {60.0, 60.0}, {60.0, 62.0}, {20.0, 22.0}};
    for (int i = 0; i < 2; i++) {
        struct bench bench;
        open_bench(&bench);
        hbk_pad_group(&bench.pad);
        hbk_pad_shape(&bench.pad, 4, bar);
        hbk_pad_group(&bench.pad);
        hbk_pad_disc(&bench.pad, i == 0 ? 50.0 : 31.0, 31.0, 1.0);
        assert_int_equal(clashes_of(&bench).found, (size_t)i);
        hbk_arena_finish(&bench.arena);
    }
}

static void a_staff_runs_through_all_but_words(void **state)
{
    (void)state;
    struct bench bench;
    open_bench(&bench);
    bench.pad.group = HBK_GROUP_STAFF;
    hbk_pad_line(&bench.pad, 20.0, 40.0, 60.0, 0.0, 0.2);
    hbk_pad_text(&bench.pad, 22.0, 41.0, words, "4");
    hbk_pad_group(&bench.pad);
    hbk_pad_panel(&bench.pad, 40.0, 35.0, 0.2, 10.0, HBK_BLACK);
    hbk_pad_disc(&bench.pad, 50.0, 40.0, 0.5);
    assert_int_equal(clashes_of(&bench).found, 0);
    hbk_pad_group(&bench.pad);
    hbk_pad_text(&bench.pad, 60.0, 41.0, words, "low");
    assert_int_equal(clashes_of(&bench).found, 1);
    hbk_pad_group(&bench.pad);
    hbk_pad_disc(&bench.pad, 23.0, 40.0, 0.5);
    assert_int_equal(clashes_of(&bench).found, 2);
    hbk_arena_finish(&bench.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_over_words_are_found),
        cmocka_unit_test(one_group_and_group_nought_may_touch),
        cmocka_unit_test(a_head_may_lie_on_a_line_but_not_on_a_head),
        cmocka_unit_test(every_kind_of_mark_is_kept_off_the_margin),
        cmocka_unit_test(no_wall_chart_of_a_shipped_horn_has_a_clash),
        cmocka_unit_test(a_slur_touches_only_where_it_is_drawn),
        cmocka_unit_test(a_slanted_bar_touches_only_along_itself),
        cmocka_unit_test(a_staff_runs_through_all_but_words),
    };
    return cmocka_run_group_tests_name("collide", tests, NULL, NULL);
}
