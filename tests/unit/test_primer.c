/*
 * Primers: every page of every shipped horn, and of horns with something stuck
 * or missing, is clean; what is printed has been taught.
 */
#include "support/check.h"
#include "support/primer_pages.h"
#include "support/ruler.h"
#include "support/sanitized.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "edition/primer.h"
#include "horn/stuck_list.h"
#include "page/impose.h"
#include "sheet/article/scale_staff.h"
#include "sheet/primer/primer_moves.h"
#include "sheet/primer/primer_taught.h"

static void make(struct solved *solved, struct hbk_primer_made *made)
{
    const struct hbk_primer_wish wish = {.notes = &solved->notes};
    *made = (struct hbk_primer_made){0};
    assert_int_equal(
        hbk_primer_make(&wish, &solved->arena, made, &solved->faults), HBK_OK);
}

static struct hbk_sheet lay(struct solved *solved,
                            const struct hbk_primer *primer,
                            const struct hbk_primer_options *options)
{
    const struct hbk_ruler ruler = fixed_ruler();
    struct hbk_sheet sheet = {.arena = &solved->arena};
    assert_int_equal(hbk_sheet_primer(primer, options, &ruler, &sheet), HBK_OK);
    assert_true(sheet.n_pages > 0);
    return sheet;
}

static void check_clean(struct solved *solved, const struct hbk_primer *primer,
                        struct hbk_primer_options options)
{
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet sheet = lay(solved, primer, &options);
    check_no_clash(&sheet, &ruler);
    check_letters(&sheet);
    if (!options.fold) {
        check_headings(&sheet);
    }
    if (!options.fold) {
        check_asked(&sheet, primer);
    }
    if (!options.fold && primer->lessons->n > 0) {
        check_blank(&sheet, primer);
        if (hbk_horn_n_controls(primer->notes->horn) > 0) {
            check_figures(&sheet, primer);
        }
        check_explained(&sheet);
        check_drawn(&sheet);
        check_staves(&sheet);
        (void)check_parted(&sheet);
        check_full(&sheet);
    }
}

static void check_other_sizes(struct solved *solved,
                              const struct hbk_primer *primer)
{
    const struct hbk_primer_options others[] = {
        {.paper = HBK_A5},
        {.paper = HBK_A5, .fold = true},
        {.paper = HBK_LETTER, .whom = "Ada Fenwick, Larkmoor Band"},
        {.paper = HBK_A4, .large = true}};
    for (size_t i = 0; i < sizeof(others) / sizeof(others[0]); i++) {
        check_clean(solved, primer, others[i]);
    }
}

static void primers_of_shipped_horns_are_clean(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    assert_true(n > 30);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        struct hbk_primer_made made;
        solved_open(&solved, horns[i].name);
        make(&solved, &made);
        check_clean(&solved, &made.primer,
                    (struct hbk_primer_options){.paper = HBK_A4});
        /* Every third horn in the other sizes; the benchmark takes all. */
        if (i % (IS_SANITIZED ? 12 : 3) == 0) {
            check_other_sizes(&solved, &made.primer);
        }
        hbk_primer_finish(&made);
        solved_close(&solved);
    }
    hbk_arena_finish(&arena);
}

/* In the chart's first fingering, and taught by a lesson. */
static void check_taught(const struct hbk_primer *primer, size_t lesson,
                         const struct hbk_tune *tune)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    for (size_t e = 0; tune != NULL && e < tune->n_events; e++) {
        const int written = tune->events[e].note;
        if (tune->events[e].kind == HBK_TUNE_REST) {
            continue;
        }
        const struct hbk_note *const note =
            hbk_notes_find(primer->notes, written);
        assert_non_null(note);
        assert_true(note->n > 0);
        assert_true(written >= lessons->low && written <= lessons->high);
        assert_true(lesson >= 1 && lesson <= lessons->n);
        assert_true(hbk_lesson_knows(&lessons->lessons[lesson - 1], written));
    }
}

/* Bars of an exercise are full. */
static void check_bars(const struct hbk_tune *tune)
{
    for (size_t b = 0; tune != NULL && b < tune->n_bars; b++) {
        assert_true(tune->bars[b].length.num == tune->bars[b].length.den);
    }
}

