#include "support/marks.h"

/*
 * What is printed about the notes of an ABC tune, and where it stands (ABC
 * 2.1, sections in the comments).
 */

/* A tune in C of quarter notes with this music. */
#define TUNE(music) "X:1\nT:t\nM:4/4\nL:1/4\nK:C\n" music "\n"

static void check(const char *music, const char *want)
{
    struct hbk_arena arena = {.newest = NULL};
    check_marks("t.abc", hbk_arena_printf(&arena, TUNE("%s"), music), want);
    hbk_arena_finish(&arena);
}

/* 4.14 */
static void decorations_stand_at_their_note(void **state)
{
    (void)state;
    check("!p!C D !mf!E F|!sfz!G !fp!A !ffff!B !pppp!c|",
          "dynamic p 1+0 e0\ndynamic mf 1+1/2 e2\ndynamic sfz 2+0 e4\n"
          "dynamic fp 2+1/4 e5\ndynamic ffff 2+1/2 e6\n"
          "dynamic pppp 2+3/4 e7\n");
    check("+f+C +ff+D E F|", "dynamic f 1+0 e0\ndynamic ff 1+1/4 e1\n");
    check("!p!{gab}C D|", "dynamic p 1+0 e3\n");
    check("!p! z C|", "dynamic p 1+0 e0\n");
    check("!p! !segno! C !coda!D|",
          "dynamic p 1+0 e0\nsegno 1+0 e0\ncoda 1+1/4 e1\n");
    check("SC OD|", "segno 1+0 e0\ncoda 1+1/4 e1\n");
    check("!plus!C !+!D !open!E|",
          "plus 1+0 e0\nplus 1+1/4 e1\nopen 1+1/2 e2\n");
    check("C D !coda! y E|", "coda 1+1/2 e2\n");
    check("!f!|:C D|", "dynamic f 1+0 e0\n");
}

static void hairpins_end_after_the_last_note(void **state)
{
    (void)state;
    check("!crescendo(!C D E !crescendo)!F|", "crescendo 1+0 e0 to 1+3/4 e3\n");
    check("!<(!C D E F !<)!|", "crescendo 1+0 e0 to 1+1 e3\n");
    check("!<(!C D E F !<)!|!>(!G A|B c !diminuendo)!|",
          "crescendo 1+0 e0 to 1+1 e3\ndiminuendo 2+0 e4 to 3+1/2 e7\n");
    check("!<(!C D !<)!!>(!E F !>)!!p!G|",
          "crescendo 1+0 e0 to 1+1/2 e2\ndiminuendo 1+1/2 e2 to 1+1 e4\n"
          "dynamic p 1+1 e4\n");
    /* Over one note; into a note with graces; two kinds at once. */
    check("!<(!!<)!C4|", "crescendo 1+0 e0 to 1+1 e0\n");
    check("!<(!C !<)!{g}D|", "crescendo 1+0 e0 to 1+1/4 e2\n");
    check("!<(!C !>(!D !<)!E !>)!F|", "crescendo 1+0 e0 to 1+1/2 e2\n"
                                      "diminuendo 1+1/4 e1 to 1+3/4 e3\n");
    /* Without an end, and without a beginning. */
    check("!<(!C D !f!E F|G|",
          "crescendo 1+0 e0 to 1+1/2 e2\ndynamic f 1+1/2 e2\n");
    check("!<(!C D E F|G !f!A|",
          "crescendo 1+0 e0 to 1+1 e3\ndynamic f 2+1/4 e5\n");
    check("C D !<)!E|", "");
}

static void lines_without_an_end_are_told(void **state)
{
    (void)state;
    static const char *const musics[] = {"!<(!C D|", "C !>)!D|"};
    for (size_t i = 0; i < 2; i++) {
        struct hbk_arena arena = {.newest = NULL};
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        read_good("t.abc", hbk_arena_printf(&arena, TUNE("%s"), musics[i]),
                  &document, &faults);
        assert_true(has_fault(&faults, 267));
        hbk_tune_document_finish(&document);
        hbk_arena_finish(&arena);
    }
}

/* Who goes back does so from the end of the bar. */
static void jumps_are_printed_where_they_stand(void **state)
{
    (void)state;
    check("C D !D.C.!E F|", "jump D.C. 1+1 e3\n");
    check("C D E F !D.S.alcoda!|", "jump D.S. al Coda 1+1 e3\n");
    check("C D !fine!E F|", "jump Fine 1+1/2 e2\n");
    check("C D E F \"^D.C. al Fine\"|", "jump above D.C. al Fine 1+1 e3\n");
    check("C D E F \"D.C.\"|", "jump D.C. 1+1 e3\n");
    check("C D \"^To Coda\"E F|", "jump above To Coda 1+1/2 e2\n");
    check("C D E \"Fine\"F|", "jump Fine 1+3/4 e3\n");
}

