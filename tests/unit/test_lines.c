#include "support/scores.h"

#include "tune/melody/line.h"
#include "tune/melody/part_name.h"

/*
 * Chords, overlays and second voices, and which line of them is read; parts,
 * and which one is read for whom.
 */

/* What is read of a tune, as played; and what is warned of it. */
static void check_line(const char *name, const char *text, int line,
                       const char *want)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.line = line};
    const enum hbk_status status = hbk_tune_read_bytes(
        name, text, strlen(text), &options, &document, &faults);
    if (status != HBK_OK) {
        print_faults(&faults);
    }
    assert_int_equal(status, HBK_OK);
    assert_string_equal(played_text(&document.tune, &arena), want);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void a_chord_gives_the_note_of_its_line(void **state)
{
    (void)state;
    static const struct {
        const char *abc;
        int line;
        const char *want;
    } cases[] = {
        {ABC("C[EG]c2|"), 0, "C4 1/4, G4 1/4, C5 1/2"},
        {ABC("C[EG]c2|"), HBK_TUNE_LINE_BOTTOM, "C4 1/4, E4 1/4, C5 1/2"},
        {ABC("[CEGc]4|"), 3, "E4 1"},
        /* Whoever counts further than there are notes plays the lowest. */
        {ABC("[CEG]4|"), 9, "C4 1"},
        /* Written from the bottom or the top, spelled one way or another. */
        {ABC("[gec]2[^AB]2|"), 1, "G5 1/2, B4 1/2"},
        {ABC("[gec]2[^AB]2|"), HBK_TUNE_LINE_BOTTOM, "C5 1/2, A#4 1/2"},
        /* Lengths inside, outside and both; the first note counts. */
        {ABC("[C2E2][CE]2|"), 1, "E4 1/2, E4 1/2"},
        {ABC("[C/E/]2[C2E]3/2|"), 1, "E4 1/4, E4 3/4"},
        {ABC("[CE]>[DF] (3[CE]FG A|"), 1,
         "E4 3/8, F4 1/8, E4 1/6, F4 1/6, G4 1/6, A4 1/4"},
        /* Accidentals hold for the bar, whichever line they stand in. */
        {ABC("[^CE]C[CE]2|"), HBK_TUNE_LINE_BOTTOM,
         "C#4 1/4, C#4 1/4, C#4 1/2"},
        {ABC("[^CE]2c2|"), 1, "E4 1/2, C#5 1/2"},
        /* Ties outside and inside, and one that another note ends. */
        {ABC("[CE]2-[CE]2|"), 1, "E4 1"},
        {ABC("[C-^F-]2[CG]2|F4|"), 1, "F#4 1/2, G4 1/2, F4 1"},
        {ABC("[^F-A]4|[FA]4|"), HBK_TUNE_LINE_BOTTOM, "F#4 2"},
        {ABC("[C-E-]4|E2C2|"), 1, "E4 3/2, C4 1/2"},
        {ABC("[C E] [\"_1\"C!accent!E] [zC] [(CE)]|"), 1,
         "E4 1/4, E4 1/4, C4 1/4, E4 1/4"},
        {ABC("{[ce]}[A=F]4|"), 1, "A4 1"},
        /* Brackets that are no chords. */
        {ABC("[M:3/4][CE]3|[1 C3:|[2 E3|]"), 1,
         "E4 3/4, C4 3/4, E4 3/4, E4 3/4"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        check_line(cases[i].abc, cases[i].abc, cases[i].line, cases[i].want);
    }
}

static void what_a_chord_carries_stays_with_the_note(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc",
              ABC("(!fermata!\"_1-3\"[CE][DF]) {/[ce]}[.C(E] F)|[C4E4]|"),
              &document, &faults);
    const struct hbk_tune_event *const e = document.tune.events;
    assert_int_equal(document.tune.n_events, 6);
    assert_int_equal(e[0].slur_starts, 1);
    assert_int_equal(e[0].articulation, HBK_TUNE_FERMATA);
    assert_string_equal(e[0].fingering, "1-3");
    assert_int_equal(e[1].slur_stops, 1);
    assert_int_equal(e[2].kind, HBK_TUNE_GRACE);
    assert_int_equal(e[2].note, 76);
    assert_true(e[2].slash);
    assert_int_equal(e[3].articulation, HBK_TUNE_STACCATO);
    assert_int_equal(e[3].slur_starts, 1);
    assert_int_equal(e[4].slur_stops, 1);
    assert_int_equal(document.tune.line.number, 1);
    assert_int_equal(document.tune.line.chords, 5);
    assert_int_equal(document.tune.line.bars, 0);
    assert_int_equal(faults.count, 1);
    assert_string_equal(faults.items[0].text,
                        "5 chords: the top note is taken; --line bottom takes "
                        "the other");
    hbk_tune_document_finish(&document);
}

