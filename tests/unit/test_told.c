/*
 * What every sheet says to whoever has it read out: all of its words, a text
 * for every picture, and for each note its names, fingering, tuning and
 * alternates in one row under heads.
 */
#include "support/read_out.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#include "passage/scale.h"
#include "sheet/article/scales_sheet.h"
#include "sheet/article/slide_card.h"
#include "sheet/chart/gamut.h"
#include "sheet/words/words_said.h"
#include "solve/slides.h"

static const char *const horns[] = {
    "keyed-bugle-c-6",        "keyed-bugle-b-flat-7-f-sharp",
    "ophicleide-c-11-museum", "cornet-b-flat",
    "cornet-b-flat-bore",     "bass-e-flat-4",
    "bugle-b-flat",           "trombone-six-independent",
    "cornopean-b-flat",       "keyed-bugle-c-6-munich"};

/* Adds what one mark says, as the renderer has it read. */
static void add_said(const struct nest *nest, const struct hbk_mark *mark,
                     struct hbk_text *out)
{
    const bool mute = has(nest, HBK_TAG_ARTIFACT) || has(nest, HBK_TAG_FIGURE);
    if (mark->kind == HBK_CLOSE && mark->tag == HBK_TAG_ROW) {
        hbk_text_add(out, "\n");
    } else if (mark->kind == HBK_OPEN && mark->tag != HBK_TAG_ROW &&
               out->length > 0 && out->bytes[out->length - 1] != '\n') {
        hbk_text_add(out, " | ");
    } else if (!mute && mark->kind == HBK_SAY) {
        hbk_text_add(out, mark->text);
    } else if (!mute && mark->kind == HBK_TEXT) {
        hbk_text_add(out, mark->reads == NULL ? mark->text : mark->reads);
    }
}

/* The rows of all tables, a line each: "B3 | 1 | in tune | none". */
static const char *rows_of(const struct hbk_sheet *sheet)
{
    struct hbk_text out = {.arena = sheet->arena};
    hbk_text_add(&out, "\n");
    for (size_t p = 0; p < sheet->n_pages; p++) {
        struct nest nest = {0};
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *mark = &sheet->pages[p].marks[i];
            const bool in_row = has(&nest, HBK_TAG_ROW);
            step(&nest, mark);
            if (in_row &&
                !(mark->kind == HBK_OPEN && mark->tag == HBK_TAG_ARTIFACT)) {
                add_said(&nest, mark, &out);
            }
        }
    }
    return hbk_text_string(&out);
}

static void check_row(const char *rows, const char *wanted)
{
    if (strstr(rows, wanted) == NULL) {
        print_error("no row \"%s\" in:%s", wanted, rows);
        fail();
    }
}

static void check_notes(const struct solved *solved, enum hbk_layout layout,
                        const struct hbk_sheet *sheet)
{
    struct hbk_arena *arena = sheet->arena;
    const struct hbk_notes *notes = &solved->notes;
    const char *rows = rows_of(sheet);
    struct hbk_gamut_notes chosen;
    hbk_gamut_choose(arena, notes, &chosen);
    check_row(rows, "\nNote | Fingering | Tuning | Alternates\n");
    for (size_t i = 0; i < chosen.n; i++) {
        const struct hbk_note *note = &notes->notes[chosen.shown[i]];
        const char *name = hbk_words_said_note(arena, notes, note->written);
        if (note->n == 0) {
            check_row(rows, hbk_arena_printf(arena, "\n%s | no usable ", name));
            continue;
        }
        const struct hbk_fingering *first = &note->fingerings[0];
        const size_t most = layout == HBK_LAYOUT_WALL ? note->n : 3;
        const char *fingering = hbk_words_said_fingering(arena, notes, first);
        const char *rest = hbk_arena_printf(
            arena, " | %s | %s\n", hbk_words_said_tuning(arena, first),
            hbk_words_said_others(arena, notes, note, most));
        const char *start =
            hbk_arena_printf(arena, "\n%s | %s", name, fingering);
        check_row(rows, start);
        /* Large print has the fingers in words between the two. */
        check_row(layout == HBK_LAYOUT_LARGE ? strstr(rows, start) : rows,
                  layout == HBK_LAYOUT_LARGE
                      ? rest
                      : hbk_arena_printf(arena, "%s%s", start, rest));
    }
}

