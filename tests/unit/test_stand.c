#include "support/check.h"
#include "support/ruler.h"
#include "support/sanitized.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "horn/stuck_list.h"
#include "render/fonts.h"
#include "sheet/chart/strip_rows.h"

#include <math.h>

/* Stand chart and pocket card. */

static struct hbk_sheet lay_out(struct solved *solved, enum hbk_layout layout,
                                struct hbk_sheet_options options,
                                const struct hbk_ruler *ruler)
{
    struct hbk_sheet sheet = {.arena = &solved->arena};
    assert_int_equal(
        hbk_sheet_chart(layout, &solved->notes, &options, ruler, &sheet),
        HBK_OK);
    return sheet;
}

/* What must be read from 1.2 m: see sheet/chart/stand.c. */
static void check_stand_sizes(const struct hbk_sheet *sheet, double name,
                              double figure, double disc)
{
    bool in_figure = false;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *mark = &page->marks[i];
            if (mark->tag == HBK_TAG_FIGURE &&
                (mark->kind == HBK_OPEN || mark->kind == HBK_CLOSE)) {
                /* The hands under the notes, not the map beside them. */
                in_figure = mark->kind == HBK_OPEN &&
                            strstr(mark->text, "The hands") != NULL;
            }
            const bool is_name =
                mark->kind == HBK_TEXT && mark->face == HBK_FACE_BOLD &&
                strlen(mark->text) == 1 && strchr("CDEFGAB", mark->text[0]);
            assert_true(!is_name || mark->size >= HBK_PT(name) - 1e-9);
            /* Of three numbers and more the figure may be narrower. */
            const bool is_figure =
                mark->kind == HBK_TEXT && mark->face == HBK_FACE_FIGURE &&
                !is_in_dot(page, i) && strlen(mark->text) < 4;
            assert_true(!is_figure || strstr(mark->text, "lip") != NULL ||
                        mark->size >= HBK_PT(figure) - 1e-9);
            const bool is_disc = in_figure && mark->kind == HBK_DISC;
            assert_true(!is_disc || 2.0 * mark->dx >= disc - 1e-9);
        }
    }
}

/* The names at the head of a row, in the order of the sheet. */
static size_t rows_of(const struct hbk_sheet *sheet)
{
    size_t rows = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *mark = &sheet->pages[p].marks[i];
            rows +=
                mark->kind == HBK_OPEN && mark->tag == HBK_TAG_TABLE ? 1 : 0;
        }
    }
    return rows;
}

/* In the faces that are printed: other widths would give other pages. */
static void every_stand_chart_is_one_page(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_fonts *fonts = NULL;
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_OK);
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    static const enum hbk_paper papers[] = {HBK_A4, HBK_LETTER, HBK_A3};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t h = 0; h < n; h++) {
        struct solved solved;
        solved_open(&solved, horns[h].name);
        for (size_t k = 0; k < 3; k++) {
            if (IS_SANITIZED && (h + k) % 3 != 0) {
                continue;
            }
            const struct hbk_sheet sheet =
                lay_out(&solved, HBK_LAYOUT_STAND,
                        (struct hbk_sheet_options){.paper = papers[k]}, &ruler);
            if (sheet.n_pages != 1) {
                print_error("%s: %zu pages\n", horns[h].name, sheet.n_pages);
            }
            assert_int_equal(sheet.n_pages, 1);
            check_stand_sizes(&sheet, 16.0, 20.0, 4.0);
            check_no_clash(&sheet, &ruler);
        }
        const struct hbk_sheet small =
            lay_out(&solved, HBK_LAYOUT_STAND,
                    (struct hbk_sheet_options){.paper = HBK_A5}, &ruler);
        assert_true(small.n_pages <= 2);
        check_stand_sizes(&small, 11.0, 14.0, 3.0);
        check_no_clash(&small, &ruler);
        const struct hbk_sheet card =
            lay_out(&solved, HBK_LAYOUT_CARD,
                    (struct hbk_sheet_options){.paper = HBK_A6}, &ruler);
        assert_true(card.n_pages <= (solved.notes.n <= 31 ? 3 : 4));
        check_stand_sizes(&card, 9.0, 10.0, 3.0);
        check_no_clash(&card, &ruler);
        solved_close(&solved);
    }
    hbk_fonts_close(fonts);
    hbk_arena_finish(&arena);
}

