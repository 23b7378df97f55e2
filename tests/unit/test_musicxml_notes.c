#include "support/scores.h"

/* MusicXML in: how long and how high notes are, their ties, tuplets, beams. */

static void durations_are_exact_and_gaps_are_rests(void **state)
{
    (void)state;
    check_played("<measure number=\"1\">" DIVISIONS("0.5")
                     NOTE("C", "4", "1", "") DIVISIONS("3")
                         NOTE("D", "4", "1.5", "") "</measure>",
                 "C4 1/2, D4 1/8", 0);
    check_played("<measure number=\"1\">" DIVISIONS(
                     "1") "<forward><duration>1"
                          "</duration></forward>" NOTE(
                              "C", "4", "1",
                              "") "<backup><duration>2"
                                  "</duration></backup>" REST(
                                      "4", "<voice>2</voice>") "</measure>",
                 "r 1/4, C4 1/4, r 1/2", 0);
    check_played(
        "<measure number=\"1\">" DIVISIONS("1")
            NOTE("C", "4", "1",
                 "") "<note><cue/><pitch><step>E"
                     "</step><octave>4</octave></pitch><duration>1</duration>"
                     "</note>" NOTE("D", "4", "1", "") "</measure>",
        "C4 1/4, r 1/4, D4 1/4", 268);
    check_played("<measure number=\"1\">" DIVISIONS("1")
                     NOTE("C", "4", "1",
                          "") "<note><unpitched/><duration>1</duration></note>"
                              "</measure>",
                 "C4 1/4, r 1/4", 250);
}

/* A beat that a file skips or hides is counted by the player: a rest. */
static void skipped_beats_are_printed(void **state)
{
    (void)state;
    static const char *const gaps[] = {
        "<forward><duration>2</duration></forward>",
        "<note print-object=\"no\"><rest/><duration>2</duration></note>",
        "<note><cue/><pitch><step>G</step><octave>5</octave></pitch>"
        "<duration>2</duration></note>",
        "<note><unpitched><display-step>G</display-step><display-octave>5"
        "</display-octave></unpitched><duration>2</duration></note>",
    };
    struct hbk_arena arena = {.newest = NULL};
    for (size_t i = 0; i < COUNT(gaps); i++) {
        const char *const text = score(
            &arena,
            hbk_arena_printf(&arena,
                             "<measure number=\"1\">" DIVISIONS("2")
                                 NOTE("C", "5", "2", "") "%s" NOTE(
                                     "C", "5", "4", "") "</measure><measure "
                                                        "number=\"2\">%s%s%s%s"
                                                        "</measure>",
                             gaps[i], gaps[i], gaps[i], gaps[i], gaps[i]));
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        assert_int_equal(hbk_tune_read_bytes("t.xml", text, strlen(text), NULL,
                                             &document, &faults),
                         HBK_OK);
        const struct hbk_tune_event *const e = document.tune.events;
        assert_int_equal(e[1].kind, HBK_TUNE_REST);
        assert_int_equal(e[1].value, 2);
        for (size_t k = 0; k < document.tune.n_events; k++) {
            assert_false(e[k].hidden);
        }
        /* Nothing at all in a bar is the rest of that bar. */
        assert_int_equal(document.tune.bars[1].count, 1);
        assert_true(e[3].whole_bar);
        hbk_tune_document_finish(&document);
    }
    hbk_arena_finish(&arena);
}

/* The key signature and the printed accidental never change the pitch. */
static void pitch_comes_from_the_pitch_element_only(void **state)
{
    (void)state;
    check_played("<measure><attributes><divisions>1</divisions><key><fifths>3"
                 "</fifths></key></attributes><note><pitch><step>F</step>"
                 "<octave>4</octave></pitch><duration>1</duration><accidental>"
                 "sharp</accidental></note><note><pitch><step>B</step><alter>"
                 "-2</alter><octave>3</octave></pitch><duration>1</duration>"
                 "</note></measure>",
                 "F4 1/4, Bbb3 1/4", 0);
    check_played(
        "<measure>" DIVISIONS(
            "1") "<note><pitch><step>F</step><alter>"
                 "0.5</alter><octave>4</octave></pitch><duration>1</duration>"
                 "</note></measure>",
        "F4 1/4", 249);
    check_played(
        "<measure>" DIVISIONS(
            "1") "<note><pitch><step>F</step><alter>"
                 "1.5</alter><octave>4</octave></pitch><duration>1</duration>"
                 "</note></measure>",
        "F#4 1/4", 249);
}

