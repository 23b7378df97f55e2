#include "support/musicxml.h"

#include "tune/abc/abc_export.h"
#include "tune/melody/transpose.h"
#include "tune/musicxml/musicxml_anew.h"

/*
 * What is written is read again: models must be equal, the user's files
 * unchanged but for the fingerings, the XML valid.
 */

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static size_t count(const char *text, const char *part)
{
    size_t n = 0;
    for (const char *at = strstr(text, part); at != NULL;
         at = strstr(at + 1, part)) {
        n++;
    }
    return n;
}

/* MusicXML has no rest that a reader is not to see: there it is a plain one. */
static const char *with_all_rests(struct hbk_arena *arena, const char *text)
{
    static const char hidden[] = " hidden 1";
    char *const copy = hbk_arena_copy(arena, text, strlen(text));
    for (char *at = strstr(copy, hidden); at != NULL; at = strstr(at, hidden)) {
        at[sizeof(hidden) - 2] = '0';
    }
    return copy;
}

static void check_round_trip(const struct hbk_tune *tune)
{
    struct hbk_arena arena = {.newest = NULL};
    const char *const want = describe(tune, &arena);
    const char *const xml = to_musicxml(tune, &arena);
    check_order(xml, strlen(xml));
    assert_int_equal(count(xml, "<tuplet number=\"1\" type=\"start\"/>"),
                     tune->n_tuplets);
    assert_int_equal(count(xml, "<tuplet number=\"1\" type=\"stop\"/>"),
                     tune->n_tuplets);
    struct hbk_tune_document again = {.source = NULL};
    read_text(xml, &again);
    assert_string_equal(describe(&again.tune, &arena),
                        with_all_rests(&arena, want));
    hbk_tune_document_finish(&again);

    struct hbk_text abc = {.arena = &arena};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_to_abc(tune, NULL, &abc, &faults), HBK_OK);
    again = (struct hbk_tune_document){.source = NULL};
    read_text(abc.bytes, &again);
    const char *const got = describe(&again.tune, &arena);
    if (strcmp(got, want) != 0) {
        print_error("%s\n", abc.bytes);
    }
    assert_string_equal(got, want);
    hbk_tune_document_finish(&again);
    hbk_arena_finish(&arena);
}

static void models_survive_both_formats(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    read_text(rich_abc, &document);
    check_round_trip(&document.tune);
    hbk_tune_document_finish(&document);
    for (int i = 1; i <= 12; i++) {
        char number[8];
        (void)snprintf(number, sizeof(number), "%d", i);
        document = (struct hbk_tune_document){.source = NULL};
        read_book(number, &document);
        check_round_trip(&document.tune);
        hbk_tune_document_finish(&document);
    }
}

static void ornaments_survive_both_formats(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    read_text("X:1\nT:t\nM:4/4\nL:1/4\nK:G\n"
              "!turn!G!invertedturn!A MB "
              "PB|~c!mordent!d.Te!pralltriller!!caesura!f|\n",
              &document);
    static const unsigned want[] = {HBK_TUNE_TURN,
                                    HBK_TUNE_INVERTED_TURN,
                                    HBK_TUNE_MORDENT,
                                    HBK_TUNE_UPPER_MORDENT,
                                    HBK_TUNE_ROLL,
                                    HBK_TUNE_MORDENT,
                                    HBK_TUNE_TRILL | HBK_TUNE_STACCATO,
                                    HBK_TUNE_UPPER_MORDENT | HBK_TUNE_CAESURA};
    for (size_t i = 0; i < COUNT(want); i++) {
        assert_int_equal(document.tune.events[i].articulation, want[i]);
    }
    check_round_trip(&document.tune);
    hbk_tune_document_finish(&document);
}

