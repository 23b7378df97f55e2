#include "support/passages.h"

#include "horn/horn.h"
#include "passage/timing.h"
#include "tune/melody/transpose.h"

/* What is found for a passage, against what players do. */

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* All 31 notes as taught (common practice, no source), slowly. */
static void a_slow_chromatic_scale_is_as_taught(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_run(&p,
               "F#3 G3 G#3 A3 Bb3 B3 C4 C#4 D4 Eb4 E4 F4 F#4 G4 G#4 A4 Bb4 B4 "
               "C5 C#5 D5 Eb5 E5 F5 F#5 G5 G#5 A5 Bb5 B5 C6",
               60.0);
    assert_string_equal(
        played_labels(&p),
        "1-2-3 1-3 2-3 1-2 1 2 0 1-2-3 1-3 2-3 1-2 1 2 0 2-3 1-2 1 2 0 1-2 1 2 "
        "0 1 2 0 2-3 1-2 1 2 0");
    assert_int_equal(p.passage.n_departures, 0);
    assert_int_equal(p.passage.n_hard, 0);
    played_close(&p);
}

/* Airs that everybody knows, at the tempo written over them. */
static void plain_tunes_are_as_taught(void **state)
{
    (void)state;
    static const char *const horns[] = {"cornet-b-flat", "cornopean-b-flat",
                                        "keyed-bugle-c-6"};
    for (size_t h = 0; h < COUNT(horns); h++) {
        struct played p;
        played_horn(&p, horns[h]);
        for (int x = 1; x <= 12; x++) {
            char number[8];
            (void)snprintf(number, sizeof(number), "%d", x);
            const struct hbk_tune_options which = {.tune = number};
            struct hbk_faults faults = {.count = 0};
            played_forget(&p);
            assert_int_equal(hbk_tune_read("tests/data/tunes.abc", &which,
                                           &p.document, &faults),
                             HBK_OK);
            played_find(&p, (double)NAN, false, 1);
            assert_int_equal(p.passage.n_out, 0);
            assert_int_equal(p.passage.n_hard, 0);
            /* Its dotted figure is quick enough for two B's on the bugle. */
            const bool quick = x == 7 && h == 2;
            assert_int_equal(p.passage.n_departures, quick ? 2 : 0);
        }
        played_close(&p);
    }
}

/*
 * What players do when it goes fast (common practice, no source): shakes
 * stay on one partial, and one finger does them.
 */
static void fast_shakes_keep_partial_and_fingers(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_run(&p,
               "(F#5:1/16 E5:1/16 F#5:1/16 E5:1/16 F#5:1/16 E5:1/16 F#5:1/16 "
               "E5:1/16) F#5",
               120.0);
    assert_string_equal(played_labels(&p), "2 1-2 2 1-2 2 1-2 2 1-2 2");
    assert_string_equal(
        p.passage.notes[1].why,
        "with 0, after F\xE2\x99\xAF"
        "5: the partial changes from 6 to 5, and back after it");
    assert_int_equal(p.passage.notes[1].candidates->of[1]->partial, 6);
    played_run(
        &p,
        "D4:1/16 E4:1/16 D4:1/16 E4:1/16 D4:1/16 E4:1/16 D4:1/16 E4:1/16 D4",
        120.0);
    assert_string_equal(played_labels(&p), "1-3 3 1-3 3 1-3 3 1-3 3 1-3");
    assert_string_equal(
        p.passage.notes[1].why,
        "with 1-2, after D4: valve 3 up as valve 2 goes down (right ring, "
        "right middle), and back after it; with 3, valve 3 stays down");
    /* The same notes at leisure. */
    played_run(&p, "D4 E4 D4 E4 D4 | F#5 E5 F#5 E5 F#5", 120.0);
    assert_string_equal(played_labels(&p), "1-3 1-2 1-3 1-2 1-3 2 0 2 0 2");
    played_close(&p);
}

