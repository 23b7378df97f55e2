/*
 * The order in which tunes are played, against lists written by hand: every
 * kind of repeat, ending and jump, from ABC; from MusicXML, see
 * test_played_musicxml.c. What each bar holds does not matter here; most hold
 * a whole note.
 */
#include "support/pieces.h"

#include "tune/melody/sign_words.h"

static void check_abc(const struct piece *pieces, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct hbk_arena arena = {0};
        const char *const text = hbk_arena_printf(
            &arena, "X:1\nT:t\nM:4/4\nL:1/1\n%s%s\n",
            strncmp(pieces[i].music, "P:", 2) == 0 ? "" : "K:C\n",
            pieces[i].music);
        check_piece("t.abc", text, &pieces[i]);
        hbk_arena_finish(&arena);
    }
}

/* Fifteen pieces in ABC, as people write them. */
static void pieces_in_abc_are_played_as_a_player_would(void **state)
{
    (void)state;
    static const struct piece pieces[] = {
        /* A minuet and its trio. */
        {"|:G|A:|:B|c\"Fine\":|\\\n|:e|f:|:g|a:|\"D.C.\"",
         "1 2 1 2 3 4 3 4 5 6 5 6 7 8 7 8 1 2 3 4", "236"},
        /* A march with endings, a segno in its second strain and a coda. */
        {"|:G|A|1B:|2c|]!segno!d|e!dacoda!|f|g!D.S.alcoda!|!coda!a|b|]",
         "1 2 3 1 2 4 5 6 7 8 5 6 9 10", ""},
        /* The same with coda signs alone, by their letters. */
        {"|:G|A|1B:|2c|]S d|e O|f|g \"^D.S. al Coda\"|O a|b|]",
         "1 2 3 1 2 4 5 6 7 8 5 6 9 10", ""},
        /* D.C. al Fine with the first strain's repeat. */
        {"|:G|A:|B|c!fine!|d|\"D.C. al Fine con repetizione\"e|]",
         "1 2 1 2 3 4 5 6 1 2 1 2 3 4", ""},
        /* A Fine in a second ending, which the reprise goes to at once. */
        {"|:G|A|1B:|2c\"Fine\"|]|:d|e:|f\"D.C. al Fine\"|]",
         "1 2 3 1 2 4 5 6 5 6 7 1 2 4", "236"},
        /* A Fine in a first ending, likewise. */
        {"|:G|1A\"Fine\":|2B|]c\"D.C. al Fine\"|]", "1 2 1 3 4 1 2", ""},
        /* Three endings, the reprise takes the last. */
        {"|:G|1A:|2B:|3c|]d+D.C.+|]", "1 2 1 3 1 4 5 1 4 5", "236"},
        /* Endings for several times each. */
        {"|:G|[1-3 A:|[4B|]|:c|1,3d:|2e:|]f|]", "1 2 1 2 1 2 1 3 4 5 4 6 4 5 7",
         ""},
        /* Two of them have a number in common; two begin anew. */
        {"|:G|1A:|1,2B:|2c|]", "1 2 1 3 4", ""},
        {"|:G|1A:|2B|1c:|2d|]", "1 2 1 3 4 5", ""},
        /* Played three and four times. */
        {"|::G|A::|:::B:::|]", "1 2 1 2 1 2 3 3 3 3", ""},
        /* First to the coda, then back for the end. */
        {"G|A\"Fine\"|!segno!B|c\"To Coda\"|d\"D.S. al Coda\"|"
         "\"Coda\"e|f\"D.C. al Fine\"|]",
         "1 2 3 4 5 3 4 6 7 1 2", ""},
        /* Two segni: each D.S. goes to the nearer one. */
        {"!segno!G|A\"D.S.\"|B|!segno!c|d\"D.S.\"|]", "1 2 1 2 3 4 5 4 5",
         "235"},
        /* Two jumps back to the beginning, each taken once. */
        {"G\"D.C.\"|A\"D.C.\"|B|]", "1 1 2 1 2 3", "235 235"},
        /* Up to the sign, and then the coda, as older parts have it. */
        {"G|A|!segno!B|c\"D.C. al Segno e poi la Coda\"|\"Coda\"d|]",
         "1 2 3 4 1 2 5", ""},
        /* The second time through a repeat it goes to the coda. */
        {"|:G|A\"To Coda\"|B:|\"Coda\"c|]", "1 2 3 1 2 4", "235"},
        /* Signs that stand in an ending which does not stop. */
        {"|:C|1D:|2E O|F\"D.C. al Coda\"|O G|", "1 2 1 3 4 1 3 5", "236"},
        {"|:C|1D:|2!segno!E|F\"D.S. with repeats\"|", "1 2 1 3 4 3 4", ""},
        /* The sign stands in an ending. */
        {"|:G|A|1B!D.C.!:|2c|]", "1 2 3 1 2 4", "235 236"},
        /* A pickup is part of the beginning. */
        {"[M:4/4][L:1/4]G|ABcd|e3\"Fine\"||f|gfed|c3\"D.C.\"|]",
         "1 2 3 4 5 6 1 2 3", ""},
    };
    check_abc(pieces, COUNT(pieces));
}

