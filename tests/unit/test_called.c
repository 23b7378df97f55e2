#include "support/check.h"

#include "horn/about.h"
#include "horn/called.h"
#include "horn/horn.h"

/* How the text is read that a key is called. */
static void names_of_keys_are_read_as_written(void **state)
{
    (void)state;
    static const struct {
        const char *called;
        int note; /* from C up */
    } cases[] = {
        {"E", 4},           {"F#", 6},        {"F\u266f", 6},  {"Eb", 3},
        {"E\u266d", 3},     {"Bb", 10},       {"B", 11},       {"e", 4},
        {"a2", 9},          {"b\u00b2", 11},  {"E flat", 3},   {"F sharp", 6},
        {"high A", 9},      {"second Eb", 3}, {"Ab basso", 8}, {"2nd Eb", 3},
        {"low B flat", 10}, {"C# G#", 1},     {"G#/C#", 1},    {"Bb.Eb", 3},
        {"D A", 2},         {"1", -1},        {"thumb", -1},   {"a key", -1},
        {"as Eb", 3},       {"Cb", 11},       {"B#", 0},       {"I", -1},
        {"EE", -1},         {"Dob", -1},      {"", -1},        {"flat", -1},
    };
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    horn.n_controls = 1;
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        horn.controls[0] =
            (struct hbk_control){.kind = HBK_KEY, .called = cases[i].called};
        if (hbk_called_note(&horn, 0) != cases[i].note) {
            print_error("'%s'\n", cases[i].called);
        }
        assert_int_equal(hbk_called_note(&horn, 0), cases[i].note);
    }
    horn.controls[0].called = NULL;
    assert_int_equal(hbk_called_note(&horn, 0), -1);
    hbk_horn_finish(&horn);
}

/*
 * As engraved on a bugle (National Music Museum 10787), in German: B
 * is B flat there and H is B.
 */
static void german_names_are_german_on_every_key(void **state)
{
    (void)state;
    static const char *const engraved[] = {"H.Fis.", "Cis Gis", "D.A.", "B.Es.",
                                           "E.",     "F.",      "B",    "As"};
    static const int notes[] = {11, 1, 2, 3, 4, 5, 10, 8};
    struct hbk_horn horn;
    hbk_horn_init(&horn);
    for (size_t i = 0; i < sizeof(notes) / sizeof(notes[0]); i++) {
        horn.controls[horn.n_controls++] =
            (struct hbk_control){.kind = HBK_KEY, .called = engraved[i]};
    }
    for (size_t i = 0; i < horn.n_controls; i++) {
        assert_int_equal(hbk_called_note(&horn, i), notes[i]);
    }
    hbk_horn_finish(&horn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_of_keys_are_read_as_written),
        cmocka_unit_test(german_names_are_german_on_every_key),
    };
    return cmocka_run_group_tests_name("called", tests, NULL, NULL);
}