/*
 * A key stays open under a higher one (inferred from the keys of National
 * Music Museum 10787; fingers of 7312 there).
 */
static void fast_crossings_on_keys_hold_the_lower_one(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "keyed-bugle-c-6");
    played_run(&p, "E4:1/16 F4:1/16 E4:1/16 F4:1/16 E4", 120.0);
    assert_string_equal(played_labels(&p), "5 5-6 5 5-6 5");
    assert_string_equal(
        p.passage.notes[1].why,
        "with 6, after E4: key 5 up as key 6 goes down (left thumb, left "
        "index), and back after it; with 5-6, key 5 stays down");
    /* The two thumbs. */
    played_run(&p, "Eb4:1/16 E4:1/16 Eb4:1/16 E4:1/16 Eb4", 120.0);
    assert_string_equal(played_labels(&p), "4 4-5 4 4-5 4");
    assert_non_null(strstr(p.passage.notes[1].why, "two thumbs in turn"));
    played_run(&p, "E4 F4 Eb4 E4 C#4 D4", 100.0);
    assert_string_equal(played_labels(&p), "5 6 4 5 2 3");
    played_close(&p);
}

/*
 * Key 5 and 6 together sound as 6, so 6 may come before 5 is gone; 12 and 13
 * together sound as neither.
 */
static void crossing_is_safe_where_no_wrong_note_sounds(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "keyed-bugle-c-6");
    played_run(&p, "E4 F4", 60.0);
    /* The left thumb up, 16 + 55 * 1.1; half of 20; a second finger 10. */
    check_abs(p.passage.notes[1].hands_s, 0.0765 + 0.010 + 0.010, 1e-12);
    played_close(&p);
    played_horn(&p, "cornet-b-flat");
    played_run(&p, "D4 E4", 60.0);
    check_abs(p.passage.notes[1].hands_s, 0.1175, 1e-12);
    played_close(&p);
}

/* Rests and short notes give the fingers time, slurs take it. */
static void time_is_what_rests_and_articulation_leave(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_read(&p, "X:1\nT:t\nM:4/4\nL:1/8\nQ:1/4=100\nK:C\nC D z E (F G) .A "
                    "B|HC z DE4|]\n");
    played_find(&p, (double)NAN, false, 1);
    static const double want[] = {0.3, 0.6,
                                  0.3, 0.3 * HBK_TIMING_SLURRED,
                                  0.3, 0.3 * HBK_TIMING_STACCATO,
                                  0.3, 0.6 * HBK_TIMING_FERMATA,
                                  0.3};
    for (size_t i = 0; i < COUNT(want); i++) {
        check_abs(p.passage.notes[i + 1].available_s, want[i], 1e-9);
        assert_int_equal(p.passage.notes[i + 1].before, i);
    }
    assert_int_equal(p.passage.notes[0].before, HBK_TUNE_NONE);
    played_close(&p);
}

static void grace_notes_come_before_the_beat(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_read(&p,
                "X:1\nT:t\nM:2/4\nL:1/4\nQ:1/4=100\nK:C\nD{EF}D|{C}E/4{DCDC}"
                "E/4E3/2|]\n");
    played_find(&p, (double)NAN, false, 1);
    const struct hbk_passage_note *const notes = p.passage.notes;
    check_abs(notes[1].available_s, 0.6 - (2 * HBK_TIMING_GRACE_S), 1e-9);
    check_abs(notes[2].available_s, HBK_TIMING_GRACE_S * HBK_TIMING_SLURRED,
              1e-9);
    /* Four of them share half of a note of 0.15 s. */
    const double each_s = 0.15 * HBK_TIMING_GRACE_SHARE / 4.0;
    check_abs(notes[7].available_s, each_s * HBK_TIMING_SLURRED, 1e-9);
    /* They are quick at any tempo, so none is called hard. */
    assert_int_equal(p.passage.n_hard, 0);
    played_close(&p);
}