static void an_overlay_is_a_voice_of_its_bar(void **state)
{
    (void)state;
    static const struct {
        const char *abc;
        int line;
        const char *want;
    } cases[] = {
        {ABC("cdef & C4|g4|"), 1, "C5 1/4, D5 1/4, E5 1/4, F5 1/4, G5 1"},
        {ABC("cdef & C4|g4|"), HBK_TUNE_LINE_BOTTOM, "C4 1, G5 1"},
        {ABC("c4 & E4 & C4|"), 2, "E4 1"},
        /* Lines count through the chords of the voices. */
        {ABC("[ce]4 & E4 & C4|"), 2, "C5 1"},
        {ABC("[ce]4 & E4 & C4|"), 3, "E4 1"},
        {ABC("[ce]4 & E4 & C4|"), 8, "C4 1"},
        /* Rests that are written are kept, */
        {ABC("z4 & C4|"), 1, "r 1"},
        {ABC("c2 z2 & z2 C2|"), HBK_TUNE_LINE_BOTTOM, "r 1/2, C4 1/2"},
        /* what is left out is what the other voice has: before, after, */
        {ABC("A B c d & x2 E F|"), HBK_TUNE_LINE_BOTTOM,
         "A4 1/4, B4 1/4, E4 1/4, F4 1/4"},
        {ABC("A B c d & E2 x2|"), HBK_TUNE_LINE_BOTTOM,
         "E4 1/2, C5 1/4, D5 1/4"},
        {ABC("A B & E4|"), 1, "A4 1/4, B4 1/4, r 1/2"},
        {ABC("x4 & E4|"), 1, "E4 1"},
        /* cut short where its own voice goes on. */
        {ABC("A4 & x2 E2|"), HBK_TUNE_LINE_BOTTOM, "A4 1/2, E4 1/2"},
        /* Accidentals and ties are those of a voice. */
        {ABC("^c4 & c2c2|c4|"), HBK_TUNE_LINE_BOTTOM, "C5 1/2, C5 1/2, C5 1"},
        {ABC("c4- & C4-|c4 & C4|"), 1, "C5 2"},
        {ABC("c4- & C4-|c4 & C4|"), HBK_TUNE_LINE_BOTTOM, "C4 2"},
        {ABC("c4- & C4-|c2C2|"), HBK_TUNE_LINE_BOTTOM, "C4 1, C5 1/2, C4 1/2"},
        /* Tuplets and meters keep their places. */
        {ABC("(3cde f2 & C2 D2|[M:2/4]g2|"), HBK_TUNE_LINE_BOTTOM,
         "C4 1/2, D4 1/2, G5 1/2"},
        {ABC("c2 d2 & C2 (3DEF G|A4|"), HBK_TUNE_LINE_BOTTOM,
         "C4 1/2, D4 1/6, E4 1/6, F4 1/6, G4 1/4, A4 1"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        check_line(cases[i].abc, cases[i].abc, cases[i].line, cases[i].want);
    }
}

static void what_stands_around_an_overlay_stays_in_its_place(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc",
              ABC("cdef & CDEF & x4|(3[ce]de f2 & (3CDE F2|[M:2/4][K:G][Q:1/4="
                  "90]f2|"),
              &document, &faults);
    const struct hbk_tune *const tune = &document.tune;
    assert_int_equal(tune->n_bars, 3);
    assert_int_equal(tune->bars[1].first, 4);
    assert_int_equal(tune->bars[2].first, 8);
    assert_int_equal(tune->n_events, 9);
    assert_int_equal(tune->n_tuplets, 1);
    assert_int_equal(tune->tuplets[0].first, 4);
    assert_int_equal(tune->tuplets[0].count, 3);
    assert_int_equal(tune->meters[1].event, 8);
    assert_int_equal(tune->keys[1].event, 8);
    assert_int_equal(tune->tempos[0].event, 8);
    assert_int_equal(tune->line.bars, 2);
    assert_int_equal(tune->line.chords, 1);
    assert_string_equal(hbk_line_words(&arena, &tune->line),
                        "the top line of chords and voices");
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void marks_and_words_go_with_the_line(void **state)
{
    (void)state;
    static const char text[] =
        ABC("!p![ce]d!f!ef & !mf!C2 D2|\"dolce\"[CE]4|") "w: one two three "
                                                         "four five\n";
    static const int lines[] = {1, HBK_TUNE_LINE_BOTTOM};
    static const char *const marks[] = {"0 p, 2 f, 4 dolce", "0 mf, 2 dolce"};
    static const char *const words[] = {"0 one, 1 two, 2 three, 3 four, 4 five",
                                        "2 five"};
    struct hbk_arena arena = {.newest = NULL};
    for (size_t l = 0; l < COUNT(lines); l++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const struct hbk_tune_options options = {.line = lines[l]};
        assert_int_equal(hbk_tune_read_bytes("t.abc", text, strlen(text),
                                             &options, &document, &faults),
                         HBK_OK);
        const struct hbk_tune_marks *const found = &document.tune.marks;
        struct hbk_text got = {.arena = &arena};
        for (size_t i = 0; i < found->n; i++) {
            hbk_text_addf(&got, "%s%zu %s", i == 0 ? "" : ", ",
                          found->items[i].at.event, found->items[i].text);
        }
        assert_string_equal(hbk_text_string(&got), marks[l]);
        struct hbk_text sung = {.arena = &arena};
        for (size_t i = 0; i < found->n_syllables; i++) {
            hbk_text_addf(&sung, "%s%zu %s", i == 0 ? "" : ", ",
                          found->syllables[i].event, found->syllables[i].text);
        }
        assert_string_equal(hbk_text_string(&sung), words[l]);
        assert_true(has_fault(&faults, 268)); /* those of the other voice */
        hbk_tune_document_finish(&document);
    }
    hbk_arena_finish(&arena);
}

static void marks_of_one_voice_are_for_both(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.line = HBK_TUNE_LINE_BOTTOM};
    static const char text[] =
        ABC("[Q:1/4=90]!p!cd!f!ef & C4|\"rit.\"cd!ff!ef & !mf!C2 D2|");
    assert_int_equal(hbk_tune_read_bytes("t.abc", text, strlen(text), &options,
                                         &document, &faults),
                     HBK_OK);
    static const char *const want[] = {"", "p", "f", "rit.", "mf"};
    static const double time[] = {0.0, 0.0, 0.5, 1.0, 1.0};
    assert_int_equal(document.tune.marks.n, COUNT(want));
    for (size_t i = 0; i < COUNT(want); i++) {
        const struct hbk_tune_mark *const mark = &document.tune.marks.items[i];
        assert_string_equal(mark->text, want[i]);
        check_abs(hbk_ratio_value(mark->at.time), time[i], 1e-12);
    }
    hbk_tune_document_finish(&document);
}

