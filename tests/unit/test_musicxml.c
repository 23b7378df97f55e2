#include "support/scores.h"

/* MusicXML in: scores, parts, voices and slips; and what a horn cannot play. */

static void check_refused(const char *measures, unsigned number,
                          const char *part)
{
    struct hbk_arena arena = {.newest = NULL};
    read_bad("t.xml", score(&arena, measures), number, part);
    hbk_arena_finish(&arena);
}

static void a_march_is_read_with_all_its_marks(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(
        hbk_tune_read("tests/data/march.musicxml", NULL, &document, &faults),
        HBK_OK);
    assert_int_equal(faults.count, 1);
    assert_true(has_fault(&faults, 268)); /* a line of text on the page */
    const struct hbk_tune *const tune = &document.tune;
    assert_string_equal(tune->title, "March of the Brickworks Band & Friends");
    assert_string_equal(tune->composer, "A. N. Other");
    assert_string_equal(tune->part, "Cornet in B\xE2\x99\xAD");
    assert_int_equal(tune->transpose, -2);
    assert_int_equal(tune->keys[0].fifths, 2);
    assert_string_equal(tune->keys[0].mode, "major");
    assert_int_equal(tune->meters[0].sign, HBK_TUNE_METER_CUT);
    check_abs(tune->tempos[0].quarters, 200.0, 1e-9);
    assert_int_equal(tune->n_bars, 4);
    assert_string_equal(tune->bars[0].number, "0");
    assert_true(tune->bars[0].implicit);
    assert_true(tune->bars[1].repeat_start);
    assert_int_equal(tune->bars[2].repeat_end, 2);
    assert_string_equal(tune->bars[3].ending, "2");
    assert_int_equal(tune->n_events, 11);
    const struct hbk_tune_event *const e = tune->events;
    assert_int_equal(e[1].kind, HBK_TUNE_GRACE);
    assert_true(e[1].slash);
    assert_int_equal(e[2].articulation, HBK_TUNE_ACCENT);
    assert_int_equal(e[2].dots, 1);
    assert_string_equal(e[3].fingering, "2");
    assert_int_equal(e[4].accidental, HBK_TUNE_CAUTIONARY);
    assert_int_equal(e[5].head, 4);
    assert_true(
        hbk_ratio_equal(e[4].held, (struct hbk_ratio){.num = 3, .den = 4}));
    assert_false(e[7].hidden); /* from <forward> */
    assert_int_equal(tune->tuplets[0].count, 2);
    assert_int_equal(e[10].place.line, 99);
    assert_string_equal(
        played_text(tune, &document.arena),
        "A4 1/4, D5 3/8, F#5 1/8, G#5 3/4, r 1/4, r 1/2, D5 3/8, F#5 1/8, "
        "G#5 1/2, D5 1/6, E5 1/12, D5 3/4");
    hbk_tune_document_finish(&document);
}

