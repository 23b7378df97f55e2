/*
 * Where a part is put: how its notes are taken, its octave, its key and its
 * clef, and what is said of all that.
 */
#include "support/editions.h"
#include "support/lines.h"
#include "support/sheets.h"

#include "edition/choose.h"
#include "edition/music.h"
#include "edition/place.h"
#include "edition/place_tell.h"
#include "passage/suit.h"
#include "report/passage_moved.h"
#include "solve/ranking.h"

#include <stdlib.h>

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

#define EUPHONIUM "euphonium-b-flat-compensating-4"

static const char plain[] = "X:1\nM:4/4\nL:1/4\nK:C\nC D E F|G A B c|\n";
static const char bass[] = "X:1\nL:1/4\nK:C clef=bass\nC, E, G, C|\n";

static struct hbk_perform_ask ask_for(const char *octave, const char *transpose,
                                      const char *to_key)
{
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct hbk_arena arena = {0};
    struct hbk_text why = {.arena = &arena};
    const struct hbk_move_words words = {octave, transpose, to_key};
    assert_true(hbk_perform_ask_move(&ask, &words, &why));
    hbk_arena_finish(&arena);
    return ask;
}

static size_t hints_of(const struct performance *p, const char **text)
{
    static struct hbk_faults faults;
    const struct hbk_place_asker asker = {
        .whom = "", .remedy = "say so", .notes = &p->horn.notes};
    faults = (struct hbk_faults){0};
    hbk_place_tell(&asker, &p->performed.view.placing, &p->document.tune,
                   &faults);
    *text = faults.items[0].text;
    assert_int_equal(faults.errors, 0);
    return faults.count;
}

/*
 * What a part says of itself decides; where it says nothing it is the
 * player's, and asked about if that may matter.
 */
static void a_part_is_taken_by_what_it_says(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *abc;
        bool from_sounding;
        enum hbk_taken taken;
        int for_horn;
        const char *hint; /* NULL for none */
    } cases[] = {
        {"cornet-b-flat", plain, false, HBK_TAKEN_WRITTEN, 0,
         "as written for this horn in B\u266D. If they are those that sound, "
         "say so"},
        {"cornet-b-flat", plain, true, HBK_TAKEN_SOUNDING, 2, NULL},
        {"keyed-bugle-c-6", plain, false, HBK_TAKEN_WRITTEN, 0, NULL},
        {"cornet-b-flat", "X:1\nL:1/4\nK:C transpose=0\nC D|\n", false,
         HBK_TAKEN_STATED, 2, NULL},
        {"alto-e-flat", "X:1\nL:1/4\nK:C transpose=-2\nC D|\n", false,
         HBK_TAKEN_STATED, 7, NULL},
        {EUPHONIUM, bass, false, HBK_TAKEN_SOUNDING, 14,
         "the part is in the bass clef and states no transposition; its notes "
         "are taken as those that sound"},
        {EUPHONIUM, "X:1\nL:1/4\nK:C clef=tenor\nC, E,|\n", false,
         HBK_TAKEN_SOUNDING, 14, "in the tenor or alto clef"},
        {EUPHONIUM, "X:1\nL:1/4\nK:C clef=bass transpose=-14\nC, E,|\n", false,
         HBK_TAKEN_STATED, 0, NULL},
        {"ophicleide-c-11", bass, false, HBK_TAKEN_WRITTEN, 0, NULL},
        {"ophicleide-c-11", plain, false, HBK_TAKEN_WRITTEN, 0, NULL},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct performance p;
        struct hbk_perform_ask ask = hbk_perform_ask_none();
        const char *said = NULL;
        ask.from_sounding = cases[i].from_sounding;
        perform_abc(&p, cases[i].horn, cases[i].abc, &ask);
        const struct hbk_placing *const placing = &p.performed.view.placing;
        assert_int_equal(placing->taken, cases[i].taken);
        assert_int_equal(placing->for_horn, cases[i].for_horn);
        assert_int_equal(hints_of(&p, &said), cases[i].hint == NULL ? 0 : 1);
        if (cases[i].hint != NULL) {
            check_words_say(said, cases[i].hint);
        }
        perform_done(&p);
    }
}

