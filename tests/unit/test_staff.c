#include "support/check.h"
#include "support/ruler.h"

#include "engrave/glyph.h"
#include "engrave/staff.h"

/* A page to draw on. */
struct bench {
    struct hbk_arena arena;
    struct hbk_sheet sheet;
    struct hbk_ruler ruler;
    struct hbk_pad pad;
    struct hbk_staff staff;
};

static void open_bench(struct bench *bench, enum hbk_clef clef)
{
    *bench = (struct bench){.ruler = fixed_ruler()};
    bench->sheet.arena = &bench->arena;
    bench->pad.sheet = &bench->sheet;
    bench->pad.ruler = &bench->ruler;
    hbk_pad_page(&bench->pad, hbk_paper_size(HBK_A5), "staff");
    bench->staff = (struct hbk_staff){
        .clef = clef, .x = 10.0, .bottom = 100.0, .width = 90.0, .space = 1.7};
}

static const struct hbk_mark *mark(const struct bench *bench, size_t i)
{
    return &bench->sheet.pages[0].marks[i];
}

static size_t count(const struct bench *bench, enum hbk_mark_kind kind)
{
    size_t n = 0;
    for (size_t i = 0; i < bench->sheet.pages[0].n; i++) {
        n += mark(bench, i)->kind == kind ? 1 : 0;
    }
    return n;
}

static int step_of(const char *name)
{
    struct hbk_spelling spelling;
    assert_true(hbk_spelling_parse(name, &spelling));
    return hbk_spelling_staff_step(spelling);
}

/*
 * Which note lies on which line: the rudiments of music, common knowledge.
 * G on line 2 of the treble, F on line 4 of the bass, C on lines 3 and 4 of
 * alto and tenor name the clefs.
 */
static void each_clef_names_its_line(void **state)
{
    (void)state;
    static const struct {
        enum hbk_clef clef;
        const char *lowest, *named;
        int line; /* from 0 */
    } clefs[] = {{HBK_TREBLE, "E4", "G4", 1},
                 {HBK_BASS, "G2", "F3", 3},
                 {HBK_ALTO, "F3", "C4", 2},
                 {HBK_TENOR, "D3", "C4", 3}};
    for (size_t i = 0; i < sizeof(clefs) / sizeof(clefs[0]); i++) {
        struct bench bench;
        open_bench(&bench, clefs[i].clef);
        assert_int_equal(hbk_clef_bottom_step(clefs[i].clef),
                         step_of(clefs[i].lowest));
        check_abs(hbk_staff_y(&bench.staff, step_of(clefs[i].named)),
                  100.0 - 1.7 * clefs[i].line, 1e-9);
        hbk_staff_clef(&bench.pad, &bench.staff);
        check_abs(mark(&bench, 0)->y, 100.0 - 1.7 * clefs[i].line, 1e-9);
        hbk_arena_finish(&bench.arena);
    }
}

static void a_staff_has_five_lines_a_space_apart(void **state)
{
    (void)state;
    struct bench bench;
    open_bench(&bench, HBK_TREBLE);
    hbk_staff_lines(&bench.pad, &bench.staff);
    assert_int_equal(count(&bench, HBK_LINE), 5);
    for (size_t i = 0; i < 5; i++) {
        check_abs(mark(&bench, i)->y, 100.0 - 1.7 * (double)i, 1e-9);
        check_abs(mark(&bench, i)->pen, 0.13 * 1.7, 1e-9);
    }
    hbk_arena_finish(&bench.arena);
}

static size_t ledger_lines(enum hbk_clef clef, const char *name)
{
    struct bench bench;
    open_bench(&bench, clef);
    struct hbk_heads heads = {.n = 1};
    assert_true(hbk_spelling_parse(name, &heads.spelling[0]));
    hbk_heads_draw(&bench.pad, &bench.staff, 50.0, &heads);
    const size_t n = count(&bench, HBK_LINE);
    hbk_arena_finish(&bench.arena);
    return n;
}

