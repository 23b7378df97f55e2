/*
 * A tune as a horn plays it, without any argument of a program: moved,
 * narrowed to bars, written into music; a horn tried on a part.
 */
#include "support/editions.h"
#include "support/lines.h"
#include "support/sheets.h"

#include "edition/choose.h"
#include "edition/music.h"
#include "horn/press.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static const char four_bars[] =
    "X:1\nT:Four\nM:4/4\nL:1/4\nK:C\nC D E F|G A B c|c B A G|F E D C|\n";

/* A cornet in B flat sounds a tone lower, so it reads a tone higher. */
static void sounding_notes_are_moved_for_the_horn(void **state)
{
    (void)state;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", four_bars, &ask);
    assert_int_equal(hbk_placing_moved(&p.performed.view.placing), 0);
    assert_int_equal(p.performed.tune.events[0].note, 60);
    assert_int_equal(p.performed.passage.n, 16);
    assert_true(p.performed.passage.tempo_assumed);
    assert_true(isnan(p.performed.view.quarters));
    perform_done(&p);
    ask.from_sounding = true;
    ask.tempo = 80.0;
    perform_abc(&p, "cornet-b-flat", four_bars, &ask);
    assert_int_equal(hbk_placing_moved(&p.performed.view.placing), 2);
    assert_int_equal(p.performed.tune.events[0].note, 62);
    assert_int_equal(p.document.tune.events[0].note, 60);
    assert_false(p.performed.passage.tempo_assumed);
    perform_done(&p);
}

/* One other way of each note unless more are asked for, then of the whole. */
static void as_many_ways_are_found_as_are_asked_for(void **state)
{
    (void)state;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", four_bars, &ask);
    assert_int_equal(p.performed.view.others, 1);
    assert_false(p.performed.view.other_ways);
    perform_done(&p);
    ask.choices = 3.0;
    perform_abc(&p, "cornet-b-flat", four_bars, &ask);
    assert_int_equal(p.performed.view.others, 3);
    assert_true(p.performed.view.other_ways);
    assert_int_equal(p.performed.passage.n_ways, 4);
    perform_done(&p);
}

static void bars_narrow_what_is_shown(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", four_bars, &ask);
    struct hbk_text why = {.arena = &p.arena};
    assert_true(hbk_perform_bars(&p.performed, NULL, &why));
    assert_int_equal(hbk_passage_count(&p.performed.view).notes, 16);
    assert_true(hbk_perform_bars(&p.performed, "2-3", &why));
    assert_int_equal(hbk_passage_count(&p.performed.view).notes, 8);
    assert_true(hbk_perform_bars(&p.performed, "4", &why));
    assert_int_equal(hbk_passage_count(&p.performed.view).notes, 4);
    assert_int_equal(why.length, 0);
    assert_false(hbk_perform_bars(&p.performed, "3-2", &why));
    check_words_say(hbk_text_string(&why), "not '3-2'");
    check_words_say(hbk_text_string(&why), "from bar 1 to bar 4");
    perform_done(&p);
}

/* Each note once with all its bars, and that it would fit lower. */
static void notes_out_of_reach_are_told_with_their_bars(void **state)
{
    (void)state;
    static const char abc[] =
        "X:1\nL:1/4\nK:C\nc'' c d e|c c'' d e|c'' c d e|\n";
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", abc, &ask);
    assert_int_equal(hbk_passage_count(&p.performed.view).out, 3);
    assert_string_equal(hbk_perform_first_out(&p.performed, &p.arena),
                        "bar 1, beat 1: C7");
    hbk_perform_tell_out(&p.performed, &p.arena, &p.faults);
    assert_int_equal(p.faults.count, 2);
    assert_int_equal(p.faults.items[0].number, 301);
    check_words_say(p.faults.items[0].text, "bars 1, 2 and 3: C7");
    assert_int_equal(p.faults.items[1].number, 305);
    check_words_say(p.faults.items[1].text, "an octave lower");
    perform_done(&p);
}

