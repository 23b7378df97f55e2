#include "support/check.h"

#include "music/chord.h"
#include "music/pitch.h"

#include <stdio.h>
#include <string.h>

/*
 * Cents of the third, fifth and seventh, sixth or ninth of just chords against
 * equal temperament, in whole cents as printed: Chord Adjustments in Just
 * Intonation; Chords of Just Intonation; Boldin 2010, In Tune Chords. The
 * semitones are what any primer of harmony has.
 */
static const struct row {
    const char *name;
    size_t n;
    int semitones[HBK_CHORD_NOTES];
    double cents[HBK_CHORD_NOTES];
} table[] = {
    {"major", 3, {0, 4, 7}, {0, -14, 2}},
    {"minor", 3, {0, 3, 7}, {0, 16, 2}},
    {"diminished", 3, {0, 3, 6}, {0, 16, -17}},
    {"augmented", 3, {0, 4, 8}, {0, -14, -4}},
    {"major sixth", 4, {0, 4, 7, 9}, {0, -14, 2, -16}},
    {"minor sixth", 4, {0, 3, 7, 9}, {0, 16, 2, 19}},
    {"dominant seventh", 4, {0, 4, 7, 10}, {0, -14, 2, -31}},
    {"major seventh", 4, {0, 4, 7, 11}, {0, -14, 2, -12}},
    {"minor seventh", 4, {0, 3, 7, 10}, {0, 16, 2, 18}},
    {"minor with major seventh", 4, {0, 3, 7, 11}, {0, 16, 2, 11}},
    {"half-diminished seventh", 4, {0, 3, 6, 10}, {0, 16, -17, 18}},
    {"diminished seventh", 4, {0, 3, 6, 9}, {0, 16, -17, 19}},
    {"augmented seventh", 4, {0, 4, 8, 10}, {0, -14, -4, -31}},
    {"seventh with flat fifth", 4, {0, 4, 6, 10}, {0, -14, 3, -31}},
    {"major seventh with sharp fifth", 4, {0, 4, 8, 11}, {0, -14, -4, 26}},
    {"dominant ninth", 5, {0, 4, 7, 10, 14}, {0, -14, 2, -31, 4}},
};
enum { ROWS = sizeof(table) / sizeof(table[0]), OCTAVE = 12 };

static void lies_as_published(const struct row *row,
                              const struct hbk_chord *chord)
{
    assert_string_equal(chord->kind->name, row->name);
    for (size_t i = 0; i < row->n; i++) {
        const int note = chord->root + row->semitones[i];
        for (int octave = -1; octave <= 1; octave++) {
            check_abs(round(hbk_chord_cents(chord, note + octave * OCTAVE)),
                      row->cents[i], 0.0);
        }
    }
}

/* The notes of a chord in an inversion: its lowest n moved up an octave. */
static void invert(const struct row *row, int root, size_t inversion,
                   int notes[HBK_CHORD_NOTES])
{
    for (size_t i = 0; i < row->n; i++) {
        notes[i] = root + row->semitones[i];
        while (i < inversion && notes[i] < root + row->semitones[inversion]) {
            notes[i] += OCTAVE;
        }
    }
}

/* Which of the kinds in the table these semitones above a root make. */
static const struct row *row_on(const struct row *row, int above)
{
    for (size_t k = 0; k < ROWS; k++) {
        unsigned want = 0;
        unsigned have = 0;
        for (size_t i = 0; i < row->n; i++) {
            have |= 1U << (row->semitones[i] - above + 2 * OCTAVE) % OCTAVE;
        }
        for (size_t i = 0; i < table[k].n; i++) {
            want |= 1U << table[k].semitones[i] % OCTAVE;
        }
        if (have == want) {
            return &table[k];
        }
    }
    return NULL;
}

static void every_chord_is_found_in_every_inversion(void **state)
{
    (void)state;
    for (size_t k = 0; k < ROWS; k++) {
        const struct row *const row = &table[k];
        for (int root = 48; root < 60; root++) {
            for (size_t inversion = 0; inversion < row->n; inversion++) {
                int notes[HBK_CHORD_NOTES];
                struct hbk_chord found[HBK_CHORD_READINGS];
                invert(row, root, inversion, notes);
                const size_t n = hbk_chord_find(row->n, notes, found);
                size_t readings = 0;
                for (size_t i = 0; i < row->n; i++) {
                    readings += row_on(row, row->semitones[i]) != NULL;
                }
                assert_int_equal(n, readings);
                bool among = false;
                for (size_t i = 0; i < n; i++) {
                    const int above = found[i].root - root;
                    lies_as_published(row_on(row, above), &found[i]);
                    among = among || above % OCTAVE == 0;
                    assert_true(i == 0 || found[i].root > found[i - 1].root);
                }
                assert_true(among);
            }
        }
    }
}

/* Whether the chord is one of those in the table, on that root. */
static bool is_published(const struct hbk_chord *chord)
{
    for (size_t k = 0; k < ROWS; k++) {
        if (strcmp(chord->kind->name, table[k].name) == 0) {
            return true;
        }
    }
    return false;
}

/* Of all that can be built from three to five notes of an octave. */
static void no_chord_is_found_that_is_not_published(void **state)
{
    (void)state;
    size_t n_found = 0;
    for (unsigned set = 1; set < 1U << OCTAVE; set += 2) {
        int notes[OCTAVE];
        size_t n = 0;
        for (int i = 0; i < OCTAVE; i++) {
            if ((set >> i & 1U) != 0) {
                notes[n++] = 60 + i;
            }
        }
        struct hbk_chord found[HBK_CHORD_READINGS];
        const size_t readings = hbk_chord_find(n, notes, found);
        for (size_t i = 0; i < readings; i++) {
            assert_true(is_published(&found[i]));
        }
        n_found += readings;
    }
    assert_true(n_found > ROWS);
}