#define QUARTER_TONES                                                          \
    "<note><pitch><step>F</step><alter>0.5</alter><octave>4</octave></pitch>"  \
    "<duration>4</duration></note>"

/* However many notes give it, one line of warning names their bars. */
static void many_quarter_tones_are_told_at_once(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    const char *const text = score(
        &arena, "<measure number=\"1\">" DIVISIONS("1") QUARTER_TONES
        "</measure><measure number=\"2\">" QUARTER_TONES
        "</measure><measure number=\"3\">" NOTE(
            "C", "4", "4", "") "</measure><measure number=\"4\">" QUARTER_TONES
                               "</measure>");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_read_bytes("t.xml", text, strlen(text), NULL,
                                         &document, &faults),
                     HBK_OK);
    assert_int_equal(faults.count, 1);
    assert_int_equal(faults.items[0].number, 249);
    assert_string_equal(faults.items[0].text,
                        "bars 1, 2, 4: 3 notes are altered by parts of a "
                        "semitone and are read as their neighbors");
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void ties_join_and_lost_ties_are_told(void **state)
{
    (void)state;
    check_played(
        "<measure>" DIVISIONS("1") NOTE("C", "4", "1", "<tie type=\"start\"/>")
            NOTE("C", "4", "1", "<tie type=\"stop\"/><tie type=\"start\"/>")
                NOTE("C", "4", "2", "<tie type=\"stop\"/>") "</measure>",
        "C4 1", 0);
    check_played(
        "<measure>" DIVISIONS("1") NOTE(
            "C", "4", "1", "<notations><tied type=\"start\"/></notations>")
            NOTE("C", "4", "1",
                 "<notations><tied type=\"stop\"/></notations>") "</measure>",
        "C4 1/2", 0);
    check_played("<measure>" DIVISIONS("1")
                     NOTE("C", "4", "1", "<tie type=\"start\"/>")
                         NOTE("C", "4", "1", "") "</measure>",
                 "C4 1/4, C4 1/4", 205);
}

#define MODIFIED(type)                                                         \
    "<type>" type "</type><time-modification><actual-notes>3</actual-notes>"   \
    "<normal-notes>2</normal-notes></time-modification>"

