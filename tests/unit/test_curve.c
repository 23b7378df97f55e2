/* Impedance curves of whole horns: levels, maxima, setting. */
#include "support/check.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "reader/horn_file.h"
#include "solve/bore_chain.h"
#include "solve/column.h"
#include "solve/curve.h"
#include "solve/peak.h"
#include "solve/setting.h"
#include "solve/setup.h"
#include "solve/solve.h"

#include <string.h>

#define CORNET "tests/data/good/cornet-by-bore.yaml"

enum { POINTS = 700 };

struct looked {
    struct hbk_horn horn;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_setting setting;
    struct hbk_curves curves;
};

static void open_cornet(struct looked *s)
{
    *s = (struct looked){0};
    assert_int_equal(hbk_horn_read(CORNET, &s->horn, &s->faults), HBK_OK);
    s->setting = hbk_setting_of(&s->horn);
}

static void look(struct looked *s, size_t n, const uint32_t presses[])
{
    const struct hbk_curve_ask ask = {
        .n = n, .presses = presses, .to_hz = 1310.0, .n_points = POINTS};
    assert_int_equal(hbk_curves_compute(&s->horn, &s->setting, &ask, &s->arena,
                                        &s->curves, &s->faults),
                     HBK_OK);
    assert_int_equal(s->faults.count, 0);
}

static void close_horn(struct looked *s)
{
    hbk_arena_finish(&s->arena);
    hbk_horn_finish(&s->horn);
}

/* 20 log10 |Z| S / (rho c) of the chain itself, slides in. */
static double level_at(struct looked *s, uint32_t press, double hz)
{
    const struct hbk_rig rig = {.temperature_c = s->setting.temperature_c,
                                .crook = -1};
    struct hbk_chain chain = {.arena = &s->arena};
    struct hbk_air air;
    double re = 0.0;
    double im = 0.0;
    const double axis_m = hbk_bore_axis_m(&s->horn);
    assert_int_equal(hbk_bore_chain(&s->horn, &rig, axis_m, &chain, &s->faults),
                     HBK_OK);
    assert_int_equal(hbk_air_at(rig.temperature_c, &air), HBK_OK);
    assert_int_equal(hbk_chain_impedance(&chain, &air,
                                         hbk_bore_word(&s->horn, press), 1, &hz,
                                         &re, &im),
                     HBK_OK);
    const double radius = s->horn.bore.stations[0].radius_m;
    const double area = 3.14159265358979 * radius * radius;
    return 20.0 * log10(hypot(re, im) * area / (air.density * air.speed));
}

static void levels_are_those_of_the_chain(void **state)
{
    (void)state;
    struct looked s;
    open_cornet(&s);
    s.setting.raw = true;
    look(&s, 2, (const uint32_t[]){0, 5});
    check_abs(s.curves.hz[0], 1310.0 / POINTS, 1e-9);
    check_abs(s.curves.hz[POINTS - 1], 1310.0, 1e-9);
    for (size_t k = 3; k < POINTS; k += 61) {
        const double hz = s.curves.hz[k];
        check_abs(s.curves.curves[0].level_db[k], level_at(&s, 0, hz), 1e-9);
        check_abs(s.curves.curves[1].level_db[k], level_at(&s, 5, hz), 1e-9);
    }
    close_horn(&s);
}

static void maxima_top_what_lies_beside_them(void **state)
{
    (void)state;
    struct looked s;
    open_cornet(&s);
    s.setting.raw = true;
    const uint32_t presses[] = {0, 2, 7};
    look(&s, 3, presses);
    for (size_t i = 0; i < 3; i++) {
        const struct hbk_curve *const curve = &s.curves.curves[i];
        assert_true(curve->n_maxima >= 8);
        for (size_t k = 0; k < curve->n_maxima; k++) {
            const struct hbk_curve_maximum *const m = &curve->maxima[k];
            const double top = level_at(&s, presses[i], m->at.hz);
            check_abs(m->level_db, top, 1e-3);
            check_abs(20.0 * log10(m->height / s.curves.wave_impedance),
                      m->level_db, 1e-9);
            assert_true(level_at(&s, presses[i], 0.9995 * m->at.hz) < top);
            assert_true(level_at(&s, presses[i], 1.0005 * m->at.hz) < top);
            assert_int_equal(m->partial, k + 1);
        }
    }
    close_horn(&s);
}

/*
 * A tube shut at one end, f = (2n - 1) v / 4 (L + 0.6133 a), with the end
 * correction of Levine and Schwinger 1948 and the speed that walls leave,
 * v = c (1 - 1.65e-3 / (a sqrt f)) (Fletcher and Rossing, The Physics of
 * Musical Instruments, from memory: first order, rounded).
 */
