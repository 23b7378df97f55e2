#include "support/check.h"

#include "music/pitch.h"

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
}

/* ISO 16:1975 sets A4 = 440 Hz (from memory). */
static void equal_temperament(void **state)
{
    (void)state;
    check_abs(hbk_note_hz(69, 440.0), 440.0, 1e-12);
    check_abs(hbk_note_hz(60, 440.0), 261.6255653006, 1e-9);
    check_abs(hbk_cents(452.5, 440.0), 48.50, 0.005);
    check_abs(hbk_cents(hbk_cents_ratio(-31.17), 1.0), -31.17, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_are_read_and_written_back),
        cmocka_unit_test(slips_are_not_notes),
        cmocka_unit_test(spellings_agree_with_the_note),
        cmocka_unit_test(equal_temperament),
    };
    return cmocka_run_group_tests_name("pitch", tests, NULL, NULL);
}
