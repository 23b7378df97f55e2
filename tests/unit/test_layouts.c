#include "support/check.h"
#include "support/ruler.h"
#include "support/sanitized.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "notes/verdict.h"
#include "sheet/words/words.h"
#include "sheet/words/words_system.h"
#include "sheet/words/words_use.h"

#include <strings.h>

static struct hbk_sheet lay_out(struct solved *solved, enum hbk_layout layout,
                                struct hbk_sheet_options options)
{
    const struct hbk_ruler ruler = fixed_ruler();
    struct hbk_sheet sheet = {.arena = &solved->arena};
    options = with_trills(options, layout, &solved->notes, &solved->arena);
    assert_int_equal(
        hbk_sheet_chart(layout, &solved->notes, &options, &ruler, &sheet),
        HBK_OK);
    assert_true(sheet.n_pages > 0);
    check_no_clash(&sheet, &ruler);
    return sheet;
}

/* Every note within reach, the black ones by both their names. */
static void check_names_its_notes(const struct solved *solved,
                                  const struct hbk_sheet *sheet,
                                  const char *words)
{
    struct hbk_arena *arena = sheet->arena;
    const bool is_plate =
        strcmp(sheet->kind, "plate") == 0 || strcmp(sheet->kind, "chart") == 0;
    for (size_t i = 0; i < solved->notes.n; i++) {
        const struct hbk_note *note = &solved->notes.notes[i];
        char sharp[HBK_NAME_SIZE], flat[HBK_NAME_SIZE];
        const struct hbk_spelling spelling = hbk_note_sharp(note->written);
        hbk_spelling_letter(spelling, HBK_UNICODE, sharp);
        hbk_spelling_letter(hbk_note_flat(note->written), HBK_UNICODE, flat);
        const bool black = note->written % 12 == 1 || note->written % 12 == 3 ||
                           note->written % 12 == 6 || note->written % 12 == 8 ||
                           note->written % 12 == 10;
        /* The plate has the octave at C alone; see test_agree.c. */
        if (is_plate && note->n > 0) {
            check_words_say(words, hbk_arena_printf(arena, " %s%s%s ", sharp,
                                                    black ? " " : "",
                                                    black ? flat : ""));
        } else if (note->n > 0) {
            check_words_say(words, hbk_arena_printf(arena, " %s%s%s %d ", sharp,
                                                    black ? " " : "",
                                                    black ? flat : "",
                                                    spelling.octave));
        }
    }
}

static bool has_cells(enum hbk_layout layout)
{
    return layout == HBK_LAYOUT_STAND || layout == HBK_LAYOUT_CARD;
}

/* The others say in words how the horn works. */
static void check_prose_tells(const struct solved *solved,
                              const struct hbk_sheet *sheet)
{
    const struct hbk_horn *horn = &solved->horn;
    const char *words = sheet_words(sheet);
    check_words_say(words, horn->n_controls == 0 ? "natural instrument"
                           : hbk_horn_has_kind(horn, HBK_KEY)
                               ? "numbered from the bell"
                               : "valve");
    for (size_t i = 0; i < horn->n_controls; i++) {
        const struct hbk_control *control = &horn->controls[i];
        check_words_say(words, control->stands_open
                                   ? " OPEN at rest: pressing closes"
                               : control->rests_in ? "ASCENDING: pressing"
                                                   : "");
        check_words_say(
            words, hbk_finger_is_left(control->fingers[0]) ? "eft" : "ight");
    }
    check_names_its_notes(solved, sheet, words);
}

