/* The order in which tunes are played, from MusicXML: as test_played.c. */
#include "support/pieces.h"

#define STEP(step)                                                             \
    "<note><pitch><step>" step "</step><octave>4</octave></pitch>"             \
    "<duration>4</duration></note>"
#define HALF(step)                                                             \
    "<note><pitch><step>" step "</step><octave>4</octave></pitch>"             \
    "<duration>2</duration></note>"
#define TYPE(type)                                                             \
    "<direction><direction-type>" type "</direction-type></direction>"
#define WORDS(words) TYPE("<words>" words "</words>")
#define TYPE_AND_SOUND(type, sound)                                            \
    "<direction><direction-type>" type "</direction-type><sound " sound        \
    "/></direction>"
#define FORWARD                                                                \
    "<barline location=\"left\"><repeat direction=\"forward\"/></barline>"
#define BACKWARD                                                               \
    "<barline location=\"right\"><repeat direction=\"backward\"/></barline>"
#define BAR "</measure><measure>"
#define ENDING(n)                                                              \
    "<barline location=\"left\"><ending number=\"" n                           \
    "\" type=\"start\"/></barline>"
#define STOP(n)                                                                \
    "<barline location=\"right\"><ending number=\"" n                          \
    "\" type=\"stop\"/></barline>"
#define STOP_BACKWARD(n)                                                       \
    "<barline location=\"right\"><ending number=\"" n                          \
    "\" type=\"stop\"/><repeat direction=\"backward\"/></barline>"

#define MIDDLE(what) "<barline location=\"middle\">" what "</barline>"
#define DASHED MIDDLE("<bar-style>dashed</bar-style>")

#define SCORE_BEGIN                                                            \
    "<score-partwise><part-list><score-part id=\"P1\"><part-name>Cornet"       \
    "</part-name></score-part></part-list><part id=\"P1\"><measure>"           \
    "<attributes><divisions>1</divisions></attributes>"
#define SCORE_END "</measure></part></score-partwise>"

/* Pieces in MusicXML: by sound, by words alone, by signs. */
static void pieces_in_musicxml_are_played_as_a_player_would(void **state)
{
    (void)state;
    static const struct piece pieces[] = {
        {FORWARD STEP("G") BAR STEP("A") BACKWARD BAR STEP("B") TYPE_AND_SOUND(
             "<words>Fine</words>", "fine=\"yes\"") BAR STEP("C")
             TYPE_AND_SOUND("<words>D.C. al Fine</words>", "dacapo=\"yes\""),
         "1 2 1 2 3 4 1 2 3", "236"},
        {STEP("G") BAR WORDS("Da Capo al Fine") STEP("A") BAR STEP("B"),
         "1 2 1 2 3", "235"},
        {STEP("G") WORDS("FINE") BAR STEP("A") WORDS("Da Capo"), "1 2 1", ""},
        /* By sound alone, with names. */
        {"<sound segno=\"x\"/>" STEP("G") BAR "<sound segno=\"y\"/>" STEP("A")
             BAR STEP("B") "<sound tocoda=\"k\"/>" BAR STEP(
                 "C") "<sound dalsegno=\"x\"/>" BAR
                      "<sound coda=\"k\"/>" STEP("D"),
         "1 2 3 4 1 2 3 5", ""},
        /* Signs, as a program writes them. */
        {STEP("G") BAR TYPE_AND_SOUND("<segno/>", "segno=\"segno\"") STEP(
             "A") BAR STEP("B") TYPE_AND_SOUND("<words>To Coda</words>",
                                               "tocoda=\"coda\"") BAR STEP("C")
             TYPE_AND_SOUND("<words>D.S. al Coda</words>", "dalsegno=\"segno\"")
                 BAR TYPE_AND_SOUND("<coda/>", "coda=\"coda\"") STEP("D"),
         "1 2 3 4 2 3 5", ""},
        /* Signs and words alone: "To" and a coda sign, "D.S. al" and one. */
        {STEP("G") BAR TYPE("<segno/>") STEP("A") BAR STEP(
             "B") "<direction><direction-type><words>To</words></"
                  "direction-type>"
                  "<direction-type><coda/></direction-type></direction>" BAR
                      STEP("C") "<direction><direction-type><words>D.S. "
                                "al</words>"
                                "</direction-type><direction-type><coda/>"
                                "</direction-type></direction>" BAR TYPE(
                                    "<coda/>") STEP("D"),
         "1 2 3 4 2 3 5", ""},
        /* A segno at the end of a bar belongs to the next. */
        {STEP("G") TYPE("<segno/>") BAR STEP("A") BAR STEP("B")
             WORDS("D.S. al Fine") BAR STEP("C") WORDS("Fine"),
         "1 2 3 2 3 4", ""},
        {HALF("G") TYPE("<segno/>") HALF("G") BAR STEP("A") WORDS("D.S."),
         "1 2 1 2", "235"},
        /* Coda signs alone. */
        {STEP("G") TYPE("<coda/>") BAR STEP("A") WORDS("D.C. al Coda")
             BAR TYPE("<coda/>") STEP("B"),
         "1 2 1 3", ""},
        /* Endings. */
        {FORWARD STEP("G") BAR ENDING("1, 2") STEP("A") STOP_BACKWARD("1, 2")
             BAR ENDING("3") STEP("B") STOP("3") BAR STEP("C")
                 WORDS("D.C. senza repetizione"),
         "1 2 1 2 1 3 4 1 3 4", "236"},
        {FORWARD STEP("G") "<barline location=\"right\"><repeat "
                           "direction=\"backward\" times=\"4\"/></barline>",
         "1 1 1 1", ""},
        /* A second ending that begins the next repeat. */
        {FORWARD STEP("G") BAR ENDING("1") STEP("A") STOP_BACKWARD("1")
             BAR FORWARD ENDING("2") STEP("B") STOP("2") BAR STEP("C")
                 BACKWARD BAR STEP("D"),
         "1 2 1 3 4 3 4 5", ""},
        {STEP("G") BACKWARD BAR STEP("A") BAR STEP("B") BACKWARD, "1 1 2 3 2 3",
         ""},
        /* Repeats that begin and end within bars, which they part. */
        {HALF("G") MIDDLE("<repeat direction=\"forward\"/>") HALF("A")
             BAR STEP("B") BAR HALF("C")
                 MIDDLE("<repeat direction=\"backward\"/>") HALF("D"),
         "1 2 3 4 2 3 4 5", ""},
        {HALF("G") WORDS("Fine") DASHED HALF("A") BAR STEP("B")
             WORDS("D.C. al Fine"),
         "1 2 3 1", ""},
        {STEP("G") BAR HALF("A") DASHED TYPE("<segno/>") HALF("B") BAR STEP("C")
             WORDS("D.S."),
         "1 2 3 4 3 4", ""},
        /* One within a note cannot. */
        {STEP("G") "<backup><duration>2</duration></backup>" MIDDLE(
             "<repeat direction=\"backward\"/>") "<forward><duration>2"
                                                 "</duration></forward>" BAR
                                                     STEP("A"),
         "1 2", "268"},
        /* Signs on bar lines, and what only a player program is told there. */
        {STEP("G") BAR
         "<barline location=\"left\"><segno/></barline>" STEP("A") BAR STEP(
             "B") "<barline location=\"right\"><coda/></barline>" BAR STEP("C")
             WORDS("D.S. al Coda") BAR
         "<barline location=\"left\"><coda/></barline>" STEP("D"),
         "1 2 3 4 2 3 5", ""},
        {STEP("G") BAR "<barline location=\"left\" segno=\"x\"/>" STEP("A")
             BAR STEP("B") "<sound dalsegno=\"x\"/>",
         "1 2 3 2 3", ""},
        /* A sign that is printed beside its name, or a second time. */
        {"<sound segno=\"x\"/>" TYPE("<segno/>") STEP("G") BAR
         "<sound segno=\"y\"/>" TYPE("<segno/>") STEP("A")
             BAR STEP("B") "<sound dalsegno=\"x\"/>" WORDS("D.S."),
         "1 2 3 1 2 3", ""},
        {STEP("G") "<sound tocoda=\"k\"/>" WORDS("To Coda") BAR STEP("A")
             WORDS("D.C. al Coda") BAR "<sound coda=\"j\"/>" STEP("B") BAR
         "<sound coda=\"k\"/>" TYPE("<coda/>") STEP("C"),
         "1 2 1 4", "237"},
    };
    for (size_t i = 0; i < COUNT(pieces); i++) {
        struct hbk_arena arena = {0};
        const char *const text = hbk_arena_printf(&arena, "%s%s%s", SCORE_BEGIN,
                                                  pieces[i].music, SCORE_END);
        check_piece("t.musicxml", text, &pieces[i]);
        hbk_arena_finish(&arena);
    }
}

