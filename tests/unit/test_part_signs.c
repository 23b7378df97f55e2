#include "sheet/part/part_sheet.h"
#include "support/engraved.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "engrave/pens.h"

#include <math.h>

/* No number, but a cross, words for it, and the notes at the end. */
static void notes_out_of_reach_are_crossed(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\nC, D E2-|E4");
    const struct hbk_ruler ruler = fixed_ruler();
    struct hbk_part_fingering fingerings[4] = {{.label = NULL}};
    fingerings[1] = (struct hbk_part_fingering){.label = "1-3", .shown = true};
    fingerings[2].unreachable = true;
    fingerings[3].unreachable = true; /* tied: told once */
    laid.fingerings = fingerings;
    lay_part(&laid, NULL, NULL, &ruler);
    const size_t paths = count_marks(&laid, HBK_PATH);
    assert_non_null(strstr(said(&laid), "E4 not available bar 2: E4 "));
    assert_non_null(strstr(said(&laid), "A cross under a note: not available"));
    fingerings[0].unreachable = true;
    lay_part(&laid, NULL, NULL, &ruler);
    assert_int_equal(count_marks(&laid, HBK_PATH), paths + 2);
    const struct hbk_part_words told = {
        .moved = "The part is moved up by a tone for this horn",
        .out = "C3 in bar 1"};
    laid.sheet = (struct hbk_sheet){.arena = &laid.arena};
    assert_int_equal(hbk_sheet_part(&laid.document.tune, fingerings, &told,
                                    NULL, NULL, &ruler, &laid.sheet),
                     HBK_OK);
    assert_non_null(strstr(said(&laid), "moved up by a tone"));
    assert_non_null(strstr(said(&laid), "Not available C3 in bar 1"));
    close_laid(&laid);
}

/* A hard place whose fingering is the usual one, which is not shown. */
static void a_bracket_needs_no_number(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\nC D E F");
    const struct hbk_ruler ruler = fixed_ruler();
    struct hbk_part_fingering fingerings[4] = {{.label = NULL}};
    for (size_t i = 0; i < 4; i++) {
        fingerings[i].label = "1-2";
    }
    laid.fingerings = fingerings;
    lay_part(&laid, NULL, NULL, &ruler);
    const size_t paths = count_marks(&laid, HBK_PATH);
    fingerings[1].hard = true;
    fingerings[2].hard = true;
    lay_part(&laid, NULL, NULL, &ruler);
    assert_int_equal(count_marks(&laid, HBK_PATH), paths + 1);
    assert_non_null(strstr(said(&laid), "Bracketed: too fast"));
    close_laid(&laid);
}

/* Key, meter, then the sign of the repeat; before a repeat alone its sign. */
static void a_repeat_begins_after_what_changes(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:C\nL:1/4\nK:C\nCDEF|[K:D][M:C|]|:DEFG:|");
    const struct hbk_ruler ruler = fixed_ruler();
    lay_part(&laid, NULL, NULL, &ruler);
    const struct hbk_page *page = &laid.sheet.pages[0];
    double sharp = 0.0;
    double cut = 0.0;
    double thick = 0.0;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *mark = &page->marks[i];
        if (mark->kind == HBK_GLYPH && mark->glyph == HBK_GLYPH_SHARP) {
            sharp = mark->x;
        } else if (mark->kind == HBK_GLYPH &&
                   mark->glyph == HBK_GLYPH_CUT_TIME) {
            cut = mark->x;
        } else if (mark->kind == HBK_PANEL && thick == 0.0 &&
                   fabs(mark->dx - 0.5 * 1.75) < 1e-6) {
            thick = mark->x;
        }
    }
    assert_true(sharp > 0.0);
    assert_true(sharp < cut);
    assert_true(cut < thick);
    close_laid(&laid);
}

/* Panels so many staff spaces wide on the first page. */
static size_t strokes(const struct laid *laid, double width)
{
    size_t n = 0;
    for (size_t i = 0; i < laid->sheet.pages[0].n; i++) {
        const struct hbk_mark *mark = &laid->sheet.pages[0].marks[i];
        n += mark->kind == HBK_PANEL && fabs(mark->dx - width * 1.75) < 1e-6;
    }
    return n;
}