/* Rows begin at C as its reader names it, whatever the horn calls the note. */
static void rows_run_from_c_to_c(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        int shift;
        size_t n, sizes[4];
    } cases[] = {
        {"keyed-bugle-c-6", 0, 2, {13, 13}},     /* B3 to C6 */
        {"cornet-b-flat", 0, 3, {6, 12, 13}},    /* F#3 to C6 */
        {"keyed-bugle-c-6", -2, 3, {3, 12, 11}}, /* read as A3 to Bb5 */
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct solved solved;
        solved_open(&solved, cases[i].horn);
        solved.notes.notation.shift = cases[i].shift;
        size_t shown[HBK_NOTE_MAX];
        for (size_t k = 0; k < solved.notes.n; k++) {
            shown[k] = k;
        }
        const struct hbk_strip_run all = {solved.notes.n, shown};
        const struct hbk_strip_rows rows =
            hbk_strip_break(&solved.arena, &solved.notes, &all, 20);
        assert_int_equal(rows.n, cases[i].n);
        for (size_t k = 0; k < rows.n; k++) {
            assert_int_equal(rows.runs[k].n, cases[i].sizes[k]);
        }
        const struct hbk_strip_rows halves =
            hbk_strip_break(&solved.arena, &solved.notes, &all, 7);
        assert_true(halves.longest <= 7);
        solved_close(&solved);
    }
}

static size_t count(const struct hbk_sheet *sheet, enum hbk_mark_kind kind,
                    enum hbk_ink ink)
{
    size_t n = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *mark = &sheet->pages[p].marks[i];
            n += mark->kind == kind && mark->ink == ink ? 1 : 0;
        }
    }
    return n;
}

/* A black disc for every finger that presses, a tint for every half-tone. */
static void discs_and_tints_are_those_of_the_notes(void **state)
{
    (void)state;
    struct solved solved;
    const struct hbk_ruler ruler = fixed_ruler();
    solved_open(&solved, "keyed-bugle-c-6");
    size_t pressed = 0;
    size_t half_tones = 0;
    for (size_t i = 0; i < solved.notes.n; i++) {
        const struct hbk_fingering *first =
            &solved.notes.notes[i].fingerings[0];
        assert_false(first->verdict & HBK_VERDICT_UNRELIABLE);
        pressed += (size_t)__builtin_popcount(first->press);
        half_tones += hbk_note_is_black(solved.notes.notes[i].written);
    }
    struct hbk_sheet sheet = lay_out(&solved, HBK_LAYOUT_STAND,
                                     (struct hbk_sheet_options){0}, &ruler);
    assert_int_equal(count(&sheet, HBK_DISC, HBK_BLACK), pressed);
    assert_int_equal(count(&sheet, HBK_PANEL, HBK_TINT), half_tones);
    /* Another reader's half-tones are other columns. */
    solved.notes.notation.shift = 1;
    sheet = lay_out(&solved, HBK_LAYOUT_STAND, (struct hbk_sheet_options){0},
                    &ruler);
    assert_int_equal(count(&sheet, HBK_DISC, HBK_BLACK), pressed);
    size_t moved = 0;
    for (size_t i = 0; i < solved.notes.n; i++) {
        moved += hbk_note_is_black(solved.notes.notes[i].written + 1);
    }
    assert_int_equal(count(&sheet, HBK_PANEL, HBK_TINT), moved);
    solved.notes.notation.naming = HBK_NAMES_GERMAN;
    sheet = lay_out(&solved, HBK_LAYOUT_STAND, (struct hbk_sheet_options){0},
                    &ruler);
    check_sheet_says(&sheet, " H ");
    check_sheet_says(&sheet, " Cis Des ");
    solved_close(&solved);
}

/* Notes that have a fingering. */
static size_t played(const struct solved *solved)
{
    size_t n = 0;
    for (size_t i = 0; i < solved->notes.n; i++) {
        n += solved->notes.notes[i].n > 0 ? 1 : 0;
    }
    return n;
}