/* An octave is spoken of only where notes are out, and bars up to a dozen. */
static void what_is_in_reach_is_not_told(void **state)
{
    (void)state;
    static const char high[] = "X:1\nL:1/4\nK:C\nc d e f|g f e d|\n";
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", high, &ask);
    hbk_perform_tell_out(&p.performed, &p.arena, &p.faults);
    assert_int_equal(p.faults.count, 0);
    perform_done(&p);
    struct hbk_arena arena = {0};
    struct hbk_text abc = {.arena = &arena};
    hbk_text_add(&abc, "X:1\nL:1/4\nM:2/4\nK:C\n");
    for (int bar = 1; bar <= 15; bar++) {
        hbk_text_add(&abc, bar == 2 ? "c e|" : "c c''|");
    }
    hbk_text_add(&abc, "\n");
    perform_abc(&p, "cornet-b-flat", hbk_text_string(&abc), &ask);
    struct hbk_text why = {.arena = &p.arena};
    hbk_perform_tell_out(&p.performed, &p.arena, &p.faults);
    check_words_say(p.faults.items[0].text,
                    "bars 1, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13 and 2 more: "
                    "C7 is not available");
    assert_true(hbk_perform_bars(&p.performed, "2-4", &why));
    assert_string_equal(hbk_perform_first_out(&p.performed, &p.arena),
                        "bar 3, beat 2: C7");
    perform_done(&p);
    hbk_arena_finish(&arena);
}

/*
 * A turn has notes that are not fingered. An accidental over a sign is told
 * where it is that of a trill.
 */
static void ornaments_are_told_with_their_bars(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", four_bars, &ask);
    struct hbk_tune_event *const events =
        HBK_ARENA_ARRAY(&p.arena, struct hbk_tune_event, 16);
    memcpy(events, p.performed.tune.events, 16 * sizeof(events[0]));
    p.performed.tune.events = events;
    events[1].articulation = HBK_TUNE_TRILL;
    events[2].articulation = HBK_TUNE_ORNAMENT | HBK_TUNE_TRILL_SIGN;
    hbk_perform_tell_ornaments(&p.performed, &p.arena, &p.faults);
    assert_int_equal(p.faults.count, 1);
    check_words_say(p.faults.items[0].text, "bar 1: turns, mordents");
    events[5].articulation = HBK_TUNE_TRILL | HBK_TUNE_SIGN_DOUBLE_SHARP;
    events[9].articulation = HBK_TUNE_TRILL | HBK_TUNE_SIGN_DOUBLE_SHARP;
    hbk_perform_tell_ornaments(&p.performed, &p.arena, &p.faults);
    assert_int_equal(p.faults.count, 3);
    check_words_say(p.faults.items[2].text,
                    "bars 2 and 3: the accidental of the trill");
    perform_done(&p);
}

static void fingerings_of_the_file_are_kept_or_told(void **state)
{
    (void)state;
    static const char abc[] =
        "X:1\nL:1/4\nK:C\n\"_3\"E \"_1-2-3\"G \"_9\"c z|\n";
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    ask.keep = true;
    perform_abc(&p, "cornet-b-flat", abc, &ask);
    hbk_perform_tell_kept(&p.performed, &p.faults);
    const struct hbk_passage_note *const notes = p.performed.passage.notes;
    assert_int_equal(notes[0].kept, HBK_PASSAGE_KEPT);
    assert_int_equal(notes[1].kept, HBK_PASSAGE_UNPLAYABLE);
    assert_int_equal(notes[2].kept, HBK_PASSAGE_UNKNOWN);
    assert_int_equal(p.faults.errors, 0);
    assert_int_equal(p.faults.count, 2);
    assert_int_equal(p.faults.items[0].number, 303);
    check_words_say(p.faults.items[0].text, "does not play G4 with '1-2-3'");
    assert_int_equal(p.faults.items[1].number, 302);
    check_words_say(p.faults.items[1].text, "'9' is no fingering");
    perform_done(&p);
    /* Of the bars shown alone. */
    perform_abc(&p, "cornet-b-flat",
                "X:1\nL:1/4\nM:1/4\nK:C\n\"_9\"E|\"_8\"G|\n", &ask);
    struct hbk_text why = {.arena = &p.arena};
    assert_true(hbk_perform_bars(&p.performed, "2", &why));
    hbk_perform_tell_kept(&p.performed, &p.faults);
    assert_int_equal(p.faults.count, 1);
    check_words_say(p.faults.items[0].text, "'8' is no fingering");
    perform_done(&p);
}