/* Stand and card: a map in place of prose, every note as a head. */
static void check_cells_tell(const struct solved *solved,
                             const struct hbk_sheet *sheet)
{
    const struct hbk_horn *horn = &solved->horn;
    struct hbk_arena *arena = sheet->arena;
    const char *words = sheet_words(sheet);
    const size_t length = strcspn(horn->name, ",");
    check_words_say(words,
                    horn->name[length] == ',' ? horn->name + length + 2 : "");
    for (size_t i = 0; i < horn->n_controls; i++) {
        const struct hbk_control *control = &horn->controls[i];
        check_words_say(words, control->stands_open ? " open at rest; pressing "
                               : control->rests_in  ? "ASCENDING: pressing"
                                                    : "");
        check_words_say(words, hbk_finger_is_left(control->fingers[0]) ? " L "
                                                                       : " R ");
    }
    for (size_t i = 0; i < solved->notes.n; i++) {
        const struct hbk_note *note = &solved->notes.notes[i];
        char sharp[HBK_NAME_SIZE], flat[HBK_NAME_SIZE], name[HBK_NAME_SIZE];
        const struct hbk_spelling spelling = hbk_note_sharp(note->written);
        hbk_spelling_letter(spelling, HBK_UNICODE, sharp);
        hbk_spelling_letter(hbk_note_flat(note->written), HBK_UNICODE, flat);
        if (note->n > 0) {
            check_words_say(
                words, hbk_note_is_black(note->written)
                           ? hbk_arena_printf(arena, " %s %s ", sharp, flat)
                           : hbk_arena_printf(arena, " %s ", sharp));
            assert_true(sheet_has_head(
                sheet, hbk_spelling_name(spelling, HBK_UNICODE, name)));
        }
    }
}

/*
 * What a reader must find without the file, from the horn itself and not
 * from the sentences of the sheet.
 */
static void check_tells_the_horn(enum hbk_layout layout,
                                 const struct solved *solved,
                                 const struct hbk_sheet *sheet)
{
    static const char *const cautions[] = {
        "conservator", "repairer", "verdigris", "lead",   "ever force a",
        "key",         "valve",    "slide",     "hearing"};
    static const char *const letters[] = {
        "C",       "D\u266D", "D",       "E\u266D", "E",       "F",
        "F\u266F", "G",       "A\u266D", "A",       "B\u266D", "B"};
    const struct hbk_horn *horn = &solved->horn;
    struct hbk_arena *arena = sheet->arena;
    const char *words = sheet_words(sheet);
    char first[200];
    (void)snprintf(first, sizeof(first), "%.*s", (int)strcspn(horn->name, ","),
                   horn->name);
    check_words_say(words, first);
    check_words_say(words,
                    hbk_arena_printf(arena, "Written C sounds %s,",
                                     letters[horn->written_c4_sounds % 12]));
    check_words_say(
        words, hbk_arena_printf(arena, "A = %.4g Hz, %.3g \u00B0C in the horn.",
                                horn->a4_hz, horn->temperature_c));
    char name[HBK_NAME_SIZE];
    check_words_say(words, hbk_arena_printf(arena, "Tuned on %s",
                                            hbk_note_name(horn->tuning_note,
                                                          HBK_UNICODE, name)));
    for (size_t i = 0; i < horn->n_controls; i++) {
        check_words_say(words, horn->controls[i].name);
    }
    if (has_cells(layout)) {
        check_cells_tell(solved, sheet);
    } else {
        check_prose_tells(solved, sheet);
    }
    for (size_t i = 0; i < HBK_PART_COUNT; i++) {
        if (horn->provenance[i] == HBK_ASSUMED) {
            check_words_say(words, "Assumed: ");
            check_words_say(words, hbk_part_name((enum hbk_part)i));
        }
    }
    for (size_t i = 0; i < sizeof(cautions) / sizeof(cautions[0]); i++) {
        check_words_say(words, cautions[i]);
    }
}

static void every_horn_has_every_layout(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        solved_open(&solved, horns[i].name);
        for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
            const enum hbk_layout layout = (enum hbk_layout)k;
            const struct hbk_sheet sheet =
                lay_out(&solved, layout, (struct hbk_sheet_options){0});
            /* What the trills tell: test_trills_sheet.c. */
            if (layout != HBK_LAYOUT_TRILLS) {
                check_tells_the_horn(layout, &solved, &sheet);
            }
            check_sizes(&sheet, least_points(layout));
            /* How many pages, in the faces as they are: test_render.c. */
            if (layout == HBK_LAYOUT_WALL) {
                assert_true(sheet.n_pages <= 5);
            }
        }
        solved_close(&solved);
    }
    hbk_arena_finish(&arena);
}