static void a_bar_line_has_marks_of_its_own(void **state)
{
    (void)state;
    check("C D E F !fermata!|G|", "fermata 1+1 e3\n");
    check("C D E F T|G|", "left out: 1 sign over a bar line\n");
    check("C D E F \"^rit.\"|G|", "tempo above rit. 1+1 e3\n");
    check("C D E F || \"^Trio\" |: G|", "words above Trio 2+0 e4\n");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", TUNE("C D !breath!|E|"), &document, &faults);
    assert_int_equal(document.tune.events[1].articulation, HBK_TUNE_BREATH);
    assert_int_equal(document.tune.events[2].articulation, 0);
    hbk_tune_document_finish(&document);
}

/* 4.18 and 4.19 */
static void texts_are_told_apart(void **state)
{
    (void)state;
    check("\"^dolce\"C \"_cresc.\"D \"@Solo\"E \">simile\"F|",
          "words above dolce 1+0 e0\nwords below cresc. 1+1/4 e1\n"
          "words Solo 1+1/2 e2\nwords simile 1+3/4 e3\n");
    check("\"_mf\"C \"^Allegro\"D \"^poco rit.\"E \"^a tempo\"F|",
          "dynamic below mf 1+0 e0\ntempo above Allegro 1+1/4 e1\n"
          "tempo above poco rit. 1+1/2 e2\ntempo above a tempo 1+3/4 e3\n");
    check("\"Am7\"C \"Gsus4\"D \"C/E\"E \"G(Em)\"F|\"Bb\"G \"F#dim\"A "
          "\"N.C.\"B \"\"c|",
          "left out: 7 chord symbol\n");
    check("\"Dolce\"C \"Animato\"D \"Con brio\"E|",
          "words Dolce 1+0 e0\nwords Animato 1+1/4 e1\n"
          "words Con brio 1+1/2 e2\n");
    check("\"<(\"\">)\"C|", "left out: 2 bracket about a note\n");
}

/* 5.1, its own signs on notes of our own. */
static void words_go_under_their_notes(void **state)
{
    (void)state;
    check("C D E F|\nw: Bright the morn-ing",
          "1 e0 Bright\n1 e1 the\n1 e2 morn-\n1 e3 ing\n");
    check("C D E F|\nw: hal-le--lu", "1 e0 hal-\n1 e1 le- to e2\n1 e3 lu\n");
    check("C D E F|\nw: lu-la -by", "1 e0 lu-\n1 e1 la- to e2\n1 e3 by\n");
    check("C D E F|\nw: long__ so", "1 e0 long to e2\n1 e3 so\n");
    check("C D E F|\nw: a-_ way *", "1 e0 a- to e1\n1 e2 way\n");
    check("C D E F|\nw: * on~the~hill * road", "1 e1 on the hill\n1 e3 road\n");
    check("C D E F|\nw: a ta\\-ta b", "1 e0 a\n1 e1 ta-ta\n1 e2 b\n");
    check("C D|E F|G A|\nw: one | two | three four",
          "1 e0 one\n1 e2 two\n1 e4 three\n1 e5 four\n");
    check("C D|E F|\nw: one two | three", "1 e0 one\n1 e1 two\n1 e2 three\n");
    check("C D|z2|E F|\nw: one | | two", "1 e0 one\n1 e3 two\n");
    check("C z {g}D (EF)|C-C|\nw: a b- c d",
          "1 e0 a\n1 e3 b-\n1 e4 c\n1 e5 d\n");
    check("C D|\nw: one two three four",
          "1 e0 one\n1 e1 two\nleft out: 2 syllable without a note\n");
    check("C D E F|\nw: 1.~Over the hills",
          "1 e0 1. Over\n1 e1 the\n1 e2 hills\n");
    check("C D E F|\nw: 2. Over the hills",
          "1 e0 2. Over\n1 e1 the\n1 e2 hills\n");
    check("C D E F|\nw: gr\\\"un is the\n% a comment\n+: wood",
          "1 e0 gr\u00FCn\n1 e1 is\n1 e2 the\n1 e3 wood\n");
}