/* The scales that are written out, fingered as lessons tell. */
static void check_keys(struct hbk_arena *arena, const struct hbk_primer *primer)
{
    const struct hbk_scales *const keys = hbk_primer_keys(primer, arena);
    for (size_t i = 0; i < keys->n_placed; i++) {
        struct hbk_scale_octave octave;
        assert_true(hbk_scale_octave_find(primer->notes,
                                          &keys->keys[keys->order[i]],
                                          HBK_SCALE_CHORD, &octave));
        for (size_t k = 0; k < HBK_SCALE_NOTES; k++) {
            const struct hbk_scale_note *const note =
                hbk_scale_octave_note(&octave, k);
            assert_non_null(note->taken);
            if (note->taken != hbk_primer_taught(primer, note->written)) {
                char label[HBK_LABEL_SIZE];
                hbk_horn_press_label(primer->notes->horn, note->taken->press,
                                     label);
                assert_true(is_told(primer, note->written, label));
            }
        }
    }
}

/* Drills are of the moves that lessons are about, unless these are too many. */
static void check_drills(const struct hbk_primer *primer,
                         const struct hbk_primer_drill *drills, size_t n)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    size_t n_drilled = 0;
    size_t n_moves = 0;
    for (size_t k = 0; k < lessons->n; k++) {
        const struct hbk_lesson *const lesson = &lessons->lessons[k];
        if (lesson->kind != HBK_LESSON_MOVE) {
            continue;
        }
        const uint32_t low = hbk_primer_taught(primer, lesson->from)->press;
        const uint32_t high = hbk_primer_taught(primer, lesson->to)->press;
        bool is_drilled = false;
        for (size_t i = 0; i < n; i++) {
            const uint32_t from =
                hbk_primer_taught(primer, drills[i].low)->press;
            const uint32_t to =
                hbk_primer_taught(primer, drills[i].high)->press;
            is_drilled = is_drilled || (from == low && to == high) ||
                         (from == high && to == low);
        }
        n_moves++;
        n_drilled += is_drilled ? 1 : 0;
    }
    if (n_drilled < n_moves && n_drilled < n) {
        fail_msg("%s: %zu of %zu lessons on moves have no drill, of %zu drills",
                 primer->notes->horn->id, n_moves - n_drilled, n_moves, n);
    }
}

/* All music of a primer. */
static void check_music(struct hbk_arena *arena,
                        const struct hbk_primer *primer)
{
    const size_t last = primer->lessons->n;
    size_t n = 0;
    for (size_t i = 0; i < last; i++) {
        check_taught(primer, i + 1, primer->lessons->lessons[i].study.tune);
    }
    for (size_t i = 0; i < primer->n_tunes; i++) {
        check_taught(primer, primer->tunes[i].after, primer->tunes[i].tune);
    }
    const struct hbk_primer_drill *const drills =
        hbk_primer_drills(primer, arena, &n);
    check_drills(primer, drills, n);
    for (size_t i = 0; i < n; i++) {
        assert_true(drills[i].why[0] != '\0');
        assert_true(drills[i].low < drills[i].high);
        const struct hbk_tune *const tune =
            hbk_primer_drill_tune(primer, &drills[i], arena);
        assert_int_equal(tune->n_bars, 2);
        check_taught(primer, last, tune);
        check_bars(tune);
    }
    const struct hbk_tune *const exercises[] = {
        hbk_primer_slurs(primer, arena), hbk_primer_leading(primer, arena),
        hbk_primer_chromatic(primer, arena),
        hbk_primer_arpeggios(primer, arena)};
    for (size_t i = 0; i < sizeof(exercises) / sizeof(exercises[0]); i++) {
        check_taught(primer, last, exercises[i]);
        check_bars(exercises[i]);
    }
    check_keys(arena, primer);
}

static void what_is_printed_has_been_taught(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        struct hbk_primer_made made;
        solved_open(&solved, horns[i].name);
        make(&solved, &made);
        check_music(&solved.arena, &made.primer);
        hbk_primer_finish(&made);
        solved_close(&solved);
    }
    hbk_arena_finish(&arena);
}

