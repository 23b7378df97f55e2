#include "support/scores.h"

#include "base/file.h"
#include "tune/melody/line.h"

/*
 * The scores of tests/data/scores: which line of them is read, and where its
 * fingerings go, in ABC as well.
 */

/* The scores of tests/data/scores, and what each line of them is. */
static const struct {
    const char *name;
    const char *top, *bottom; /* bottom NULL for the same */
} scores[] = {
    {"chords", "G4 1/4, A4 1/8, B4 1/8, E5 3/4, E5 1/4, Bb4 1/2, G4 1",
     "C4 1/4, F4 1/8, G4 1/8, C5 3/4, A4 1/4, Bb3 1/2, D4 1"},
    {"two-voices",
     "A4 1/4, Bb4 1/4, C5 1/2, D5 1, C5 1/4, A4 1/4, F4 1/4, A4 1/4, r 1, F4 "
     "3/4, r 1/4, A4 1",
     "F4 1/2, F4 1/4, E4 1/4, D5 1, C5 1/4, A4 1/4, D4 1/4, C4 1/4, C4 1/2, D4 "
     "1/2, F4 1/2, C4 1/2, C4 1"},
    {"one-voice-overlaps", "E5 1, C5 1", "C4 1/4, D4 1/4, E4 1/2, C5 1"},
    {"two-staves", "F#5 1/4, E5 1/4, D5 1/4, A4 1/4, D4 1/4, A4 1/4, r 3/4",
     "D3 3/4, r 3/4, F#3 1/4, G3 1/4, A3 1/4"},
    {"one-voice-two-staves", "C5 1, D5 1/2, E5 1/2", "C3 1/2, G3 1/2, G3 1"},
    {"pitched-rests", "r 1/2, C5 1/2", "C4 1/2, r 1/2"},
    {"backups", "C5 1/2, D5 1/2, C5 1/4, E4 1/2, G4 1/2",
     "C4 1, C4 1/4, E4 1/2, G4 1/2"},
    {"tablature", "C4 1/2, E4 1/2", NULL},
    {"percussion-and-bugle", "r 1/4, C5 1/4, G4 1/2", NULL},
    {"drums-and-cornet", "C5 1", NULL},
    {"rests-only", "r 1, r 1/4, r 1/4, r 1/2, r 1", NULL},
    {"no-divisions", "C5 1, D5 1/2, E5 1/2", NULL},
    {"no-part-list", "C5 1", NULL},
    {"no-meter-no-key", "C5 1, D5 1, E5 1/4", NULL},
    {"double-stop-rests", "r 1/2, C5 1/2", NULL},
    {"chord-without-first", "C5 1, G5 1", "C5 1, E5 1"},
    {"cues", "r 1, G4 1, C4 1, r 1, G4 1", NULL},
    {"pitches",
     "C##4 1/4, Dbb5 1/4, F4 1/4, Bb4 1/4, A#4 1/4, Abb4 1/4, C4 1/4, G4 1/4",
     NULL},
    {"graces", "C5 1/4, F5 1/4, G4 1/4, C5 1/4, E4 1/2, r 1/2, r 1, G4 1",
     "C5 1/4, F5 1/4, G4 1/4, C5 1/4, C4 1/2, r 1/2, r 1, G4 1"},
    {"meters",
     "C5 1, C5 1, C5 3/8, D5 1/4, C5 1/2, D5 3/8, E5 3/4, C5 1, D5 1/4, C5 "
     "1/2, D5 3/4, C5 3/4, C5 1/4, C5 1",
     NULL},
};

static void every_score_reads_as_its_line(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    for (size_t i = 0; i < COUNT(scores); i++) {
        for (int line = HBK_TUNE_LINE_BOTTOM; line <= 1; line += 2) {
            struct hbk_tune_document document = {.source = NULL};
            struct hbk_faults faults = {.count = 0};
            const struct hbk_tune_options options = {.line = line};
            const char *const path = hbk_arena_printf(
                &arena, "tests/data/scores/%s.musicxml", scores[i].name);
            const enum hbk_status status =
                hbk_tune_read(path, &options, &document, &faults);
            const bool is_bottom = line < 0 && scores[i].bottom != NULL;
            const char *const got = status == HBK_OK
                                        ? played_text(&document.tune, &arena)
                                        : "refused";
            if (strcmp(got, is_bottom ? scores[i].bottom : scores[i].top) !=
                0) {
                print_message("# %s, line %d\n", scores[i].name, line);
                print_faults(&faults);
            }
            assert_string_equal(got,
                                is_bottom ? scores[i].bottom : scores[i].top);
            hbk_tune_document_finish(&document);
        }
    }
    hbk_arena_finish(&arena);
}