static void tuplets_without_signs_are_grouped_by_their_length(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good(
        "t.xml",
        score(&arena,
              "<measure>" DIVISIONS("6") NOTE("C", "4", "2", MODIFIED("eighth"))
                  NOTE("D", "4", "2", MODIFIED("eighth"))
                      NOTE("E", "4", "2", MODIFIED("eighth"))
                          NOTE("F", "4", "2", MODIFIED("eighth"))
                              NOTE("G", "4", "2", MODIFIED("eighth"))
                                  NOTE("A", "4", "2", MODIFIED("eighth"))
                                      NOTE("B", "4", "6",
                                           "<type>quarter"
                                           "</type>") "</measure>"),
        &document, &faults);
    assert_int_equal(document.tune.n_tuplets, 2);
    assert_int_equal(document.tune.tuplets[0].count, 3);
    assert_int_equal(document.tune.tuplets[1].first, 3);
    assert_int_equal(document.tune.events[5].tuplet, 1);
    assert_int_equal(document.tune.events[6].tuplet, HBK_TUNE_NONE);
    assert_int_equal(document.tune.events[0].value, 3);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

#define IN_TIME(actual, normal)                                                \
    "<time-modification><actual-notes>" actual                                 \
    "</actual-notes><normal-notes>" normal                                     \
    "</normal-notes></time-modification>"
#define SIGN(number, type) "<tuplet number=\"" number "\" type=\"" type "\"/>"
#define SIGNS(content) "<notations>" content "</notations>"

/* Five in the time of four, within three in the time of two. */
static void tuplets_stand_within_tuplets(void **state)
{
    (void)state;
    static const char quarter[] =
        NOTE("C", "5", "40", IN_TIME("3", "2") SIGNS(SIGN("1", "start")));
    static const char last[] =
        NOTE("C", "5", "40", IN_TIME("3", "2") SIGNS(SIGN("1", "stop")));
    static const char first_of_five[] =
        NOTE("D", "5", "8", IN_TIME("15", "8") SIGNS(SIGN("2", "start")));
    static const char of_five[] = NOTE("D", "5", "8", IN_TIME("15", "8"));
    static const char last_of_five[] =
        NOTE("D", "5", "8", IN_TIME("15", "8") SIGNS(SIGN("2", "stop")));
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    read_text(score(&arena, hbk_arena_printf(
                                &arena,
                                "<measure number=\"1\"><attributes><divisions>"
                                "60</divisions><time><beats>2</beats>"
                                "<beat-type>4</beat-type></time></attributes>"
                                "%s%s%s%s%s%s%s</measure>",
                                quarter, first_of_five, of_five, of_five,
                                of_five, last_of_five, last)),
              &document);
    static const unsigned inner[] = {0, 5, 0};
    assert_int_equal(document.tune.n_tuplets, COUNT(inner));
    for (size_t i = 0; i < COUNT(inner); i++) {
        assert_int_equal(document.tune.tuplets[i].nest, 1);
        assert_int_equal(document.tune.tuplets[i].outer, 3);
        assert_int_equal(document.tune.tuplets[i].inner, inner[i]);
    }
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void beams_that_do_not_end_are_left_out(void **state)
{
    (void)state;
    static const struct {
        const char *beams[4];
        int want[4];
    } cases[] = {
        {{"begin", "continue", "end", ""},
         {HBK_TUNE_BEAM_BEGIN, HBK_TUNE_BEAM_CONTINUE, HBK_TUNE_BEAM_END,
          HBK_TUNE_BEAM_NONE}},
        {{"begin", "", "begin", "end"},
         {HBK_TUNE_BEAM_NONE, HBK_TUNE_BEAM_NONE, HBK_TUNE_BEAM_BEGIN,
          HBK_TUNE_BEAM_END}},
        {{"end", "begin", "continue", "continue"}, {0, 0, 0, 0}},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_arena arena = {.newest = NULL};
        struct hbk_text notes = {.arena = &arena};
        for (size_t k = 0; k < 4; k++) {
            hbk_text_addf(&notes,
                          "<note><pitch><step>C</step><octave>4</octave>"
                          "</pitch><duration>1</duration><type>eighth</type>"
                          "<beam number=\"2\">begin</beam><beam "
                          "number=\"1\">%s</beam></note>",
                          cases[i].beams[k]);
        }
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        read_good(
            "t.xml",
            score(&arena, hbk_arena_printf(
                              &arena, "<measure>" DIVISIONS("2") "%s</measure>",
                              notes.bytes)),
            &document, &faults);
        for (size_t k = 0; k < 4; k++) {
            assert_int_equal(document.tune.events[k].beam, cases[i].want[k]);
        }
        hbk_tune_document_finish(&document);
        hbk_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(durations_are_exact_and_gaps_are_rests),
        cmocka_unit_test(skipped_beats_are_printed),
        cmocka_unit_test(pitch_comes_from_the_pitch_element_only),
        cmocka_unit_test(many_quarter_tones_are_told_at_once),
        cmocka_unit_test(ties_join_and_lost_ties_are_told),
        cmocka_unit_test(tuplets_without_signs_are_grouped_by_their_length),
        cmocka_unit_test(tuplets_stand_within_tuplets),
        cmocka_unit_test(beams_that_do_not_end_are_left_out),
    };
    return cmocka_run_group_tests_name("musicxml_notes", tests, NULL, NULL);
}