static void jumps_survive_both_formats(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    read_text("X:1\nT:t\nM:2/4\nL:1/4\nK:G\n!segno!GA|B!dacoda!c|"
              "d !fine!e|!D.S.alcoda!fg!coda!|d2!D.C.!||\n",
              &document);
    const struct hbk_tune_bar *const bars = document.tune.bars;
    assert_true((bars[0].signs.bits & HBK_SIGN_SEGNO) != 0);
    assert_string_equal(bars[1].jump, "To Coda");
    assert_string_equal(bars[2].jump, "Fine");
    assert_string_equal(bars[3].jump, "D.S. al Coda");
    assert_true((bars[4].signs.bits & HBK_SIGN_CODA) != 0);
    assert_string_equal(bars[4].jump, "D.C.");
    check_round_trip(&document.tune);
    hbk_tune_document_finish(&document);
    document = (struct hbk_tune_document){.source = NULL};
    read_text("X:1\nT:t\nM:2/4\nL:1/4\nK:G\n\"Segno\"GA|B!segno!c|"
              "d!coda!e|\"Fine\"fg\"D.C. al 'Fine', con rep.\"|d2|\n",
              &document);
    assert_string_equal(document.tune.bars[3].jump,
                        "Fine; D.C. al 'Fine', con rep.");
    check_round_trip(&document.tune);
    hbk_tune_document_finish(&document);
}

/* ABC can say the order of its parts, and MusicXML cannot: that is told. */
static void the_order_of_parts_goes_where_it_can(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    read_text("X:1\nT:t\nL:1/1\nP:(AB)2A\nK:G\n[P:A]G|[P:B]A|\n", &document);
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_text out = {.arena = &arena};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_to_abc(&document.tune, NULL, &out, &faults),
                     HBK_OK);
    assert_int_equal(faults.count, 0);
    struct hbk_tune_document again = {.source = NULL};
    read_text(out.bytes, &again);
    assert_string_equal(again.tune.form, "ABABA");
    assert_int_equal(again.tune.order.n, document.tune.order.n);
    assert_int_equal(again.tune.order.n, 5);
    hbk_tune_document_finish(&again);
    assert_int_equal(hbk_tune_to_musicxml(&document.tune, NULL, &out, &faults),
                     HBK_OK);
    assert_int_equal(faults.count, 1);
    assert_true(has_fault(&faults, 222));
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* Rhythms that no plain note shows come back as they went out. */
static void odd_lengths_survive_both_formats(void **state)
{
    (void)state;
    static const char *const runs[] = {
        "E5:1/12 F5:1/12 G5:1/12 E5:1/6 F5:1/12 C5:1/24 D5:1/24",
        "C5:5/8 D5:3/8 | C5:5/12 D5:1/12 E5:1/20 F5:1/20 G5:1/20 A5:1/10",
        "(C5:1/28 D5:1/28 E5:1/28 F5:1/28) G5:3/28",
    };
    for (size_t i = 0; i < sizeof(runs) / sizeof(runs[0]); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        assert_int_equal(hbk_tune_from_run("run", runs[i], &document, &faults),
                         HBK_OK);
        check_round_trip(&document.tune);
        hbk_tune_document_finish(&document);
    }
}