/* Two thin lines before the new key, none more where it has a sign already. */
static void a_new_key_follows_a_double_bar(void **state)
{
    (void)state;
    static const struct {
        const char *music;
        size_t lines;
    } cases[] = {{"CDEF|CDEF|CDEF|", 3},       {"CDEF|[K:D]DEFG|CDEF|", 4},
                 {"CDEF||[K:D]DEFG|CDEF|", 4}, {"CDEF|[M:3/4]DEF|CDE|", 3},
                 {"CDEF|DE[K:D]FG|CDEF|", 3},  {"CDEF:|[K:D]DEFG|CDEF|", 3}};
    const struct hbk_ruler ruler = fixed_ruler();
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct laid laid;
        char music[80];
        (void)snprintf(music, sizeof(music), "M:4/4\nL:1/4\nK:C\n%s",
                       cases[i].music);
        read_text(&laid, music);
        lay_part(&laid, NULL, NULL, &ruler);
        assert_int_equal(strokes(&laid, HBK_ENG_BAR_PEN), cases[i].lines);
        check_no_clash(&laid.sheet, &ruler);
        close_laid(&laid);
    }
}

/* Twelve bars of rest are one, with their number, and are read out as such. */
static void bars_of_rest_say_how_many_they_are(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nQ:1/4=90\nK:C\nCDEF|Z12|[Q:1/4=99]Z104|"
                     "GABc|Z2|]");
    const struct hbk_ruler ruler = fixed_ruler();
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        const struct hbk_part_options options = {.paper =
                                                     (enum hbk_paper)paper};
        lay_part(&laid, &options, NULL, &ruler);
        check_no_clash(&laid.sheet, &ruler);
        assert_int_equal(laid.sheet.n_pages, 1);
        static const char *const wanted[] = {"12", "104", "2"};
        static const char *const reads[] = {"bars 2 to 13: 12 bars rest ",
                                            "bars 14 to 117: 104 bars rest ",
                                            "bars 119 to 120: 2 bars rest "};
        size_t n = 0;
        for (size_t i = 0; i < laid.sheet.pages[0].n; i++) {
            const struct hbk_mark *mark = &laid.sheet.pages[0].marks[i];
            if (mark->reads != NULL && mark->reads[0] != '\0') {
                assert_true(n < 3);
                assert_string_equal(mark->text, wanted[n]);
                assert_string_equal(mark->reads, reads[n++]);
            }
        }
        assert_int_equal(n, 3);
    }
    close_laid(&laid);
}

/* Piece, part, horn and page of pages stand on every page. */
static void every_page_says_what_it_belongs_to(void **state)
{
    (void)state;
    struct laid laid;
    struct hbk_arena arena = {0};
    struct hbk_text music = {.arena = &arena};
    hbk_text_add(&music, "M:2/4\nL:1/8\nK:Eb\n");
    for (int i = 0; i < 150; i++) {
        hbk_text_add(&music, "(e>d) c2 | ");
    }
    read_text(&laid, hbk_text_string(&music));
    laid.document.tune.part = "Solo cornet in B flat";
    struct solved cornet;
    solved_read(&cornet, "cornet-b-flat");
    const struct hbk_ruler ruler = fixed_ruler();
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        const struct hbk_part_options options = {.paper =
                                                     (enum hbk_paper)paper};
        lay_part(&laid, &options, &cornet.horn, &ruler);
        assert_true(laid.sheet.n_pages > 1);
        for (size_t p = 0; p < laid.sheet.n_pages; p++) {
            struct hbk_sheet page = laid.sheet;
            page.pages = &laid.sheet.pages[p];
            page.n_pages = 1;
            check_sheet_says(&page, "Test");
            check_sheet_says(&page, "Solo cornet in B flat");
            check_sheet_says(&page, p == 0 ? "Keyed bugle in C"
                                           : "Cornet in B flat, three pistons");
            check_sheet_says(&page,
                             hbk_arena_printf(&arena, "page %zu of %zu", p + 1,
                                              laid.sheet.n_pages));
        }
        check_no_clash(&laid.sheet, &ruler);
    }
    solved_close(&cornet);
    hbk_arena_finish(&arena);
    close_laid(&laid);
}