/* Notes that were typed are the horn's own, and nobody wonders. */
static void a_run_is_not_asked_about(void **state)
{
    (void)state;
    struct performance p;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    const char *said = NULL;
    perform_text(&p, "cornet-b-flat", "C5 D5 E5", true, &ask);
    assert_int_equal(p.performed.view.placing.taken, HBK_TAKEN_WRITTEN);
    assert_int_equal(hints_of(&p, &said), 0);
    perform_done(&p);
}

/* Whatever clefs the file has, the player sees the one he reads. */
static void the_clef_is_that_of_the_player(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *abc;
        enum hbk_reads reads;
        char sign;
        int first; /* the first note as it is read */
    } cases[] = {
        {EUPHONIUM, bass, HBK_READS_OWN, 'G', 62},
        {EUPHONIUM, bass, HBK_READS_BASS, 'F', 48},
        {"bass-e-flat", "X:1\nL:1/4\nK:C clef=bass\nE,, G,,|\n", HBK_READS_OWN,
         'G', 61},
        {"ophicleide-c-11", plain, HBK_READS_OWN, 'F', 60},
        {"ophicleide-c-11",
         "X:1\nL:1/4\nK:C clef=bass\nC, E,|[K:clef=tenor]G,"
         "|\n",
         HBK_READS_OWN, 'F', 48},
        {"trombone-six-independent", bass, HBK_READS_OWN, 'C', 48},
        {"cornet-b-flat", plain, HBK_READS_OWN, 'G', 60},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct performance p;
        const struct hbk_perform_ask ask = hbk_perform_ask_none();
        solved_read(&p.horn, cases[i].horn);
        p.horn.setting.reads = cases[i].reads;
        solved_run(&p.horn);
        p.document = (struct hbk_tune_document){.source = NULL};
        p.arena = (struct hbk_arena){0};
        p.faults = (struct hbk_faults){0};
        assert_int_equal(hbk_tune_read_bytes("own.abc", cases[i].abc,
                                             strlen(cases[i].abc), NULL,
                                             &p.document, &p.faults),
                         HBK_OK);
        perform_again(&p, &ask);
        const struct hbk_tune *const read = &p.performed.read;
        assert_int_equal(read->n_clefs, 1);
        assert_int_equal(read->clefs[0].sign, cases[i].sign);
        assert_int_equal(read->clefs[0].event, 0);
        assert_int_equal(read->events[0].note, cases[i].first);
        perform_done(&p);
    }
}

/* A cornet has F#3 to C6, an ophicleide B1 to C5. */
static void the_octave_that_is_found_has_the_most_notes(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *abc, *octave;
        int octaves;
        size_t out, out_as_written;
    } cases[] = {
        {"cornet-b-flat", plain, "auto", 0, 0, 0},
        {"cornet-b-flat", "X:1\nL:1/4\nK:C\nc' d' e' f'|\n", "auto", -1, 0, 3},
        {"cornet-b-flat", "X:1\nL:1/4\nK:C\nC, D, E, F,|\n", "auto", 1, 0, 4},
        {"cornet-b-flat", "X:1\nL:1/4\nK:C\nc'' d''|\n", "auto", -2, 0, 2},
        {"cornet-b-flat", "X:1\nL:1/4\nK:C\nc' d' e' f'|\n", "0", 0, 3, 3},
        {"cornet-b-flat", plain, "-1", -1, 4, 0},
        {"ophicleide-c-11", "X:1\nL:1/4\nK:C\nc d e f|\n", "auto", -1, 0, 3},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct performance p;
        const struct hbk_perform_ask ask = ask_for(cases[i].octave, NULL, NULL);
        perform_abc(&p, cases[i].horn, cases[i].abc, &ask);
        const struct hbk_placing *const placing = &p.performed.view.placing;
        if (placing->octaves != cases[i].octaves) {
            print_error("case %zu\n", i);
        }
        assert_int_equal(placing->octaves, cases[i].octaves);
        assert_int_equal(placing->found.n_out, cases[i].out);
        assert_int_equal(placing->stays.n_out, cases[i].out_as_written);
        assert_int_equal(p.performed.passage.n_out, cases[i].out);
        assert_int_equal(p.performed.tune.events[0].note,
                         p.document.tune.events[0].note +
                             (12 * cases[i].octaves));
        assert_false(placing->rekeyed);
        perform_done(&p);
    }
}