/* Signs that contradict each other, or want their other half. */
static void what_contradicts_is_read_and_told(void **state)
{
    (void)state;
    static const struct piece pieces[] = {
        {"G|A|B\"D.S.\"|]", "1 2 3 1 2 3", "235"},
        {"G|A|B\"D.C. al Fine\"|c|]", "1 2 3 1 2 3 4", "235"},
        {"G|A|B\"D.C. al Coda\"|\"Coda\"c|]", "1 2 3 1 2 3 4", "235"},
        {"G|A\"To Coda\"|B\"D.C. al Coda\"|c|]", "1 2 3 1 2 4", "235"},
        {"G|A\"To Coda\"|B\"D.C. al Coda\"|]", "1 2 3 1 2 3", "235 235"},
        {"G|A\"Fine\"|B|c|]", "1 2 3 4", "235"},
        {"|:G|A\"Fine\"|B:|]", "1 2 3 1 2", "235"},
        {"G|A\"To Coda\"|B|]", "1 2 3", "235"},
        {"G|A\"al Fine\"|]", "1 2", "235"},
        /* Over the first note after a double bar: at the double bar. */
        {"|:G|A:|[L:1/2]!fine!GA|B2\"D.C.\"|]", "1 2 1 2 3 4 1 2", "235"},
        {"G|A||[L:1/2]\"Fine\"GA|B2\"D.C. al Fine\"|]", "1 2 3 4 1 2", "235"},
        {"G|A|[L:1/2]\"Fine\"GA|B2\"D.C. al Fine\"|]", "1 2 3 4 1 2 3", "235"},
        {"G|A||[L:1/2]\"Fine\"GA||B2\"D.C. al Fine\"|]", "1 2 3 4 1 2 3",
         "235"},
        {"G|A||\"Fine\"G|B\"D.C. al Fine\"|]", "1 2 3 4 1 2 3", ""},
        {"G|A\"D.C. and hop\"|]", "1 2 1 2", "235"},
        {"G|[L:1/2]A!segno!A|B2!D.S.!|]", "1 2 3 2 3", "235"},
        {"G|[L:1/2]!dacoda!AA|B2!D.C.alcoda!|!coda!c2|]", "1 2 3 1 2 4", "235"},
        {"G!coda!|A!coda!|B\"D.C. al Coda\"|!coda!c|]", "1 2 3 1 4", "235"},
        {"!D.C.!!D.S.!!segno!G|A|]", "1 1 2", "235 235"},
        {"G|A\"D.S. al Fine\"|!segno!B\"Fine\"|c|]", "1 2 1 2 3", "235 237"},
        {"|:G|A|]", "1 2", "238"},
        {"|:G|1A|2B|]", "1 2 1 3", "238"},
        {"|:G|1A:|B|c|]", "1 2 1 3 4", ""},
        {"|:G|2A:|3B|]", "1", "237"},
    };
    check_abc(pieces, COUNT(pieces));
}

/* Bar lines that are written in many ways. */
static void odd_bar_lines_are_read_as_players_do(void **state)
{
    (void)state;
    static const struct piece pieces[] = {
        {"|:C|D|E|F[|]:|G|", "1 2 3 4 1 2 3 4 5", ""},
        {"|:C|D[|] :|G|", "1 2 1 2 3", ""},
        {"|:C|D|:|E|F:|", "1 2 1 2 3 4 3 4", "239"},
        {"C|D|:|E|F:|", "1 2 3 4 3 4", "239"},
        {"C||D||:|E|", "1 2 2 3", "239"},
        {"C||D|| :|E|", "1 2 2 3", ""},
        {"|:C|D::E|F:|", "1 2 1 2 3 4 3 4", ""},
        {"|:C|D:||:E|F:||", "1 2 1 2 3 4 3 4", ""},
        {"|:C|D:|:E|F:|]", "1 2 1 2 3 4 3 4", ""},
        {"|:C|D:| |:E|F :|", "1 2 1 2 3 4 3 4", ""},
        {"|:C|D:|:|E|F:|", "1 2 1 2 3 4 3 4", "239"},
        {"C|D|:|:E|F:|", "1 2 3 4 3 4", "239"},
        {"C|D:::E|F:|", "1 2 1 2 3 4 3 4", "239"},
        {"[|:C|D:|]E|", "1 2 1 2 3", ""},
        {"C|D|]:E|F:|", "1 2 3 4 3 4", ""},
        {":|C|D|", "1 2", "238"},
    };
    check_abc(pieces, COUNT(pieces));
}

