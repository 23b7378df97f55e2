/*
 * Where a part is asked to be put: the words for it, and keys moved against a
 * table written by hand.
 */
#include "support/check.h"

#include "music/fifths.h"
#include "music/moving.h"
#include "tune/document.h"
#include "tune/melody/ornament.h"
#include "tune/melody/transpose.h"

#include <stdio.h>
#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* Places on the line of fifths of the naturals, counted from F. */
static void the_line_of_fifths_has_every_note_once(void **state)
{
    (void)state;
    static const char line[] = "FCGDAEB";
    static const char letters[] = "CDEFGAB";
    for (int fifths = -15; fifths <= 19; fifths++) {
        const int step = hbk_fifths_step(fifths);
        const int alter = hbk_fifths_alter(fifths);
        assert_int_equal(letters[step], line[(fifths + 15) % 7]);
        assert_int_equal(alter, ((fifths + 15) / 7) - 2);
        assert_int_equal(hbk_fifths_of(step, alter), fifths);
    }
}

static void octaves_are_a_number_or_looked_for(void **state)
{
    (void)state;
    static const struct {
        const char *word;
        bool any;
        int octaves;
    } good[] = {{"-1", false, -1}, {"+1", false, 1},  {"1", false, 1},
                {"0", false, 0},   {"-4", false, -4}, {"auto", true, 0}};
    static const char *const bad[] = {"",   "5",    "-5",  "1.5", "+-1", "++1",
                                      "up", "Auto", "one", "1 ",  "-"};
    for (size_t i = 0; i < COUNT(good); i++) {
        struct hbk_moving moving = {.octaves = 3};
        assert_true(hbk_moving_octave(good[i].word, &moving));
        assert_int_equal(moving.any_octave, good[i].any);
        assert_int_equal(moving.octaves, good[i].octaves);
    }
    for (size_t i = 0; i < COUNT(bad); i++) {
        struct hbk_moving moving = {.octaves = 3};
        if (hbk_moving_octave(bad[i], &moving)) {
            print_error("'%s'\n", bad[i]);
        }
        assert_int_equal(moving.octaves, 3);
        assert_int_equal(moving.octaves, 3);
    }
}

/* Sizes as every primer has them; fifths counted on the line. */
static void intervals_are_read_by_their_names(void **state)
{
    (void)state;
    static const struct {
        const char *word;
        int semitones, fifths;
        bool spelled;
    } good[] = {
        {"P1", 0, 0, true},    {"m2", 1, -5, true},  {"M2", 2, 2, true},
        {"m3", 3, -3, true},   {"M3", 4, 4, true},   {"P4", 5, -1, true},
        {"A4", 6, 6, true},    {"d5", 6, -6, true},  {"P5", 7, 1, true},
        {"m6", 8, -4, true},   {"M6", 9, 3, true},   {"m7", 10, -2, true},
        {"M7", 11, 5, true},   {"P8", 12, 0, true},  {"A1", 1, 7, true},
        {"A2", 3, 9, true},    {"d7", 9, -9, true},  {"m10", 15, -3, true},
        {"-M2", -2, -2, true}, {"-m3", -3, 3, true}, {"+P5", 7, 1, true},
        {"-P8", -12, 0, true}, {"2", 2, 0, false},   {"-3", -3, 0, false},
        {"+7", 7, 0, false},   {"24", 24, 0, false}, {"d4", 4, -8, true},
    };
    static const char *const bad[] = {
        "",    "P2",   "M5",  "m4", "M",   "2M",  "p5", "M0",  "M16", "25",
        "-25", "--M2", "M2 ", "X3", "M-2", "M+2", "d1", "5th", "M2.5"};
    for (size_t i = 0; i < COUNT(good); i++) {
        struct hbk_moving moving = {0};
        if (!hbk_moving_interval(good[i].word, &moving) ||
            moving.semitones != good[i].semitones ||
            moving.fifths != good[i].fifths) {
            print_error("%s\n", good[i].word);
        }
        assert_int_equal(moving.semitones, good[i].semitones);
        assert_int_equal(moving.fifths, good[i].fifths);
        assert_int_equal(moving.spelled, good[i].spelled);
        assert_int_equal(hbk_moving_asked(&moving), good[i].semitones != 0);
    }
    for (size_t i = 0; i < COUNT(bad); i++) {
        struct hbk_moving moving = {0};
        if (hbk_moving_interval(bad[i], &moving)) {
            print_error("%s\n", bad[i]);
        }
        assert_false(hbk_moving_interval(bad[i], &moving));
        assert_false(hbk_moving_asked(&moving));
    }
}

