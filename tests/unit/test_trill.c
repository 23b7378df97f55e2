#include "support/solved.h"

#include "horn/press.h"
#include "passage/trill.h"
#include "solve/ranking.h"

static struct hbk_trill trill_at(struct solved *s, const char *written,
                                 int interval)
{
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_keywork keywork;
    hbk_keywork_make(&s->horn, &prices, &keywork);
    return hbk_trill_find(&keywork, &s->notes, note_of(written), interval,
                          NULL);
}

/* `want` is "easy 1-2 2": kind, lower fingering, upper fingering. */
static void check_trill(struct solved *s, const char *written, int interval,
                        const char *want)
{
    const struct hbk_trill trill = trill_at(s, written, interval);
    char got[3 * HBK_LABEL_SIZE];
    if (trill.kind == HBK_TRILL_NONE) {
        (void)snprintf(got, sizeof(got), "none");
    } else {
        char a[HBK_LABEL_SIZE];
        char b[HBK_LABEL_SIZE];
        (void)snprintf(got, sizeof(got), "%s %s %s",
                       hbk_trill_kind_name(trill.kind),
                       hbk_horn_press_label(&s->horn, trill.main->press, a),
                       hbk_horn_press_label(&s->horn, trill.upper->press, b));
    }
    if (strcmp(got, want) != 0) {
        print_error("%s + %d: %s, want %s\n", written, interval, got, want);
    }
    assert_string_equal(got, want);
}

/* Common practice, no source: one valve on one partial. */
static void one_valve_trills_are_easy(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    check_trill(&s, "E4", 1, "easy 1-2 1");
    check_trill(&s, "E4", 2, "easy 1-2 2");
    check_trill(&s, "F4", 2, "easy 1 0");
    check_trill(&s, "F#4", 1, "easy 2 0");
    check_trill(&s, "A4", 2, "easy 1-2 2");
    check_trill(&s, "B4", 1, "easy 2 0");
    check_trill(&s, "D5", 2, "easy 1 0");
    check_trill(&s, "F#5", 1, "easy 2 0");
    check_trill(&s, "B5", 1, "easy 2 0");
    /* Alternates that keep the partial: 13 to 3, 12 to 2 on the sixth. */
    check_trill(&s, "D4", 2, "easy 1-3 3");
    check_trill(&s, "E5", 2, "easy 1-2 2");
    check_trill(&s, "G4", 2, "easy 1-3 3");
    check_trill(&s, "G#4", 1, "easy 2-3 3");
    /* Where none does. */
    assert_int_equal(trill_at(&s, "C4", 2).kind, HBK_TRILL_AWKWARD);
    assert_int_equal(trill_at(&s, "D#4", 2).kind, HBK_TRILL_AWKWARD);
    check_trill(&s, "C6", 1, "none");
    solved_close(&s);
}

/*
 * On keys: hold the lower one and shake the upper, shake key 1 below an open
 * note (inferred from the keys of National Music Museum 10787).
 */
static void keys_are_trilled_over_a_held_one(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-6");
    check_trill(&s, "B3", 1, "easy 1 0");
    check_trill(&s, "F#4", 1, "easy 1 0");
    check_trill(&s, "C4", 2, "easy 0 3");
    check_trill(&s, "D4", 1, "easy 3 3-4");
    check_trill(&s, "E4", 1, "easy 5 5-6");
    /* From the last key of one partial to the next partial. */
    assert_int_equal(trill_at(&s, "F4", 2).kind, HBK_TRILL_AWKWARD);
    solved_close(&s);
}

/*
 * B to C sharp and C sharp to D sharp of a keyed bugle are hard (inferred
 * from the fingers, no source): the ring finger shakes while the little one
 * holds, the thumb while the ring finger does. Key 1 alone is the little
 * finger's, and still a shake.
 */
static void weak_fingers_that_are_tied_trill_badly(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-6");
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_keywork keywork;
    hbk_keywork_make(&s.horn, &prices, &keywork);
    char words[HBK_MOVE_WORDS_SIZE];
    check_trill(&s, "B3", 2, "awkward 1 1-2");
    struct hbk_trill trill = trill_at(&s, "B3", 2);
    hbk_trill_words(&keywork, &trill, words);
    assert_non_null(strstr(words, "right ring finger on key 2; key 1 is held"));
    assert_int_equal(trill_at(&s, "C#4", 2).kind, HBK_TRILL_AWKWARD);
    trill = trill_at(&s, "C#4", 2);
    hbk_trill_words(&keywork, &trill, words);
    assert_non_null(strstr(words, "; key 2 is held"));
    /* D to E flat: the index holds, so the thumb is free. */
    check_trill(&s, "D4", 1, "easy 3 3-4");
    solved_close(&s);
}