static const struct {
    const char *name, *stuck;
} broken[] = {
    {"keyed-bugle-c-6", "key:1=open"},
    {"keyed-bugle-c-6", "key:2=closed,key:4=closed"},
    {"keyed-bugle-b-flat-6", "key:3=open"},
    {"keyed-bugle-e-flat-9", "key:5=closed,key:6=closed,key:7=closed"},
    {"ophicleide-c-9", "key:1=closed"},
    {"cornet-b-flat", "valve:2=down"},
    {"cornet-b-flat-rotary", "valve:1=up,valve:2=up,valve:3=up"},
    {"cornet-six-independent", "valve:4=up"},
    {"keyed-bugle-c-tone-valve", "key:1=open"},
};

static void so_it_is_within_a_range(void **state)
{
    (void)state;
    static const char *const ranges[][2] = {{"C4", "G4"}, {"B3", "D5"}};
    struct solved solved;
    solved_open(&solved, "cornet-b-flat");
    for (size_t i = 0; i < sizeof(ranges) / sizeof(ranges[0]); i++) {
        const struct hbk_primer_wish wish = {.notes = &solved.notes,
                                             .low = note_of(ranges[i][0]),
                                             .high = note_of(ranges[i][1])};
        struct hbk_primer_made made = {0};
        assert_int_equal(
            hbk_primer_make(&wish, &solved.arena, &made, &solved.faults),
            HBK_OK);
        check_music(&solved.arena, &made.primer);
        check_clean(&solved, &made.primer,
                    (struct hbk_primer_options){.paper = HBK_A4});
        const struct hbk_primer_options options = {.paper = HBK_A4};
        const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
        check_sheet_says(&sheet, i == 0 ? "No key has a whole scale of the "
                                          "notes that the lessons have."
                                        : "F major, from C");
        hbk_primer_finish(&made);
    }
    solved_close(&solved);
}

static void so_it_is_with_something_stuck(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof(broken) / sizeof(broken[0]); i++) {
        struct solved solved;
        struct hbk_primer_made made;
        solved_read(&solved, broken[i].name);
        struct hbk_text why = {.arena = &solved.arena};
        assert_true(hbk_stuck_parse(&solved.horn, NULL, broken[i].stuck,
                                    &solved.setting.stuck, &why));
        solved_run(&solved);
        make(&solved, &made);
        check_music(&solved.arena, &made.primer);
        check_clean(&solved, &made.primer,
                    (struct hbk_primer_options){.paper = HBK_A4});
        hbk_primer_finish(&made);
        solved_close(&solved);
    }
}

/* Where each of some words begins, in their order. */
static void check_order(const struct hbk_sheet *sheet,
                        const char *const words[], size_t n)
{
    const char *at = sheet_words(sheet);
    for (size_t i = 0; i < n; i++) {
        const char *const found = strstr(at, words[i]);
        if (found == NULL) {
            fail_msg("%s: no \"%s\" after what comes before it", sheet->title,
                     words[i]);
        }
        at = found;
    }
}

static void a_beginner_is_told_what_comes(void **state)
{
    (void)state;
    static const char *const told[] = {
        "The keys are numbered from the bell: key 1 is nearest to it",
        "under the right little finger. Left hand: thumb on key 5",
        "Care, before the first note",
        "The first sound",
        "Press nothing",
        "the first lesson wants C4 (0). ",
        "The first five notes",
        "Each note stands on five lines",
        "L is the left hand, R the right",
        "In tune",
        "pull the shank a little further out",
        "Lessons",
        "where that changes, the page says so",
        "Lesson 3: ",
        "Long notes with the tuner",
        "From this lesson on a study has",
        "This tune has no new notes and so no figures",
        "From this tune on, tunes have no",
        "Awkward moves",
        "1. ",
        "2. "};
    struct solved solved;
    struct hbk_primer_made made;
    solved_open(&solved, "keyed-bugle-c-6");
    make(&solved, &made);
    const struct hbk_primer_options options = {.paper = HBK_A4};
    const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
    check_order(&sheet, told, sizeof(told) / sizeof(told[0]));
    assert_non_null(strstr(sheet_words(&sheet),
                           "From C♯4 to D4 leave key 2 down and add key 3 "
                           "(2-3)."));
    /* What is done so is no drill of awkward moves. */
    assert_null(strstr(sheet_words(&sheet), "C♯4 (2) and D4 (3)"));
    assert_null(strstr(sheet_words(&sheet), "drawn straight"));
    const struct hbk_primer_options small = {.paper = HBK_A5};
    const struct hbk_sheet pages = lay(&solved, &made.primer, &small);
    check_sheet_says(&pages, "This is the horn, drawn straight");
    check_sheet_says(&pages, "shank");
    hbk_primer_finish(&made);
    solved_close(&solved);
}