static void keys_are_a_note_or_looked_for(void **state)
{
    (void)state;
    static const struct {
        const char *word;
        int tonic;
    } good[] = {{"C", 0},   {"F", -1},  {"Bb", -2}, {"F#", 6},
                {"Gb", -6}, {"Cb", -7}, {"C#", 7},  {"B\u266D", -2}};
    static const char *const bad[] = {
        "",        "c",     "H",      "Bbb",    "F##",   "D4",     "Dm",
        "D major", "auto:", "auto:0", "auto:7", "autos", "auto:x", "D-1"};
    struct hbk_moving moving = {0};
    for (size_t i = 0; i < COUNT(good); i++) {
        moving = (struct hbk_moving){.any_key = true};
        assert_true(hbk_moving_key(good[i].word, &moving));
        assert_true(moving.to_key && !moving.any_key);
        assert_int_equal(moving.tonic, good[i].tonic);
    }
    for (size_t i = 0; i < COUNT(bad); i++) {
        moving = (struct hbk_moving){0};
        assert_false(hbk_moving_key(bad[i], &moving));
        assert_false(hbk_moving_asked(&moving));
    }
    assert_true(hbk_moving_key("auto", &moving));
    assert_true(moving.any_key && !moving.to_key);
    assert_int_equal(moving.reach, 3);
    assert_true(hbk_moving_key("auto:6", &moving));
    assert_int_equal(moving.reach, 6);
}

/* A bar of one note in a key, to be moved; finish the document. */
static void in_key(const char *key, struct hbk_tune_document *document)
{
    struct hbk_faults faults = {0};
    char text[64];
    (void)snprintf(text, sizeof(text), "X:1\nL:1/4\nM:1/4\nK:%s\nc|\n", key);
    assert_int_equal(hbk_tune_read_bytes("own.abc", text, strlen(text), NULL,
                                         document, &faults),
                     HBK_OK);
}

/*
 * What a player sees whose horn reads so much higher than the piece sounds,
 * as bands have it: a part for a horn in B flat has two sharps more, for one in
 * E flat three, in F one, in A three flats more. Where six sharps and six
 * flats are the same key it is flats, and no key has more than six signs.
 */
static void signatures_move_as_in_common_practice(void **state)
{
    (void)state;
    static const char *const keys[] = {"Gb", "Db", "Ab", "Eb", "Bb", "F", "C",
                                       "G",  "D",  "A",  "E",  "B",  "F#"};
    static const struct {
        int semitones;
        const char *to[COUNT(keys)];
    } rows[] = {
        {2, /* horns in B flat */
         {"Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "Gb", "Db",
          "Ab"}},
        {-3, /* horns in E flat, and the higher of them */
         {"Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "Gb", "Db", "Ab",
          "Eb"}},
        {9,
         {"Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "Gb", "Db", "Ab",
          "Eb"}},
        {7, /* horns in F */
         {"Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "Gb",
          "Db"}},
        {3, /* horns in A */
         {"A", "E", "B", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D",
          "A"}},
        {1,
         {"G", "D", "A", "E", "B", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C",
          "G"}},
        {-1,
         {"F", "C", "G", "D", "A", "E", "B", "Gb", "Db", "Ab", "Eb", "Bb",
          "F"}},
        {-12,
         {"Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B",
          "F#"}},
    };
    for (size_t r = 0; r < COUNT(rows); r++) {
        for (size_t k = 0; k < COUNT(keys); k++) {
            struct hbk_tune_document document = {0};
            struct hbk_tune_document wanted = {0};
            struct hbk_tune moved;
            in_key(keys[k], &document);
            in_key(rows[r].to[k], &wanted);
            assert_int_equal(hbk_tune_transposed(&document.tune,
                                                 rows[r].semitones,
                                                 &document.arena, &moved),
                             HBK_OK);
            if (moved.keys[0].fifths != wanted.tune.keys[0].fifths) {
                print_error("%s by %d\n", keys[k], rows[r].semitones);
            }
            assert_int_equal(moved.keys[0].fifths, wanted.tune.keys[0].fifths);
            assert_memory_equal(moved.keys[0].alter, wanted.tune.keys[0].alter,
                                sizeof(moved.keys[0].alter));
            hbk_tune_document_finish(&document);
            hbk_tune_document_finish(&wanted);
        }
    }
}

