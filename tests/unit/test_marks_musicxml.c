#include "support/marks.h"
#include "support/scores.h"

/* What is printed about the notes of a MusicXML part, and where it stands. */

static void check(const char *measures, const char *want)
{
    struct hbk_arena arena = {.newest = NULL};
    check_marks("t.xml", score(&arena, measures), want);
    hbk_arena_finish(&arena);
}

#define MEASURE(number, content)                                               \
    "<measure number=\"" number "\">" content "</measure>"
#define DIRECTION(type, more)                                                  \
    "<direction><direction-type>" type "</direction-type>" more "</direction>"
#define WORDS(text) DIRECTION("<words>" text "</words>", "")
/* The first measure, four quarters long, two divisions each. */
#define FIRST(content) MEASURE("1", DIVISIONS("2") content)
#define C4(more) NOTE("C", "4", "2", more)
#define LYRIC(number, content)                                                 \
    "<lyric number=\"" number "\">" content "</lyric>"
#define TEXT(text) "<text>" text "</text>"

static void directions_stand_at_their_time(void **state)
{
    (void)state;
    check(FIRST(DIRECTION("<dynamics><p/></dynamics>", "") C4("") C4("")
                    DIRECTION("<dynamics><sfz/></dynamics>", "") C4("") C4("")),
          "dynamic p 1+0 e0\ndynamic sfz 1+1/2 e2\n");
    /* Within a long note, by an offset or by going back. */
    check(FIRST(NOTE("C", "4", "8",
                     "") "<backup><duration>4</duration></"
                         "backup>" WORDS("dolce") "<forward><duration>4</"
                                                  "duration></forward>"),
          "words dolce 1+1/2 e0\n");
    check(FIRST(DIRECTION("<dynamics><f/></dynamics>", "<offset>3</offset>")
                    NOTE("C", "4", "8", "")),
          "dynamic f 1+3/8 e0\n");
    check(FIRST(C4("") C4("") WORDS("fine here")),
          "words fine here 1+1/2 e1\n");
    check(FIRST("<direction placement=\"below\"><direction-type><dynamics>"
                "<other-dynamics>pi\u00F9 f</other-dynamics></dynamics>"
                "</direction-type></direction>" C4("")
                    DIRECTION("<dynamics><sf/><mp/></dynamics>", "") C4("")),
          "words below pi\u00F9 f 1+0 e0\ndynamic sfmp 1+1/4 e1\n");
    /* Grace notes do not part a mark from its note. */
    check(
        FIRST(DIRECTION(
            "<dynamics><p/></dynamics>",
            "") "<note><grace/><pitch><step>D</step><octave>4</octave></pitch>"
                "</note>" C4("")),
        "dynamic p 1+0 e1\n");
}

static void hairpins_go_from_time_to_time(void **state)
{
    (void)state;
    check(FIRST(DIRECTION("<wedge type=\"crescendo\"/>", "") C4("") C4("")
                    DIRECTION("<wedge type=\"stop\"/>", "") DIRECTION(
                        "<wedge type=\"diminuendo\" number=\"2\"/>", "") C4("")
                        C4("") DIRECTION("<wedge type=\"stop\" number=\"2\" "
                                         "niente=\"yes\"/>",
                                         "")),
          "crescendo 1+0 e0 to 1+1/2 e2\n"
          "diminuendo 1+1/2 e2 to 1+1 e3 niente\n");
    check(FIRST(DIRECTION("<wedge type=\"crescendo\"/>", "")
                    NOTE("C", "4", "8", ""))
              MEASURE("2", C4("") DIRECTION("<wedge type=\"stop\"/>", "")),
          "crescendo 1+0 e0 to 2+1/4 e1\n");
    check(FIRST(DIRECTION("<wedge type=\"crescendo\"/>", "") C4("") C4("")),
          "crescendo 1+0 e0 to 1+1/2 e1\n");
    check(FIRST(DIRECTION("<words>cresc.</words>", "")
                    DIRECTION("<dashes type=\"start\"/>", "") C4("") C4("")
                        DIRECTION("<dashes type=\"stop\"/>", "") C4("")),
          "words cresc. 1+0 e0 to 1+1/2 e2\n");
    check(FIRST("<direction><direction-type><words>rit.</words>"
                "</direction-type><direction-type><dashes type=\"start\" "
                "number=\"3\"/></direction-type></direction>" C4("") DIRECTION(
                    "<dashes type=\"stop\" number=\"3\"/>", "") C4("")),
          "tempo rit. 1+0 e0 to 1+1/4 e1\n");
    check(FIRST(DIRECTION("<dashes type=\"start\"/>", "") C4("")),
          "left out: 1 dashed line\n");
}