static void every_note_of_a_chart_is_a_row(void **state)
{
    (void)state;
    const struct hbk_ruler ruler = fixed_ruler();
    for (size_t h = 0; h < sizeof(horns) / sizeof(horns[0]); h++) {
        struct solved solved;
        solved_open(&solved, horns[h]);
        for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
            const enum hbk_layout layout = (enum hbk_layout)k;
            struct hbk_sheet sheet = {.arena = &solved.arena};
            const struct hbk_sheet_options options =
                with_trills((struct hbk_sheet_options){.sounding = k % 2 == 1},
                            layout, &solved.notes, &solved.arena);
            assert_int_equal(hbk_sheet_chart(layout, &solved.notes, &options,
                                             &ruler, &sheet),
                             HBK_OK);
            check_read_out(&sheet);
            if (layout != HBK_LAYOUT_TRILLS && !options.sounding) {
                check_notes(&solved, layout, &sheet);
            }
        }
        solved_close(&solved);
    }
}

static void every_trill_is_a_sentence(void **state)
{
    (void)state;
    const struct hbk_ruler ruler = fixed_ruler();
    struct solved solved;
    solved_open(&solved, "keyed-bugle-c-6");
    struct hbk_sheet sheet = {.arena = &solved.arena};
    const struct hbk_sheet_options options =
        with_trills((struct hbk_sheet_options){0}, HBK_LAYOUT_TRILLS,
                    &solved.notes, &solved.arena);
    assert_int_equal(hbk_sheet_chart(HBK_LAYOUT_TRILLS, &solved.notes, &options,
                                     &ruler, &sheet),
                     HBK_OK);
    const char *rows = rows_of(&sheet);
    check_row(rows, "| B3 to C4: 1 to open, easy |");
    check_row(rows, "| B3 to C sharp 4: 1 to 1-2, awkward |");
    solved_close(&solved);
}

static void articles_say_all_their_words(void **state)
{
    (void)state;
    const struct hbk_ruler ruler = fixed_ruler();
    struct solved known;
    solved_open(&known, "cornet-b-flat");
    for (size_t h = 0; h < sizeof(horns) / sizeof(horns[0]); h++) {
        struct solved solved;
        struct hbk_faults faults = {0};
        solved_open(&solved, horns[h]);
        struct hbk_arena *arena = &solved.arena;
        struct hbk_sheet_options options = {0};
        struct hbk_sheet scales = {.arena = arena};
        assert_int_equal(hbk_sheet_scales(&solved.notes,
                                          hbk_scales_of(&solved.notes, arena),
                                          &options, &ruler, &scales),
                         HBK_OK);
        check_read_out(&scales);
        struct hbk_slides slides;
        struct hbk_sheet card = {.arena = arena};
        assert_int_equal(hbk_slides_plan(&solved.horn, &solved.setting, arena,
                                         &slides, &faults),
                         HBK_OK);
        hbk_sheet_slide_card(&slides, &options, &ruler, &card);
        check_read_out(&card);
        struct hbk_sheet beside = {.arena = arena};
        options.beside = &known.notes;
        assert_int_equal(hbk_sheet_chart(HBK_LAYOUT_PLATE, &solved.notes,
                                         &options, &ruler, &beside),
                         HBK_OK);
        check_read_out(&beside);
        solved_close(&solved);
    }
    solved_close(&known);
}

static void notes_are_said_without_signs(void **state)
{
    (void)state;
    struct solved solved;
    solved_open(&solved, "cornet-b-flat");
    struct hbk_arena *arena = &solved.arena;
    assert_string_equal(hbk_words_said_note(arena, &solved.notes, 66),
                        "F sharp 4 or G flat 4");
    assert_string_equal(hbk_words_said_note(arena, &solved.notes, 72), "C5");
    solved.notes.notation.naming = HBK_NAMES_SOLFEGE;
    assert_string_equal(hbk_words_said_note(arena, &solved.notes, 66),
                        "fa sharp 4 or sol flat 4");
    assert_string_equal(hbk_words_said_cents(arena, -12.4),
                        "12 cents flat, lip up");
    assert_string_equal(hbk_words_said_cents(arena, 1.2), "1 cent sharp");
    assert_string_equal(hbk_words_said_cents(arena, 0.4), "in tune");
    assert_string_equal(
        hbk_words_said_controls(arena, &solved.horn, &solved.notes),
        "valve 1, right index finger; valve 2, right middle finger; valve 3, "
        "right ring finger");
    solved_close(&solved);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_note_of_a_chart_is_a_row),
        cmocka_unit_test(every_trill_is_a_sentence),
        cmocka_unit_test(articles_say_all_their_words),
        cmocka_unit_test(notes_are_said_without_signs),
    };
    return cmocka_run_group_tests_name("told", tests, NULL, NULL);
}
