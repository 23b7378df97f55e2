#include "support/solved.h"

#include "horn/site.h"
#include "solve/rest.h"

#include <math.h>

/*
 * What the tube is, as told with the notes. Closed forms of the length model:
 * half the wave is p c / (2 f), and tube that makes a horn (1 + s) times as
 * long lowers it by 1200 log2(1 + s) cents; c = 343.28164767 m/s at 20 degrees
 * (Keefe 1984, from memory).
 */
static const double speed_m_s = 343.28164767;
static const double tol_cents = 0.001;

/* A cornet with every slide where the file has it. */
static void open_raw(struct solved *s, uint32_t held_down, uint32_t held_up)
{
    solved_read(s, "cornet-b-flat");
    s->setting.raw = true;
    s->setting.stuck.held_down = held_down;
    s->setting.stuck.held_up = held_up;
    solved_run(s);
}

/* The share of the horn's length that a valve brings in. */
static double share_of(const struct solved *s, size_t valve)
{
    for (size_t i = 0; i < s->horn.n_sites; i++) {
        const struct hbk_site *const site = &s->horn.sites[i];
        if (site->n_terms == 1 && site->terms[0] == UINT32_C(1) << valve) {
            assert_int_equal(site->loop.measure, HBK_LOOP_SHARE);
            return site->loop.value;
        }
    }
    fail();
    return 0.0;
}

static void the_open_length_is_half_the_wave(void **state)
{
    (void)state;
    struct solved s;
    open_raw(&s, 0, 0);
    assert_true(s.horn.temperature_c == 20.0);
    check_rel(s.notes.open_m, speed_m_s / (2.0 * s.horn.fundamental_hz), 1e-9);
    check_rel(s.notes.rest_m, s.notes.open_m, 1e-9);
    solved_close(&s);
    /* Tuned lower it is longer by what is drawn, twice. */
    solved_read(&s, "cornet-b-flat");
    s.setting.a4_hz = 435.0;
    solved_run(&s);
    assert_true(s.horn.slides[0].valve < 0 && s.horn.slides[0].legs == 2);
    const double drawn_m =
        s.notes.tuned.draw_m[0] - s.horn.slides[0].stands_out_m;
    assert_true(drawn_m > 0.001);
    check_rel(s.notes.open_m, s.notes.rest_m + (2.0 * drawn_m), 1e-9);
    solved_close(&s);
}

static void the_tube_of_a_bored_horn_is_its_axis(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-6-munich");
    check_rel(s.notes.rest_m, 1.201, 1e-12);
    check_rel(hbk_axis_at_rest(&s.horn), 1.201, 1e-12);
    solved_close(&s);
}

static void a_valve_lowers_by_its_share(void **state)
{
    (void)state;
    struct solved s;
    open_raw(&s, 0, 0);
    for (size_t i = 0; i < 3; i++) {
        check_abs(s.notes.effect_cents[i],
                  -1200.0 * log2(1.0 + share_of(&s, i)), tol_cents);
    }
    solved_close(&s);
}

/*
 * Valve 1 stuck down lengthens the horn, and valve 2 then does less to it; but
 * what it does is told of the sound horn, and so is the open length.
 */
static void what_is_stuck_down_is_taken_off_again(void **state)
{
    (void)state;
    struct solved s;
    open_raw(&s, 1, 0);
    check_rel(s.notes.open_m, speed_m_s / (2.0 * s.horn.fundamental_hz), 1e-9);
    for (size_t i = 0; i < 3; i++) {
        check_abs(s.notes.effect_cents[i],
                  -1200.0 * log2(1.0 + share_of(&s, i)), tol_cents);
    }
    solved_close(&s);
}

static void what_is_stuck_up_keeps_its_effect(void **state)
{
    (void)state;
    struct solved s;
    open_raw(&s, 0, 2);
    check_abs(s.notes.effect_cents[1], -1200.0 * log2(1.0 + share_of(&s, 1)),
              tol_cents);
    solved_close(&s);
}

/* Loops in metres beside shares: the speed of sound decides, and is one. */
static void a_loop_in_metres_counts_by_the_air_of_the_horn(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    const double open_m = speed_m_s / (2.0 * s.horn.fundamental_hz);
    for (size_t i = 0; i < s.horn.n_sites; i++) {
        s.horn.sites[i].loop.value = share_of(&s, i) * open_m;
        s.horn.sites[i].loop.measure = HBK_LOOP_METRES;
        s.setting.raw = true;
        s.setting.stuck.held_down = 4;
        solved_run(&s);
        const double share = s.horn.sites[i].loop.value / open_m;
        check_abs(s.notes.effect_cents[i], -1200.0 * log2(1.0 + share), 0.001);
    }
    solved_close(&s);
}

/* A key that stands open lowers when it is pressed, one shut raises. */
static void keys_raise_and_lower_by_their_semitones(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-6");
    check_abs(s.notes.effect_cents[0], -100.0, tol_cents);
    check_abs(s.notes.effect_cents[5], 500.0, tol_cents);
    solved_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_open_length_is_half_the_wave),
        cmocka_unit_test(the_tube_of_a_bored_horn_is_its_axis),
        cmocka_unit_test(a_valve_lowers_by_its_share),
        cmocka_unit_test(what_is_stuck_down_is_taken_off_again),
        cmocka_unit_test(what_is_stuck_up_keeps_its_effect),
        cmocka_unit_test(a_loop_in_metres_counts_by_the_air_of_the_horn),
        cmocka_unit_test(keys_raise_and_lower_by_their_semitones),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