static void words_say_what_they_are(void **state)
{
    (void)state;
    check(FIRST(WORDS("dolce") C4("") WORDS("Allegro") C4("") WORDS("Fine")
                    C4("") WORDS("mf") C4("") WORDS("D.C. al Fine")),
          "words dolce 1+0 e0\ntempo Allegro 1+1/4 e1\njump Fine 1+1/2 e2\n"
          "dynamic mf 1+3/4 e3\njump D.C. al Fine 1+1 e3\n");
    check(FIRST(DIRECTION("<words>Feierlich</words>", "<sound tempo=\"70\"/>")
                    C4("")),
          "tempo Feierlich 1+0 e0\n");
    check(FIRST(DIRECTION("<words>to the sign</words>",
                          "<sound dalsegno=\"s\"/>") C4("")),
          "jump to the sign 1+0 e0\n");
    check(FIRST(DIRECTION("<words>  </words>", "") C4("")), "");
    check(FIRST(DIRECTION("<words>a\n  little</words><words>broader</words>",
                          "") C4("")),
          "words a little broader 1+0 e0\n");
    check(FIRST(DIRECTION("<words enclosure=\"rectangle\">12</words>", "")
                    C4("")),
          "rehearsal 12 1+0 e0\n");
    check(FIRST(DIRECTION("<rehearsal>B</rehearsal>", "") C4("") DIRECTION(
              "<segno/>", "") C4("") DIRECTION("<coda/>", "") C4("")),
          "rehearsal B 1+0 e0\nsegno 1+1/4 e1\ncoda 1+1/2 e2\n");
}

static void metronome_marks_stand_with_their_words(void **state)
{
    (void)state;
    check(FIRST("<direction><direction-type><words>Andante</words>"
                "</direction-type><direction-type><metronome>"
                "<beat-unit>eighth</beat-unit><beat-unit-dot/>"
                "<per-minute>72</per-minute></metronome></direction-type>"
                "<sound tempo=\"54\"/></direction>" C4("")),
          "tempo Andante [3/16=72] 1+0 e0\n");
    check(FIRST("<direction><direction-type><words>Vivo (</words>"
                "</direction-type><direction-type><metronome>"
                "<beat-unit>half</beat-unit><per-minute>ca. 66</per-minute>"
                "</metronome></direction-type><direction-type><words>)</words>"
                "</direction-type></direction>" C4("")),
          "tempo Vivo [1/2=ca. 66]() 1+0 e0\n");
    check(FIRST(DIRECTION("<metronome parentheses=\"yes\">"
                          "<beat-unit>quarter</beat-unit>"
                          "<beat-unit>quarter</beat-unit><beat-unit-dot/>"
                          "</metronome>",
                          "") C4("")),
          "tempo [1/4=3/8]() 1+0 e0\n");
    check(FIRST(DIRECTION("<metronome print-object=\"no\">"
                          "<beat-unit>quarter</beat-unit>"
                          "<per-minute>90</per-minute></metronome>",
                          "") C4("")),
          "");
    check(FIRST("<sound tempo=\"90\"/>" C4("")), "");
    check(
        FIRST("<attributes><directive>Largo assai</directive></attributes>" C4(
            "")),
        "tempo Largo assai 1+0 e0\n");
}

/* A jump that only sounds is printed, unless it is printed already. */
static void jumps_are_printed_once(void **state)
{
    (void)state;
    check(FIRST(C4("") "<sound dacapo=\"yes\"/>") MEASURE("2", C4("")),
          "jump D.C. 1+1/4 e0\n");
    check(FIRST(C4("") "<sound dacapo=\"yes\"/>" WORDS("D.C. al Fine"))
              MEASURE("2", C4("")),
          "jump D.C. al Fine 1+1/4 e0\n");
    check(FIRST(C4("") DIRECTION("<coda/>", "<sound tocoda=\"c\"/>")),
          "coda 1+1/4 e0\n");
    check(FIRST(C4("") "<sound fine=\"yes\"/>"), "jump Fine 1+1/4 e0\n");
}