/* "2+3+2" stands over its unit as the source has it. */
static void a_meter_keeps_its_groups(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:2+3+2/8\nL:1/8\nK:C\nCD EFG AB|[M:3/4]C2D2E2|");
    const struct hbk_ruler ruler = fixed_ruler();
    lay_part(&laid, NULL, NULL, &ruler);
    check_no_clash(&laid.sheet, &ruler);
    check_sheet_says(&laid.sheet, "2+3+2 8");
    check_sheet_says(&laid.sheet, "3 4");
    close_laid(&laid);
}

/* The mark at the beginning, in the beat of the source. */
static void metronome_marks_name_their_beat(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:6/8\nL:1/8\nQ:\"Vivo\" 3/8=116\nK:C\n"
                     "C2E G3|[Q:1/4=99]CEG c3|");
    const struct hbk_ruler ruler = fixed_ruler();
    lay_part(&laid, NULL, NULL, &ruler);
    assert_non_null(strstr(said(&laid), "Vivo dotted quarter = 116"));
    assert_non_null(strstr(said(&laid), " quarter = 99"));
    const size_t discs = count_marks(&laid, HBK_DISC);
    const struct hbk_part_options options = {.other_tempo = true};
    lay_part(&laid, &options, NULL, &ruler);
    /* The words stay: only how fast is another. */
    assert_non_null(strstr(said(&laid), "Vivo "));
    assert_null(strstr(said(&laid), "116"));
    assert_null(strstr(said(&laid), "99"));
    assert_int_equal(count_marks(&laid, HBK_DISC), discs - 1);
    close_laid(&laid);
}

static void ornaments_are_drawn_clear_of_all_else(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid,
              "M:4/4\nL:1/8\nK:G\n"
              "!turn!G!invertedturn!AMBPB (~c!mordent!d)(3Te!turn!Hf!roll!g|"
              "!uppermordent!c''!turn!^c'!mordent!.LA,~!trill!a4-|"
              "!segno!!coda![1a8!D.C.alfine!:|");
    laid.document.tune.events[0].articulation |= HBK_TUNE_SIGN_SHARP;
    laid.document.tune.events[8].articulation |= HBK_TUNE_SIGN_FLAT;
    laid.document.tune.events[9].articulation |= HBK_TUNE_SIGN_NATURAL;
    const struct hbk_ruler ruler = fixed_ruler();
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        const struct hbk_part_options options = {.paper =
                                                     (enum hbk_paper)paper};
        lay_part(&laid, &options, NULL, &ruler);
        check_no_clash(&laid.sheet, &ruler);
    }
    assert_non_null(strstr(said(&laid), "turn with a sharp above, G4 "));
    assert_non_null(strstr(said(&laid), " with a flat above, "));
    assert_non_null(strstr(said(&laid), " with a natural above, "));
    assert_non_null(strstr(said(&laid), "inverted turn "));
    assert_non_null(strstr(said(&laid), "bar 3: A5 D.C. al Fine"));
    assert_non_null(strstr(said(&laid), "segno coda bar 3: A5"));
    close_laid(&laid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(notes_out_of_reach_are_crossed),
        cmocka_unit_test(a_bracket_needs_no_number),
        cmocka_unit_test(a_repeat_begins_after_what_changes),
        cmocka_unit_test(a_new_key_follows_a_double_bar),
        cmocka_unit_test(bars_of_rest_say_how_many_they_are),
        cmocka_unit_test(every_page_says_what_it_belongs_to),
        cmocka_unit_test(a_meter_keeps_its_groups),
        cmocka_unit_test(metronome_marks_name_their_beat),
        cmocka_unit_test(ornaments_are_drawn_clear_of_all_else),
    };
    return cmocka_run_group_tests_name("part_signs", tests, NULL, NULL);
}