/* P: of ABC 2.1, 3.1.9 and 4.10. */
static void parts_are_played_in_their_order(void **state)
{
    (void)state;
    static const struct piece pieces[] = {
        {"P:ABA\nK:C\nP:A\nC|D|\nP:B\nE|F|", "1 2 3 4 1 2", ""},
        {"P:(AB)3\nK:C\nP:A\nC|\nP:B\nD|", "1 2 1 2 1 2", ""},
        {"P:A2.B\nK:C\n[P:A]C|[P:B]D|", "1 1 2", ""},
        {"P:((AB)3.(CD)2)2\nK:C\nP:A\nC|\nP:B\nD|\nP:C\nE|\nP:D\nF|",
         "1 2 1 2 1 2 3 4 3 4 1 2 1 2 1 2 3 4 3 4", ""},
        {"P:A4.B4\nK:C\nP:A\nC|[1D:|[2E:|[3F:|[4G|]\nP:B\nA|",
         "1 2 1 3 1 4 1 5 6 6 6 6", "235"},
        {"P:AABB\nK:C\nP:A\n|:C|D:|\nP:B\n|:E|F:|", "1 2 1 2 3 4 3 4", "235"},
        {"P:ABA\nK:C\nP:A\n|:C|1D:|2E|]\nP:B\nF|", "1 2 1 3 4 1 2 1 3", ""},
        {"P:A3\nK:C\nP:A\n|:C:|", "1 1 1 1 1 1", "235"},
        {"P:AB\nK:C\nP:A\nC:|\nP:B\nD:|", "1 1 2 2", ""},
        /* The parts are written out already. */
        {"P:ABA\nK:C\nP:A\nC|\nP:B\nD|\nP:A\nE\"Fine\"|", "1 2 3", ""},
        /* What stands before the first part comes first. */
        {"P:BA\nK:C\nC|\nP:A\nD|\nP:B\nE|", "1 3 2", ""},
        {"P:ABA\nK:C\nP:A\nC\"D.C.\"|\nP:B\nD|", "1 2 1", "235"},
        {"P:ACA\nK:C\nP:A\nC|\nP:B\nD|", "1 1", "235 237"},
        {"P:ABA\nK:C\nP:A\nC|\nP:B\nD|\nP:C\nE|\nP:A\nF|", "1 2 1", "235 237"},
        {"P:AB\nK:C\nC|D|", "1 2", "222"},
        {"P:A(B\nK:C\nP:A\nC|\nP:B\nD|", "1 2", "220"},
        {"P:((A99)99)99\nK:C\nP:A\nC|", "1", "220"},
        /* Without an order, letters are letters. */
        {"K:C\n|:C|\nP:B\nD:|", "1 2 1 2", ""},
    };
    for (size_t i = 0; i < COUNT(pieces); i++) {
        struct hbk_arena arena = {0};
        const char *const text = hbk_arena_printf(
            &arena, "X:1\nT:t\nM:4/4\nL:1/1\n%s\n", pieces[i].music);
        check_piece("t.abc", text, &pieces[i]);
        hbk_arena_finish(&arena);
    }
}