static void bar_lines_have_marks_of_their_own(void **state)
{
    (void)state;
    check(FIRST("<barline location=\"left\"><segno/></barline>" C4(
              "") "<barline><coda/><fermata/></barline>")
              MEASURE("2",
                      "<barline location=\"left\"><fermata/></barline>" C4("")),
          "segno 1+0 e0\ncoda 1+1/4 e0\nfermata 1+1/4 e0\n");
    check(FIRST("<attributes><measure-style><multiple-rest>3</multiple-rest>"
                "</measure-style></attributes>" REST("8", ""))
              MEASURE("2", REST("8", "")) MEASURE("3", REST("8", ""))
                  MEASURE("4", C4("")),
          "rests 3 at 1\n");
    /* Only as far as there is nothing but rest. */
    check(FIRST("<attributes><measure-style><multiple-rest>3</multiple-rest>"
                "</measure-style></attributes>" REST("8", ""))
              MEASURE("2", REST("8", "")) MEASURE("3", C4("")),
          "rests 2 at 1\n");
}

static void notes_carry_marks(void **state)
{
    (void)state;
    check(FIRST(C4("<notations><dynamics placement=\"below\"><fp/></dynamics>"
                   "</notations>")
                    C4("<notations><technical><stopped/></technical>"
                       "</notations>")
                        C4("<notations><technical><open/><up-bow/>"
                           "</technical><glissando type=\"start\"/>"
                           "</notations>")
                            C4("<notehead>x</notehead><notations>"
                               "<glissando type=\"stop\"/><articulations>"
                               "<falloff/><accent/></articulations>"
                               "<ornaments><tremolo>3</tremolo></ornaments>"
                               "</notations>")),
          "dynamic below fp 1+0 e0\nplus 1+1/4 e1\nopen 1+1/2 e2\n"
          "left out: 1 bow mark\nleft out: 1 glissando\nleft out: 1 slide\n"
          "left out: 1 tremolo\nleft out: 1 special note head\n");
}

static void words_go_under_their_notes(void **state)
{
    (void)state;
    check(FIRST(C4(LYRIC("1", "<syllabic>begin</syllabic>" TEXT("morn")))
                    C4(LYRIC("1", "<syllabic>end</syllabic>" TEXT("ing")))
                        C4(LYRIC("1", TEXT("long") "<extend/>")) C4("")),
          "1 e0 morn-\n1 e1 ing\n1 e2 long to e3\n");
    check(FIRST(C4(LYRIC("1", TEXT("a") "<extend type=\"start\"/>")) C4("") C4(
              LYRIC("1", "<extend type=\"stop\"/>")) C4(LYRIC("1", TEXT("b")))),
          "1 e0 a to e2\n1 e3 b\n");
    check(FIRST(C4(LYRIC("1", TEXT("a") "<extend/>")) C4("") REST("2", "")
                    C4("")),
          "1 e0 a to e1\n");
    /* Two syllables on a note; verses by number, whichever comes first. */
    check(FIRST(C4(LYRIC("2", TEXT("two")) LYRIC("1", TEXT("one"))) C4(
              LYRIC("1", TEXT("te") "<elision> </elision>"
                                    "<syllabic>begin</syllabic>" TEXT("a")))
                    C4(LYRIC("chorus", TEXT("all")))),
          "1 e0 one\n2 e0 two\n1 e1 te\u203F"
          "a-\n3 e2 all\n");
    check(FIRST(C4("<lyric>" TEXT("x") "</lyric>") C4(
              "<lyric number=\"1\" print-object=\"no\">" TEXT("y") "</lyric>")
                    C4(LYRIC("1", "<humming/>"))),
          "1 e0 x\nleft out: 1 sign for the singer\n");
}

/* What would otherwise be drawn as something else, or not at all. */
static void what_no_sheet_can_show_is_counted(void **state)
{
    (void)state;
    check(
        "<measure number=\"1\"><attributes><divisions>2</divisions><key>"
        "<key-step>B</key-step><key-alter>-0.5</key-alter></key><time>"
        "<beats>3</beats><beat-type>4</beat-type><interchangeable><beats>6"
        "</beats><beat-type>8</beat-type></interchangeable></time>"
        "</attributes>" C4("<notations><slur type=\"start\" number=\"1\" "
                           "line-type=\"dashed\"/><ornaments><shake/>"
                           "</ornaments></notations>")
            C4("<notations><slur type=\"stop\" number=\"1\"/><ornaments>"
               "<other-ornament>wave</other-ornament></ornaments>"
               "</notations>") "<barline location=\"middle\"><bar-style>"
                               "regular</bar-style></barline>"
                               "<note><pitch><step>F</step><alter>3</alter>"
                               "<octave>4</octave></pitch><duration>2"
                               "</duration></note></measure>"
                               "<measure number=\"2\">" REST(
                                   "6", LYRIC("1", TEXT("hush"))) "</measure>",
        "left out: 1 quarter tone in a key signature\n"
        "left out: 1 second meter beside the first\n"
        "left out: 1 bar line within a bar\n"
        "left out: 1 triple sharp or flat\n"
        "left out: 1 dotting of a slur or tie\n"
        "left out: 1 old ornament\nleft out: 1 special sign\n"
        "left out: 1 syllable under a rest\n");
}