/* Of small pages some tune goes on overleaf. */
static void a_tune_may_go_on_where_the_page_faces(void **state)
{
    (void)state;
    static const char *const names[] = {"keyed-bugle-c-6", "cornet-b-flat",
                                        "ophicleide-c-11", "bass-e-flat"};
    const struct hbk_primer_options small = {.paper = HBK_A5};
    size_t n = 0;
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        struct solved solved;
        struct hbk_primer_made made;
        solved_open(&solved, names[i]);
        make(&solved, &made);
        const struct hbk_sheet pages = lay(&solved, &made.primer, &small);
        n += check_parted(&pages);
        hbk_primer_finish(&made);
        solved_close(&solved);
    }
    assert_true(n > 0);
}

/* Of the music and with few signs; from the fifth where there is no octave. */
static void scales_are_those_of_the_music(void **state)
{
    (void)state;
    static const char *const told[] = {"Scales and movements",
                                       "C major",
                                       "F major",
                                       "G major",
                                       "B\u266D major, from F",
                                       "D major",
                                       "E\u266D major",
                                       "A minor, from E",
                                       "D minor",
                                       "Slurs"};
    struct solved solved;
    struct hbk_primer_made made;
    solved_open(&solved, "keyed-bugle-c-6");
    make(&solved, &made);
    const struct hbk_primer_options options = {.paper = HBK_A5};
    const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
    check_order(&sheet, told, sizeof(told) / sizeof(told[0]));
    /* The finger that stays down for the step from A4 to B4. */
    assert_non_null(strstr(sheet_words(&sheet), "3-5"));
    assert_non_null(strstr(sheet_words(&sheet), "Underlined"));
    assert_null(strstr(sheet_words(&sheet), "F minor"));
    hbk_primer_finish(&made);
    solved_close(&solved);
}

static void a_horn_too_poor_for_lessons_is_told_so(void **state)
{
    (void)state;
    struct solved solved;
    struct hbk_primer_made made;
    solved_open(&solved, "bugle-b-flat");
    /* From C4 to F4 it has one note. */
    const struct hbk_primer_wish wish = {
        .notes = &solved.notes, .low = 60, .high = 65};
    made = (struct hbk_primer_made){0};
    assert_int_equal(
        hbk_primer_make(&wish, &solved.arena, &made, &solved.faults), HBK_OK);
    assert_int_equal(made.primer.lessons->n, 0);
    assert_int_equal(made.primer.n_tunes, 0);
    const struct hbk_primer_options options = {.paper = HBK_A4};
    const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
    check_sheet_says(&sheet, "Notes to play");
    check_sheet_says(&sheet, "The first sound");
    check_sheet_says(&sheet, "There is nothing to press");
    check_sheet_says(&sheet, "The whole gamut");
    assert_null(strstr(sheet_words(&sheet), "Lesson"));
    assert_true(sheet.n_pages <= 4);
    hbk_primer_finish(&made);
    solved_close(&solved);
}