/* What comes back from a file that was written is what was chosen. */
static void music_is_written_with_its_fingerings(void **state)
{
    (void)state;
    static const enum hbk_tune_format formats[] = {
        HBK_TUNE_ABC, HBK_TUNE_MUSICXML, HBK_TUNE_MXL};
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", four_bars, &ask);
    assert_true(hbk_tune_holds(&p.document, HBK_TUNE_ABC));
    assert_false(hbk_tune_holds(&p.document, HBK_TUNE_MUSICXML));
    for (size_t i = 0; i < COUNT(formats); i++) {
        struct hbk_text out = {.arena = &p.arena};
        struct hbk_tune_document again = {0};
        assert_int_equal(hbk_music_write(&p.document, &p.performed, formats[i],
                                         &out, &p.faults),
                         HBK_OK);
        assert_int_equal(hbk_tune_read_bytes("again", out.bytes, out.length,
                                             NULL, &again, &p.faults),
                         HBK_OK);
        assert_int_equal(again.format, formats[i]);
        assert_int_equal(again.tune.n_events, p.performed.tune.n_events);
        if (formats[i] != HBK_TUNE_ABC) {
            assert_string_equal(again.tune.part, p.horn.horn.name);
        }
        for (size_t k = 0; k < p.performed.passage.n; k++) {
            const struct hbk_passage_note *const note =
                &p.performed.passage.notes[k];
            char label[HBK_LABEL_SIZE];
            hbk_horn_press_label(
                &p.horn.horn, note->candidates->of[note->taken]->press, label);
            assert_int_equal(again.tune.events[note->event].note,
                             p.performed.tune.events[note->event].note);
            if (formats[i] != HBK_TUNE_ABC) {
                assert_string_equal(again.tune.events[note->event].fingering,
                                    label);
            }
        }
        hbk_tune_document_finish(&again);
    }
    assert_string_equal(p.performed.tune.part, "");
    perform_done(&p);
}

/* As many as were asked for, behind the one that is taken; else none. */
static void other_ways_are_written_where_they_are_asked_for(void **state)
{
    (void)state;
    static const char high[] = "X:1\nL:1/4\nM:4/4\nK:C\ne A e A|e A e A|\n";
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    size_t most = 0;
    for (size_t others = 0; others <= 2; others++) {
        struct performance p;
        ask.choices = others == 0 ? (double)NAN : (double)others;
        perform_abc(&p, "cornet-b-flat", high, &ask);
        size_t wanted = 0;
        for (size_t i = 0; i < p.performed.passage.n; i++) {
            const size_t n = p.performed.passage.notes[i].n_choices - 1;
            wanted += n < others ? n : others;
        }
        assert_true(wanted > most || others == 0);
        most = wanted;
        struct hbk_text xml = {.arena = &p.arena};
        struct hbk_text abc = {.arena = &p.arena};
        assert_int_equal(hbk_music_write(&p.document, &p.performed,
                                         HBK_TUNE_MUSICXML, &xml, &p.faults),
                         HBK_OK);
        assert_int_equal(hbk_music_write(&p.document, &p.performed,
                                         HBK_TUNE_ABC, &abc, &p.faults),
                         HBK_OK);
        assert_int_equal(count_of(hbk_text_string(&xml), "alternate=\"yes\""),
                         wanted);
        assert_int_equal(count_of(hbk_text_string(&xml), "<fingering"),
                         8 + wanted);
        assert_int_equal(
            count_of(
                hbk_text_string(&abc),
                hbk_arena_printf(&p.arena, ": %zu texts below", 8 + wanted)),
            1);
        perform_done(&p);
    }
}

/* In the user's own file the notes stay, and he is told so. */
static void notes_of_his_own_file_stay_where_they_are(void **state)
{
    (void)state;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    ask.from_sounding = true;
    perform_abc(&p, "cornet-b-flat", four_bars, &ask);
    struct hbk_text out = {.arena = &p.arena};
    assert_int_equal(hbk_music_write(&p.document, &p.performed, HBK_TUNE_ABC,
                                     &out, &p.faults),
                     HBK_OK);
    assert_int_equal(p.faults.count, 1);
    assert_int_equal(p.faults.items[0].number, 290);
    struct hbk_tune_document again = {0};
    assert_int_equal(hbk_tune_read_bytes("again", out.bytes, out.length, NULL,
                                         &again, &p.faults),
                     HBK_OK);
    assert_int_equal(again.tune.events[0].note, 60);
    struct hbk_text bare = {.arena = &p.arena};
    assert_int_equal(hbk_tune_strip(&again, again.format, &bare, &p.faults),
                     HBK_OK);
    assert_string_equal(hbk_text_string(&bare), four_bars);
    hbk_tune_document_finish(&again);
    perform_done(&p);
}