static void what_was_left_is_counted(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        size_t n;
        const char *first;
    } told[] = {
        {"chords", 1,
         "9 chords: the top note is taken; --line 2 or --line bottom takes "
         "another"},
        {"two-voices", 2,
         "1 chord: the top note is taken; --line 2 or --line bottom takes "
         "another"},
        {"one-voice-overlaps", 1,
         "1 bar with a second voice: the upper one is taken; --line bottom "
         "takes the other"},
        {"two-staves", 1,
         "2 staves: the upper one is taken; --line 2 or --line bottom takes "
         "another"},
        {"rests-only", 1, "there are only rests in it"},
        {"drums-and-cornet", 1,
         "of 2 parts only Cornet has notes with pitch; it is read"},
        {"cues", 1, "4 cue notes are not on the sheet"},
    };
    struct hbk_arena arena = {.newest = NULL};
    for (size_t i = 0; i < COUNT(told); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const char *const path = hbk_arena_printf(
            &arena, "tests/data/scores/%s.musicxml", told[i].name);
        assert_int_equal(hbk_tune_read(path, NULL, &document, &faults), HBK_OK);
        if (faults.count != told[i].n) {
            print_faults(&faults);
        }
        assert_int_equal(faults.count, told[i].n);
        assert_string_equal(faults.count == 0 ? "" : faults.items[0].text,
                            told[i].first);
        hbk_tune_document_finish(&document);
    }
    hbk_arena_finish(&arena);
}

static void bars_of_other_voices_are_counted(void **state)
{
    (void)state;
    static const struct {
        int line;
        size_t bars;
    } cases[] = {{1, 5}, {HBK_TUNE_LINE_BOTTOM, 4}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const struct hbk_tune_options options = {.line = cases[i].line};
        assert_int_equal(hbk_tune_read("tests/data/scores/two-voices.musicxml",
                                       &options, &document, &faults),
                         HBK_OK);
        assert_int_equal(document.tune.line.bars, cases[i].bars);
        assert_int_equal(document.tune.line.chords, 1 - (int)i);
        hbk_tune_document_finish(&document);
    }
}

static void the_clef_is_that_of_the_staff(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.line = HBK_TUNE_LINE_BOTTOM};
    assert_int_equal(hbk_tune_read("tests/data/scores/two-staves.musicxml",
                                   &options, &document, &faults),
                     HBK_OK);
    assert_int_equal(document.tune.n_clefs, 2);
    assert_int_equal(document.tune.clefs[0].sign, 'F');
    assert_int_equal(document.tune.clefs[1].sign, 'C');
    assert_int_equal(document.tune.clefs[1].event, 2);
    assert_int_equal(document.tune.keys[0].fifths, 2);
    hbk_tune_document_finish(&document);
    faults = (struct hbk_faults){.count = 0};
    assert_int_equal(hbk_tune_read("tests/data/scores/two-staves.musicxml",
                                   NULL, &document, &faults),
                     HBK_OK);
    assert_int_equal(document.tune.n_clefs, 1);
    assert_int_equal(document.tune.clefs[0].sign, 'G');
    hbk_tune_document_finish(&document);
}

/* A fingering for every event, told apart by its number. */
static const struct hbk_tune_fingering *numbered(const struct hbk_tune *tune,
                                                 struct hbk_arena *arena)
{
    struct hbk_tune_fingering *const all =
        HBK_ARENA_ARRAY(arena, struct hbk_tune_fingering, tune->n_events + 1);
    for (size_t i = 0; i < tune->n_events; i++) {
        all[i].main = hbk_arena_printf(arena, "f%zu", i);
    }
    return all;
}