static void bar_lines_are_kept_as_they_are(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        enum hbk_tune_barline kind;
    } lines[] = {{"dotted", HBK_TUNE_BAR_DOTTED},
                 {"dashed", HBK_TUNE_BAR_DASHED},
                 {"heavy", HBK_TUNE_BAR_HEAVY},
                 {"heavy-heavy", HBK_TUNE_BAR_HEAVY_HEAVY},
                 {"tick", HBK_TUNE_BAR_TICK},
                 {"short", HBK_TUNE_BAR_SHORT}};
    struct hbk_arena arena = {.newest = NULL};
    for (size_t i = 0; i < COUNT(lines); i++) {
        const char *text = score(
            &arena, hbk_arena_printf(
                        &arena,
                        "<measure number=\"1\">" DIVISIONS("1")
                            NOTE("C", "4", "4",
                                 "") "<barline><bar-style>%s</bar-style>"
                                     "</barline></measure><measure "
                                     "number=\"2\">" REST("4", "") "</measure>",
                        lines[i].name));
        for (int again = 0; again < 2; again++) {
            struct hbk_tune_document document = {.source = NULL};
            read_text(text, &document);
            assert_int_equal(document.tune.bars[0].right, lines[i].kind);
            text = to_musicxml(&document.tune, &arena);
            hbk_tune_document_finish(&document);
        }
    }
    hbk_arena_finish(&arena);
}

