/* How well a horn suits a part, and what becomes of notes when keys stick. */
#include "support/check.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "notes/account.h"
#include "passage/suit.h"
#include "reader/horn_file.h"
#include "solve/ranking.h"
#include "solve/setting.h"
#include "solve/solve.h"
#include "tune/document.h"

#include <string.h>

#define BUGLE "instruments/patterns/keyed-bugle-c-6.yaml"
#define CORNET "instruments/patterns/cornet-b-flat.yaml"

struct heard {
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_horn horn;
    struct hbk_notes notes;
    struct hbk_tune_document tune;
    struct hbk_suit suit;
};

static void hear_at(struct heard *h, const char *path, const char *run,
                    double quarters, double a4_hz)
{
    *h = (struct heard){0};
    assert_int_equal(hbk_horn_read(path, &h->horn, &h->faults), HBK_OK);
    struct hbk_setting setting = hbk_setting_of(&h->horn);
    setting.a4_hz = a4_hz;
    assert_int_equal(
        hbk_solve(&h->horn, &setting, &h->arena, &h->notes, &h->faults),
        HBK_OK);
    assert_int_equal(hbk_tune_from_run("run", run, &h->tune, &h->faults),
                     HBK_OK);
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_keywork keywork;
    hbk_keywork_make(&h->horn, &prices, &keywork);
    const struct hbk_passage_request request = {.notes = &h->notes,
                                                .keywork = &keywork,
                                                .tune = &h->tune.tune,
                                                .quarters = quarters,
                                                .ways = 1};
    assert_int_equal(hbk_suit_find(&request, &h->arena, &h->suit), HBK_OK);
}

static void hear(struct heard *h, const char *path, const char *run,
                 double quarters)
{
    hear_at(h, path, run, quarters, 440.0); /* both horns' own */
}

static void put_away(struct heard *h)
{
    hbk_tune_document_finish(&h->tune);
    hbk_arena_finish(&h->arena);
    hbk_horn_finish(&h->horn);
}

static void check_sum(const struct hbk_suit *suit)
{
    check_abs(suit->score,
              fmax(100.0 - suit->lost_reach - suit->lost_octave -
                       suit->lost_pitch - suit->lost_tuning -
                       suit->lost_difficulty - suit->lost_comfort,
                   0.0),
              1e-9);
    assert_true(suit->lost_octave <= HBK_SUIT_OCTAVES);
    assert_true(suit->lost_pitch <= HBK_SUIT_PITCH);
    assert_true(suit->lost_tuning <= HBK_SUIT_TUNING);
    assert_true(suit->lost_difficulty <= HBK_SUIT_DIFFICULTY);
    assert_true(suit->lost_comfort <= HBK_SUIT_COMFORT);
    assert_true((suit->n_out > 0) == (suit->score < 20.0));
}

static void long_notes_weigh_more_than_short_ones(void **state)
{
    (void)state;
    struct heard h;
    /* Nothing changes but which note is held. */
    hear(&h, CORNET, "C5:3/4 E5", 60.0);
    const double held_c = h.suit.rms_cents;
    check_sum(&h.suit);
    put_away(&h);
    hear(&h, CORNET, "C5 E5:3/4", 60.0);
    const double held_e = h.suit.rms_cents;
    put_away(&h);
    assert_true(held_e > held_c);
    /* The open fifth partial lies 13.686 cents low, exact arithmetic. */
    check_abs(held_c, 13.686 * sqrt(1.0 / 4.0), 0.05);
    check_abs(held_e, 13.686 * sqrt(3.0 / 4.0), 0.05);
}

/*
 * What a horn lacks of the pitch is charged once: half a point a cent, all at
 * 40, and the cents of its notes stay what they are where it is home.
 */
static void a_pitch_out_of_reach_is_charged_once(void **state)
{
    (void)state;
    static const char run[] = "C5 E5 D5 G4 F5 B4";
    struct heard own;
    struct heard h;
    double before = 0.0;
    hear(&own, CORNET, run, 60.0);
    check_abs(own.suit.left_cents, 0.0, 0.01);
    check_abs(own.suit.lost_pitch, 0.0, 0.01);
    for (double a4_hz = 445.0; a4_hz < 470.0; a4_hz += 5.0) {
        hear_at(&h, CORNET, run, 60.0, a4_hz);
        check_sum(&h.suit);
        const double flat = 1200.0 * log2(a4_hz / h.suit.pitch_hz);
        check_abs(h.suit.left_cents, -flat, 1e-9);
        check_abs(h.suit.lost_pitch, fmin(0.5 * flat, 20.0), 1e-9);
        assert_true(h.suit.lost_pitch >= before);
        /* The slides of valve and horn are home: a cent or two, no more. */
        check_abs(h.suit.rms_cents, own.suit.rms_cents, 2.0);
        before = h.suit.lost_pitch;
        put_away(&h);
    }
    check_abs(before, 20.0, 0.0);
    put_away(&own);
}