/* The widest and the narrowest of the shipped horns. */
static const char *const sampled[] = {"ophicleide-c-11-museum",
                                      "keyed-bugle-c-6", "bass-e-flat-4",
                                      "cornet-six-independent", "bugle-b-flat"};
enum { SAMPLED = sizeof(sampled) / sizeof(sampled[0]) };

static void every_paper_holds_its_layouts(void **state)
{
    (void)state;
    for (size_t i = 0; i < SAMPLED; i++) {
        struct solved solved;
        solved_open(&solved, sampled[i]);
        for (int k = 0; k < 2 * HBK_PAPER_COUNT * HBK_LAYOUT_COUNT; k++) {
            const enum hbk_layout layout =
                (enum hbk_layout)(k / 2 % HBK_LAYOUT_COUNT);
            const struct hbk_sheet_options options = {
                .paper = (enum hbk_paper)(k / 2 / HBK_LAYOUT_COUNT),
                .sounding = k % 2 == 1};
            if (!hbk_layout_takes(layout, options.paper) ||
                (IS_SANITIZED && (k + (int)i) % 3 != 0)) {
                continue;
            }
            const struct hbk_sheet sheet = lay_out(&solved, layout, options);
            check_sizes(&sheet, least_points(layout));
            if (layout == HBK_LAYOUT_TRILLS) {
                continue;
            }
            check_tells_the_horn(layout, &solved, &sheet);
            if (options.sounding) {
                char name[HBK_NAME_SIZE];
                const struct hbk_note *c5 = note_at(&solved, "C5");
                check_sheet_says(
                    &sheet,
                    hbk_arena_printf(
                        &solved.arena,
                        layout == HBK_LAYOUT_LARGE ? "sounds %s" : "C 5 %s",
                        hbk_note_name(c5->sounding, HBK_UNICODE, name)));
            }
        }
        solved_close(&solved);
    }
}

/* Names of marks in their order, for one copy of a card. */
static size_t texts_in(const struct hbk_page *page, double left, double top,
                       double width, double height, struct hbk_text *out)
{
    size_t n = 0;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *mark = &page->marks[i];
        if (mark->kind == HBK_TEXT && mark->x >= left &&
            mark->x < left + width && mark->y >= top &&
            mark->y < top + height) {
            hbk_text_addf(out, "%.3f %.3f %s\n", mark->x - left, mark->y - top,
                          mark->text);
            n++;
        }
    }
    return n;
}

static void four_cards_are_alike_and_cut_marks_part_them(void **state)
{
    (void)state;
    struct solved solved;
    solved_open(&solved, "keyed-bugle-c-6");
    static const enum hbk_paper papers[] = {HBK_A4, HBK_LETTER};
    for (size_t k = 0; k < 2; k++) {
        const struct hbk_sheet sheet =
            lay_out(&solved, HBK_LAYOUT_CARD,
                    (struct hbk_sheet_options){.paper = papers[k]});
        for (size_t p = 0; p < sheet.n_pages; p++) {
            const struct hbk_page *page = &sheet.pages[p];
            const double w = 0.5 * page->width, h = 0.5 * page->height;
            struct hbk_text first = {.arena = sheet.arena};
            assert_true(texts_in(page, 0.0, 0.0, w, h, &first) > 20);
            for (size_t c = 1; c < 4; c++) {
                struct hbk_text other = {.arena = sheet.arena};
                texts_in(page, c % 2 == 1 ? w : 0.0, c / 2 == 1 ? h : 0.0, w, h,
                         &other);
                assert_string_equal(hbk_text_string(&first),
                                    hbk_text_string(&other));
            }
            size_t upright = 0, level = 0;
            for (size_t i = 0; i < page->n; i++) {
                const struct hbk_mark *mark = &page->marks[i];
                if (mark->kind == HBK_LINE) {
                    upright += mark->dx == 0.0 && mark->x == w ? 1 : 0;
                    level += mark->dy == 0.0 && mark->y == h ? 1 : 0;
                }
            }
            assert_int_equal(upright, 3);
            assert_int_equal(level, 3);
        }
    }
    /* A6 itself is one card, without a cut: ISO 216, 148 x 105 mm. */
    const struct hbk_sheet one = lay_out(
        &solved, HBK_LAYOUT_CARD, (struct hbk_sheet_options){.paper = HBK_A6});
    check_abs(one.pages[0].width, 148.0, 0.0);
    check_abs(one.pages[0].height, 105.0, 0.0);
    solved_close(&solved);
}