/* The measure of a key, reckoned here once more. */
static double price_at(const struct performance *p, int by)
{
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_arena arena = {0};
    struct hbk_keywork keywork;
    struct hbk_tune tune;
    struct hbk_suit suit;
    hbk_keywork_make(&p->horn.horn, &prices, &keywork);
    assert_int_equal(hbk_tune_transposed(&p->document.tune, by, &arena, &tune),
                     HBK_OK);
    const struct hbk_passage_request request = {.notes = &p->horn.notes,
                                                .keywork = &keywork,
                                                .tune = &tune,
                                                .quarters = (double)NAN,
                                                .ways = 1};
    assert_int_equal(hbk_suit_find(&request, &arena, &suit), HBK_OK);
    const int signs = tune.keys[0].fifths;
    hbk_arena_finish(&arena);
    return suit.n_out > 0 ? 1e9 + (double)suit.n_out
                          : suit.ease_price + (25.0 * fabs((double)signs));
}

static void the_key_that_is_found_costs_least(void **state)
{
    (void)state;
    static const char *const horns[] = {"cornet-b-flat", "keyed-bugle-c-6",
                                        "bass-e-flat"};
    static const char *const keys[] = {"F#", "Db", "E", "C"};
    bool moves = false;
    bool stays = false;
    for (size_t h = 0; h < COUNT(horns); h++) {
        for (size_t k = 0; k < COUNT(keys); k++) {
            struct performance p;
            char abc[128];
            (void)snprintf(abc, sizeof(abc),
                           "X:1\nL:1/16\nQ:1/4=120\nK:%s\ncdefgfed c4 G4|\n",
                           keys[k]);
            const struct hbk_perform_ask ask = ask_for(NULL, NULL, "auto:4");
            perform_abc(&p, horns[h], abc, &ask);
            const struct hbk_placing *const placing = &p.performed.view.placing;
            for (int by = -4; by <= 4; by++) {
                assert_true(price_at(&p, placing->semitones) <=
                            price_at(&p, by));
            }
            check_abs(placing->found.price, price_at(&p, placing->semitones),
                      1e-9);
            moves = moves || placing->semitones != 0;
            stays = stays || placing->semitones == 0;
            assert_int_equal(placing->octaves, 0);
            perform_done(&p);
        }
    }
    assert_true(moves && stays);
}