/* So has the first voice in ABC; labels of parts as well. */
static void a_voice_without_signs_has_those_of_the_first(void **state)
{
    (void)state;
    static const struct {
        const char *music, *first, *second; /* second NULL for the same */
    } pieces[] = {
        {"K:C\nV:1\nC|D\"Fine\"|E|!segno!F\"D.C. al Fine\"|\nV:2\n"
         "C,|D,|E,|F,|",
         "1 2 3 4 1 2", NULL},
        {"K:C\n[V:1]C|D\"Fine\"|\n[V:2]C,|D,|\n[V:1]E\"D.C.\"|\n[V:2]E,|",
         "1 2 3 1 2", NULL},
        /* Where bars do not agree they are left alone. */
        {"K:C\nV:1\nC|D\"D.C.\"|\nV:2\nC,|D,|E,|", "1 2 1 2", "1 2 3"},
        {"P:ABA\nK:C\nV:1\nP:A\nC|\nP:B\nD|\nV:2\nC,|D,|", "1 2 1", NULL},
        {"P:ABA\nK:C\nP:A\n[V:1]C|\n[V:2]C,|\nP:B\n[V:1]D|\n[V:2]D,|", "1 2 1",
         NULL},
        {"P:ABA\nK:C\nV:1\nP:A\nC|\nP:B\nD|\nV:2\nP:A\nC,|\nP:B\nD,|", "1 2 1",
         NULL},
    };
    for (size_t i = 0; i < COUNT(pieces); i++) {
        for (int voice = 1; voice <= 2; voice++) {
            struct hbk_arena arena = {0};
            const char *const text = hbk_arena_printf(
                &arena, "X:1\nT:t\nM:4/4\nL:1/1\n%s\n", pieces[i].music);
            const struct hbk_tune_options options = {.voice = voice == 1 ? "1"
                                                                         : "2"};
            struct hbk_tune_document document = {.source = NULL};
            struct hbk_faults faults = {.count = 0};
            assert_int_equal(hbk_tune_read_bytes("t.abc", text, strlen(text),
                                                 &options, &document, &faults),
                             HBK_OK);
            const bool is_other = voice == 2 && pieces[i].second != NULL;
            assert_string_equal(order_text(&document.tune, &document.arena),
                                is_other ? pieces[i].second : pieces[i].first);
            assert_int_equal(faults.count, 0);
            hbk_tune_document_finish(&document);
            hbk_arena_finish(&arena);
        }
    }
}

static void words_are_known_in_many_spellings(void **state)
{
    (void)state;
    static const struct {
        const char *words;
        unsigned bits;
    } cases[] = {
        {"D.C.", HBK_SIGN_DA_CAPO},
        {"d.c", HBK_SIGN_DA_CAPO},
        {"D. C.", HBK_SIGN_DA_CAPO},
        {"DC", HBK_SIGN_DA_CAPO},
        {"Da Capo", HBK_SIGN_DA_CAPO},
        {"DaCapo", HBK_SIGN_DA_CAPO},
        {"March D.C.", HBK_SIGN_DA_CAPO},
        {"(D.C. al Fine)", HBK_SIGN_DA_CAPO | HBK_SIGN_AL_FINE},
        {"DC al fine", HBK_SIGN_DA_CAPO | HBK_SIGN_AL_FINE},
        {"D.C. alla fine", HBK_SIGN_DA_CAPO | HBK_SIGN_AL_FINE},
        {"D.C. to the end", HBK_SIGN_DA_CAPO | HBK_SIGN_AL_FINE},
        {"da capo bis Fine", HBK_SIGN_DA_CAPO | HBK_SIGN_AL_FINE},
        {"da capo sin' al fine", HBK_SIGN_DA_CAPO | HBK_SIGN_AL_FINE},
        {"D.C.al Coda", HBK_SIGN_DA_CAPO | HBK_SIGN_AL_CODA},
        {"D.C. al \xE2\x8A\x95", HBK_SIGN_DA_CAPO | HBK_SIGN_AL_CODA},
        {"D.S.", HBK_SIGN_DAL_SEGNO},
        {"D.%", HBK_SIGN_DAL_SEGNO},
        {"dal Segno", HBK_SIGN_DAL_SEGNO},
        {"Dal \xF0\x9D\x84\x8B al Fine", HBK_SIGN_DAL_SEGNO | HBK_SIGN_AL_FINE},
        {"D.S. al Coda", HBK_SIGN_DAL_SEGNO | HBK_SIGN_AL_CODA},
        {"D.S. & Coda", HBK_SIGN_DAL_SEGNO | HBK_SIGN_AL_CODA},
        {"D.S. e poi la Coda", HBK_SIGN_DAL_SEGNO | HBK_SIGN_AL_CODA},
        {"D.C. al Segno e poi la Coda",
         HBK_SIGN_DA_CAPO | HBK_SIGN_AL_SEGNO | HBK_SIGN_AL_CODA},
        {"D.C. with repeats", HBK_SIGN_DA_CAPO | HBK_SIGN_WITH_REPEATS},
        {"D.C. mit Wiederholungen", HBK_SIGN_DA_CAPO | HBK_SIGN_WITH_REPEATS},
        {"D.C. ma senza replica", HBK_SIGN_DA_CAPO | HBK_SIGN_NO_REPEATS},
        {"D.C. w/o repeats", HBK_SIGN_DA_CAPO | HBK_SIGN_NO_REPEATS},
        {"Fine", HBK_SIGN_FINE},
        {"(fine)", HBK_SIGN_FINE},
        {"To Coda", HBK_SIGN_TO_CODA},
        {"to the coda", HBK_SIGN_TO_CODA},
        {"To \xF0\x9D\x84\x8C", HBK_SIGN_TO_CODA},
        {"Coda", HBK_SIGN_CODA},
        {"CODA:", HBK_SIGN_CODA},
        {"Segno", HBK_SIGN_SEGNO},
        {"D/C", 0}, /* the chord of D with C in the bass */
        {"C", 0},
        {"Dm", 0},
        {"Dsus4", 0},
        {"no D.C.", 0},
        {"fine tone", 0},
        {"Trio", 0},
        {"to the trio", 0},
        {"", 0},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        const unsigned bits = hbk_sign_words(cases[i].words, NULL);
        if (bits != cases[i].bits) {
            print_message("# %s\n", cases[i].words);
        }
        assert_int_equal(bits, cases[i].bits);
    }
    bool understood = true;
    assert_int_equal(hbk_sign_words("D.C. and hop", &understood),
                     HBK_SIGN_DA_CAPO);
    assert_false(understood);
}