/* The tempo that is told really suffices, and hardly anything faster. */
static void hard_places_become_playable(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    static const char *const run = "C4:1/16 D4:1/16 F4:1/16 C#4:1/16 C4:1/16";
    played_run(&p, run, 200.0);
    assert_true(p.passage.n_hard > 0);
    double slowest = 200.0;
    for (size_t i = 0; i < p.passage.n; i++) {
        const struct hbk_passage_note *const note = &p.passage.notes[i];
        const bool hard = fmax(note->hands_s, note->lip_s) >
                          HBK_PASSAGE_HARD * note->available_s;
        assert_true(hard == (note->playable_quarters > 0.0));
        slowest = hard ? fmin(slowest, note->playable_quarters) : slowest;
    }
    const char *const labels = played_labels(&p);
    char fast[64];
    (void)snprintf(fast, sizeof(fast), "%s", labels);
    played_run(&p, run, slowest * 0.999);
    assert_string_equal(played_labels(&p), fast);
    assert_int_equal(p.passage.n_hard, 0);
    played_run(&p, run, slowest * 1.001);
    assert_int_equal(p.passage.n_hard, 1);
    played_close(&p);
}

static void what_the_file_says_is_kept(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    static const char *const abc =
        "X:1\nT:t\nM:4/4\nL:1/4\nQ:1/4=100\nK:C\n\"_3\"E\"_13\"G\"_1-2\"D"
        "\"_9\"C|\"_0\"C\"_1+2+3\"^C\"_open\"G\"_2\"B|]\n";
    played_read(&p, abc);
    played_find(&p, (double)NAN, true, 2);
    assert_string_equal(played_labels(&p), "3 1-3 1-3 0 0 1-2-3 0 2");
    static const enum hbk_passage_kept want[] = {
        HBK_PASSAGE_KEPT,    HBK_PASSAGE_KEPT, HBK_PASSAGE_UNPLAYABLE,
        HBK_PASSAGE_UNKNOWN, HBK_PASSAGE_KEPT, HBK_PASSAGE_KEPT,
        HBK_PASSAGE_KEPT,    HBK_PASSAGE_KEPT};
    for (size_t i = 0; i < COUNT(want); i++) {
        assert_int_equal(p.passage.notes[i].kept, want[i]);
    }
    assert_string_equal(p.passage.notes[0].why, "as the file has it");
    assert_int_equal(p.passage.notes[0].n_choices, 1);
    /* Without being asked, nothing is kept. */
    played_find(&p, (double)NAN, false, 1);
    assert_string_equal(played_labels(&p), "1-2 0 1-3 0 0 1-2-3 0 2");
    assert_int_equal(p.passage.notes[0].kept, HBK_PASSAGE_FREE);
    played_close(&p);
}

/* A trill asks for a fingering that has one, to the next note of the key. */
static void trills_use_their_table(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_read(&p, "X:1\nT:t\nM:4/4\nL:1/4\nQ:1/4=100\nK:C\n!trill!e2 "
                    "!trill!D2|!trill!G2!trill!c'2|]\n");
    played_find(&p, (double)NAN, false, 1);
    assert_string_equal(played_labels(&p), "1-2 1-3 1-3 0");
    const struct hbk_passage_note *const notes = p.passage.notes;
    assert_int_equal(notes[0].trill.interval, 1);
    assert_int_equal(notes[1].trill.kind, HBK_TRILL_EASY);
    assert_int_equal(notes[1].trill.upper->press, 4); /* valve 3 */
    assert_string_equal(notes[2].why, "for the trill");
    assert_int_equal(notes[3].trill.kind, HBK_TRILL_NONE);
    assert_true(notes[3].wants_trill);
    /* With F sharp in the key, the trill of E is a whole tone. */
    played_read(&p, "X:1\nT:t\nM:4/4\nL:1/4\nQ:1/4=100\nK:G\n!trill!e4|]\n");
    played_find(&p, (double)NAN, false, 1);
    assert_int_equal(p.passage.notes[0].trill.interval, 2);
    assert_string_equal(played_labels(&p), "1-2");
    played_close(&p);
}