static void the_stand_refuses_a_page_for_the_pocket(void **state)
{
    (void)state;
    struct solved solved;
    solved_open(&solved, "cornet-b-flat");
    const struct hbk_ruler ruler = fixed_ruler();
    struct hbk_sheet sheet = {.arena = &solved.arena};
    const struct hbk_sheet_options options = {.paper = HBK_A6};
    assert_false(hbk_layout_takes(HBK_LAYOUT_STAND, HBK_A6));
    assert_int_equal(hbk_sheet_chart(HBK_LAYOUT_STAND, &solved.notes, &options,
                                     &ruler, &sheet),
                     HBK_ERR_DOMAIN);
    assert_int_equal(sheet.n_pages, 0);
    solved_close(&solved);
}

static void layouts_go_by_their_names(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
        enum hbk_layout layout = HBK_LAYOUT_COUNT;
        assert_true(
            hbk_layout_parse(hbk_layout_name((enum hbk_layout)k), &layout));
        assert_int_equal(layout, k);
        assert_non_null(strstr(hbk_layout_words(&arena),
                               hbk_layout_name((enum hbk_layout)k)));
    }
    enum hbk_layout layout = HBK_LAYOUT_CARD;
    assert_true(hbk_layout_parse("Stand", &layout));
    assert_int_equal(layout, HBK_LAYOUT_STAND);
    assert_false(hbk_layout_parse("poster", &layout));
    assert_int_equal(layout, HBK_LAYOUT_STAND);
    hbk_arena_finish(&arena);
}

/* Heads high above or far below the staff must touch nothing. */
static void every_clef_leaves_every_layout_clear(void **state)
{
    (void)state;
    struct solved solved;
    solved_open(&solved, "euphonium-b-flat-compensating-4");
    static const enum hbk_clef clefs[] = {HBK_TREBLE, HBK_BASS, HBK_ALTO,
                                          HBK_TENOR};
    for (size_t i = 0; i < sizeof(clefs) / sizeof(clefs[0]); i++) {
        solved.horn.clef = clefs[i];
        solved.notes.notation.clef = clefs[i];
        for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
            lay_out(&solved, (enum hbk_layout)k,
                    (struct hbk_sheet_options){.sounding = true});
        }
    }
    solved_close(&solved);
}

/*
 * Which way round the valves lie does not change by one of them sticking:
 * the horn with lengths in millimeters, in per cent or in cents says so as
 * long as valve 1 or 2 moves, and what the others do.
 */