/* Open notes, calls of them, and the one tune they have. */
static void a_duty_bugle_has_music(void **state)
{
    (void)state;
    struct solved solved;
    struct hbk_primer_made made;
    solved_open(&solved, "bugle-b-flat");
    make(&solved, &made);
    assert_true(made.primer.lessons->n > 5);
    assert_int_equal(made.primer.n_tunes, 1);
    const struct hbk_primer_options options = {.paper = HBK_A4};
    const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
    check_sheet_says(&sheet, "a call");
    check_sheet_says(&sheet, "Taps (D. Butterfield)");
    assert_null(strstr(sheet_words(&sheet), "Left out"));
    assert_null(strstr(sheet_words(&sheet), "Every semitone"));
    /* What stands below its notes is what the diagrams count. */
    size_t n = 0;
    for (size_t p = first_after_chart(&sheet); p < sheet.n_pages; p++) {
        for (size_t i = 0; i < sheet.pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet.pages[p].marks[i];
            if (mark->kind == HBK_TEXT && mark->face == HBK_FACE_FIGURE) {
                assert_string_not_equal(mark->text, "0");
                n++;
            }
        }
    }
    assert_true(n > 20);
    hbk_primer_finish(&made);
    solved_close(&solved);
}

/* A page of nothing but its name. */
static void add_page(struct hbk_pad *pad, struct hbk_paper_size size,
                     const char *name)
{
    hbk_pad_page(pad, size, name);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(pad, 20.0, 20.0,
                 (struct hbk_style){.face = HBK_FACE_PLAIN, .size = 4.0}, name);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}

/* The names on one side of a sheet, left to right. */
static const char *names_on(struct hbk_arena *arena,
                            const struct hbk_page *page)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < page->n; i++) {
        if (page->marks[i].kind == HBK_TEXT) {
            hbk_text_addf(&text, "%s%s%s",
                          page->marks[i].x > 0.5 * page->width ? "|" : "",
                          page->marks[i].text,
                          page->marks[i].x > 0.5 * page->width ? "" : " ");
        }
    }
    return hbk_text_string(&text);
}

static void check_folded(size_t n, bool has_middle, size_t n_sides,
                         const char *const sides[])
{
    struct hbk_arena arena = {0};
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_paper_size a4 = hbk_paper_turned(hbk_paper_size(HBK_A4));
    struct hbk_sheet pages = {.arena = &arena};
    struct hbk_sheet plate = {.arena = &arena};
    struct hbk_sheet sheet = {.arena = &arena};
    struct hbk_pad pad = {.sheet = &pages, .ruler = &ruler};
    for (size_t i = 1; i <= n; i++) {
        add_page(&pad, hbk_paper_size(HBK_A5),
                 hbk_arena_printf(&arena, "%zu", i));
    }
    pad = (struct hbk_pad){.sheet = &plate, .ruler = &ruler};
    add_page(&pad, a4, "plate");
    pad = (struct hbk_pad){.sheet = &sheet, .ruler = &ruler};
    const struct hbk_folding how = {
        .paper = a4, .middle = has_middle ? &plate.pages[0] : NULL};
    hbk_fold(&pad, &how, &pages);
    assert_int_equal(sheet.n_pages, n_sides);
    for (size_t i = 0; i < n_sides; i++) {
        assert_string_equal(names_on(&arena, &sheet.pages[i]), sides[i]);
    }
    hbk_arena_finish(&arena);
}

static void folded_pages_follow_each_other(void **state)
{
    (void)state;
    static const char *const four[] = {"4 |1", "2 |3"};
    static const char *const five[] = {"|1", "2 ", "|3", "4 |5"};
    static const char *const six[] = {"6 |1", "2 |5", "4 |3", "plate "};
    check_folded(4, false, 2, four);
    check_folded(5, false, 4, five);
    check_folded(6, true, 4, six);
    assert_int_equal(hbk_folded_pages(6, true), 8);
    assert_int_equal(hbk_folded_pages(7, true), 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(primers_of_shipped_horns_are_clean),
        cmocka_unit_test(what_is_printed_has_been_taught),
        cmocka_unit_test(so_it_is_within_a_range),
        cmocka_unit_test(so_it_is_with_something_stuck),
        cmocka_unit_test(a_beginner_is_told_what_comes),
        cmocka_unit_test(a_tune_may_go_on_where_the_page_faces),
        cmocka_unit_test(scales_are_those_of_the_music),
        cmocka_unit_test(a_horn_too_poor_for_lessons_is_told_so),
        cmocka_unit_test(a_duty_bugle_has_music),
        cmocka_unit_test(folded_pages_follow_each_other),
    };
    return cmocka_run_group_tests_name("primer", tests, NULL, NULL);
}