static void brackets_that_close_nowhere_are_refused(void **state)
{
    (void)state;
    read_bad("t.abc", ABC("C[EG"), 229, "t.abc:5:2");
    read_bad("t.abc", ABC("C[E|G]"), 229, "chord");
    read_bad("t.abc", ABC("C[E[G]]"), 229, "chord");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", ABC("C[ z]CCC|(& c4|d4 & C4|D4 &)|"), &document,
              &faults);
    assert_true(has_fault(&faults, 228));
    assert_true(has_fault(&faults, 289));
    hbk_tune_document_finish(&document);
}

static void a_line_has_a_word(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    static const char *const words[] = {"top", "bottom", "2", "9"};
    for (size_t i = 0; i < COUNT(words); i++) {
        int number = 0;
        assert_true(hbk_line_parse(words[i], &number));
        assert_string_equal(hbk_line_word(&arena, number), words[i]);
    }
    static const char *const none[] = {"", "0", "10", "-1", "Top", "2 "};
    for (size_t i = 0; i < COUNT(none); i++) {
        int number = 7;
        assert_false(hbk_line_parse(none[i], &number));
        assert_int_equal(number, 7);
    }
    hbk_arena_finish(&arena);
}

static void a_part_is_found_by_its_name(void **state)
{
    (void)state;
    static const char *const band[] = {
        "Solo Cornet", "Cornet in B\u266D", "Cornet 1",
        "Cornet 2",    "Alto horn in Eb",   "Alto",
        "Bass",        "Side drum",         "",
        "B flat"};
    static const struct {
        const char *player, *horn;
        size_t found;
    } cases[] = {
        {NULL, "Cornet in B flat, three pistons", 1},
        {NULL, "Cornet in E flat, rotary", COUNT(band)},
        {"Solo cornet", "Cornet in B flat, three pistons", 0},
        {"Ada Fenwick", "Alto horn in E\u266D", 4},
        {NULL, "Alto in F", 5},
        {NULL, "Bass in E flat", 6},
        {NULL, "Ophicleide in C", COUNT(band)},
        {NULL, "Horn in B flat", COUNT(band)},
        {NULL, NULL, COUNT(band)},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        const struct hbk_tune_options options = {.player = cases[i].player,
                                                 .horn = cases[i].horn};
        assert_int_equal(hbk_part_by_name(&options, band, COUNT(band)),
                         cases[i].found);
    }
    static const char *const twins[] = {"Cornet", "cornet", "Bass"};
    const struct hbk_tune_options options = {.horn = "Cornet in B flat"};
    assert_int_equal(hbk_part_by_name(&options, twins, 3), 3);
    assert_int_equal(hbk_part_by_name(NULL, twins, 3), 3);
}