/* However many signs there are, a tune comes to its end. */
static void no_tune_goes_on_for_ever(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_text text = {.arena = &arena};
    hbk_text_add(&text, "X:1\nT:t\nL:1/1\nK:C\n");
    for (int i = 0; i < 2000; i++) {
        hbk_text_add(&text, "!segno!C!D.S.!|D!dacoda!!D.C.!|!coda!E|\n");
    }
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", hbk_text_string(&text), &document, &faults);
    assert_true(has_fault(&faults, 235));
    assert_false(document.tune.order.too_long);
    hbk_tune_document_finish(&document);
    text = (struct hbk_text){.arena = &arena};
    hbk_text_add(&text, "X:1\nT:t\nL:1/1\nP:(A99)10\nK:C\nP:A\n");
    for (int i = 0; i < 1000; i++) {
        hbk_text_add(&text, "C|");
    }
    struct hbk_tune_document longer = {.source = NULL};
    faults = (struct hbk_faults){.count = 0};
    read_good("t.abc", hbk_text_string(&text), &longer, &faults);
    assert_true(longer.tune.order.too_long);
    struct hbk_tune_performance performance;
    assert_int_equal(
        hbk_tune_unfold(&longer.tune, (double)NAN, &longer.arena, &performance),
        HBK_ERR_DOMAIN);
    hbk_tune_document_finish(&longer);
    hbk_arena_finish(&arena);
}

/* What is never played comes behind, so that it gets its fingerings. */
static void bars_that_are_never_played_are_kept(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", "X:1\nT:t\nL:1/1\nK:C\nC\"Fine\"|D\"D.C.\"|E|F|\n",
              &document, &faults);
    struct hbk_tune_performance performance;
    assert_int_equal(hbk_tune_unfold(&document.tune, (double)NAN,
                                     &document.arena, &performance),
                     HBK_OK);
    assert_int_equal(performance.n, 3);
    assert_int_equal(performance.n_unplayed, 2);
    assert_int_equal(performance.items[2].event, 0);
    assert_int_equal(performance.items[3].event, 2);
    const bool *const played =
        hbk_tune_played_bars(&document.tune, &document.arena);
    assert_true(played[0] && played[1] && !played[2] && !played[3]);
    hbk_tune_document_finish(&document);
}

/* Notes are played as their bars are, ties across a jump among them. */
static void notes_follow_their_bars(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc",
              "X:1\nT:t\nM:2/4\nL:1/4\nK:C\nCD|E2\"Fine\"|F2|G2\"D.C.\"|]\n",
              &document, &faults);
    assert_string_equal(played_text(&document.tune, &document.arena),
                        "C4 1/4, D4 1/4, E4 1/2, F4 1/2, G4 1/2, C4 1/4, "
                        "D4 1/4, E4 1/2");
    hbk_tune_document_finish(&document);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_in_abc_are_played_as_a_player_would),
        cmocka_unit_test(what_contradicts_is_read_and_told),
        cmocka_unit_test(odd_bar_lines_are_read_as_players_do),
        cmocka_unit_test(parts_are_played_in_their_order),
        cmocka_unit_test(a_voice_without_signs_has_those_of_the_first),
        cmocka_unit_test(words_are_known_in_many_spellings),
        cmocka_unit_test(no_tune_goes_on_for_ever),
        cmocka_unit_test(bars_that_are_never_played_are_kept),
        cmocka_unit_test(notes_follow_their_bars),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