/* Counted on paper. */
static void ledger_lines_are_as_many_as_needed(void **state)
{
    (void)state;
    assert_int_equal(ledger_lines(HBK_TREBLE, "D4"), 0);
    assert_int_equal(ledger_lines(HBK_TREBLE, "C4"), 1);
    assert_int_equal(ledger_lines(HBK_TREBLE, "B3"), 1);
    assert_int_equal(ledger_lines(HBK_TREBLE, "F#3"), 3);
    assert_int_equal(ledger_lines(HBK_TREBLE, "G5"), 0);
    assert_int_equal(ledger_lines(HBK_TREBLE, "A5"), 1);
    assert_int_equal(ledger_lines(HBK_TREBLE, "C6"), 2);
    assert_int_equal(ledger_lines(HBK_BASS, "B1"), 2);
    assert_int_equal(ledger_lines(HBK_BASS, "C4"), 1);
    assert_int_equal(ledger_lines(HBK_BASS, "C5"), 4);
    assert_int_equal(ledger_lines(HBK_ALTO, "C4"), 0);
    assert_int_equal(ledger_lines(HBK_TENOR, "B2"), 1);
}

static void a_black_note_shows_both_spellings(void **state)
{
    (void)state;
    struct bench bench;
    open_bench(&bench, HBK_TREBLE);
    const struct hbk_heads heads = hbk_heads_of(66);
    assert_int_equal(heads.n, 2);
    hbk_heads_draw(&bench.pad, &bench.staff, 50.0, &heads);
    assert_int_equal(count(&bench, HBK_GLYPH), 4);
    assert_int_equal(mark(&bench, 0)->glyph, HBK_GLYPH_SHARP);
    assert_string_equal(mark(&bench, 1)->text, "F\u266F4");
    assert_int_equal(mark(&bench, 2)->glyph, HBK_GLYPH_FLAT);
    assert_string_equal(mark(&bench, 3)->text, "G\u266D4");
    /* Sharp and flat stand a step apart, and about the middle. */
    check_abs(mark(&bench, 1)->y - mark(&bench, 3)->y, 0.85, 1e-9);
    const double right = mark(&bench, 3)->x + 1.70 * 1.7;
    check_abs(0.5 * (mark(&bench, 0)->x + right), 50.0, 1e-9);
    assert_int_equal(hbk_heads_of(67).n, 1);
    hbk_arena_finish(&bench.arena);
}

static void an_accidental_stands_clear_of_its_head(void **state)
{
    (void)state;
    struct bench bench;
    open_bench(&bench, HBK_TREBLE);
    const struct hbk_heads heads = hbk_heads_of(66);
    hbk_heads_draw(&bench.pad, &bench.staff, 50.0, &heads);
    const double end =
        mark(&bench, 0)->x + hbk_glyph_box(HBK_GLYPH_SHARP).width * 1.7;
    check_abs(mark(&bench, 1)->x - end, 0.25 * 1.7, 1e-9);
    hbk_arena_finish(&bench.arena);
    /* Its ledger lines too. */
    open_bench(&bench, HBK_TREBLE);
    const struct hbk_heads low = hbk_heads_of(54);
    hbk_heads_draw(&bench.pad, &bench.staff, 50.0, &low);
    assert_int_equal(mark(&bench, 1)->kind, HBK_LINE);
    assert_true(mark(&bench, 1)->x >
                mark(&bench, 0)->x +
                    hbk_glyph_box(HBK_GLYPH_SHARP).width * 1.7);
    hbk_arena_finish(&bench.arena);
}

static void reach_says_how_far_heads_leave_the_staff(void **state)
{
    (void)state;
    double above, below;
    const struct hbk_heads low = hbk_heads_of(53); /* F3, 3 spaces below */
    hbk_heads_reach(HBK_TREBLE, &low, &above, &below);
    check_abs(above, 0.0, 1e-12);
    check_abs(below, 3.0 + 0.52, 1e-9);
    const struct hbk_heads high = hbk_heads_of(84); /* C6, 2 above */
    hbk_heads_reach(HBK_TREBLE, &high, &above, &below);
    check_abs(above, 2.0 + 0.52, 1e-9);
    check_abs(below, 0.0, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_clef_names_its_line),
        cmocka_unit_test(a_staff_has_five_lines_a_space_apart),
        cmocka_unit_test(ledger_lines_are_as_many_as_needed),
        cmocka_unit_test(a_black_note_shows_both_spellings),
        cmocka_unit_test(an_accidental_stands_clear_of_its_head),
        cmocka_unit_test(reach_says_how_far_heads_leave_the_staff),
    };
    return cmocka_run_group_tests_name("staff", tests, NULL, NULL);
}
