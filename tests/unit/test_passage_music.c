#include "support/passages.h"

#include "passage/surcharge.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/*
 * What players do (common practice, no source): a grace note and the long
 * note after it are played as taught, however quick the grace note is.
 */
static void grace_notes_leave_the_long_note_as_taught(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *music, *taught;
    } cases[] = {
        {"cornet-b-flat", "{A}G4|{B}c4|", "1-2 0 2 0"},
        {"cornet-b-flat", "{^c}d4|{Bd}c4|", "1-2 1 2 1 0"},
        {"cornet-b-flat", "{f}e4|{d}c4|{^F}G4|", "1 0 1 0 2 0"},
        {"keyed-bugle-c-6", "{A}G4|{B}c4|", "3 0 1 0"},
        {"keyed-bugle-c-6", "{^c}d4|{Bd}c4|", "2 3 1 3 0"},
    };
    static const double tempos[] = {40.0, 90.0, 160.0};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct played p;
        played_horn(&p, cases[i].horn);
        char abc[128];
        (void)snprintf(abc, sizeof(abc), "X:1\nT:t\nM:2/4\nL:1/8\nK:C\n%s\n",
                       cases[i].music);
        played_read(&p, abc);
        for (size_t t = 0; t < COUNT(tempos); t++) {
            played_find(&p, tempos[t], false, 1);
            assert_string_equal(played_labels(&p), cases[i].taught);
            assert_int_equal(p.passage.n_departures, 0);
        }
        played_close(&p);
    }
}

/* By hand: (0.06 / 0.12)^2 of half a departure; never more than all of it. */
static void grace_notes_cost_less_than_a_departure(void **state)
{
    (void)state;
    check_abs(hbk_grace_price(0.06, 0.02), HBK_PRICE_DEPARTURE / 8.0, 1e-9);
    check_abs(hbk_grace_price(0.06, 0.60), HBK_PRICE_DEPARTURE / 200.0, 1e-9);
    check_abs(hbk_grace_price(9.0, 0.01), HBK_PRICE_DEPARTURE / 2.0, 1e-9);
    check_abs(hbk_grace_price(0.0, 0.0), 0.0, 1e-12);
}

/*
 * Chromatic semiquavers under a slur on a cornet: practised players do them
 * at a quarter note = 120 and more (from memory), hardly at 160.
 */
static void what_players_do_daily_is_not_called_hard(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    static const char *const run =
        "(C4:1/16 C#4:1/16 D4:1/16 Eb4:1/16 E4:1/16 F4:1/16 F#4:1/16 G4:1/16 "
        "G#4:1/16 A4:1/16 Bb4:1/16 B4:1/16 "
        "C5:1/16 C#5:1/16 D5:1/16 Eb5:1/16 E5:1/16 F5:1/16 F#5:1/16 G5)";
    static const double daily[] = {60.0, 108.0, 120.0, 132.0};
    for (size_t i = 0; i < COUNT(daily); i++) {
        played_run(&p, run, daily[i]);
        assert_int_equal(p.passage.n_hard, 0);
    }
    played_run(&p, run, 160.0);
    assert_true(p.passage.n_hard > 0);
    played_close(&p);
}

/*
 * F5 and F sharp 5 depart together: each is explained by what is usual for
 * the other, not by what it has become.
 */
static void reasons_do_not_lean_on_each_other(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "keyed-bugle-c-6");
    played_run(&p, "F5:1/16 F#5:1/16 F5:1/16 F#5:1/16 G5", 140.0);
    assert_string_equal(played_labels(&p), "2 2-3 2 1 0");
    const struct hbk_passage_note *const notes = p.passage.notes;
    assert_string_equal(notes[0].why,
                        "with 6, before F\xE2\x99\xAF"
                        "5 on 1: the partial changes from 4 to 6");
    assert_string_equal(notes[1].why,
                        "with 1, after F5 on 6: the partial changes from 4 to "
                        "6, and back after it");
    played_close(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grace_notes_leave_the_long_note_as_taught),
        cmocka_unit_test(grace_notes_cost_less_than_a_departure),
        cmocka_unit_test(what_players_do_daily_is_not_called_hard),
        cmocka_unit_test(reasons_do_not_lean_on_each_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
