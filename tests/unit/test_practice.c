/*
 * The hard places of a part, alone: which bars, what is said of them, and the
 * sheet that shows them.
 */
#include "support/contrast.h"
#include "support/editions.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/told.h"

#include "edition/part_sheet.h"
#include "edition/practice_sheet.h"
#include "report/passage_practice.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* Bar 2 is hard at its beginning, bar 4 towards its end, bar 7 as bar 2 is. */
static const char places[] =
    "X:1\nT:Places\nM:4/4\nL:1/16\nQ:1/4=200\nK:C\n"
    "c16|^DE^DE E12|c16|[P:B]c8 ^DE^DE^DE^DE|E16|c16|^DE^DE E12|c16|c16|\n";

static void hard_bars_come_in_their_order_with_bars_to_lead(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", places, &ask);
    const struct hbk_passage_view *const view = &p.performed.view;
    size_t n = 0;
    const struct hbk_practice_place *const found =
        hbk_practice_find(view, &p.arena, &n);
    assert_int_equal(n, 2);
    /* Early in its bar: a bar to lead in. The same comes again in bar 7. */
    assert_int_equal(found[0].hard, 1);
    assert_int_equal(found[0].hard_end, 2);
    assert_int_equal(found[0].first, 0);
    assert_int_equal(found[0].end, 2);
    assert_null(found[0].letter);
    assert_int_equal(found[0].n_again, 1);
    assert_int_equal(found[0].again[0], 6);
    /* Late: a bar to lead out. */
    assert_int_equal(found[1].hard, 3);
    assert_int_equal(found[1].first, 3);
    assert_int_equal(found[1].end, 5);
    assert_string_equal(found[1].letter, "B");
    assert_int_equal(found[1].n_again, 0);
    const char *const heading = hbk_practice_heading(view, &found[1], &p.arena);
    assert_ptr_equal(
        strstr(heading, "Bars 4 and 5, letter B: playable from about quarter "
                        "= "),
        heading);
    assert_null(strstr(heading, "quarter = 200"));
    size_t n_lines = 0;
    const char *const *const lines =
        hbk_practice_lines(view, &found[0], &p.arena, &n_lines);
    assert_true(n_lines >= 2);
    check_line(lines[0], "Bar 2, beat 1.75, D\u266F4 to E4: valve 3 up as ");
    assert_string_equal(lines[n_lines - 1], "The same again in bar 7");
    perform_done(&p);
}

/* From one that is hard all through come pieces that one can look at. */
static void a_long_run_is_practised_in_pieces(void **state)
{
    (void)state;
    struct performance p;
    struct hbk_arena arena = {0};
    struct hbk_text music = {.arena = &arena};
    hbk_text_add(&music, "X:1\nM:2/4\nL:1/16\nQ:1/4=300\nK:C\n");
    static const char *const bars[] = {"^DE^DE FEFE|", "^GA^GA BABA|",
                                       "^CD^CD EDED|"};
    for (size_t b = 0; b < 30; b++) {
        hbk_text_add(&music, bars[(b * b + b / 5) % COUNT(bars)]);
    }
    hbk_text_add(&music, "\n");
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    perform_abc(&p, "cornet-b-flat", hbk_text_string(&music), &ask);
    struct hbk_passage_view *const view = &p.performed.view;
    size_t n = 0;
    const struct hbk_practice_place *const found =
        hbk_practice_find(view, &p.arena, &n);
    assert_true(n > 2);
    size_t last = 0;
    for (size_t i = 0; i < n; i++) {
        assert_in_range(found[i].end - found[i].first, 1,
                        HBK_PRACTICE_BARS_MAX);
        assert_true(found[i].first <= found[i].hard);
        assert_true(found[i].hard_end <= found[i].end);
        assert_true(i == 0 || found[i].hard >= last);
        last = found[i].hard;
    }
    /* Every hard note stands in a place or where one comes again. */
    hbk_practice_only(view, &p.arena);
    size_t shown = 0;
    for (size_t e = 0; e < view->tune->n_events; e++) {
        shown += hbk_passage_shows(view, e) ? 1 : 0;
    }
    assert_in_range(shown, 1, view->tune->n_events);
    perform_done(&p);
    hbk_arena_finish(&arena);
}

static const char *lay(struct performance *p,
                       const struct hbk_sheet_options *options, bool circles,
                       bool practice, struct hbk_sheet *sheet)
{
    const struct hbk_ruler ruler = fixed_ruler();
    *sheet = (struct hbk_sheet){.arena = &p->arena};
    assert_int_equal((practice ? hbk_passage_practice : hbk_passage_part)(
                         &p->performed.view, options, circles, &ruler, sheet),
                     HBK_OK);
    check_no_clash(sheet, &ruler);
    struct hbk_text text = {.arena = &p->arena};
    for (size_t i = 0; i < sheet->n_pages; i++) {
        const struct hbk_page *const page = &sheet->pages[i];
        for (size_t m = 0; m < page->n; m++) {
            const struct hbk_mark *const mark = &page->marks[m];
            const char *const said =
                mark->reads != NULL ? mark->reads : mark->text;
            if (said != NULL && mark->kind != HBK_OPEN) {
                hbk_text_addf(&text, "%s ", said);
            }
        }
    }
    return hbk_text_string(&text);
}