/* Section 4.20: after grace notes and chord symbols, before the rest. */
static void annotations_stand_where_the_standard_has_them(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    read_text("X:1\nT:t\nK:C\n{g}\"Gm7\"v.=G,2 c-c{ab}(d \"_0\"e)z|\n",
              &document);
    static const char *const alternates[] = {"3"};
    struct hbk_tune_fingering fingerings[9] = {
        {.main = "0"},     {.main = "1-2"}, {.main = "2"},
        {.main = "never"}, {.main = "1"},   {.main = "2"},
        {.main = "1-3"},   {.main = "0"},   {.main = "never"}};
    fingerings[6].alternates = alternates;
    fingerings[6].n_alternates = 1;
    assert_int_equal(document.tune.n_events, 9);
    struct hbk_text out = {.arena = &arena};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_annotate(&document, document.format, fingerings,
                                       NULL, &out, &faults),
                     HBK_OK);
    assert_string_equal(
        out.bytes,
        "X:1\n% fingerings by hornbook: 7 texts below the notes; by others: 7\n"
        "T:t\nK:C\n{g}\"Gm7\"\"_{0}\"\"_1-2\"v.=G,2 \"_2\"c-c{ab}(\"_{1 2}\""
        "\"_1-3\"\"_(3)\"d \"_0\"e)z|\n");
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void edited_annotations_are_not_guessed_at(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    read_text("X:1\n% fingerings by hornbook: 2 texts below the notes\nT:t\n"
              "K:C\n\"_0\"c|\n",
              &document);
    struct hbk_text out = {.arena = &arena};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_strip(&document, document.format, &out, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.items[0].number, 233);
    assert_null(out.bytes);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void fingerings_stand_in_the_order_of_the_schema(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    read_march(&document);
    struct hbk_tune_fingering *const fingerings = HBK_ARENA_ARRAY(
        &arena, struct hbk_tune_fingering, document.tune.n_events);
    static const char *const alternates[] = {"1-3"};
    fingerings[0].main = "1-2"; /* with a lyric */
    fingerings[2].main = "1 & 3";
    fingerings[2].alternates = alternates;
    fingerings[2].n_alternates = 1;
    fingerings[3].main = "2"; /* as the file has it already */
    fingerings[4].main = "2-3";
    struct hbk_text out = {.arena = &arena};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_annotate(&document, document.format, fingerings,
                                       NULL, &out, &faults),
                     HBK_OK);
    static const char *const parts[] = {
        "<type>quarter</type>\n        <?hornbook notations?><notations>"
        "<technical><fingering placement=\"below\">1-2</fingering>"
        "</technical></notations>\n        <lyric",
        "<articulations><accent/></articulations>\n          "
        "<?hornbook technical?><technical><fingering placement=\"below\">1 "
        "&amp; 3</fingering><fingering alternate=\"yes\" placement=\"below\">"
        "1-3</fingering></technical>\n        </notations>",
        "<slur type=\"stop\" number=\"1\"/><technical><fingering>2"
        "</fingering></technical></notations>",
        "<technical/><?hornbook technical?><technical><fingering placement="
        "\"below\">2-3</fingering></technical></notations>"};
    for (size_t i = 0; i < COUNT(parts); i++) {
        if (strstr(out.bytes, parts[i]) == NULL) {
            print_error("missing: %s\nin: %s\n", parts[i], out.bytes);
        }
        assert_non_null(strstr(out.bytes, parts[i]));
    }
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* What was written anew is replaced like what was written into a file. */
static void own_files_are_written_again(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_faults faults = {.count = 0};
    struct hbk_tune_document document = {.source = NULL};
    assert_int_equal(hbk_tune_from_run("run", "C5 (D5 E5:1/12 F5:1/12 G5:1/12)",
                                       &document, &faults),
                     HBK_OK);
    const struct hbk_tune *const tune = &document.tune;
    struct hbk_tune_fingering first[5] = {{.main = NULL}};
    struct hbk_tune_fingering second[5] = {{.main = NULL}};
    for (size_t i = 0; i < 5; i++) {
        first[i].main = "1-2-3";
        second[i].main = "4";
    }
    for (int kind = 0; kind < 2; kind++) {
        struct hbk_text anew = {.arena = &arena};
        struct hbk_text bare = {.arena = &arena};
        struct hbk_text again = {.arena = &arena};
        struct hbk_text stripped = {.arena = &arena};
        assert_int_equal(
            kind == 0 ? hbk_tune_to_abc(tune, first, &anew, &faults)
                      : hbk_tune_to_musicxml(tune, first, &anew, &faults),
            HBK_OK);
        assert_int_equal(kind == 0
                             ? hbk_tune_to_abc(tune, NULL, &bare, &faults)
                             : hbk_tune_to_musicxml(tune, NULL, &bare, &faults),
                         HBK_OK);
        struct hbk_tune_document read = {.source = NULL};
        read_text(anew.bytes, &read);
        assert_int_equal(hbk_tune_annotate(&read, read.format, second,
                                           "for a horn that reads these notes "
                                           "a tone higher",
                                           &again, &faults),
                         HBK_OK);
        assert_null(strstr(again.bytes, "1-2-3"));
        assert_non_null(strstr(again.bytes, "these notes a tone higher"));
        struct hbk_tune_document last = {.source = NULL};
        read_text(again.bytes, &last);
        assert_string_equal(last.tune.events[4].fingering, "4");
        assert_int_equal(hbk_tune_strip(&last, last.format, &stripped, &faults),
                         HBK_OK);
        assert_string_equal(stripped.bytes, bare.bytes);
        hbk_tune_document_finish(&read);
        hbk_tune_document_finish(&last);
    }
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* A fingering that another program put into what was added must stay. */
static void strangers_in_the_added_elements_stay(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    read_text("<score-partwise><part-list><score-part id=\"P\"><part-name/>"
              "</score-part></part-list><part id=\"P\"><measure number=\"1\">"
              "<attributes><divisions>1</divisions></attributes><note><pitch>"
              "<step>C</step><octave>4</octave></pitch><duration>4</duration>"
              "<?hornbook notations?><notations><technical><fingering>1"
              "</fingering></technical><fermata/></notations></note></measure>"
              "</part></score-partwise>",
              &document);
    assert_string_equal(document.tune.events[0].fingering, "1");
    struct hbk_text out = {.arena = &arena};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_strip(&document, document.format, &out, &faults),
                     HBK_OK);
    assert_non_null(strstr(
        out.bytes, "<duration>4</duration><notations><fermata/></notations>"));
    assert_null(strstr(out.bytes, "hornbook"));
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void fingerings_are_written_with_a_new_tune(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    assert_int_equal(hbk_tune_from_run("run",
                                       "C5 (D5:1/8 E5:1/8) r G5:3/8 | F#5:1/2",
                                       &document, &faults),
                     HBK_OK);
    static const char *const alternates[] = {"1-3"};
    const struct hbk_tune_fingering fingerings[6] = {
        {.main = "0"},
        {.main = "1", .alternates = alternates, .n_alternates = 1},
        {.main = "0"},
        {.main = "no"},
        {.main = ""},
        {.main = "2"}};
    struct hbk_text abc = {.arena = &arena};
    assert_int_equal(hbk_tune_annotate(&document, HBK_TUNE_ABC, fingerings,
                                       NULL, &abc, &faults),
                     HBK_OK);
    assert_non_null(strstr(abc.bytes, "K:none clef=treble\n\"_0\"c2 (\"_1\""
                                      "\"_(1-3)\"d \"_0\"e) z2 g3 | \"_2\"^f4 "
                                      "|\n"));
    struct hbk_text xml = {.arena = &arena};
    assert_int_equal(
        hbk_tune_to_musicxml(&document.tune, fingerings, &xml, &faults),
        HBK_OK);
    check_order(xml.bytes, xml.length);
    struct hbk_tune_document again = {.source = NULL};
    read_text(xml.bytes, &again);
    assert_string_equal(again.tune.events[1].fingering, "1");
    assert_null(again.tune.events[3].fingering);
    hbk_tune_document_finish(&again);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void fingerings_that_are_no_text_are_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {"1\n2", "\xFF", "\x1B[31m"};
    for (size_t i = 0; i < COUNT(bad); i++) {
        struct hbk_arena arena = {.newest = NULL};
        struct hbk_tune_document document = {.source = NULL};
        read_text("X:1\nT:t\nK:C\nc|\n", &document);
        const struct hbk_tune_fingering fingerings[1] = {{.main = bad[i]}};
        struct hbk_text out = {.arena = &arena};
        struct hbk_faults faults = {.count = 0};
        assert_int_equal(hbk_tune_annotate(&document, document.format,
                                           fingerings, NULL, &out, &faults),
                         HBK_ERR_INPUT);
        assert_int_equal(faults.items[0].number, 280);
        assert_null(out.bytes);
        hbk_tune_document_finish(&document);
        hbk_arena_finish(&arena);
    }
}

/* The spellings are those of a band part: worked out by hand. */
static void parts_move_to_another_horn(void **state)
{
    (void)state;
    static const struct {
        const char *key, *music;
        int semitones;
        const char *moved;
        int fifths;
    } cases[] = {
        {"C", "C^F_B^c|", 2, "D4 1/8, G#4 1/8, C5 1/8, D#5 1/8", 2},
        {"C", "CEG^F|", 6, "Gb4 1/8, Bb4 1/8, Db5 1/8, C5 1/8", -6},
        {"Bb", "BA_G|", -2, "Ab4 1/8, G4 1/8, Fb4 1/8", -4},
        {"D", "DF^G|", -12, "D3 1/8, F#3 1/8, G#3 1/8", 2},
        {"B", "BAE|", 7, "Gb5 1/8, F5 1/8, Cb5 1/8", -6},
        {"E", "EG^^FB|", 7, "B4 1/8, D#5 1/8, C##5 1/8, F#5 1/8", 5},
        {"C", "B_C|", 1, "C5 1/8, C4 1/8", -5},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {.source = NULL};
        char text[100];
        (void)snprintf(text, sizeof(text), "X:1\nT:t\nL:1/8\nK:%s\n%s\n",
                       cases[i].key, cases[i].music);
        read_text(text, &document);
        struct hbk_tune moved;
        assert_int_equal(hbk_tune_transposed(&document.tune, cases[i].semitones,
                                             &document.arena, &moved),
                         HBK_OK);
        const char *const got = played_text(&moved, &document.arena);
        if (moved.keys[0].fifths != cases[i].fifths ||
            strcmp(got, cases[i].moved) != 0) {
            print_error("case %zu\n", i);
        }
        assert_string_equal(got, cases[i].moved);
        assert_int_equal(moved.keys[0].fifths, cases[i].fifths);
        assert_int_equal(moved.transpose, -cases[i].semitones);
        for (size_t k = 0; k < moved.n_events; k++) {
            assert_int_equal(hbk_spelling_note(moved.events[k].spelling),
                             moved.events[k].note);
            assert_int_equal(moved.events[k].note,
                             document.tune.events[k].note + cases[i].semitones);
        }
        hbk_tune_document_finish(&document);
    }
}

/* A B flat part is written a fifth higher for a horn in low E flat. */
static void the_shift_keeps_what_sounds(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    read_march(&document);
    const struct hbk_tune *const tune = &document.tune;
    assert_int_equal(tune->transpose, -2);
    assert_int_equal(hbk_tune_shift_for(tune, 58, false), 0);
    assert_int_equal(hbk_tune_shift_for(tune, 60, false), -2);
    assert_int_equal(hbk_tune_shift_for(tune, 51, false), 7);
    assert_int_equal(hbk_tune_shift_for(tune, 58, true), 2);
    struct hbk_tune moved;
    assert_int_equal(hbk_tune_transposed(tune, 200, &document.arena, &moved),
                     HBK_ERR_DOMAIN);
    hbk_tune_document_finish(&document);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(models_survive_both_formats),
        cmocka_unit_test(odd_lengths_survive_both_formats),
        cmocka_unit_test(ornaments_survive_both_formats),
        cmocka_unit_test(jumps_survive_both_formats),
        cmocka_unit_test(the_order_of_parts_goes_where_it_can),
        cmocka_unit_test(annotations_stand_where_the_standard_has_them),
        cmocka_unit_test(edited_annotations_are_not_guessed_at),
        cmocka_unit_test(fingerings_stand_in_the_order_of_the_schema),
        cmocka_unit_test(own_files_are_written_again),
        cmocka_unit_test(strangers_in_the_added_elements_stay),
        cmocka_unit_test(fingerings_are_written_with_a_new_tune),
        cmocka_unit_test(fingerings_that_are_no_text_are_refused),
        cmocka_unit_test(parts_move_to_another_horn),
        cmocka_unit_test(the_shift_keeps_what_sounds),
    };
    return cmocka_run_group_tests_name("tune_write", tests, NULL, NULL);
}