/* 5.1 and 5.2 */
static void verses_go_one_under_the_other(void **state)
{
    (void)state;
    check("C D|\nw: one two\nw: three four\nE F|\nw: five six\nw: * eight",
          "1 e0 one\n2 e0 three\n1 e1 two\n2 e1 four\n"
          "1 e2 five\n1 e3 six\n2 e3 eight\n");
    check("C D|\nw:\nE F|\nw: a b", "1 e2 a\n1 e3 b\n");
    /* Words for several lines of music at once, as since ABC 2.1. */
    check("C D|\nE F|\nw: a b c d", "1 e0 a\n1 e1 b\n1 e2 c\n1 e3 d\n");
    check_marks("t.abc",
                "%abc-2.1\nX:1\nT:t\nM:4/4\nL:1/4\nK:C\nC D|\nE F|\nw: a b\n",
                "1 e0 a\n1 e1 b\n");
    /* Before, words belonged to the line right above. */
    check("C D|\nE F|\nw: a b", "1 e2 a\n1 e3 b\n");
    check("C D|\\\nE F|\nw: a b c", "1 e0 a\n1 e1 b\n1 e2 c\n");
    check("C D|\nW:All together now\nW:\nW:and once\n+:more",
          "stanza All together now\nstanza \nstanza and once more\n");
}

/* 4.15 */
static void lines_of_signs_go_with_their_notes(void **state)
{
    (void)state;
    check("C D|E z F G|\ns: \"^dolce\" | !p! ** \n",
          "words above dolce 1+0 e0\ndynamic p 2+0 e2\n");
    check("C D E F|\ns: !<(! * !<)! !f!\ns: * !>!\n",
          "crescendo 1+0 e0 to 1+1/2 e2\ndynamic f 1+3/4 e3\n");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", TUNE("C D|\ns: * !trill!\ns: \"_1-2\""), &document,
              &faults);
    assert_int_equal(document.tune.events[1].articulation, HBK_TUNE_TRILL);
    assert_string_equal(document.tune.events[0].fingering, "1-2");
    hbk_tune_document_finish(&document);
}

static void fields_that_are_printed_are_marks(void **state)
{
    (void)state;
    check_marks("t.abc",
                "X:1\nT:t\nQ:\"Allegro\" 3/8=96\nM:6/8\nK:C\nC6|[Q:\"rit.\"]D6|"
                "\nQ:1/4=60 \"calm\"\nE6|",
                "tempo Allegro [3/8=96] 1+0 e0\ntempo rit. 2+0 e1\n"
                "tempo calm [1/4=60] 3+0 e2\n");
    check_marks("t.abc", "X:1\nT:t\nP:(AB)2.A\nL:1/4\nK:C\nP:A\nC4|\nP:B\nD4|",
                "words above Parts: ABABA 1+0 e0\nrehearsal A 1+0 e0\n"
                "rehearsal B 2+0 e1\n");
    check_marks("t.abc", "X:1\nT:t\nQ:Andante\nL:1/4\nK:C\nC4|",
                "tempo Andante 1+0 e0\n");
    check_marks("t.abc", "X:1\nT:t\nQ:1/4=80\nQ:120\nL:1/4\nK:C\nC4|",
                "tempo [1/4=120] 1+0 e0\n");
    check("P:A\nC D E F|\nP:B\nG4|[P:C]A4|\nT:Trio\nB4|",
          "rehearsal A 1+0 e0\nrehearsal B 2+0 e4\nrehearsal C 3+0 e5\n"
          "rehearsal Trio 4+0 e6\n");
    check("C4|Z4|D4|Z|X3|\"^Soli\"Z2|",
          "words above Soli 11+0 e10\nrests 4 at 2\nrests 2 at 11\n");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc",
              "X:1\nT:Millrace\nT:or The Weir\nT:Quickstep\nC:A. Nobody\n"
              "C:B. Noone\nR:quickstep\nZ:by hand\nK:C\nC8|",
              &document, &faults);
    assert_string_equal(document.tune.title, "Millrace");
    assert_string_equal(document.tune.subtitle, "or The Weir\nQuickstep");
    assert_string_equal(document.tune.composer, "A. Nobody, B. Noone");
    assert_true(has_fault(&faults, 268));
    hbk_tune_document_finish(&document);
}

/* Text between the lines of music is counted, and is no music. */
static void typeset_text_is_counted(void **state)
{
    (void)state;
    check("C D E F|\n%%text Second strain\n%%center * * *\nG4|",
          "left out: 2 line of text on the page\n");
    check("%%begintext\nCEG is a chord\n%%of three notes\n%%endtext\nC4|",
          "left out: 2 line of text on the page\n");
    check("%%begintext\nC4|", "");
    check("%%beginps\n%%/dup\nC4\n%%endps\nD4|", "");
}