/* What is stuck is crossed in every cell and in the map of every row. */
static void what_is_stuck_is_crossed(void **state)
{
    (void)state;
    struct solved solved;
    const struct hbk_ruler ruler = fixed_ruler();
    solved_read(&solved, "ophicleide-c-11");
    struct hbk_text why = {.arena = &solved.arena};
    assert_true(hbk_stuck_parse(&solved.horn, NULL, "key:9=closed",
                                &solved.setting.stuck, &why));
    solved_run(&solved);
    const struct hbk_sheet sheet = lay_out(
        &solved, HBK_LAYOUT_STAND, (struct hbk_sheet_options){0}, &ruler);
    check_sheet_says(&sheet, "Crossed: stuck.");
    size_t slanted = 0;
    for (size_t i = 0; i < sheet.pages[0].n; i++) {
        const struct hbk_mark *mark = &sheet.pages[0].marks[i];
        slanted += mark->kind == HBK_LINE && mark->dx != 0.0 && mark->dy != 0.0;
    }
    assert_int_equal(sheet.n_pages, 1);
    assert_int_equal(slanted, 2 * (played(&solved) + rows_of(&sheet)));
    solved_close(&solved);
}

/* The underlined figures of a sheet: level lines as wide as no rule is. */
static size_t underlined(const struct hbk_sheet *sheet)
{
    size_t n = 0;
    const struct hbk_page *page = &sheet->pages[0];
    for (size_t i = 1; i < page->n; i++) {
        const struct hbk_mark *mark = &page->marks[i];
        const struct hbk_mark *before = &page->marks[i - 1];
        n += mark->kind == HBK_LINE && mark->dy == 0.0 &&
             before->kind == HBK_TEXT && before->face == HBK_FACE_FIGURE &&
             before->group == mark->group;
    }
    return n;
}

/* Beside another horn the fewer are marked: what differs, or what stays. */
static void the_minority_is_marked_beside_another_horn(void **state)
{
    (void)state;
    static const struct {
        const char *here, *known, *says;
    } cases[] = {
        {"cornet-b-flat-third-two-tones", "cornet-b-flat",
         "Underlined: other than on the Cornet in B flat, three pistons."},
        {"keyed-bugle-c-6", "cornet-b-flat",
         "Underlined: the same as on the Cornet in B flat, three pistons."},
        {"cornet-b-flat", "cornet-b-flat", NULL},
    };
    const struct hbk_ruler ruler = fixed_ruler();
    for (size_t k = 0; k < sizeof(cases) / sizeof(cases[0]); k++) {
        struct solved here, known;
        solved_open(&here, cases[k].here);
        solved_open(&known, cases[k].known);
        struct hbk_sheet sheet =
            lay_out(&here, HBK_LAYOUT_STAND,
                    (struct hbk_sheet_options){.beside = &known.notes}, &ruler);
        sheet.n_pages = 1;
        const size_t n = underlined(&sheet);
        if (cases[k].says == NULL) {
            assert_null(strstr(sheet_words(&sheet), "Underlined"));
            assert_int_equal(n, 0);
        } else {
            check_sheet_says(&sheet, cases[k].says);
            assert_true(n > 0 && 2 * n <= here.notes.n);
        }
        check_no_clash(&sheet, &ruler);
        solved_close(&here);
        solved_close(&known);
    }
}

/* An open fingering that is unreliable has no disc to say so: it is ringed. */
static void an_unreliable_partial_is_ringed(void **state)
{
    (void)state;
    struct solved solved;
    const struct hbk_ruler ruler = fixed_ruler();
    solved_open(&solved, "bugle-b-flat");
    size_t doubtful = 0;
    for (size_t i = 0; i < solved.notes.n; i++) {
        const struct hbk_note *note = &solved.notes.notes[i];
        doubtful += note->n > 0 &&
                    (note->fingerings[0].verdict & HBK_VERDICT_UNRELIABLE) != 0;
    }
    assert_true(doubtful > 0);
    const struct hbk_sheet sheet = lay_out(
        &solved, HBK_LAYOUT_STAND, (struct hbk_sheet_options){0}, &ruler);
    assert_int_equal(count(&sheet, HBK_RING, HBK_BLACK), doubtful);
    check_sheet_says(&sheet, "In a ring: unreliable.");
    solved_close(&solved);
}

