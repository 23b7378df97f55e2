#include "support/check.h"

#include "music/pitch.h"

#include <string.h>

static void names_are_read_and_written_back(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int note;
    } cases[] = {{"C4", 60},   {"A4", 69},  {"F#4", 66},
                 {"Bb3", 58},  {"B#3", 60}, {"Cb5", 71},
                 {"F##2", 43}, {"C-1", 0},  {"G9", 127}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_spelling spelling;
        assert_true(hbk_spelling_parse(cases[i].text, &spelling));
        assert_int_equal(hbk_spelling_note(spelling), cases[i].note);
        char name[HBK_NAME_SIZE];
        assert_string_equal(hbk_spelling_name(spelling, HBK_ASCII, name),
                            cases[i].text);
    }
}

static void slips_are_not_notes(void **state)
{
    (void)state;
    static const char *const slips[] = {"",     "H4",  "F",    "F #4",
                                        "f4",   "C44", "C#b4", "B###3",
                                        "C--1", "A4 ", "G#9"};
    for (size_t i = 0; i < sizeof(slips) / sizeof(slips[0]); i++) {
        int note = -5;
        assert_false(hbk_note_parse(slips[i], &note));
        assert_int_equal(note, -5);
    }
}

static void spellings_agree_with_the_note(void **state)
{
    (void)state;
    for (int note = 0; note <= HBK_NOTE_MAX; note++) {
        assert_int_equal(hbk_spelling_note(hbk_note_sharp(note)), note);
        assert_int_equal(hbk_spelling_note(hbk_note_flat(note)), note);
        assert_int_equal(hbk_spelling_note(hbk_note_usual(note)), note);
    }
    char name[HBK_NAME_SIZE];
    assert_string_equal(hbk_spelling_name(hbk_note_flat(70), HBK_UNICODE, name),
                        "B\xE2\x99\xAD"
                        "4");
    assert_string_equal(hbk_note_name(70, HBK_ASCII, name), "Bb4");
    assert_string_equal(hbk_note_name(-1, HBK_ASCII, name), "?");
    assert_string_equal(hbk_note_name(HBK_NOTE_MAX + 1, HBK_ASCII, name), "?");
}

/*
 * What the trade calls them, from memory: in German H is the English B and B
 * its flat, E and A lose their vowel before a flat's ending (Es, As), and a
 * double flat of H is Heses; in French and Italian C is do and B si.
 */
static void names_are_those_of_the_country(void **state)
{
    (void)state;
    static const struct {
        const char *english, *german, *syllable;
    } cases[] = {{"C4", "C4", "do4"},
                 {"D4", "D4", "r\u00E94"},
                 {"E4", "E4", "mi4"},
                 {"F4", "F4", "fa4"},
                 {"G4", "G4", "sol4"},
                 {"A4", "A4", "la4"},
                 {"B4", "H4", "si4"},
                 {"Bb3", "B3", "si\u266D3"},
                 {"Eb5", "Es5", "mi\u266D5"},
                 {"Ab4", "As4", "la\u266D4"},
                 {"Db4", "Des4", "r\u00E9\u266D4"},
                 {"Gb4", "Ges4", "sol\u266D4"},
                 {"Cb5", "Ces5", "do\u266D5"},
                 {"F#4", "Fis4", "fa\u266F4"},
                 {"B#3", "His3", "si\u266F3"},
                 {"E#4", "Eis4", "mi\u266F4"},
                 {"Ebb4", "Eses4", "mi\u266D\u266D4"},
                 {"Bbb4", "Heses4", "si\u266D\u266D4"},
                 {"F##4", "Fisis4", "fa\u266F\u266F4"},
                 {"C-1", "C-1", "do-1"}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_spelling spelling;
        char name[HBK_NAME_SIZE];
        assert_true(hbk_spelling_parse(cases[i].english, &spelling));
        assert_string_equal(
            hbk_spelling_said(spelling, HBK_NAMES_GERMAN, HBK_UNICODE, name),
            cases[i].german);
        assert_string_equal(
            hbk_spelling_said(spelling, HBK_NAMES_SOLFEGE, HBK_UNICODE, name),
            cases[i].syllable);
        assert_string_equal(
            hbk_spelling_said(spelling, HBK_NAMES_ENGLISH, HBK_ASCII, name),
            cases[i].english);
    }
}

/* No two notes of one octave share a name, whatever they are called. */
static void no_name_is_said_of_two_notes(void **state)
{
    (void)state;
    for (int naming = 0; naming < HBK_NAMING_COUNT; naming++) {
        char names[36][HBK_NAME_SIZE];
        int notes[36];
        size_t n = 0;
        for (int step = 0; step < 7; step++) {
            for (int alter = -2; alter <= 2; alter++) {
                const struct hbk_spelling spelling = {step, alter, 4};
                hbk_spelling_called(spelling, (enum hbk_naming)naming,
                                    HBK_UNICODE, names[n]);
                notes[n] = hbk_spelling_note(spelling);
                for (size_t k = 0; k < n; k++) {
                    if (strcmp(names[k], names[n]) == 0) {
                        fail_msg("%s is %d and %d", names[n], notes[k],
                                 notes[n]);
                    }
                }
                n++;
            }
        }
        assert_int_equal(n, 35);
    }
}

static void namings_are_known_by_their_words(void **state)
{
    (void)state;
    for (int i = 0; i < HBK_NAMING_COUNT; i++) {
        enum hbk_naming naming = HBK_NAMING_COUNT;
        assert_true(
            hbk_naming_parse(hbk_naming_name((enum hbk_naming)i), &naming));
        assert_int_equal(naming, i);
    }
    enum hbk_naming naming = HBK_NAMING_COUNT;
    assert_true(hbk_naming_parse("German", &naming));
    assert_int_equal(naming, HBK_NAMES_GERMAN);
    assert_false(hbk_naming_parse("ger", &naming));
    assert_false(hbk_naming_parse("", &naming));
    assert_int_equal(naming, HBK_NAMES_GERMAN);
}

/* ISO 16:1975 sets A4 = 440 Hz (from memory). */
static void equal_temperament(void **state)
{
    (void)state;
    check_abs(hbk_note_hz(69, 440.0), 440.0, 1e-12);
    check_abs(hbk_note_hz(60, 440.0), 261.6255653006, 1e-9);
    check_abs(hbk_cents(452.5, 440.0), 48.50, 0.005);
    check_abs(hbk_cents(hbk_cents_ratio(-31.17), 1.0), -31.17, 1e-9);
    check_abs(hbk_cents_in_octave(220.0 * 7.0, 440.0), -231.174, 1e-3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_are_read_and_written_back),
        cmocka_unit_test(slips_are_not_notes),
        cmocka_unit_test(spellings_agree_with_the_note),
        cmocka_unit_test(names_are_those_of_the_country),
        cmocka_unit_test(no_name_is_said_of_two_notes),
        cmocka_unit_test(namings_are_known_by_their_words),
        cmocka_unit_test(equal_temperament),
    };
    return cmocka_run_group_tests_name("pitch", tests, NULL, NULL);
}
