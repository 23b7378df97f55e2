#include "support/solved.h"

#include "base/text.h"
#include "passage/scale.h"

#include <math.h>
#include <stdlib.h>

static const double tol_rounding = 1e-9;

struct judged {
    struct solved s;
    struct hbk_keywork keywork;
    struct hbk_scales scales;
};

static void judged_open(struct judged *j, const char *name)
{
    solved_open(&j->s, name);
    hbk_keywork_make(&j->s.horn, &j->s.notes.fingers, &j->keywork);
    hbk_scales_of(&j->keywork, &j->s.notes, &j->s.arena, &j->scales);
}

static const struct hbk_scale *key_of(const struct judged *j, const char *name)
{
    for (size_t i = 0; i < HBK_KEYS; i++) {
        char text[HBK_KEY_NAME_SIZE];
        if (strcmp(hbk_scale_name(&j->scales.keys[i], HBK_ASCII, text), name) ==
            0) {
            return &j->scales.keys[i];
        }
    }
    fail_msg("there is no %s", name);
    return NULL;
}

/* The circle of fifths as any primer prints it. */
static void keys_have_their_names(void **state)
{
    (void)state;
    static const char *const names[HBK_KEYS] = {
        "Cb major", "Ab minor", "Gb major", "Eb minor", "Db major", "Bb minor",
        "Ab major", "F minor",  "Eb major", "C minor",  "Bb major", "G minor",
        "F major",  "D minor",  "C major",  "A minor",  "G major",  "E minor",
        "D major",  "B minor",  "A major",  "F# minor", "E major",  "C# minor",
        "B major",  "G# minor", "F# major", "D# minor", "C# major", "A# minor"};
    struct judged j;
    judged_open(&j, "cornet-b-flat");
    for (size_t i = 0; i < HBK_KEYS; i++) {
        char name[HBK_KEY_NAME_SIZE];
        assert_string_equal(hbk_scale_name(&j.scales.keys[i], HBK_ASCII, name),
                            names[i]);
    }
    solved_close(&j.s);
}

/* Scales as any primer prints them, the first note of each within compass. */
static void scales_are_spelled_as_taught(void **state)
{
    (void)state;
    static const struct {
        const char *key, *notes;
    } taught[] = {
        {"C major", "G3 A3 B3 C4 D4 E4 F4 G4 "},
        {"A minor", "G#3 A3 B3 C4 D4 E4 F4 G#4 "},
        {"Eb major", "G3 Ab3 Bb3 C4 D4 Eb4 F4 G4 "},
        {"C minor", "G3 Ab3 B3 C4 D4 Eb4 F4 G4 "},
        {"F# major", "F#3 G#3 A#3 B3 C#4 D#4 E#4 F#4 "},
        {"Gb major", "Gb3 Ab3 Bb3 Cb4 Db4 Eb4 F4 Gb4 "},
        {"C# major", "F#3 G#3 A#3 B#3 C#4 D#4 E#4 F#4 "},
        {"Cb major", "Gb3 Ab3 Bb3 Cb4 Db4 Eb4 Fb4 Gb4 "},
        {"A# minor", "F#3 G##3 A#3 B#3 C#4 D#4 E#4 F#4 "},
        {"Ab minor", "G3 Ab3 Bb3 Cb4 Db4 Eb4 Fb4 G4 "},
    };
    struct judged j;
    judged_open(&j, "cornet-b-flat");
    for (size_t i = 0; i < sizeof(taught) / sizeof(taught[0]); i++) {
        const struct hbk_scale *const key = key_of(&j, taught[i].key);
        struct hbk_text text = {.arena = &j.s.arena};
        for (size_t k = 0; k < HBK_DEGREES + 1; k++) {
            char name[HBK_NAME_SIZE];
            hbk_text_addf(&text, "%s ",
                          hbk_spelling_name(
                              hbk_scale_spelling(key, key->notes[k].written),
                              HBK_ASCII, name));
        }
        assert_string_equal(hbk_text_string(&text), taught[i].notes);
    }
    solved_close(&j.s);
}

/* What the keys say of reach, counted anew from the notes. */
static void reach_is_counted(void **state)
{
    (void)state;
    struct judged j;
    judged_open(&j, "cornet-b-flat-two-valve");
    /* Without a third valve C#4, D4, D#4 and G#4 are out of reach. */
    const struct hbk_scale *const c = key_of(&j, "C major");
    assert_int_equal(c->n - c->n_reached, 1);
    char name[HBK_NAME_SIZE];
    assert_string_equal(
        hbk_spelling_name(hbk_scale_spelling(c, c->notes[c->run].written),
                          HBK_ASCII, name),
        "E4");
    assert_int_equal(c->octaves, 1); /* C5 to C6 */
    const struct hbk_scale *const e = key_of(&j, "E major");
    assert_int_equal(e->n - e->n_reached, 3);
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_scale *const key = &j.scales.keys[i];
        size_t reached = 0;
        for (size_t k = 0; k < key->n; k++) {
            const struct hbk_note *const note =
                hbk_notes_find(&j.s.notes, key->notes[k].written);
            assert_int_equal(note->n > 0, key->notes[k].taken != NULL);
            reached += note->n > 0 ? 1 : 0;
        }
        assert_int_equal(reached, key->n_reached);
        assert_true(key->n_awkward <= key->n_moves);
        assert_true(key->n_moves < key->n || key->n == 0);
    }
    solved_close(&j.s);
}