static void the_root_can_be_told(void **state)
{
    (void)state;
    for (size_t k = 0; k < ROWS; k++) {
        for (int root = 48; root < 60; root++) {
            int notes[HBK_CHORD_NOTES];
            struct hbk_chord chord;
            invert(&table[k], root, table[k].n - 1, notes);
            assert_true(hbk_chord_on(table[k].n, notes, root - OCTAVE, &chord));
            assert_int_equal(chord.root, root - OCTAVE);
            lies_as_published(&table[k], &chord);
        }
    }
}

/* Reads "C5 E5" and finds its chord; "C major", or "" for none. */
static const char *found_in(const char *list, size_t *n_found)
{
    static char words[64];
    struct hbk_chord found[HBK_CHORD_READINGS];
    struct hbk_spelling spelled[8] = {{0}};
    int notes[8];
    size_t n = 0;
    for (const char *at = list; *at != '\0'; n++) {
        char name[8];
        const size_t length = strcspn(at, " ");
        (void)snprintf(name, sizeof(name), "%.*s", (int)length, at);
        assert_true(hbk_spelling_parse(name, &spelled[n]));
        notes[n] = hbk_spelling_note(spelled[n]);
        at += length + (at[length] == ' ' ? 1 : 0);
    }
    *n_found = hbk_chord_find(n, notes, found);
    if (*n_found == 0) {
        return "";
    }
    size_t k = 0;
    while (notes[k] != found[0].root) {
        k++;
    }
    char letter[HBK_NAME_SIZE];
    (void)snprintf(words, sizeof(words), "%s %s",
                   hbk_spelling_letter(spelled[k], HBK_ASCII, letter),
                   found[0].kind->name);
    return words;
}

/* Names of chords as in any primer of harmony. */
static void spelling_order_and_octaves_do_not_matter(void **state)
{
    (void)state;
    static const struct {
        const char *notes, *chord;
        size_t n;
    } cases[] = {
        {"C5 E5 G5", "C major", 1},
        {"G4 C5 E5", "C major", 1},
        {"E4 G5 C5 C6 G3", "C major", 1},
        {"Ab4 C5 Eb5", "Ab major", 1},
        {"G#4 B#4 D#5", "G# major", 1},
        {"C5 D#5 G5", "C minor", 1},
        {"Bb4 D5 F5 G#5", "Bb dominant seventh", 1},
        {"F#4 A#4 Db5 E5", "F# dominant seventh", 1},
        /* Symmetrical: any note can be the root, and the lowest is taken. */
        {"C5 E5 G#5", "C augmented", 3},
        {"E5 G#5 B#5", "E augmented", 3},
        {"B4 D5 F5 Ab5", "B diminished seventh", 4},
        {"D5 F5 Ab5 B4", "B diminished seventh", 4},
        {"C5 E5 Gb5 Bb5", "C seventh with flat fifth", 2},
        /* The same notes, two chords. */
        {"C5 E5 G5 A5", "C major sixth", 2},
        {"A4 C5 E5 G5", "A minor seventh", 2},
        {"E4 G4 A4 C5", "A minor seventh", 2},
        {"C5 Eb5 G5 A5", "C minor sixth", 2},
        {"A4 C5 Eb5 G5", "A half-diminished seventh", 2},
        /* Without the fifth. */
        {"C5 E5 Bb5", "C dominant seventh", 1},
        {"Bb4 E5 C6", "C dominant seventh", 1},
        {"C5 Eb5 Bb5", "C minor seventh", 1},
        {"C5 E5 B5", "C major seventh", 1},
        {"C4 D5 E5 Bb4", "C dominant ninth", 1},
        /* No chord of these. */
        {"C5", "", 0},
        {"C4 C5 C6", "", 0},
        {"C5 G5", "", 0},
        {"C5 E5 C6", "", 0},
        {"C5 D5 E5", "", 0},
        {"C5 G5 Bb5", "", 0},
        {"C5 C#5 D5 Eb5 E5 F5", "", 0},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        size_t n = 0;
        assert_string_equal(found_in(cases[i].notes, &n), cases[i].chord);
        assert_int_equal(n, cases[i].n);
    }
}

/*
 * Intervals of the same sources: minor third +16, major third -14, fifth +2,
 * major sixth -16, major seventh -12, minor seventh -31 in a dominant.
 */
static void a_note_has_its_place_over_a_root(void **state)
{
    (void)state;
    static const struct {
        int above;
        unsigned degree;
        double cents;
    } cases[] = {{3, 3, 16},   {4, 3, -14},  {7, 5, 2}, {9, 6, -16},
                 {10, 7, -31}, {11, 7, -12}, {0, 1, 0}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_chord chord;
        const int note = 65 + cases[i].above;
        assert_true(hbk_chord_on(1, &note, 65, &chord));
        assert_int_equal(hbk_chord_degree(&chord, note), cases[i].degree);
        check_abs(round(hbk_chord_cents(&chord, note)), cases[i].cents, 0.0);
    }
    const int fourth = 70;
    struct hbk_chord chord;
    assert_false(hbk_chord_on(1, &fourth, 65, &chord));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_chord_is_found_in_every_inversion),
        cmocka_unit_test(no_chord_is_found_that_is_not_published),
        cmocka_unit_test(the_root_can_be_told),
        cmocka_unit_test(spelling_order_and_octaves_do_not_matter),
        cmocka_unit_test(a_note_has_its_place_over_a_root),
    };
    return cmocka_run_group_tests_name("chord", tests, NULL, NULL);
}