/* Measures hold parts instead of parts measures: the same music. */
static void timewise_is_partwise_turned_over(void **state)
{
    (void)state;
    static const char list[] =
        "<part-list><score-part id=\"A\"><part-name>One</part-name>"
        "</score-part><score-part id=\"B\"><part-name>Two</part-name>"
        "</score-part></part-list>";
    static const char one[] = DIVISIONS("1") NOTE("C", "4", "4", "");
    static const char two[] = DIVISIONS("2") NOTE("E", "5", "8", "");
    static const char three[] = NOTE("F", "5", "8", "");
    struct hbk_arena arena = {.newest = NULL};
    const char *const partwise = hbk_arena_printf(
        &arena,
        "<score-partwise>%s<part id=\"A\"><measure number=\"1\">%s</measure>"
        "</part><part id=\"B\"><measure number=\"1\">%s</measure><measure "
        "number=\"2\">%s</measure></part></score-partwise>",
        list, one, two, three);
    const char *const timewise = hbk_arena_printf(
        &arena,
        "<score-timewise>%s<measure number=\"1\"><part id=\"A\">%s</part>"
        "<part id=\"B\">%s</part></measure><measure number=\"2\"><part "
        "id=\"B\">%s</part></measure></score-timewise>",
        list, one, two, three);
    read_bad("t.xml", partwise, 244, "A (One), B (Two)");
    read_bad("t.xml", timewise, 244, "A (One), B (Two)");
    static const char *const names[] = {"B", "Two", "2"};
    for (size_t i = 0; i < COUNT(names); i++) {
        const struct hbk_tune_options options = {.part = names[i]};
        const char *texts[2];
        const char *const files[2] = {partwise, timewise};
        for (size_t k = 0; k < 2; k++) {
            struct hbk_tune_document document = {.source = NULL};
            struct hbk_faults faults = {.count = 0};
            assert_int_equal(hbk_tune_read_bytes("t.xml", files[k],
                                                 strlen(files[k]), &options,
                                                 &document, &faults),
                             HBK_OK);
            texts[k] = describe(&document.tune, &arena);
            assert_string_equal(played_text(&document.tune, &arena),
                                "E5 1, F5 1");
            hbk_tune_document_finish(&document);
        }
        assert_string_equal(texts[0], texts[1]);
    }
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.part = "C"};
    assert_int_equal(hbk_tune_read_bytes("t.xml", partwise, strlen(partwise),
                                         &options, &document, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.items[0].number, 245);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void tempo_transposition_and_meter_are_read(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good(
        "t.xml",
        score(
            &arena,
            "<measure number=\"X1\"><attributes><divisions>1</divisions>"
            "<key><key-step>F</key-step><key-alter>1</key-alter><key-step>B"
            "</key-step><key-alter>-1</key-alter></key><time><beats>3+2"
            "</beats><beat-type>8</beat-type><beats>1</beats><beat-type>4"
            "</beat-type></time><clef><sign>F</sign><line>3</line>"
            "<clef-octave-change>-1</clef-octave-change></clef><transpose>"
            "<chromatic>-9</chromatic><octave-change>-1</octave-change>"
            "<double/></transpose></attributes><direction><direction-type>"
            "<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/>"
            "<per-minute>60</per-minute></metronome></direction-type>"
            "</direction>" REST("3", "") NOTE(
                "C", "4", "0.5",
                "") "</measure><measure><sound tempo=\"77.5\" dacapo=\"yes\"/>"
                    "<attributes><transpose><chromatic>0</chromatic></"
                    "transpose>"
                    "</attributes>" NOTE("C", "4", "3.5", "") "</measure>"),
        &document, &faults);
    const struct hbk_tune *const tune = &document.tune;
    assert_int_equal(tune->transpose, -33);
    assert_false(tune->keys[0].traditional);
    assert_int_equal(tune->keys[0].alter[3], 1);
    assert_int_equal(tune->keys[0].alter[6], -1);
    assert_int_equal(tune->meters[0].beats, 7);
    assert_int_equal(tune->meters[0].unit, 8);
    assert_int_equal(tune->clefs[0].sign, 'F');
    assert_int_equal(tune->clefs[0].line, 3);
    assert_int_equal(tune->clefs[0].octave, -1);
    check_abs(tune->tempos[0].quarters, 90.0, 1e-9);
    assert_int_equal(tune->tempos[0].beat.num, 3);
    check_abs(tune->tempos[0].beats, 60.0, 1e-9);
    check_abs(tune->tempos[1].quarters, 77.5, 1e-9);
    assert_int_equal(tune->order.n, 2); /* and D.C. */
    assert_int_equal(faults.count, 1);
    assert_true(has_fault(&faults, 251));
    char where[HBK_TUNE_WHERE_SIZE];
    assert_string_equal(hbk_tune_where(tune, 1, where), "bar X1, beat 7");
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void concert_scores_are_told(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.xml",
              "<score-partwise version=\"4.0\"><defaults><concert-score/>"
              "</defaults><part-list><score-part id=\"P1\"><part-name/>"
              "</score-part></part-list><part id=\"P1\"><measure number=\"1\">"
              "<attributes><divisions>1</divisions><transpose><chromatic>-2"
              "</chromatic></transpose></attributes>" NOTE(
                  "C", "4", "4", "") "</measure></part></score-partwise>",
              &document, &faults);
    assert_true(document.tune.concert);
    assert_int_equal(document.tune.transpose, 0);
    assert_true(has_fault(&faults, 252));
    hbk_tune_document_finish(&document);
}

static void endings_and_repeats_are_played(void **state)
{
    (void)state;
#define LEFT(inner) "<barline location=\"left\">" inner "</barline>"
#define RIGHT(inner) "<barline location=\"right\">" inner "</barline>"
    check_played(
        "<measure>" DIVISIONS("1") NOTE(
            "C", "4", "1",
            "") "</measure><measure>" LEFT("<ending number=\"1, 2\" "
                                           "type=\"start\"/>")
            NOTE("D", "4", "1", "") RIGHT(
                "<ending number=\"1, 2\" type=\"stop\"/><repeat "
                "direction=\"backward\" times=\"3\"/>") "</"
                                                        "measure><"
                                                        "measure>" LEFT(
                                                            "<endin"
                                                            "g "
                                                            "number"
                                                            "=\"3\""
                                                            " type="
                                                            "\"star"
                                                            "t\"/>") NOTE("E",
                                                                          "4",
                                                                          "1",
                                                                          "")
                                                            RIGHT(
                                                                "<ending "
                                                                "number=\"3\" "
                                                                "type="
                                                                "\"discontinue"
                                                                "\"/>") "</"
                                                                        "measur"
                                                                        "e>"
                                                                        "<measu"
                                                                        "re"
                                                                        ">" NOTE(
                                                                            "F",
                                                                            "4",
                                                                            "1",
                                                                            "") "</measure>",
        "C4 1/4, D4 1/4, C4 1/4, D4 1/4, C4 1/4, E4 1/4, F4 1/4", 0);
    check_played(
        "<measure>" DIVISIONS("1") NOTE("C", "4", "1", "")
            RIGHT("<repeat direction=\"backward\" times=\"3\"/>") "</measure>",
        "C4 1/4, C4 1/4, C4 1/4", 0);
}

static void a_voice_is_read_alone_where_it_is_asked_for(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const char *const text = score(
        &arena,
        "<measure>" DIVISIONS("1")
            NOTE("C", "4", "4",
                 "<voice>1</voice>") "<backup><duration>4"
                                     "</duration></backup>\n" NOTE(
                                         "E", "4", "4",
                                         "<voice>2</voice>") "</measure>");
    struct hbk_tune_options options = {.voice = "2"};
    assert_int_equal(hbk_tune_read_bytes("t.xml", text, strlen(text), &options,
                                         &document, &faults),
                     HBK_OK);
    assert_string_equal(played_text(&document.tune, &arena), "E4 1");
    assert_string_equal(document.tune.voice, "2");
    assert_int_equal(faults.count, 0);
    hbk_tune_document_finish(&document);
    options.voice = "3";
    document = (struct hbk_tune_document){.source = NULL};
    assert_int_equal(hbk_tune_read_bytes("t.xml", text, strlen(text), &options,
                                         &document, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.items[0].number, 215);
    assert_non_null(strstr(faults.items[0].text, "it has 1, 2"));
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void slips_are_named_with_their_place(void **state)
{
    (void)state;
    read_bad("t.xml", "<score-partwise>\n<part>", 240, "t.xml:2:");
    read_bad("t.xml", "<", 240, "t.xml");
    read_bad("t.xml", "<svg/>", 243, "score-partwise");
    read_bad("t.xml", "<opus/>", 243, "list of scores");
    read_bad("t.xml", "<score-partwise/>", 253, "no part");
    check_refused("", 253, "measures");
    check_refused("<measure number=\"4\">" NOTE("C", "4", "1", "") "</measure>",
                  247, "bar 4: a duration comes before");
    check_refused("<measure>" DIVISIONS("0") "</measure>", 247, "above 0");
    check_refused("<measure>" DIVISIONS("1")
                      NOTE("C", "4", "-1", "") "</measure>",
                  247, "duration");
    check_refused("<measure>" DIVISIONS("1")
                      NOTE("H", "4", "1", "") "</measure>",
                  248, "step A to G");
    check_refused("<measure>" DIVISIONS("1")
                      NOTE("C", "44", "1", "") "</measure>",
                  248, "octave 0 to 9");
    check_refused("<measure>" DIVISIONS("1") "</measure>", 203, "no notes");
    check_refused("<measure>" DIVISIONS(
                      "1") "<note><unpitched/><duration>1</duration></note>"
                           "</measure>",
                  296, "as for a drum");
}

static void what_can_be_made_good_is_warned_of(void **state)
{
    (void)state;
    check_played("<measure>" DIVISIONS("1") "<backup><duration>1</duration>"
                                            "</backup>" NOTE("C", "4", "4",
                                                             "") "</measure>",
                 "C4 1", 299);
    check_played("<measure><attributes><divisions>1</divisions><time><beats>x"
                 "</beats><beat-type>4</beat-type></time></attributes>" NOTE(
                     "C", "4", "3", "") "</measure>",
                 "C4 3/4", 298);
    check_played("<measure>" DIVISIONS("1") REST("1", "") "</measure>", "r 1/4",
                 295);
}

static void bars_that_are_not_full_are_told(void **state)
{
    (void)state;
    check_played(
        "<measure number=\"1\"><attributes><divisions>1</divisions><time>"
        "<beats>2</beats><beat-type>4</beat-type></time></attributes>" NOTE(
            "C", "4", "2",
            "") "</measure><measure number=\"2\">" NOTE("C", "4", "1",
                                                        "") "</"
                                                            "measure><measure "
                                                            "number="
                                                            "\"3\">" NOTE(
                                                                "C", "4", "2",
                                                                "") "</"
                                                                    "measure>",
        "C4 1/2, C4 1/4, C4 1/2", 204);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_march_is_read_with_all_its_marks),
        cmocka_unit_test(timewise_is_partwise_turned_over),
        cmocka_unit_test(tempo_transposition_and_meter_are_read),
        cmocka_unit_test(concert_scores_are_told),
        cmocka_unit_test(endings_and_repeats_are_played),
        cmocka_unit_test(a_voice_is_read_alone_where_it_is_asked_for),
        cmocka_unit_test(slips_are_named_with_their_place),
        cmocka_unit_test(what_can_be_made_good_is_warned_of),
        cmocka_unit_test(bars_that_are_not_full_are_told),
    };
    return cmocka_run_group_tests_name("musicxml", tests, NULL, NULL);
}