static void a_score_gives_a_horn_its_own_part(void **state)
{
    (void)state;
    static const char voices[] =
        "X:1\nM:4/4\nL:1/4\nK:C\nV:Bugle\nc4|\nV:Bass\nC4|\n";
    struct hbk_arena arena = {.newest = NULL};
    const char *const names[] = {"tests/data/scores/timewise.musicxml", NULL};
    for (size_t i = 0; i < COUNT(names); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const struct hbk_tune_options options = {
            .horn = i == 0 ? "Alto horn in E flat" : "Bass in C"};
        assert_int_equal(
            i == 0 ? hbk_tune_read(names[i], &options, &document, &faults)
                   : hbk_tune_read_bytes("t.abc", voices, strlen(voices),
                                         &options, &document, &faults),
            HBK_OK);
        assert_string_equal(played_text(&document.tune, &arena),
                            i == 0 ? "E4 1, F4 1" : "C4 1");
        assert_true(has_fault(&faults, 291));
        hbk_tune_document_finish(&document);
    }
    hbk_arena_finish(&arena);
}

/* A bar of 40,000 notes at once, and one of as many voices, end in time. */
static void crowds_are_read_in_time(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_text text = {.arena = &arena};
    hbk_text_add(&text, "<measure>" DIVISIONS("1") NOTE("C", "4", "4", ""));
    for (int i = 0; i < 40000; i++) {
        hbk_text_addf(&text,
                      "<note><chord/><pitch><step>G</step><octave>%d</octave>"
                      "</pitch><duration>4</duration></note>",
                      i % 9);
    }
    hbk_text_add(&text, "</measure>");
    check_line("t.xml", score(&arena, hbk_text_string(&text)), 1, "G8 1");
    struct hbk_text voices = {.arena = &arena};
    hbk_text_add(&voices, "<measure>" DIVISIONS("1"));
    for (int i = 0; i < 20000; i++) {
        hbk_text_addf(&voices,
                      NOTE("C", "4", "4", "<voice>%d</voice>") "<backup>"
                                                               "<duration>4"
                                                               "</duration>"
                                                               "</backup>",
                      i);
    }
    hbk_text_add(&voices, "</measure>");
    check_line("t.xml", score(&arena, hbk_text_string(&voices)), 1, "C4 1");
    struct hbk_text overlays = {.arena = &arena};
    hbk_text_add(&overlays, "X:1\nL:1/4\nK:C\n");
    for (int i = 0; i < 20000; i++) {
        hbk_text_add(&overlays, "C4&{c}");
    }
    hbk_text_add(&overlays, "C4|\n");
    check_line("t.abc", hbk_text_string(&overlays), 1, "C4 1");
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_chord_gives_the_note_of_its_line),
        cmocka_unit_test(what_a_chord_carries_stays_with_the_note),
        cmocka_unit_test(an_overlay_is_a_voice_of_its_bar),
        cmocka_unit_test(what_stands_around_an_overlay_stays_in_its_place),
        cmocka_unit_test(marks_and_words_go_with_the_line),
        cmocka_unit_test(marks_of_one_voice_are_for_both),
        cmocka_unit_test(brackets_that_close_nowhere_are_refused),
        cmocka_unit_test(a_line_has_a_word),
        cmocka_unit_test(a_part_is_found_by_its_name),
        cmocka_unit_test(a_score_gives_a_horn_its_own_part),
        cmocka_unit_test(crowds_are_read_in_time),
    };
    return cmocka_run_group_tests_name("lines", tests, NULL, NULL);
}