/* The first part of a score has the signs for all. */
static void a_part_without_signs_has_those_of_the_score(void **state)
{
    (void)state;
    static const char partwise[] =
        "<score-partwise><part-list><score-part id=\"a\"><part-name>A"
        "</part-name></score-part><score-part id=\"b\"><part-name>B"
        "</part-name></score-part></part-list>"
        "<part id=\"a\"><measure><attributes><divisions>1</divisions>"
        "</attributes>" STEP("G") WORDS("Fine") BAR STEP("A") WORDS(
            "D.C.") "</measure></part>"
                    "<part "
                    "id=\"b\"><measure><attributes><divisions>1</divisions>"
                    "</attributes>" STEP("C") BAR STEP("D") "</measure></part>"
                                                            "</score-partwise>";
    static const char timewise[] =
        "<score-timewise><part-list><score-part id=\"a\"><part-name>A"
        "</part-name></score-part><score-part id=\"b\"><part-name>B"
        "</part-name></score-part></part-list><measure><part id=\"a\">"
        "<attributes><divisions>1</divisions></attributes>" STEP("G")
            WORDS("Fine") "</part><part id=\"b\"><attributes><divisions>1"
                          "</divisions></attributes>" STEP(
                              "C") "</part></measure><measure><part "
                                   "id=\"a\">" STEP("A")
                                       WORDS("D.C.") "</part><part "
                                                     "id=\"b\">" STEP(
                                                         "D") "</part></"
                                                              "measure></"
                                                              "score-timewise>";
    const char *const scores[] = {partwise, timewise};
    for (size_t i = 0; i < COUNT(scores); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const struct hbk_tune_options options = {.part = "b"};
        assert_int_equal(hbk_tune_read_bytes("t.musicxml", scores[i],
                                             strlen(scores[i]), &options,
                                             &document, &faults),
                         HBK_OK);
        assert_string_equal(order_text(&document.tune, &document.arena),
                            "1 2 1");
        assert_int_equal(document.tune.marks.n, 2); /* Fine and D.C. */
        hbk_tune_document_finish(&document);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_in_musicxml_are_played_as_a_player_would),
        cmocka_unit_test(a_part_without_signs_has_those_of_the_score),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