static void notes_out_of_reach_are_listed(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat-two-valve");
    played_run(&p, "C4 D4 E4 | G#4 C3 C5", 100.0);
    assert_int_equal(p.passage.n_out, 3);
    assert_int_equal(p.passage.out[0], 1);
    assert_int_equal(p.passage.out[1], 3);
    assert_int_equal(p.passage.out[2], 4);
    assert_int_equal(p.passage.n, 3);
    assert_int_equal(p.passage.note_of[1], HBK_TUNE_NONE);
    assert_int_equal(p.passage.note_of[2], 1);
    /* From C4 to E4 there are two quarter notes. */
    check_abs(p.passage.notes[1].available_s, 1.2, 1e-9);
    /* Nothing but such notes. */
    played_run(&p, "C2 D2", 100.0);
    assert_int_equal(p.passage.n, 0);
    assert_int_equal(p.passage.n_out, 2);
    assert_int_equal(p.passage.n_ways, 1);
    played_close(&p);
}

/* The same tube, read by its sounding notes: tune and horn moved alike. */
static void moving_tune_and_horn_changes_no_fingering(void **state)
{
    (void)state;
    static const char *const run =
        "C4:1/16 D4:1/16 E4:1/16 D4:1/16 E4:1/16 F4:1/16 G4:1/16 E4:1/16 | "
        "E5:1/16 F#5:1/16 E5:1/16 F#5:1/16 "
        "G5:1/16 F#5:1/16 E5:1/16 D5:1/16 | C#5:1/16 D5:1/16 C#5:1/16 A4:1/16 "
        "G4";
    static const char *const horns[] = {"cornet-b-flat",
                                        "keyed-bugle-b-flat-6"};
    for (size_t h = 0; h < COUNT(horns); h++) {
        struct played p;
        played_horn(&p, horns[h]);
        played_run(&p, run, 126.0);
        char labels[256];
        (void)snprintf(labels, sizeof(labels), "%s", played_labels(&p));
        const double price = p.passage.ways[0].price;
        assert_true(p.passage.n_departures > 0);
        struct hbk_horn *const horn = &p.horn.horn;
        const int shift = horn->written_c4_sounds - HBK_NOTE_C4;
        horn->written_c4_sounds -= shift;
        horn->tuning_note += shift;
        horn->lowest += shift;
        horn->highest += shift;
        solved_run(&p.horn);
        struct hbk_tune moved;
        assert_int_equal(
            hbk_tune_transposed(&p.document.tune, shift, &p.arena, &moved),
            HBK_OK);
        p.document.tune = moved;
        played_find(&p, 126.0, false, 3);
        assert_string_equal(played_labels(&p), labels);
        check_abs(p.passage.ways[0].price, price, 1e-6);
        played_close(&p);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slow_chromatic_scale_is_as_taught),
        cmocka_unit_test(plain_tunes_are_as_taught),
        cmocka_unit_test(fast_shakes_keep_partial_and_fingers),
        cmocka_unit_test(fast_crossings_on_keys_hold_the_lower_one),
        cmocka_unit_test(crossing_is_safe_where_no_wrong_note_sounds),
        cmocka_unit_test(time_is_what_rests_and_articulation_leave),
        cmocka_unit_test(grace_notes_come_before_the_beat),
        cmocka_unit_test(hard_places_become_playable),
        cmocka_unit_test(what_the_file_says_is_kept),
        cmocka_unit_test(trills_use_their_table),
        cmocka_unit_test(notes_out_of_reach_are_listed),
        cmocka_unit_test(moving_tune_and_horn_changes_no_fingering),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