/* Written in, read again and taken out; grace notes have none in ABC. */
static void check_round_trip(const char *name, const char *text, int line)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_tune_document again = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.line = line};
    const bool is_abc = text[0] == 'X';
    assert_int_equal(hbk_tune_read_bytes(name, text, strlen(text), &options,
                                         &document, &faults),
                     HBK_OK);
    struct hbk_text written = {.arena = &arena};
    struct hbk_text bare[2] = {{.arena = &arena}, {.arena = &arena}};
    assert_int_equal(hbk_tune_annotate(&document, document.format,
                                       numbered(&document.tune, &arena), NULL,
                                       &written, &faults),
                     HBK_OK);
    assert_int_equal(hbk_tune_read_bytes(name, hbk_text_string(&written),
                                         written.length, &options, &again,
                                         &faults),
                     HBK_OK);
    assert_int_equal(again.tune.n_events, document.tune.n_events);
    for (size_t i = 0; i < again.tune.n_events; i++) {
        const struct hbk_tune_event *const event = &again.tune.events[i];
        if (event->kind == HBK_TUNE_REST || event->head != i ||
            (is_abc && event->kind == HBK_TUNE_GRACE)) {
            continue;
        }
        assert_non_null(event->fingering);
        assert_string_equal(event->fingering,
                            hbk_arena_printf(&arena, "f%zu", i));
    }
    assert_int_equal(
        hbk_tune_strip(&document, document.format, &bare[0], &faults), HBK_OK);
    assert_int_equal(hbk_tune_strip(&again, again.format, &bare[1], &faults),
                     HBK_OK);
    assert_string_equal(hbk_text_string(&bare[1]), hbk_text_string(&bare[0]));
    assert_string_equal(hbk_text_string(&bare[1]), text);
    hbk_tune_document_finish(&again);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void fingerings_go_to_the_notes_of_the_line(void **state)
{
    (void)state;
    static const char *const tunes[] = {
        ABC("C[EG]c2|[CE]2-[CE]2|{[ce]}[A=F]4|"),
        ABC("A B c d & E2 x2|{g}A2 Bc & x2 E2 & C4|[CE]4 & x2 G2|"),
        ABC("A4 & x2 E2|\"^a\"c4 & \"G7\"C4|"),
    };
    static const int lines[] = {1, 2, 3, HBK_TUNE_LINE_BOTTOM};
    struct hbk_arena arena = {.newest = NULL};
    for (size_t l = 0; l < COUNT(lines); l++) {
        for (size_t i = 0; i < COUNT(tunes); i++) {
            check_round_trip("t.abc", tunes[i], lines[l]);
        }
        for (size_t i = 0; i < COUNT(scores); i++) {
            struct hbk_faults faults = {.count = 0};
            const char *const path = hbk_arena_printf(
                &arena, "tests/data/scores/%s.musicxml", scores[i].name);
            char *bytes = NULL;
            size_t length = 0;
            assert_int_equal(
                hbk_file_read(path, 1000000, &arena, &bytes, &length, &faults),
                HBK_OK);
            check_round_trip(path, bytes, lines[l]);
        }
    }
    hbk_arena_finish(&arena);
}

/* In the file, not only in what is read back: the note of the chord. */
static void the_fingering_stands_in_the_note_itself(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const char *const text = score(
        &arena,
        "<measure>" DIVISIONS("1") NOTE(
            "C", "4", "4",
            "") "<note><chord/><pitch><step>G</step><octave>4</octave></pitch>"
                "<duration>4</duration></note></measure>");
    read_good("t.xml", text, &document, &faults);
    struct hbk_text out = {.arena = &arena};
    assert_int_equal(hbk_tune_annotate(&document, document.format,
                                       numbered(&document.tune, &arena), NULL,
                                       &out, &faults),
                     HBK_OK);
    const char *const written = hbk_text_string(&out);
    const char *const fingering = strstr(written, ">f0<");
    assert_non_null(fingering);
    assert_true(fingering > strstr(written, "<chord/>"));
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* Two players of one staff keep theirs in one file, at their own notes. */
static void each_line_keeps_its_fingerings(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    static const int lines[] = {1, HBK_TUNE_LINE_BOTTOM};
    struct hbk_text text = {.arena = &arena};
    struct hbk_faults faults = {.count = 0};
    char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(hbk_file_read("tests/data/scores/chords.musicxml", 1000000,
                                   &arena, &bytes, &length, &faults),
                     HBK_OK);
    hbk_text_put(&text, bytes, length);
    for (size_t round = 0; round < 4; round++) {
        struct hbk_tune_document document = {.source = NULL};
        const struct hbk_tune_options options = {.line = lines[round % 2]};
        struct hbk_text next = {.arena = &arena};
        assert_int_equal(
            hbk_tune_read_bytes("c.musicxml", hbk_text_string(&text),
                                text.length, &options, &document, &faults),
            HBK_OK);
        assert_int_equal(hbk_tune_annotate(&document, document.format,
                                           numbered(&document.tune, &arena),
                                           NULL, &next, &faults),
                         HBK_OK);
        hbk_tune_document_finish(&document);
        text = next;
    }
    size_t n = 0;
    for (const char *at = strstr(hbk_text_string(&text), ">f"); at != NULL;
         at = strstr(at + 1, ">f")) {
        n += at[2] == '0';
    }
    assert_int_equal(n, 2); /* f0 of the top and of the bottom */
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_score_reads_as_its_line),
        cmocka_unit_test(what_was_left_is_counted),
        cmocka_unit_test(bars_of_other_voices_are_counted),
        cmocka_unit_test(the_clef_is_that_of_the_staff),
        cmocka_unit_test(fingerings_go_to_the_notes_of_the_line),
        cmocka_unit_test(the_fingering_stands_in_the_note_itself),
        cmocka_unit_test(each_line_keeps_its_fingerings),
    };
    return cmocka_run_group_tests_name("lines_scores", tests, NULL, NULL);
}