/* The same notes under two names are the same key to the hands. */
static void twins_are_alike(void **state)
{
    (void)state;
    static const char *const twins[][2] = {
        {"Cb major", "B major"},  {"Gb major", "F# major"},
        {"Db major", "C# major"}, {"Ab minor", "G# minor"},
        {"Eb minor", "D# minor"}, {"Bb minor", "A# minor"}};
    struct judged j;
    judged_open(&j, "keyed-bugle-c-6");
    for (size_t i = 0; i < sizeof(twins) / sizeof(twins[0]); i++) {
        const struct hbk_scale *const a = key_of(&j, twins[i][0]);
        const struct hbk_scale *const b = key_of(&j, twins[i][1]);
        check_abs(a->price, b->price, tol_rounding);
        check_abs(a->rms_cents, b->rms_cents, tol_rounding);
        assert_int_equal(a->n_awkward, b->n_awkward);
        assert_int_equal(a->n_run, b->n_run);
        /* Of equal keys the fewer accidentals, then the flats, come first. */
        assert_int_equal(a->place < b->place,
                         abs(a->signature) <= abs(b->signature));
    }
    solved_close(&j.s);
}

static void places_follow_the_price(void **state)
{
    (void)state;
    struct judged j;
    judged_open(&j, "ophicleide-c-11");
    bool seen[HBK_KEYS] = {false};
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const size_t at = j.scales.order[i];
        assert_false(seen[at]);
        seen[at] = true;
        assert_int_equal(j.scales.keys[at].place, i + 1);
        if (i > 0) {
            assert_true(j.scales.keys[j.scales.order[i - 1]].price <=
                        j.scales.keys[at].price);
        }
    }
    solved_close(&j.s);
}

/* Common practice, no source: C and its neighbours before six accidentals. */
static void plain_keys_suit_keyed_horns(void **state)
{
    (void)state;
    static const char *const horns[] = {"keyed-bugle-c-6", "ophicleide-c-11",
                                        "ophicleide-c-9"};
    for (size_t i = 0; i < sizeof(horns) / sizeof(horns[0]); i++) {
        struct judged j;
        judged_open(&j, horns[i]);
        assert_true(key_of(&j, "C major")->place <
                    key_of(&j, "F# major")->place);
        assert_true(key_of(&j, "F major")->place <
                    key_of(&j, "Gb major")->place);
        assert_true(key_of(&j, "G major")->place <
                    key_of(&j, "B major")->place);
        solved_close(&j.s);
    }
}

static double cost_of_step(const struct judged *j,
                           const struct hbk_fingering *a,
                           const struct hbk_fingering *b)
{
    struct hbk_grip low;
    struct hbk_grip high;
    if (!hbk_grip_make(&j->keywork, a->press, &low) ||
        !hbk_grip_make(&j->keywork, b->press, &high)) {
        return (double)INFINITY;
    }
    const double least =
        fmax(hbk_move_between(&j->keywork, &low, &high).least_s,
             hbk_move_between(&j->keywork, &high, &low).least_s);
    return hbk_pressed_price(least, HBK_SCALE_S);
}

enum { TRIED = 5 };

/* The least over every choice for a few notes whose neighbours are given. */
static double brute(const struct judged *j, const struct hbk_scale_note *notes,
                    size_t n, const struct hbk_fingering *before, size_t at)
{
    if (at == n) {
        return 0.0;
    }
    const struct hbk_note *const note =
        hbk_notes_find(&j->s.notes, notes[at].written);
    double best = (double)INFINITY;
    for (size_t i = 0; i < note->n; i++) {
        const struct hbk_fingering *const f = &note->fingerings[i];
        const double cost = f->cost + cost_of_step(j, before, f) +
                            brute(j, notes, n, f, at + 1);
        best = fmin(best, cost);
    }
    return best;
}

/* Any stretch of a cheapest way is itself the cheapest between its ends. */
static void the_way_is_the_cheapest(void **state)
{
    (void)state;
    struct judged j;
    judged_open(&j, "cornet-b-flat");
    for (size_t i = 0; i < HBK_KEYS; i += 7) {
        const struct hbk_scale *const key = &j.scales.keys[i];
        const struct hbk_scale_note *const run = &key->notes[key->run];
        assert_true(key->n_run > TRIED);
        /* Open to the right, so that the last stretch is compared. */
        const struct hbk_scale_note *const from = &run[key->n_run - TRIED];
        double cost = 0.0;
        for (size_t k = 0; k < TRIED; k++) {
            cost += from[k].taken->cost +
                    cost_of_step(&j, (&from[k])[-1].taken, from[k].taken);
        }
        check_abs(cost, brute(&j, from, TRIED, from[-1].taken, 0),
                  tol_rounding);
    }
    solved_close(&j.s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keys_have_their_names),
        cmocka_unit_test(scales_are_spelled_as_taught),
        cmocka_unit_test(reach_is_counted),
        cmocka_unit_test(twins_are_alike),
        cmocka_unit_test(places_follow_the_price),
        cmocka_unit_test(plain_keys_suit_keyed_horns),
        cmocka_unit_test(the_way_is_the_cheapest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