/* Six signs either way: as the interval or the key asked for has it. */
static void equal_signatures_go_by_what_is_asked(void **state)
{
    (void)state;
    static const struct {
        const char *key;
        struct hbk_tune_move move;
        int fifths;
    } cases[] = {
        {"C", {6, HBK_MOVE_PLAINLY, 0}, -6},
        {"C", {6, HBK_MOVE_LEANING, 6}, 6},   /* an augmented fourth */
        {"C", {6, HBK_MOVE_LEANING, -6}, -6}, /* a diminished fifth */
        {"A", {-3, HBK_MOVE_LEANING, 3}, 6},  /* a minor third down */
        {"B", {1, HBK_MOVE_LEANING, 7}, 0},   /* never twelve sharps */
        {"C", {1, HBK_MOVE_SPELLED, 7}, 7},   /* C sharp was asked for */
        {"F#", {0, HBK_MOVE_SPELLED, -12}, -6},
        {"C#", {12, HBK_MOVE_PLAINLY, 0}, 7}, /* an octave changes nothing */
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {0};
        struct hbk_tune moved;
        in_key(cases[i].key, &document);
        assert_int_equal(hbk_tune_moved(&document.tune, &cases[i].move,
                                        &document.arena, &moved),
                         HBK_OK);
        if (moved.keys[0].fifths != cases[i].fifths) {
            print_error("case %zu\n", i);
        }
        assert_int_equal(moved.keys[0].fifths, cases[i].fifths);
        assert_int_equal(
            hbk_tune_key_moved(&document.tune, &cases[i].move).fifths,
            cases[i].fifths);
        assert_int_equal(hbk_spelling_note(moved.events[0].spelling),
                         moved.events[0].note);
        hbk_tune_document_finish(&document);
    }
}

/* Of whatever is moved wherever, nothing gets a second sign. */
static void no_note_gets_a_second_sign(void **state)
{
    (void)state;
    static const char text[] =
        "X:1\nL:1/8\nK:F#\n_c=c^c _d=d^d _e=e^e _f=f^f _g=g^g _a=a^a _b=b^b|"
        "[K:Gb]_c=c^c _d=d^d _e=e^e _f=f^f _g=g^g _a=a^a _b=b^b|"
        "[K:Amin]_c=c^c _d=d^d _e=e^e _f=f^f _g=g^g _a=a^a _b=b^b|\n";
    struct hbk_tune_document document = {0};
    struct hbk_faults faults = {0};
    assert_int_equal(hbk_tune_read_bytes("own.abc", text, strlen(text), NULL,
                                         &document, &faults),
                     HBK_OK);
    assert_int_equal(document.tune.n_events, 63);
    for (int by = -24; by <= 24; by++) {
        struct hbk_tune moved;
        assert_int_equal(
            hbk_tune_transposed(&document.tune, by, &document.arena, &moved),
            HBK_OK);
        for (size_t e = 0; e < moved.n_events; e++) {
            const struct hbk_tune_event *const event = &moved.events[e];
            assert_in_range(event->spelling.alter + 1, 0, 2);
            assert_int_equal(hbk_spelling_note(event->spelling), event->note);
            assert_int_equal(event->note, document.tune.events[e].note + by);
        }
    }
    hbk_tune_document_finish(&document);
}