static void a_cylinder_has_the_odd_quarter_waves(void **state)
{
    (void)state;
    const double a = 0.0147;
    const double length = 1.5173;
    const struct hbk_station tube[] = {{0.0, a}, {length, a}};
    struct looked s = {0};
    hbk_horn_init(&s.horn);
    s.horn.path = "made.yaml";
    s.horn.model = HBK_MODEL_BORE;
    s.horn.bore.n_stations = 2;
    s.horn.bore.stations = tube;
    s.setting = hbk_setting_of(&s.horn);
    s.setting.raw = true;
    look(&s, 1, (const uint32_t[]){0});
    struct hbk_air air;
    assert_int_equal(hbk_air_at(s.setting.temperature_c, &air), HBK_OK);
    const struct hbk_curve *const curve = &s.curves.curves[0];
    assert_int_equal(curve->n_maxima, 12);
    for (size_t k = 0; k < curve->n_maxima; k++) {
        const double waves = 0.25 * (2.0 * (double)k + 1.0);
        double hz = curve->maxima[k].at.hz;
        assert_true(hz < waves * air.speed / length);
        for (int i = 0; i < 20; i++) {
            const double speed = air.speed * (1.0 - (1.65e-3 / (a * sqrt(hz))));
            hz = waves * speed / (length + 0.6133 * a);
        }
        check_rel(curve->maxima[k].at.hz, hz, 1e-3);
    }
    close_horn(&s);
}

static void tuned_maxima_are_those_the_notes_are_made_of(void **state)
{
    (void)state;
    struct looked s;
    open_cornet(&s);
    const uint32_t presses[] = {0, 1, 5};
    look(&s, 3, presses);
    struct hbk_setup setup;
    struct hbk_peak peaks[3 * HBK_PEAK_STRIDE];
    assert_int_equal(
        hbk_set_up(&s.horn, &s.setting, &s.arena, &setup, &s.faults), HBK_OK);
    assert_true(setup.tuned.draw_m[0] > 0.0);
    check_abs(s.curves.about.tuned.draw_m[0], setup.tuned.draw_m[0], 1e-12);
    assert_int_equal(
        hbk_column_peaks(&s.horn, &setup.rig, 3, presses, peaks, &s.faults),
        HBK_OK);
    for (size_t i = 0; i < 3; i++) {
        const struct hbk_curve *const curve = &s.curves.curves[i];
        for (size_t k = 0; k < curve->n_maxima; k++) {
            const struct hbk_curve_maximum *const m = &curve->maxima[k];
            if (m->partial == 0 || m->partial > HBK_PARTIALS_MAX) {
                continue;
            }
            const struct hbk_peak *const peak =
                &peaks[i * HBK_PEAK_STRIDE + m->partial];
            check_rel(m->heard.hz, peak->hz, 1e-12);
            check_abs(m->response_db, peak->response_db, 1e-9);
        }
    }
    /* The tuning note is written C5, and it is in tune. */
    const struct hbk_curve_maximum *const m = &s.curves.curves[0].maxima[3];
    assert_int_equal(m->heard.written, 72);
    check_abs(m->heard.cents, 0.0, 0.01);
    check_abs(m->heard.hz, hbk_note_hz(70, 440.0), 0.01);
    assert_int_equal(m->at.written, 72);
    check_abs(m->at.cents, hbk_cents(m->at.hz, m->heard.hz), 0.01);
    close_horn(&s);
}

static void a_stuck_valve_counts_as_pressed(void **state)
{
    (void)state;
    struct looked free_horn;
    struct looked stuck;
    open_cornet(&free_horn);
    open_cornet(&stuck);
    stuck.setting.stuck.held_down = 1;
    look(&free_horn, 1, (const uint32_t[]){3});
    look(&stuck, 1, (const uint32_t[]){2});
    check_abs(stuck.curves.curves[0].level_db[200],
              free_horn.curves.curves[0].level_db[200], 1e-12);
    check_abs(stuck.curves.curves[0].maxima[2].at.hz,
              free_horn.curves.curves[0].maxima[2].at.hz, 1e-12);
    close_horn(&free_horn);
    close_horn(&stuck);
}

static void a_horn_without_a_bore_has_no_curve(void **state)
{
    (void)state;
    struct looked s = {0};
    hbk_horn_init(&s.horn);
    s.horn.path = "made.yaml";
    s.horn.length_m = 1.4;
    s.setting = hbk_setting_of(&s.horn);
    const uint32_t press = 0;
    const struct hbk_curve_ask ask = {
        .n = 1, .presses = &press, .to_hz = 1400.0, .n_points = 100};
    assert_int_equal(hbk_curves_compute(&s.horn, &s.setting, &ask, &s.arena,
                                        &s.curves, &s.faults),
                     HBK_ERR_NO_RESULT);
    assert_int_equal(s.faults.items[0].number, 148);
    assert_non_null(strstr(s.faults.items[0].text, "a bore is needed"));
    assert_null(s.curves.curves);
    close_horn(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(levels_are_those_of_the_chain),
        cmocka_unit_test(maxima_top_what_lies_beside_them),
        cmocka_unit_test(a_cylinder_has_the_odd_quarter_waves),
        cmocka_unit_test(tuned_maxima_are_those_the_notes_are_made_of),
        cmocka_unit_test(a_stuck_valve_counts_as_pressed),
        cmocka_unit_test(a_horn_without_a_bore_has_no_curve),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