/* A pad of 22 mm slows the little finger, but not beyond a shake. */
static void what_moves_a_large_pad_is_told(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-6-munich");
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_keywork keywork;
    hbk_keywork_make(&s.horn, &prices, &keywork);
    size_t told = 0;
    for (size_t i = 0; i < s.notes.n; i++) {
        const struct hbk_trill trill = hbk_trill_find(
            &keywork, &s.notes, s.notes.lowest + (int)i, 1, NULL);
        char words[HBK_MOVE_WORDS_SIZE];
        hbk_trill_words(&keywork, &trill, words);
        if (trill.kind == HBK_TRILL_EASY) {
            assert_true(trill.least_s <= HBK_TRILL_SLOW_S);
            const unsigned both = HBK_MOVE_LARGE_PAD | HBK_MOVE_WEAK;
            assert_int_equal(strstr(words, ", a large pad") != NULL,
                             (trill.reasons & both) == both);
            told += strstr(words, ", a large pad") != NULL ? 1 : 0;
        }
    }
    assert_true(told > 0);
    solved_close(&s);
}

/* Adjacent partials of the plain tube: the seventh to the eighth. */
static void the_lip_trills_high_partials(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "bugle-b-flat");
    check_trill(&s, "Bb5", 2, "by lip 0 0");
    check_trill(&s, "B5", 1, "none");
    solved_close(&s);
}

static void words_say_what_the_player_does(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_keywork keywork;
    hbk_keywork_make(&s.horn, &prices, &keywork);
    char words[HBK_MOVE_WORDS_SIZE];
    struct hbk_trill trill = trill_at(&s, "F4", 2);
    assert_string_equal(hbk_trill_words(&keywork, &trill, words),
                        "right index finger on valve 1");
    trill = trill_at(&s, "D#4", 2);
    assert_string_equal(
        hbk_trill_words(&keywork, &trill, words),
        "valve 2 up as valve 1 goes down (right middle, right index); 3 "
        "fingers move at once");
    trill = trill_at(&s, "C4", 2);
    assert_string_equal(hbk_trill_words(&keywork, &trill, words),
                        "the right ring finger works valve 3; partial 2 to 3");
    trill = trill_at(&s, "C6", 2);
    assert_string_equal(hbk_trill_words(&keywork, &trill, words), "");
    solved_close(&s);
}

/* The table and the single question are one. */
static void the_table_holds_every_note(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-e-flat-9");
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_keywork keywork;
    hbk_keywork_make(&s.horn, &prices, &keywork);
    const struct hbk_trills *const trills = hbk_trills_of(&s.notes, &s.arena);
    assert_int_equal(trills->n, s.notes.n);
    for (size_t i = 0; i < trills->n; i++) {
        assert_int_equal(trills->half[i].written, s.notes.lowest + (int)i);
        assert_int_equal(trills->half[i].interval, 1);
        assert_int_equal(trills->whole[i].interval, 2);
        const struct hbk_trill one =
            hbk_trill_find(&keywork, &s.notes, trills->whole[i].written, 2,
                           trills->whole[i].main);
        if (trills->whole[i].kind != HBK_TRILL_NONE) {
            assert_ptr_equal(one.upper, trills->whole[i].upper);
            check_abs(one.price, trills->whole[i].price, 1e-9);
            char words[HBK_MOVE_WORDS_SIZE];
            assert_string_equal(hbk_trill_words(&keywork, &one, words),
                                trills->whole[i].words);
        } else {
            assert_string_equal(trills->whole[i].words, "");
        }
    }
    solved_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_valve_trills_are_easy),
        cmocka_unit_test(keys_are_trilled_over_a_held_one),
        cmocka_unit_test(weak_fingers_that_are_tied_trill_badly),
        cmocka_unit_test(what_moves_a_large_pad_is_told),
        cmocka_unit_test(the_lip_trills_high_partials),
        cmocka_unit_test(words_say_what_the_player_does),
        cmocka_unit_test(the_table_holds_every_note),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