/* Rings would say that it is played with nothing pressed. */
static void a_note_without_a_fingering_has_an_empty_cell(void **state)
{
    (void)state;
    struct solved solved;
    const struct hbk_ruler ruler = fixed_ruler();
    solved_open(&solved, "cornet-b-flat-two-valve");
    assert_true(played(&solved) < solved.notes.n);
    size_t wanted = 0;
    for (size_t i = 0; i < solved.notes.n; i++) {
        const struct hbk_note *note = &solved.notes.notes[i];
        wanted +=
            note->n == 0
                ? 0
                : 2 - (size_t)__builtin_popcount(note->fingerings[0].press);
    }
    const struct hbk_sheet sheet = lay_out(
        &solved, HBK_LAYOUT_STAND, (struct hbk_sheet_options){0}, &ruler);
    size_t small = 0;
    for (size_t i = 0; i < sheet.pages[0].n; i++) {
        const struct hbk_mark *mark = &sheet.pages[0].marks[i];
        small += mark->kind == HBK_RING && mark->dx <= 1.1 + 1e-9 ? 1 : 0;
    }
    assert_int_equal(small, wanted);
    check_sheet_says(&sheet, "\u2013: no usable fingering.");
    solved_close(&solved);
}

/* Marks of a text, and the smallest of them in points. */
static size_t texts(const struct hbk_sheet *sheet, const char *text,
                    double *least)
{
    size_t n = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_TEXT && !is_in_dot(&sheet->pages[p], i) &&
                strcmp(mark->text, text) == 0) {
                n++;
                *least = fmin(*least, mark->size / HBK_PT(1.0));
            }
        }
    }
    return n;
}

/* A note that wants both slide and lip is told both. */
static void a_trigger_leaves_the_lips_their_arrow(void **state)
{
    (void)state;
    struct solved solved = {0};
    const struct hbk_ruler ruler = fixed_ruler();
    assert_int_equal(hbk_horn_read("tests/data/good/triggers.yaml",
                                   &solved.horn, &solved.faults),
                     HBK_OK);
    solved.setting = hbk_setting_of(&solved.horn);
    solved_run(&solved);
    const struct hbk_note *const note = note_at(&solved, "C#4");
    struct hbk_fingering both = note->fingerings[0];
    assert_true(both.drawn_m > 0.0195 && both.drawn_m < 0.0205);
    both.cents = 17.0;
    struct hbk_note notes[HBK_NOTE_MAX + 1];
    memcpy(notes, solved.notes.notes, solved.notes.n * sizeof(notes[0]));
    size_t lips = 0;
    for (size_t i = 0; i < solved.notes.n; i++) {
        if (notes[i].written == note->written) {
            notes[i].fingerings = &both;
            notes[i].n = 1;
        }
        lips += notes[i].n > 0 && fabs(notes[i].fingerings[0].cents) >= 10.0;
    }
    solved.notes.notes = notes;
    static const struct {
        enum hbk_layout layout;
        enum hbk_paper paper;
        const char *slide;
    } cases[] = {{HBK_LAYOUT_STAND, HBK_A4, "slide 20"},
                 {HBK_LAYOUT_CARD, HBK_A6, "20"}};
    for (size_t i = 0; i < 2; i++) {
        const struct hbk_sheet sheet = lay_out(
            &solved, cases[i].layout,
            (struct hbk_sheet_options){.paper = cases[i].paper}, &ruler);
        double least = 100.0;
        assert_true(texts(&sheet, cases[i].slide, &least) > 0);
        assert_int_equal(texts(&sheet, "lip", &least), lips);
        assert_true(least >= 7.5);
        check_sheet_says(&sheet, "Slide: how many mm the trigger moves it.");
        check_no_clash(&sheet, &ruler);
    }
    solved_close(&solved);
}