static void stuck_valves_leave_the_order_told(void **state)
{
    (void)state;
    static const struct {
        uint32_t up, down;
    } stuck[] = {{4u, 0u}, {0u, 4u}, {0u, 1u}, {2u, 0u}, {1u, 4u}};
    struct solved solved;
    for (size_t i = 0; i < sizeof(stuck) / sizeof(stuck[0]); i++) {
        solved_read(&solved, "cornet-b-flat-semitone-first");
        solved.setting.stuck.held_up = stuck[i].up;
        solved.setting.stuck.held_down = stuck[i].down;
        solved_run(&solved);
        assert_non_null(strstr(hbk_words_system(&solved.arena, &solved.notes),
                               "REVERSED VALVES: valve 1 lowers a semitone "
                               "and valve 2 a whole tone"));
        check_abs(solved.notes.effect_cents[0], -100.0, 15.0);
        check_abs(solved.notes.effect_cents[1], -200.0, 15.0);
        solved_close(&solved);
    }
    solved_read(&solved, "cornet-b-flat-semitone-first");
    solved.setting.stuck.held_down = 3u;
    solved_run(&solved);
    assert_null(strstr(hbk_words_system(&solved.arena, &solved.notes),
                       "REVERSED VALVES"));
    solved_close(&solved);
}

/* Nothing said may be untrue while something is stuck. */
static void what_is_stuck_is_not_told_as_moving(void **state)
{
    (void)state;
    struct solved solved;
    solved_read(&solved, "cornet-b-flat-third-two-tones");
    solved.setting.stuck.held_up = 4u;
    solved_run(&solved);
    const char *said = hbk_words_system(&solved.arena, &solved.notes);
    assert_null(strstr(said, "Valve 3 lowers"));
    solved_close(&solved);

    solved_read(&solved, "cornet-six-independent");
    solved.setting.stuck.held_down = 2u;
    solved_run(&solved);
    said = hbk_words_system(&solved.arena, &solved.notes);
    assert_null(strstr(said, "never together"));
    assert_non_null(strstr(said, "the valves that move are used one at a "
                                 "time"));
    for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
        const struct hbk_sheet sheet =
            lay_out(&solved, (enum hbk_layout)k, (struct hbk_sheet_options){0});
        check_sheet_says(&sheet, "Valve 2 is stuck down.");
    }
    solved_close(&solved);
}

/* Nobody takes the model's fingerings for those of the horn on show. */
static void an_assumed_bore_or_holes_are_told_at_the_head(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *words;
    } cases[] = {
        {"keyed-bugle-e-flat-bore", "Computed with assumed "},
        {"keyed-bugle-c-6-munich", "NOT TO LEARN FROM: "},
        {"ophicleide-b-flat-11-museum", "NOT TO LEARN FROM: "},
        {"cornet-b-flat-bore", "Computed with assumed bore"},
        {"tests/data/good/not-to-learn.yaml", "NOT TO LEARN FROM: "},
        {"keyed-bugle-c-6", NULL},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct solved solved;
        solved_open(&solved, cases[i].horn);
        for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
            struct hbk_sheet sheet = lay_out(&solved, (enum hbk_layout)k,
                                             (struct hbk_sheet_options){0});
            sheet.n_pages = 1;
            if (cases[i].words != NULL) {
                check_sheet_says(&sheet, cases[i].words);
            } else {
                assert_null(strstr(sheet_words(&sheet), "Computed with"));
            }
        }
        solved_close(&solved);
    }
}

/* The same of a crook, while it is in; its remark stands beside it. */
static void a_crook_that_is_no_chart_says_so(void **state)
{
    (void)state;
    static const char remark[] = "was measured on another cornet.";
    for (int crook = -1; crook < 2; crook++) {
        struct solved solved;
        solved_read(&solved, "tests/data/good/quick-change.yaml");
        solved.setting.crook = crook;
        solved_run(&solved);
        for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
            struct hbk_sheet sheet = lay_out(&solved, (enum hbk_layout)k,
                                             (struct hbk_sheet_options){0});
            if (crook != 0) {
                const char *const words = sheet_words(&sheet);
                assert_null(strstr(words, "NOT TO LEARN"));
                assert_null(strstr(words, remark));
                continue;
            }
            sheet.n_pages = 1;
            check_sheet_says(&sheet, "NOT TO LEARN FROM with the A slide");
            check_sheet_says(&sheet, remark);
        }
        const char *const said =
            hbk_words_remarks(&solved.arena, &solved.notes);
        assert_int_equal(strstr(said, "place. It is bent and may add less.") !=
                             NULL,
                         crook == 1);
        assert_non_null(strstr(said, "An invented horn to learn from"));
        assert_null(strstr(said, remark));
        solved_close(&solved);
    }
}