/* The key is the one on the player's paper, by the shorter way. */
static void a_key_is_asked_for_as_the_player_reads_it(void **state)
{
    (void)state;
    static const struct {
        const char *key, *to;
        bool from_sounding;
        int semitones, signature;
        const char *first; /* how C of the part is then spelled */
    } cases[] = {
        {"C", "D", false, 2, 2, "D"},     {"C", "Bb", false, -2, -2, "Bb"},
        {"C", "F#", false, -6, 6, "F#"},  {"C", "Gb", false, -6, -6, "Gb"},
        {"C", "G", false, -5, 1, "G"},    {"C", "F", false, 5, -1, "F"},
        {"C", "C", false, 0, 0, "C"},     {"C", "C", true, -2, 0, "C"},
        {"Am", "D", false, 5, -1, "F"},   {"C", "Cb", false, -1, -7, "Cb"},
        {"D dor", "E", false, 2, 2, "D"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct performance p;
        char abc[64];
        char name[HBK_NAME_SIZE];
        struct hbk_perform_ask ask = ask_for(NULL, NULL, cases[i].to);
        ask.from_sounding = cases[i].from_sounding;
        (void)snprintf(abc, sizeof(abc), "X:1\nL:1/4\nK:%s\nc|\n",
                       cases[i].key);
        perform_abc(&p, "cornet-b-flat", abc, &ask);
        const struct hbk_placing *const placing = &p.performed.view.placing;
        if (placing->semitones != cases[i].semitones) {
            print_error("case %zu\n", i);
        }
        assert_int_equal(placing->semitones, cases[i].semitones);
        assert_int_equal(p.performed.read.keys[0].fifths, cases[i].signature);
        assert_int_equal(placing->found.key.fifths, cases[i].signature);
        assert_string_equal(
            hbk_spelling_letter(p.performed.read.events[0].spelling, HBK_ASCII,
                                name),
            cases[i].first);
        assert_int_equal(placing->rekeyed, cases[i].semitones != 0);
        perform_done(&p);
    }
}

/* F sharp and G flat are one key to the horn and two to the eye. */
static void a_key_may_change_its_name_alone(void **state)
{
    (void)state;
    struct performance p;
    const struct hbk_perform_ask ask = ask_for(NULL, NULL, "Gb");
    perform_abc(&p, "cornet-b-flat", "X:1\nL:1/4\nK:F#\nf ^e =e|\n", &ask);
    const struct hbk_passage_view *const view = &p.performed.view;
    assert_int_equal(hbk_placing_moved(&view->placing), 0);
    assert_int_equal(p.performed.read.keys[0].fifths, -6);
    assert_string_equal(hbk_passage_moved(view, &p.arena),
                        "The part is moved from F\u266F to G\u266D, which "
                        "sounds the same");
    perform_done(&p);
}

/* G flat minor would have nine flats. */
static void a_key_that_no_signature_has_is_refused(void **state)
{
    (void)state;
    struct performance p;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    perform_abc(&p, "cornet-b-flat", "X:1\nL:1/4\nK:Am\nA c|\n", &ask);
    ask = ask_for(NULL, NULL, "Gb");
    assert_int_equal(hbk_perform(&ask, &p.document.tune, &p.horn.notes,
                                 &p.arena, &p.performed, &p.faults),
                     HBK_ERR_INPUT);
    assert_int_equal(p.faults.count, 1);
    check_words_say(p.faults.items[0].text, "would have 9 flats");
    perform_done(&p);
}

static void what_was_moved_is_said_in_a_line(void **state)
{
    (void)state;
    static const struct {
        const char *octave, *transpose, *to_key;
        bool from_sounding;
        const char *moved;
    } cases[] = {
        {"-1", NULL, NULL, false, "The part is an octave lower than written"},
        {"+2", NULL, NULL, false,
         "The part is two octaves higher than written"},
        {NULL, "-M2", NULL, false,
         "The part is moved from D to C, a whole tone lower than written"},
        {NULL, NULL, "C", false,
         "The part is moved from D to C, a whole tone lower than written"},
        {"-1", "M2", NULL, false,
         "The part is moved from D to E, a minor seventh lower than written"},
        {"-1", NULL, NULL, true,
         "The part is moved up by a whole tone for this horn and is an octave "
         "lower than written"},
        {NULL, NULL, "D", true,
         "The part is moved up by a whole tone for this horn, then from E to "
         "D, a whole tone lower than written"},
        {"0", "P1", "D", false, NULL},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct performance p;
        struct hbk_perform_ask ask =
            ask_for(cases[i].octave,
                    cases[i].to_key == NULL ? cases[i].transpose : NULL,
                    cases[i].to_key);
        ask.from_sounding = cases[i].from_sounding;
        perform_abc(&p, "cornet-b-flat", "X:1\nL:1/4\nK:D\nd f a|\n", &ask);
        const char *const moved =
            hbk_passage_moved(&p.performed.view, &p.arena);
        assert_null(hbk_passage_chosen(&p.performed.view, &p.arena));
        if (cases[i].moved == NULL) {
            assert_null(moved);
        } else {
            assert_string_equal(moved, cases[i].moved);
        }
        perform_done(&p);
    }
}

static void what_was_found_is_said_with_its_reason(void **state)
{
    (void)state;
    static const struct {
        const char *abc, *octave, *to_key, *chosen;
    } cases[] = {
        {"X:1\nL:1/4\nK:D\nd' e' f' g'|\n", "auto", NULL,
         "Of all octaves, the part lies best an octave lower: every note is "
         "available there, and 4 are not as written"},
        {"X:1\nL:1/4\nK:C\nC D E F|\n", "auto", NULL,
         "Of all octaves, the part lies best where it is written"},
        /* In D it is not where it is written. */
        {"X:1\nL:1/4\nK:C\nC D E F|\n", "auto", "D",
         "Of all octaves, the part lies best in this one"},
        {"X:1\nL:1/4\nK:C\nG c e g|\n", NULL, "auto",
         "Of the keys within 3 semitones, C as it is, is the easiest to "
         "finger and to read"},
        {"X:1\nL:1/4\nK:C\nC, c|\n", "auto", NULL,
         "Of all octaves, the part lies best an octave higher: every note is "
         "available there, and 1 is not as written"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct performance p;
        const struct hbk_perform_ask ask =
            ask_for(cases[i].octave, NULL, cases[i].to_key);
        perform_abc(&p, "cornet-b-flat", cases[i].abc, &ask);
        assert_string_equal(hbk_passage_chosen(&p.performed.view, &p.arena),
                            cases[i].chosen);
        perform_done(&p);
    }
    struct performance p;
    const struct hbk_perform_ask ask = ask_for(NULL, NULL, "auto:1");
    perform_abc(&p, "cornet-b-flat", "X:1\nL:1/4\nK:F#\nf c A F|\n", &ask);
    const char *const chosen = hbk_passage_chosen(&p.performed.view, &p.arena);
    check_words_say(chosen, "Of the keys within 1 semitone, ");
    check_words_say(chosen, "is the easiest to finger and to read: it costs ");
    check_words_say(chosen, ", F\u266F (6 sharps) ");
    perform_done(&p);
}

/* What is written elsewhere is written anew, and sounds there. */
static void moved_music_is_written_anew(void **state)
{
    (void)state;
    struct performance p;
    const struct hbk_perform_ask ask = ask_for("-1", NULL, "Bb");
    perform_abc(&p, "cornet-b-flat", "X:1\nL:1/4\nK:C transpose=-2\nc d e f|\n",
                &ask);
    assert_true(hbk_tune_holds(&p.document, HBK_TUNE_ABC));
    assert_false(hbk_music_is_own(&p.document, &p.performed, HBK_TUNE_ABC));
    struct hbk_text out = {.arena = &p.arena};
    assert_int_equal(hbk_music_write(&p.document, &p.performed, HBK_TUNE_ABC,
                                     &out, &p.faults),
                     HBK_OK);
    assert_int_equal(p.faults.count, 1);
    assert_int_equal(p.faults.items[0].number, 315);
    struct hbk_tune_document again = {0};
    assert_int_equal(hbk_tune_read_bytes("again", out.bytes, out.length, NULL,
                                         &again, &p.faults),
                     HBK_OK);
    assert_int_equal(again.tune.events[0].note, 72 - 14);
    assert_int_equal(again.tune.transpose, -2);
    assert_int_equal(again.tune.keys[0].fifths, -2);
    hbk_tune_document_finish(&again);
    perform_done(&p);
}

/* A choice takes a part as a performance does, for every horn. */
static void a_choice_and_a_performance_agree(void **state)
{
    (void)state;
    static const char *const horns[] = {"cornet-b-flat", "bass-e-flat",
                                        "ophicleide-c-11", EUPHONIUM};
    static const char *const tunes[] = {
        plain, bass, "X:1\nL:1/4\nK:C transpose=-2\nc' e' g' c''|\n"};
    for (size_t h = 0; h < COUNT(horns); h++) {
        for (size_t t = 0; t < COUNT(tunes); t++) {
            struct performance p;
            const struct hbk_perform_ask ask = ask_for("auto", NULL, NULL);
            perform_abc(&p, horns[h], tunes[t], &ask);
            const struct hbk_choose_ask choose = {&p.document.tune, ask};
            struct hbk_chosen chosen = {.word = NULL};
            assert_int_equal(hbk_choose_try(&choose, &p.horn.notes, &p.arena,
                                            &p.arena, &chosen, &p.faults),
                             HBK_OK);
            const struct hbk_placing *const placing = &p.performed.view.placing;
            assert_int_equal(chosen.placing.taken, placing->taken);
            assert_int_equal(chosen.placing.octaves, placing->octaves);
            assert_int_equal(hbk_placing_moved(&chosen.placing),
                             hbk_placing_moved(placing));
            assert_int_equal(chosen.suit.n_out, p.performed.passage.n_out);
            check_abs(chosen.suit.lost_octave,
                      fmin(5.0 * abs(placing->octaves), 10.0), 0.0);
            perform_done(&p);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_is_taken_by_what_it_says),
        cmocka_unit_test(a_run_is_not_asked_about),
        cmocka_unit_test(the_clef_is_that_of_the_player),
        cmocka_unit_test(the_octave_that_is_found_has_the_most_notes),
        cmocka_unit_test(the_key_that_is_found_costs_least),
        cmocka_unit_test(a_key_is_asked_for_as_the_player_reads_it),
        cmocka_unit_test(a_key_may_change_its_name_alone),
        cmocka_unit_test(a_key_that_no_signature_has_is_refused),
        cmocka_unit_test(what_was_moved_is_said_in_a_line),
        cmocka_unit_test(what_was_found_is_said_with_its_reason),
        cmocka_unit_test(moved_music_is_written_anew),
        cmocka_unit_test(a_choice_and_a_performance_agree),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