/* The other note of a trill is as far away wherever the trill is moved. */
static void trills_keep_their_interval(void **state)
{
    (void)state;
    static const char text[] = "X:1\nL:1/8\nK:F\n"
                               "TATBT^cTGTATGTATB MAMBM^c|[K:E]TATBT^cTG\n";
    struct hbk_tune_document document = {0};
    struct hbk_faults faults = {0};
    assert_int_equal(hbk_tune_read_bytes("own.abc", text, strlen(text), NULL,
                                         &document, &faults),
                     HBK_OK);
    struct hbk_tune *const tune = &document.tune;
    for (size_t e = 0; e < tune->n_events; e++) {
        const int interval = hbk_tune_other_interval(tune, e);
        const int alter = hbk_tune_other_note(tune, e).alter;
        const int wanted = (interval < 0 ? -1 : 1) * (1 + (int)(e % 2));
        tune->events[e].articulation |=
            e % 3 == 0 ? 0 : hbk_tune_sign_of(alter + wanted - interval);
    }
    for (int by = -24; by <= 24; by++) {
        struct hbk_tune moved;
        assert_int_equal(hbk_tune_transposed(tune, by, &document.arena, &moved),
                         HBK_OK);
        for (size_t e = 0; e < moved.n_events; e++) {
            const unsigned sign =
                moved.events[e].articulation & HBK_TUNE_TRILL_SIGN;
            const int interval = hbk_tune_other_interval(tune, e);
            const int now = hbk_tune_other_interval(&moved, e);
            if (now != interval) {
                print_error("by %d, event %zu: %d\n", by, e, now);
            }
            assert_int_equal(now, interval);
            assert_int_equal(sign & (sign - 1), 0);
        }
    }
    /* A to B natural is, a tone higher, B to C sharp in G. */
    struct hbk_tune moved;
    tune->events[0].articulation |= HBK_TUNE_SIGN_NATURAL;
    assert_int_equal(hbk_tune_transposed(tune, 2, &document.arena, &moved),
                     HBK_OK);
    assert_true((moved.events[0].articulation & HBK_TUNE_SIGN_SHARP) != 0);
    hbk_tune_document_finish(&document);
}

/* Each mode by the key of C with its signature, from any primer. */
static void the_note_of_a_key_goes_by_its_mode(void **state)
{
    (void)state;
    static const struct {
        const char *key, *note;
    } cases[] = {{"C", "C"},     {"Am", "A"},      {"D dor", "D"},
                 {"E phr", "E"}, {"F lyd", "F"},   {"G mix", "G"},
                 {"A aeo", "A"}, {"B loc", "B"},   {"Ebm", "Eb"},
                 {"F#m", "F#"},  {"Bb mix", "Bb"}, {"none", "C"}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {0};
        char name[HBK_NAME_SIZE];
        in_key(cases[i].key, &document);
        assert_string_equal(
            hbk_spelling_letter(hbk_tune_tonic(&document.tune.keys[0]),
                                HBK_ASCII, name),
            cases[i].note);
        hbk_tune_document_finish(&document);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_line_of_fifths_has_every_note_once),
        cmocka_unit_test(octaves_are_a_number_or_looked_for),
        cmocka_unit_test(intervals_are_read_by_their_names),
        cmocka_unit_test(keys_are_a_note_or_looked_for),
        cmocka_unit_test(signatures_move_as_in_common_practice),
        cmocka_unit_test(equal_signatures_go_by_what_is_asked),
        cmocka_unit_test(no_note_gets_a_second_sign),
        cmocka_unit_test(trills_keep_their_interval),
        cmocka_unit_test(the_note_of_a_key_goes_by_its_mode),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