/* Key 1 alone stands open; stuck shut, no finger shuts its square. */
static void a_stuck_square_is_not_explained_as_one_that_moves(void **state)
{
    (void)state;
    struct solved solved;
    solved_read(&solved, "keyed-bugle-c-6");
    solved.setting.stuck.held_down = 1u;
    solved_run(&solved);
    for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
        const struct hbk_sheet sheet =
            lay_out(&solved, (enum hbk_layout)k, (struct hbk_sheet_options){0});
        const char *words = sheet_words(&sheet);
        assert_null(strstr(words, "finger shuts it"));
        /* Neither large print nor the trills have rings to cross. */
        assert_true(k == HBK_LAYOUT_LARGE || k == HBK_LAYOUT_TRILLS ||
                    strstr(words, "rossed: stuck") != NULL);
        check_sheet_says(&sheet, "Key 1 is stuck closed.");
    }
    solved_close(&solved);
}

/* Response in words: by the bore alone, and by the two limits. */
static void response_is_told_in_words(void **state)
{
    (void)state;
    struct solved solved;
    solved_open(&solved, "keyed-bugle-e-flat-bore");
    const size_t n = solved.notes.n;
    struct hbk_note notes[HBK_NOTE_MAX + 1];
    struct hbk_fingering weak[HBK_NOTE_MAX + 1];
    memcpy(notes, solved.notes.notes, n * sizeof(notes[0]));
    for (size_t i = 0; i < n; i++) {
        weak[i] = notes[i].fingerings[0];
        weak[i].response_db = 40.0;
        notes[i].fingerings = &weak[i];
        notes[i].n = 1;
    }
    const size_t d4 = (size_t)(note_of("D4") - solved.notes.lowest);
    weak[d4].response_db = 40.0 - 3.1;
    weak[d4 + 2].response_db = 40.0 - 10.1; /* E4 */
    solved.notes.notes = notes;
    hbk_verdicts_make(&solved.notes, &solved.arena);
    const char *said = hbk_words_response(&solved.arena, &solved.notes);
    assert_string_equal(said,
                        "Notes that speak freely: B3 to C\u266F4, E\u266D4, F4 "
                        "to C6. Note that needs care: E4. ");
    for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
        const struct hbk_sheet sheet =
            lay_out(&solved, (enum hbk_layout)k, (struct hbk_sheet_options){0});
        check_sheet_says(&sheet, "Note that needs care: E4.");
    }
    solved.horn.model = HBK_MODEL_LENGTH;
    hbk_verdicts_make(&solved.notes, &solved.arena);
    assert_string_equal(hbk_words_response(&solved.arena, &solved.notes), "");
    solved_close(&solved);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_horn_has_every_layout),
        cmocka_unit_test(every_paper_holds_its_layouts),
        cmocka_unit_test(four_cards_are_alike_and_cut_marks_part_them),
        cmocka_unit_test(the_stand_refuses_a_page_for_the_pocket),
        cmocka_unit_test(layouts_go_by_their_names),
        cmocka_unit_test(every_clef_leaves_every_layout_clear),
        cmocka_unit_test(stuck_valves_leave_the_order_told),
        cmocka_unit_test(what_is_stuck_is_not_told_as_moving),
        cmocka_unit_test(an_assumed_bore_or_holes_are_told_at_the_head),
        cmocka_unit_test(a_crook_that_is_no_chart_says_so),
        cmocka_unit_test(a_stuck_square_is_not_explained_as_one_that_moves),
        cmocka_unit_test(response_is_told_in_words),
    };
    return cmocka_run_group_tests_name("layouts", tests, NULL, NULL);
}
