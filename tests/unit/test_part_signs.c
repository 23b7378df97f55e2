#include "sheet/part/part_sheet.h"
#include "support/engraved.h"
#include "support/ruler.h"
#include "support/sheets.h"

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
    assert_null(strstr(said(&laid), "Vivo"));
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
    assert_non_null(strstr(said(&laid), "turn "));
    assert_non_null(strstr(said(&laid), "inverted turn "));
    assert_non_null(strstr(said(&laid), "segno coda D.C. al Fine"));
    close_laid(&laid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(notes_out_of_reach_are_crossed),
        cmocka_unit_test(a_bracket_needs_no_number),
        cmocka_unit_test(a_repeat_begins_after_what_changes),
        cmocka_unit_test(metronome_marks_name_their_beat),
        cmocka_unit_test(ornaments_are_drawn_clear_of_all_else),
    };
    return cmocka_run_group_tests_name("part_signs", tests, NULL, NULL);
}