/*
 * The octave below middle C lies under a cornet's compass and within an
 * ophicleide's (common practice, no source). The horn that plays all of it
 * stands first, whichever was tried first.
 */
static void the_horn_that_plays_the_part_stands_first(void **state)
{
    (void)state;
    static const char low[] =
        "X:1\nT:Low\nL:1/4\nK:C\nC, D, E, F,|G, A, B, C|\n";
    static const char *const horns[] = {"cornet-b-flat", "ophicleide-c-11"};
    struct hbk_tune_document document = {0};
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_chosen list[COUNT(horns)] = {{.word = NULL}};
    struct solved s[COUNT(horns)];
    assert_int_equal(hbk_tune_read_bytes("low.abc", low, strlen(low), NULL,
                                         &document, &faults),
                     HBK_OK);
    struct hbk_choose_ask ask = {&document.tune, hbk_perform_ask_none()};
    ask.perform.from_sounding = true;
    assert_int_equal(hbk_choose_check(&document.tune, &faults), HBK_OK);
    for (size_t i = 0; i < COUNT(horns); i++) {
        struct hbk_arena scratch = {0};
        solved_open(&s[i], horns[i]);
        list[i].word = horns[i];
        list[i].name = s[i].horn.name;
        assert_int_equal(hbk_choose_try(&ask, &s[i].notes, &arena, &scratch,
                                        &list[i], &faults),
                         HBK_OK);
        hbk_arena_finish(&scratch);
    }
    const struct hbk_choice choice = hbk_choose_from(&ask, COUNT(horns), list);
    assert_string_equal(choice.title, "Low");
    assert_true(choice.tempo_assumed);
    check_abs(choice.quarters, HBK_TUNE_ASSUMED_QUARTERS, 0.0);
    assert_int_equal(choice.n, 2);
    assert_string_equal(choice.horns[0].word, "ophicleide-c-11");
    assert_int_equal(choice.horns[0].suit.n_out, 0);
    assert_int_equal(hbk_placing_moved(&choice.horns[0].placing), 0);
    assert_int_equal(hbk_placing_moved(&choice.horns[1].placing), 2);
    assert_true(choice.horns[1].suit.n_out > 0);
    assert_true(choice.horns[0].suit.score > choice.horns[1].suit.score);
    for (size_t i = 0; i < COUNT(horns); i++) {
        solved_close(&s[i]);
    }
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* A tempo that comes later says nothing of how fast the tune begins. */
static void a_choice_says_whether_its_tempo_is_assumed(void **state)
{
    (void)state;
    static const struct {
        const char *abc;
        double asked, quarters;
        bool assumed;
    } cases[] = {
        {"X:1\nL:1/4\nK:C\n[Q:1/4=60]C D|\n", (double)NAN, 60.0, false},
        {"X:1\nL:1/4\nK:C\nC [Q:1/4=60]D|\n", (double)NAN,
         HBK_TUNE_ASSUMED_QUARTERS, true},
        {"X:1\nL:1/4\nK:C\nC [Q:1/4=60]D|\n", 72.0, 72.0, false},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {0};
        struct hbk_faults faults = {0};
        assert_int_equal(hbk_tune_read_bytes("own.abc", cases[i].abc,
                                             strlen(cases[i].abc), NULL,
                                             &document, &faults),
                         HBK_OK);
        struct hbk_choose_ask ask = {&document.tune, hbk_perform_ask_none()};
        ask.perform.tempo = cases[i].asked;
        const struct hbk_choice choice = hbk_choose_from(&ask, 0, NULL);
        assert_int_equal(choice.tempo_assumed, cases[i].assumed);
        check_abs(choice.quarters, cases[i].quarters, 1e-12);
        hbk_tune_document_finish(&document);
    }
}

/* Tried as fast as is asked, and worth nothing where it cannot be written. */
static void a_horn_is_tried_as_it_is_asked(void **state)
{
    (void)state;
    struct performance p;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    perform_abc(&p, "cornet-b-flat", "X:1\nL:1/16\nK:C\n^DEFE ^DEFE|\n", &ask);
    struct hbk_choose_ask choose = {&p.document.tune, ask};
    struct hbk_chosen chosen = {.word = NULL};
    choose.perform.tempo = 300.0;
    assert_int_equal(hbk_choose_try(&choose, &p.horn.notes, &p.arena, &p.arena,
                                    &chosen, &p.faults),
                     HBK_OK);
    assert_true(chosen.suit.n_hard > 0);
    check_abs(chosen.suit.quarters, 300.0, 0.0);
    choose.perform.tempo = 40.0;
    assert_int_equal(hbk_choose_try(&choose, &p.horn.notes, &p.arena, &p.arena,
                                    &chosen, &p.faults),
                     HBK_OK);
    assert_int_equal(chosen.suit.n_hard, 0);
    assert_false(chosen.unwritable);
    assert_true(chosen.suit.lost_reach < 100.0);
    perform_done(&p);
    /* G9 is the highest note there is, and the cornet would read an A. */
    perform_abc(&p, "cornet-b-flat", "X:1\nL:1/4\nK:C\nc g''''|\n", &ask);
    choose = (struct hbk_choose_ask){&p.document.tune, ask};
    choose.perform.from_sounding = true;
    assert_int_equal(hbk_choose_try(&choose, &p.horn.notes, &p.arena, &p.arena,
                                    &chosen, &p.faults),
                     HBK_OK);
    assert_true(chosen.unwritable);
    check_abs(chosen.suit.lost_reach, 100.0, 0.0);
    check_abs(chosen.suit.score, 0.0, 0.0);
    perform_done(&p);
}

/* Four thousand notes, sixty-four times. */
static void a_tune_that_is_too_long_is_refused_once(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_text abc = {.arena = &arena};
    struct hbk_tune_document document = {0};
    struct hbk_faults faults = {0};
    hbk_text_add(&abc, "X:1\nL:1/4\nM:4/4\nK:C\n|:");
    for (size_t bar = 0; bar < 1000; bar++) {
        hbk_text_add(&abc, "cccc|");
    }
    hbk_text_add(&abc, "1-63 c4:|64 c4|]\n");
    assert_int_equal(hbk_tune_read_bytes("own.abc", abc.bytes, abc.length, NULL,
                                         &document, &faults),
                     HBK_OK);
    assert_int_equal(faults.count, 0);
    assert_int_equal(hbk_choose_check(&document.tune, &faults), HBK_ERR_INPUT);
    assert_int_equal(faults.count, 1);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* Equal in all that is weighed, horns stand by their names as given. */
static void equal_horns_stand_by_their_names(void **state)
{
    (void)state;
    const struct hbk_tune tune = {.title = ""};
    const struct hbk_choose_ask ask = {&tune, hbk_perform_ask_none()};
    struct hbk_chosen list[] = {
        {.word = "c", .suit = {.score = 50.0, .rms_cents = 4.0}},
        {.word = "b", .suit = {.score = 50.0, .rms_cents = 4.0}},
        {.word = "d", .suit = {.score = 50.0, .rms_cents = 3.0}},
        {.word = "e", .suit = {.score = 51.0, .rms_cents = 9.0}}};
    (void)hbk_choose_from(&ask, COUNT(list), list);
    assert_string_equal(list[0].word, "e");
    assert_string_equal(list[1].word, "d");
    assert_string_equal(list[2].word, "b");
    assert_string_equal(list[3].word, "c");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sounding_notes_are_moved_for_the_horn),
        cmocka_unit_test(as_many_ways_are_found_as_are_asked_for),
        cmocka_unit_test(bars_narrow_what_is_shown),
        cmocka_unit_test(notes_out_of_reach_are_told_with_their_bars),
        cmocka_unit_test(what_is_in_reach_is_not_told),
        cmocka_unit_test(ornaments_are_told_with_their_bars),
        cmocka_unit_test(fingerings_of_the_file_are_kept_or_told),
        cmocka_unit_test(music_is_written_with_its_fingerings),
        cmocka_unit_test(other_ways_are_written_where_they_are_asked_for),
        cmocka_unit_test(notes_of_his_own_file_stay_where_they_are),
        cmocka_unit_test(the_horn_that_plays_the_part_stands_first),
        cmocka_unit_test(a_choice_says_whether_its_tempo_is_assumed),
        cmocka_unit_test(a_horn_is_tried_as_it_is_asked),
        cmocka_unit_test(a_tune_that_is_too_long_is_refused_once),
        cmocka_unit_test(equal_horns_stand_by_their_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