static void a_practice_sheet_has_the_hard_places_alone(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", places, &ask);
    struct hbk_sheet sheet;
    const struct hbk_sheet_options options = {.paper = HBK_A4};
    const char *const said = lay(&p, &options, false, true, &sheet);
    assert_string_equal(sheet.title, "Places: practice");
    assert_string_equal(sheet.kind, "practice");
    assert_non_null(strstr(said, "Bars 1 and 2: playable from about"));
    assert_non_null(strstr(said, "Bars 4 and 5, letter B: playable"));
    assert_null(strstr(said, "Bars 7"));
    /* A note with its fingering and the next choice, read out as such. */
    assert_non_null(strstr(said, "C5  0 or 2-3 "));
    assert_non_null(strstr(said, "In parentheses: the next choice."));
    perform_done(&p);
}

static void where_nothing_is_hard_a_sheet_says_so(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", "X:1\nT:Air\nL:1/4\nK:C\nCDEF|G4|\n",
                &ask);
    struct hbk_sheet sheet;
    const struct hbk_sheet_options options = {.paper = HBK_A6};
    const char *const said = lay(&p, &options, false, true, &sheet);
    assert_int_equal(sheet.n_pages, 1);
    assert_non_null(strstr(said, "play it through and enjoy it."));
    assert_null(strstr(said, "In parentheses"));
    perform_done(&p);
}

/* With the finger that trills; and where the upper note is missing, a dash. */
static void a_trill_shows_how_it_is_fingered(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "ophicleide-c-11",
                "X:1\nT:Trills\nL:1/4\nK:C\nTCTETFG|Tc4|\n", &ask);
    struct hbk_sheet sheet;
    const struct hbk_sheet_options options = {.paper = HBK_A4};
    const char *said = lay(&p, &options, false, false, &sheet);
    assert_non_null(strstr(said, "trill C4  0 trill to 3 "));
    assert_non_null(strstr(said, "trill C5  0 no trill "));
    assert_non_null(strstr(said, "After tr: the upper note of the trill."));
    assert_non_null(strstr(said, "A dash after tr: no trill on this horn."));
    /* The awkward one is a place to practise, and says why. */
    said = lay(&p, &options, false, true, &sheet);
    assert_non_null(strstr(said, "Bars 1 and 2: an awkward trill"));
    assert_non_null(strstr(said, "Bar 1, beat 3, awkward trill on F4: right "
                                 "ring finger on key 8; key 6 is held"));
    /* As circles, the note says it. */
    said = lay(&p, &options, true, false, &sheet);
    assert_non_null(strstr(said, "0, trill to 3"));
    perform_done(&p);
}

/* In every shape, on every paper, with as many choices as there may be. */
static void nothing_overlaps_in_what_is_practised(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        double tempo;
    } asked[] = {{"keyed-bugle-c-6", 240.0},
                 {"cornet-b-flat", 300.0},
                 {"ophicleide-c-11", 200.0}};
    static const char music[] =
        "X:1\nT:Everything\nM:4/4\nL:1/16\nK:C\n"
        "{cd}Tc8 {B}TB8|C^CD^D EF^FG ^GA^AB c4|\"_dolce\"!p!d4 !<(!e4 Tf4 "
        "g4!<)!|[P:C](gfed) (cBAG) z8|\nw:la la la _ la\n"
        "(3^DED (3EFE ^FG^FG Tc8|Z|{D}E4 F4 G8|\n";
    for (size_t i = 0; i < COUNT(asked); i++) {
        for (int k = 0; k < 4 * HBK_PAPER_COUNT; k++) {
            struct hbk_perform_ask ask = hbk_perform_ask_none();
            ask.tempo = asked[i].tempo;
            ask.choices = k % 2 == 0 ? 2.0 : 8.0;
            struct performance p;
            perform_abc(&p, asked[i].horn, music, &ask);
            struct hbk_sheet sheet;
            const struct hbk_sheet_options options = {
                .paper = (enum hbk_paper)(k / 4),
                .sounding = k % 3 == 0,
                .whom = "Ada Fenwick, Larkmoor Keyed Bugle Band"};
            (void)lay(&p, &options, k % 4 >= 2, true, &sheet);
            (void)lay(&p, &options, k % 4 >= 2, false, &sheet);
            perform_done(&p);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hard_bars_come_in_their_order_with_bars_to_lead),
        cmocka_unit_test(a_long_run_is_practised_in_pieces),
        cmocka_unit_test(a_practice_sheet_has_the_hard_places_alone),
        cmocka_unit_test(where_nothing_is_hard_a_sheet_says_so),
        cmocka_unit_test(a_trill_shows_how_it_is_fingered),
        cmocka_unit_test(nothing_overlaps_in_what_is_practised),
    };
    return cmocka_run_group_tests_name("practice", tests, NULL, NULL);
}
