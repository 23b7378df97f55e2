#include "support/ruler.h"
#include "support/sheets.h"

#include "page/paper.h"
#include "sheet/block/head.h"

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
    hbk_pad_page(&bench->pad, hbk_paper_turned(hbk_paper_size(HBK_A4)),
                 "bench");
}

static const char *const long_name =
    "Bass trombone in F with six independent valves and a bell of brass";
static const char *const long_words =
    "Black: the finger presses; a small ring: it does not. Key 1 with the "
    "double ring is open at rest; pressing closes it. A white disc stands for "
    "a fingering that is unreliable, and a cross for what is stuck. The holes "
    "were not measured, and so the tuner decides what is in tune.";

/* The first text of the page with that beginning. */
static const struct hbk_mark *text_of(const struct bench *bench,
                                      const char *begins)
{
    const struct hbk_page *page = &bench->sheet.pages[0];
    for (size_t i = 0; i < page->n; i++) {
        if (page->marks[i].kind == HBK_TEXT &&
            strncmp(page->marks[i].text, begins, strlen(begins)) == 0) {
            return &page->marks[i];
        }
    }
    fail();
    return NULL;
}

static void a_short_head_keeps_its_sizes(void **state)
{
    (void)state;
    struct bench bench;
    open_bench(&bench);
    const struct hbk_head head = {.name = "Bugle",
                                  .line = "six keys",
                                  .legend = "Black: pressed.",
                                  .unit = 1.0,
                                  .width = 277.0,
                                  .sign = 4.0};
    const struct hbk_point sign = hbk_head_draw(&bench.pad, &head, 10.0, 10.0);
    const struct hbk_mark *legend = text_of(&bench, "Black");
    check_abs(text_of(&bench, "Bugle")->size, HBK_PT(27.0), 1e-9);
    check_abs(text_of(&bench, "six")->size, HBK_PT(13.0), 1e-9);
    check_abs(legend->size, HBK_PT(11.0), 1e-9);
    check_abs(legend->x, 287.0, 1e-9);
    check_abs(sign.y, legend->y, 1e-9);
    const double wide =
        bench.ruler.text_width(NULL, legend->face, legend->size, legend->text);
    check_abs(sign.x, 287.0 - wide - 4.0, 1e-9);
    /* No more than a tenth of the page. */
    assert_true(hbk_head_height(&bench.pad, &head) < 21.0 - 9.0);
    hbk_arena_finish(&bench.arena);
}

static void long_words_break_and_stay_legible(void **state)
{
    (void)state;
    static const double widths[] = {190.0, 277.0};
    for (size_t k = 0; k < 2; k++) {
        struct bench bench;
        open_bench(&bench);
        const struct hbk_head head = {.name = long_name,
                                      .line = long_words,
                                      .legend = long_words,
                                      .unit = 0.7,
                                      .width = widths[k],
                                      .sign = 8.0};
        const double height = hbk_head_height(&bench.pad, &head);
        hbk_head_draw(&bench.pad, &head, 10.0, 10.0);
        const struct hbk_page *page = &bench.sheet.pages[0];
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *mark = &page->marks[i];
            if (mark->kind != HBK_TEXT) {
                continue;
            }
            const double wide = bench.ruler.text_width(NULL, mark->face,
                                                       mark->size, mark->text);
            assert_true(mark->size >= HBK_PT(8.5) - 1e-9);
            assert_true(wide <= widths[k]);
            assert_true(mark->y - 0.65 * mark->size >= 10.0 - 1e-9);
            assert_true(mark->y + 0.24 * mark->size <= 10.0 + height + 1e-9);
        }
        check_no_clash(&bench.sheet, &bench.ruler);
        hbk_arena_finish(&bench.arena);
    }
}

static void a_title_is_split_at_its_first_comma(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const char *name;
    const char *rest;
    hbk_head_split(&arena, "Keyed bugle in C, six keys, copper", &name, &rest);
    assert_string_equal(name, "Keyed bugle in C");
    assert_string_equal(rest, "six keys, copper");
    hbk_head_split(&arena, "Bugle", &name, &rest);
    assert_string_equal(name, "Bugle");
    assert_string_equal(rest, "");
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_short_head_keeps_its_sizes),
        cmocka_unit_test(long_words_break_and_stay_legible),
        cmocka_unit_test(a_title_is_split_at_its_first_comma),
    };
    return cmocka_run_group_tests_name("head", tests, NULL, NULL);
}