/* Nothing on the horn shows it, and a title may hide its name. */
static void reversed_valves_stand_in_the_head(void **state)
{
    (void)state;
    struct solved solved;
    const struct hbk_ruler ruler = fixed_ruler();
    solved_open(&solved, "cornet-b-flat-semitone-first");
    static const enum hbk_layout layouts[] = {HBK_LAYOUT_STAND,
                                              HBK_LAYOUT_CARD};
    for (size_t i = 0; i < 2; i++) {
        const struct hbk_sheet sheet = lay_out(
            &solved, layouts[i],
            (struct hbk_sheet_options){.title = "Mine", .paper = HBK_A4},
            &ruler);
        const char *const words = sheet_words(&sheet);
        const char *const told = strstr(
            words, "REVERSED VALVES: valve 1 a semitone, valve 2 a whole tone");
        assert_non_null(told);
        assert_true(told < strstr(words, "F\u266F"));
    }
    solved_close(&solved);
    solved_open(&solved, "cornet-b-flat");
    const struct hbk_sheet usual = lay_out(
        &solved, HBK_LAYOUT_STAND, (struct hbk_sheet_options){0}, &ruler);
    assert_null(strstr(sheet_words(&usual), "REVERSED"));
    solved_close(&solved);
}

/* Of a card that needs them every disc holds its number or its letters. */
static void discs_that_need_their_labels_have_them(void **state)
{
    (void)state;
    static const char *const horns[] = {"keyed-bugle-c-tone-valve",
                                        "cornet-b-flat", "cornopean-b-flat"};
    const struct hbk_ruler ruler = fixed_ruler();
    for (size_t h = 0; h < 3; h++) {
        struct solved solved;
        solved_open(&solved, horns[h]);
        const struct hbk_sheet sheet =
            lay_out(&solved, HBK_LAYOUT_CARD,
                    (struct hbk_sheet_options){.paper = HBK_A6}, &ruler);
        size_t discs = 0;
        for (size_t p = 0; p < sheet.n_pages; p++) {
            const struct hbk_page *page = &sheet.pages[p];
            for (size_t i = 0; i + 1 < page->n; i++) {
                const struct hbk_mark *mark = &page->marks[i];
                if (mark->kind == HBK_DISC && mark->ink == HBK_BLACK) {
                    discs++;
                    assert_true(is_in_dot(page, i + 1));
                }
            }
        }
        assert_true(discs > 0);
        check_no_clash(&sheet, &ruler);
        solved_close(&solved);
    }
}

/* In concert pitch the C that is read is no horn's. */
static void what_the_c_that_is_read_sounds_is_told(void **state)
{
    (void)state;
    struct solved solved;
    const struct hbk_ruler ruler = fixed_ruler();
    solved_read(&solved, "keyed-bugle-b-flat-6");
    solved.setting.reads = HBK_READS_CONCERT;
    solved_run(&solved);
    static const enum hbk_layout layouts[] = {HBK_LAYOUT_STAND,
                                              HBK_LAYOUT_CARD};
    for (size_t i = 0; i < 2; i++) {
        const struct hbk_sheet sheet =
            lay_out(&solved, layouts[i],
                    (struct hbk_sheet_options){.paper = HBK_A4}, &ruler);
        check_sheet_says(&sheet, "Written C sounds C, as written");
        assert_non_null(strstr(sheet.subject, "sounds C, as written"));
    }
    solved_close(&solved);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_stand_chart_is_one_page),
        cmocka_unit_test(rows_run_from_c_to_c),
        cmocka_unit_test(discs_and_tints_are_those_of_the_notes),
        cmocka_unit_test(what_is_stuck_is_crossed),
        cmocka_unit_test(the_minority_is_marked_beside_another_horn),
        cmocka_unit_test(an_unreliable_partial_is_ringed),
        cmocka_unit_test(a_note_without_a_fingering_has_an_empty_cell),
        cmocka_unit_test(a_trigger_leaves_the_lips_their_arrow),
        cmocka_unit_test(reversed_valves_stand_in_the_head),
        cmocka_unit_test(discs_that_need_their_labels_have_them),
        cmocka_unit_test(what_the_c_that_is_read_sounds_is_told),
    };
    return cmocka_run_group_tests_name("stand", tests, NULL, NULL);
}