/* A note that is written as several keeps what stands at it. */
static void marks_follow_notes_that_are_written_as_several(void **state)
{
    (void)state;
    check("C5 !p!D3|\"^dolce\"E2 F2 !f!y|\nw: one two_",
          "dynamic p 1+5/4 e2\nwords above dolce 2+0 e3\n"
          "dynamic f 2+1 e4\n1 e0 one\n1 e2 two to e3\n");
}

/* 4.16 and 4.2 */
static void letters_stand_for_texts_and_signs(void **state)
{
    (void)state;
    check_marks("t.abc",
                "X:1\nT:t\nL:1/4\nU:p=\"^+\"\nU:T=!nil!\nU:W=!mf!\nK:C\n"
                "pC TD WE F|",
                "words above + 1+0 e0\ndynamic mf 1+1/2 e2\n");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", TUNE("!courtesy!^C !editorial!_D ^E|"), &document,
              &faults);
    assert_int_equal(document.tune.events[0].accidental, HBK_TUNE_CAUTIONARY);
    assert_int_equal(document.tune.events[1].accidental, HBK_TUNE_EDITORIAL);
    assert_int_equal(document.tune.events[2].accidental, HBK_TUNE_PRINTED);
    hbk_tune_document_finish(&document);
}

/* Fingerings below are no words; our own are known by the remark. */
static void fingerings_are_no_marks(void **state)
{
    (void)state;
    check("\"^1.\"C \"^2x\"D|", "words above 1. 1+0 e0\nwords above 2x 1+1/4 "
                                "e1\n");
    check("\"_1-2\"\"_(2)\"C \"^0\"D \"_k1-v2\"E \"_T\"F|", "");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc",
              "X:1\n% fingerings by hornbook: 3 texts below the notes; by "
              "others: 2\nT:t\nL:1/4\nK:C\n\"_open\"C \"_dolce\"D \"_L\"E|",
              &document, &faults);
    assert_string_equal(document.tune.events[0].fingering, "open");
    assert_null(document.tune.events[1].fingering);
    assert_string_equal(document.tune.events[2].fingering, "L");
    assert_int_equal(document.tune.marks.n, 1);
    hbk_tune_document_finish(&document);
}

static void another_voice_has_marks_of_its_own(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.voice = "2"};
    static const char text[] =
        "X:1\nT:t\nL:1/4\nK:C\nV:1\n!p!C \"Am\"D E \"^dolce\"F|\nw: a b c d\n"
        "P:A\nV:2\nP:A\n!f!G A B c|\nw: e f g h\n";
    assert_int_equal(hbk_tune_read_bytes("t.abc", text, strlen(text), &options,
                                         &document, &faults),
                     HBK_OK);
    assert_string_equal(describe_marks(&document.tune, &arena),
                        "rehearsal A 1+0 e0\ndynamic f 1+0 e0\n"
                        "1 e0 e\n1 e1 f\n1 e2 g\n1 e3 h\n");
    hbk_tune_document_finish(&document);

    /* Its name is that of the part, and no clef. */
    read_good("t.abc",
              "X:1\nT:t\nL:1/4\nK:C\nV:1 sname=\"S.B.\" "
              "name=\"Solo bass bugle\"\nC D E F|",
              &document, &faults);
    assert_string_equal(document.tune.part, "Solo bass bugle");
    assert_int_equal(document.tune.clefs[0].sign, 'G');
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(decorations_stand_at_their_note),
        cmocka_unit_test(hairpins_end_after_the_last_note),
        cmocka_unit_test(lines_without_an_end_are_told),
        cmocka_unit_test(jumps_are_printed_where_they_stand),
        cmocka_unit_test(a_bar_line_has_marks_of_its_own),
        cmocka_unit_test(texts_are_told_apart),
        cmocka_unit_test(words_go_under_their_notes),
        cmocka_unit_test(verses_go_one_under_the_other),
        cmocka_unit_test(lines_of_signs_go_with_their_notes),
        cmocka_unit_test(fields_that_are_printed_are_marks),
        cmocka_unit_test(typeset_text_is_counted),
        cmocka_unit_test(marks_follow_notes_that_are_written_as_several),
        cmocka_unit_test(letters_stand_for_texts_and_signs),
        cmocka_unit_test(fingerings_are_no_marks),
        cmocka_unit_test(another_voice_has_marks_of_its_own),
    };
    return cmocka_run_group_tests_name("marks_abc", tests, NULL, NULL);
}