static void what_is_left_out_is_counted(void **state)
{
    (void)state;
    check(
        FIRST(
            "<harmony><root><root-step>C</root-step></root><kind>major"
            "</kind><frame/></harmony>"
            "<harmony><root><root-step>G</root-step></root><kind>major"
            "</kind></harmony><figured-bass><figure/></figured-bass>" DIRECTION(
                "<octave-shift type=\"down\"/>", "") C4("")
                DIRECTION("<octave-shift type=\"stop\"/>", "")
                    DIRECTION("<pedal type=\"start\"/>", "") C4("")),
        "left out: 2 chord symbol\nleft out: 1 chord diagram\n"
        "left out: 1 figured bass\nleft out: 1 octave line\n"
        "left out: 1 pedal mark\n");
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.xml",
              score(&arena, FIRST("<figured-bass/><figured-bass/>"
                                  "<harmony><frame/></harmony>" C4(""))),
              &document, &faults);
    assert_int_equal(faults.count, 1);
    assert_string_equal(faults.items[0].text,
                        "2 figured basses, 1 chord symbol and 1 chord diagram "
                        "are not on the sheet");
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* Whatever does not fit into one message is told by the next. */
static void a_long_list_goes_on_in_another_message(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const char *const directions = DIRECTION(
        "<bracket/><octave-shift/><pedal/><harp-pedals/><damp/><string-mute/>"
        "<scordatura/><image/><symbol/><staff-divide/>",
        "");
    const char *const marks =
        "<notehead>x</notehead><notations><articulations><doit/><stress/>"
        "<soft-accent/></articulations><ornaments><tremolo/><shake/>"
        "</ornaments><technical><up-bow/><fret/><double-tongue/><hole/>"
        "</technical><glissando/><arpeggiate/></notations>";
    read_good("t.xml",
              score(&arena,
                    hbk_arena_printf(
                        &arena,
                        FIRST("<figured-bass/><harmony><frame/></harmony>%s" C4(
                            "%s")),
                        directions, marks)),
              &document, &faults);
    const struct hbk_tune_marks *const read = &document.tune.marks;
    assert_int_equal(faults.count, 2);
    assert_int_equal(read->n_left_out, 25);
    for (size_t i = 0; i < read->n_left_out; i++) {
        const char *const kind = hbk_arena_printf(
            &arena, "%zu %s", read->left_out[i].count,
            read->left_out[i].count == 1 ? read->left_out[i].one
                                         : read->left_out[i].many);
        assert_int_equal((strstr(faults.items[0].text, kind) != NULL) +
                             (strstr(faults.items[1].text, kind) != NULL),
                         1);
    }
    for (size_t i = 0; i < faults.count; i++) {
        const char *const text = faults.items[i].text;
        assert_int_equal(faults.items[i].number, 268);
        assert_non_null(strstr(text, " and "));
        assert_string_equal(text + strlen(text) - 21, " are not on the sheet");
    }
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

/* Of several staves one is read; tempo and letters are for all. */
static void marks_of_another_staff_are_not_its_own(void **state)
{
    (void)state;
    check(
        FIRST(DIRECTION("<dynamics><f/></dynamics>", "<staff>1</staff>")
                  DIRECTION("<dynamics><p/></dynamics>", "<staff>2</staff>")
                      DIRECTION("<rehearsal>A</rehearsal>", "<staff>2</staff>")
                          C4("<voice>1</voice><staff>1</staff>")),
        "dynamic f 1+0 e0\nrehearsal A 1+0 e0\n"
        "left out: 1 mark of another staff\n");
    /* What two voices say at once is printed once. */
    check(FIRST(DIRECTION("<dynamics><f/></dynamics>", "<voice>1</voice>")
                    DIRECTION("<dynamics><f/></dynamics>", "<voice>2</voice>")
                        C4("")),
          "dynamic f 1+0 e0\n");
}

static void the_head_says_each_thing_once(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good(
        "t.xml",
        "<score-partwise><work><work-number>Op. 7</work-number>"
        "<work-title>Three Marches</work-title></work>"
        "<movement-number>2</movement-number>"
        "<movement-title>The Ferry</movement-title><identification>"
        "<creator type=\"composer\">A. Nobody</creator>"
        "<creator type=\"lyricist\">B. Noone</creator>"
        "<creator type=\"arranger\">C. None</creator>"
        "<creator type=\"engraver\">D. Never</creator>"
        "<rights>Free to play</rights></identification>"
        "<credit><credit-type>title</credit-type><credit-words>Three Marches"
        "</credit-words></credit><credit><credit-words>A. Nobody\n Second "
        "Cornet "
        "</credit-words></credit><credit><credit-type>page number"
        "</credit-type><credit-words>1</credit-words></credit><credit>"
        "<credit-words>For the opening of the bridge</credit-words></credit>"
        "<part-list><score-part id=\"P1\"><part-name>Second Cornet"
        "</part-name></score-part></part-list><part id=\"P1\">" FIRST(
            C4("")) "</part></score-partwise>",
        &document, &faults);
    const struct hbk_tune *const tune = &document.tune;
    assert_string_equal(tune->title, "Three Marches");
    assert_string_equal(tune->subtitle, "Op. 7\n2. The Ferry");
    assert_string_equal(tune->composer, "A. Nobody");
    assert_string_equal(tune->lyricist, "B. Noone");
    assert_string_equal(tune->arranger, "C. None");
    assert_string_equal(tune->rights, "Free to play");
    assert_string_equal(tune->part, "Second Cornet");
    assert_string_equal(faults.items[0].text,
                        "1 name of another creator and 1 line of text on the "
                        "page are not on the sheet");
    hbk_tune_document_finish(&document);

    faults.count = 0;
    read_good("t.xml",
              "<score-partwise><credit><credit-type>title</credit-type>"
              "<credit-words>The Lock</credit-words></credit><part-list>"
              "<score-part id=\"P1\"><part-name/></score-part></part-list>"
              "<part id=\"P1\">" FIRST(C4("")) "</part></score-partwise>",
              &document, &faults);
    assert_string_equal(document.tune.title, "The Lock");
    assert_int_equal(faults.count, 0);
    hbk_tune_document_finish(&document);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(directions_stand_at_their_time),
        cmocka_unit_test(hairpins_go_from_time_to_time),
        cmocka_unit_test(words_say_what_they_are),
        cmocka_unit_test(metronome_marks_stand_with_their_words),
        cmocka_unit_test(jumps_are_printed_once),
        cmocka_unit_test(bar_lines_have_marks_of_their_own),
        cmocka_unit_test(notes_carry_marks),
        cmocka_unit_test(words_go_under_their_notes),
        cmocka_unit_test(what_no_sheet_can_show_is_counted),
        cmocka_unit_test(bar_lines_are_kept_as_they_are),
        cmocka_unit_test(what_is_left_out_is_counted),
        cmocka_unit_test(a_long_list_goes_on_in_another_message),
        cmocka_unit_test(marks_of_another_staff_are_not_its_own),
        cmocka_unit_test(the_head_says_each_thing_once),
    };
    return cmocka_run_group_tests_name("marks_musicxml", tests, NULL, NULL);
}