static void notes_out_of_reach_are_listed_with_their_bars(void **state)
{
    (void)state;
    struct heard h;
    hear(&h, BUGLE, "C5 G3 | D5 E5 | A3 B3", 60.0);
    assert_int_equal(h.suit.n_notes, 6);
    assert_int_equal(h.suit.n_out, 2);
    assert_int_equal(h.suit.out[0].written, 55);
    assert_string_equal(h.suit.out[0].bar, "1");
    assert_int_equal(h.suit.out[1].written, 57);
    assert_string_equal(h.suit.out[1].bar, "3");
    check_abs(h.suit.lost_reach, 80.0 + (20.0 * 2.0 / 6.0), 1e-9);
    check_sum(&h.suit);
    put_away(&h);
    hear(&h, BUGLE, "G3 A3", 60.0);
    check_abs(h.suit.score, 0.0, 1e-9);
    assert_string_equal(h.suit.worst_bar, "");
    put_away(&h);
}

static void a_faster_tempo_never_gets_easier(void **state)
{
    (void)state;
    double before = -1.0;
    for (double quarters = 40.0; quarters < 700.0; quarters *= 1.7) {
        struct heard h;
        hear(&h, BUGLE, "C5 D5 Eb5 F5 E5 C#5 D5 B4 C5 G4 Ab4 F4", quarters);
        check_sum(&h.suit);
        assert_true(h.suit.hurry >= before - 0.05);
        assert_true(h.suit.n_hard == 0 || h.suit.playable_quarters < quarters);
        before = h.suit.hurry;
        put_away(&h);
    }
    assert_true(before > 0.3);
}

/*
 * Every move hurried but in time, against moves that nobody can play: those
 * must weigh more each, and both be told apart to the end.
 */
static void each_move_that_is_too_quick_has_its_price(void **state)
{
    (void)state;
    static const char run[] = "C5 D5 Eb5 F5 E5 C#5 D5 B4 C5 G4 Ab4 F4";
    bool has_hurried = false;
    bool has_hard = false;
    for (double quarters = 100.0; quarters < 1000.0; quarters *= 1.15) {
        struct heard h;
        hear(&h, BUGLE, run, quarters);
        const double hurried =
            0.5 * HBK_SUIT_DIFFICULTY *
            fmin(h.suit.hurry / HBK_SUIT_DIFFICULTY_ALL, 1.0);
        check_abs(h.suit.lost_difficulty - hurried,
                  fmin((double)h.suit.n_hard, 10.0), 1e-9);
        assert_true(hurried <= 10.0);
        has_hurried = has_hurried || (h.suit.n_hard == 0 && hurried > 1.0);
        has_hard = has_hard || h.suit.n_hard >= 2;
        put_away(&h);
    }
    assert_true(has_hurried && has_hard);
}

static void the_ends_of_the_compass_are_the_extreme_notes(void **state)
{
    (void)state;
    struct heard h;
    /* F#3 to C6 are 31 notes; a sixth are 5: F#3 to Bb3 and G#5 to C6. */
    hear(&h, CORNET, "Bb3 B3 G5 G#5", 60.0);
    check_abs(h.suit.extreme_share, 0.5, 1e-9);
    check_abs(h.suit.lost_comfort, 5.0, 1e-9);
    put_away(&h);
}

/* What the horn had, it has, plays otherwise or has lost; nothing twice. */
static void every_note_has_one_fate(void **state)
{
    (void)state;
    struct heard h;
    hear(&h, BUGLE, "C5", 60.0);
    for (unsigned key = 0; key < h.horn.n_controls; key++) {
        for (int down = 0; down < 2; down++) {
            struct hbk_setting setting = hbk_setting_of(&h.horn);
            const uint32_t bit = UINT32_C(1) << key;
            setting.stuck.held_down = down == 1 ? bit : 0;
            setting.stuck.held_up = down == 1 ? 0 : bit;
            struct hbk_notes after;
            assert_int_equal(
                hbk_solve(&h.horn, &setting, &h.arena, &after, &h.faults),
                HBK_OK);
            const struct hbk_account account =
                hbk_account_of(&h.notes, &after, &h.arena);
            assert_int_equal(account.n, account.same + account.other +
                                            account.lost + account.gained);
            for (size_t i = 0; i < account.n; i++) {
                const struct hbk_fate_of *const item = &account.items[i];
                assert_true((item->was == NULL) ==
                            (item->fate == HBK_FATE_GAINED));
                assert_true((item->now == NULL) ==
                            (item->fate == HBK_FATE_LOST));
                assert_true(item->now == NULL || (item->now->press & bit) == 0);
                assert_true(item->fate != HBK_FATE_SAME ||
                            item->now->press == item->was->press);
            }
        }
    }
    const struct hbk_account self =
        hbk_account_of(&h.notes, &h.notes, &h.arena);
    assert_int_equal(self.same, self.n);
    put_away(&h);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(long_notes_weigh_more_than_short_ones),
        cmocka_unit_test(a_pitch_out_of_reach_is_charged_once),
        cmocka_unit_test(notes_out_of_reach_are_listed_with_their_bars),
        cmocka_unit_test(a_faster_tempo_never_gets_easier),
        cmocka_unit_test(each_move_that_is_too_quick_has_its_price),
        cmocka_unit_test(the_ends_of_the_compass_are_the_extreme_notes),
        cmocka_unit_test(every_note_has_one_fate),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
