/* How far to draw the slides of valves and of the horn. */
#include "support/check.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "reader/horn_file.h"
#include "solve/reach.h"
#include "solve/setting.h"
#include "solve/slides.h"
#include "solve/solve.h"

#include <stdio.h>
#include <string.h>

/* Printed to a tenth of a mm, worked out with a speed of 343.3 m/s or so. */
static const double TOL_PRINTED_MM = 0.15;

/*
 * A cornet in B flat whose valves are exactly two, one and three semitones,
 * with the crooks of the table below and slides long enough for each.
 */
static const char exact_cornet[] =
    "hornbook: 1\n"
    "name: Exact cornet\n"
    "written_c4_sounds: Bb3\n"
    "tuning: {note: C5, a4: 440, temperature: 20}\n"
    "compass: [F#3, C6]\n"
    "fundamental: Bb2\n"
    "partials: {lowest: 2, highest: 8, avoid: [7]}\n"
    "valves:\n"
    "  - {valve: 1, lowers: 200 cents, finger: right index}\n"
    "  - {valve: 2, lowers: 100 cents, finger: right middle}\n"
    "  - {valve: 3, lowers: 300 cents, finger: right ring}\n"
    "slides:\n"
    "  - {slide: main, travel: 60, legs: 2}\n"
    "  - {slide: first, valve: 1, travel: 80, legs: 2}\n"
    "  - {slide: second, valve: 2, travel: 80, legs: 2}\n"
    "  - {slide: third, valve: 3, travel: 80, legs: 2}\n"
    "crooks:\n"
    "  - {crook: A, adds: 87.5}\n"
    "  - {crook: Ab, adds: 180.2}\n"
    "  - {crook: G, adds: 278.5}\n"
    "  - {crook: F, adds: 493}\n";

struct planned {
    struct hbk_horn horn;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_slides slides;
};

static void read_horn(struct planned *p, const char *text)
{
    *p = (struct planned){0};
    assert_int_equal(hbk_horn_read_text("exact.yaml", text, strlen(text),
                                        &p->horn, &p->faults),
                     HBK_OK);
}

static void plan(struct planned *p, double a4_hz, int crook)
{
    struct hbk_setting setting = hbk_setting_of(&p->horn);
    setting.a4_hz = a4_hz;
    setting.crook = crook;
    setting.valve_slides = HBK_VALVE_SLIDES_BEST;
    assert_int_equal(
        hbk_slides_plan(&p->horn, &setting, &p->arena, &p->slides, &p->faults),
        HBK_OK);
}

static void put_away(struct planned *p)
{
    hbk_arena_finish(&p->arena);
    hbk_horn_finish(&p->horn);
}

/*
 * Pull per leg that keeps each valve alone true, and the error of each valve
 * and combination with the slides left at home, for the crooks of a cornet
 * in B flat. Worked out from tube lengths alone (half waves of 1472 mm and
 * a semitone more a crook); no source outside the arithmetic.
 */
static void crooks_want_the_slides_in_proportion(void **state)
{
    (void)state;
    static const struct {
        double first, second, third, sharp_1, sharp_123;
    } want[] = {{5.4, 2.6, 8.3, 11, 80},
                {11.0, 5.4, 17.1, 21, 105},
                {17.1, 8.3, 26.4, 30, 130},
                {30.2, 14.7, 46.6, 48, 175}};
    struct planned p;
    read_horn(&p, exact_cornet);
    for (int crook = 0; crook < 4; crook++) {
        plan(&p, 440.0, crook);
        check_abs(1000.0 * p.slides.pulls[1].own_m, want[crook].first,
                  TOL_PRINTED_MM);
        check_abs(1000.0 * p.slides.pulls[2].own_m, want[crook].second,
                  TOL_PRINTED_MM);
        check_abs(1000.0 * p.slides.pulls[3].own_m, want[crook].third,
                  TOL_PRINTED_MM);
        /* Slides home: valve 1 on partial 4, and all three on partial 2. */
        struct hbk_setting setting = hbk_setting_of(&p.horn);
        setting.crook = crook;
        setting.lip_cents = 200.0;
        setting.valve_slides = HBK_VALVE_SLIDES_HOME;
        struct hbk_notes notes;
        assert_int_equal(
            hbk_solve(&p.horn, &setting, &p.arena, &notes, &p.faults), HBK_OK);
        const struct hbk_note *const b_flat = hbk_notes_find(&notes, 70);
        const struct hbk_note *const f_sharp = hbk_notes_find(&notes, 54);
        double sharp_1 = NAN;
        double sharp_123 = NAN;
        for (size_t i = 0; i < b_flat->n; i++) {
            const struct hbk_fingering *const f = &b_flat->fingerings[i];
            sharp_1 = f->press == 1 && f->partial == 4 ? f->cents : sharp_1;
        }
        for (size_t i = 0; i < f_sharp->n; i++) {
            const struct hbk_fingering *const f = &f_sharp->fingerings[i];
            sharp_123 = f->press == 7 && f->partial == 2 ? f->cents : sharp_123;
        }
        check_abs(sharp_1, want[crook].sharp_1, 0.6);
        check_abs(sharp_123, want[crook].sharp_123, 0.6);
    }
    put_away(&p);
}

/*
 * 20 mm on each leg of a U-slide, or 41 mm at a shank, take a B flat horn
 * from A = 452.5 to 440; an E flat soprano 15, an E flat bass 61. Worked out
 * from half waves of 1472, 1103 and 4412 mm. A cent is 0.43 mm a leg.
 */
static void high_pitch_comes_down_by_the_main_slide(void **state)
{
    (void)state;
    static const struct {
        const char *c4, *fundamental;
        int legs;
        double draw_mm, mm_a_cent;
    } cases[] = {{"Bb3", "Bb2", 2, 20.0, 0.43}, {"Bb3", "Bb2", 1, 41.0, 0.85},
                 {"Eb4", "Eb3", 2, 15.0, 0.32}, {"Eb3", "Eb2", 2, 31.0, 0.64},
                 {"Bb2", "Bb1", 2, 41.0, 0.85}, {"Eb2", "Eb1", 2, 61.0, 1.27}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        char text[512];
        (void)snprintf(text, sizeof(text),
                       "hornbook: 1\nname: High\nwritten_c4_sounds: %s\n"
                       "tuning: {note: C5, a4: 452.5, temperature: 20}\n"
                       "fundamental: %s\n"
                       "slides: [{slide: main, travel: 90, legs: %d}]\n",
                       cases[i].c4, cases[i].fundamental, cases[i].legs);
        struct planned p;
        read_horn(&p, text);
        plan(&p, 440.0, -1);
        check_abs(1000.0 * p.slides.pulls[0].draw_m, cases[i].draw_mm, 0.6);
        check_abs(p.slides.notes.tuned.after_cents, 0.0, 0.01);
        check_rel(-1.0 / p.slides.pulls[0].cents_per_mm, cases[i].mm_a_cent,
                  0.035);
        /* 2.90 cents a degree at 20 degrees: speed after Keefe 1984. */
        check_abs(p.slides.reach.cents_per_degree, 2.90, 0.02);
        check_abs(p.slides.reach.highest_hz, 452.5, 0.001);
        put_away(&p);
    }
}

/* The sum that the compromise makes least, of the first choices as they are. */
static double sum_at(const struct planned *p, const double draw_m[])
{
    struct hbk_setup setup;
    struct hbk_faults faults = {0};
    struct hbk_arena arena = {0};
    assert_int_equal(hbk_tune_horn(&p->horn, &p->slides.notes.setting, draw_m,
                                   &arena, &setup, &faults),
                     HBK_OK);
    double sum = 0.0;
    for (size_t i = 0; i < p->slides.notes.n; i++) {
        const struct hbk_slide_note *const note = &p->slides.list[i];
        double hz = 0.0;
        assert_int_equal(hbk_sound_one(&p->horn, &setup.rig, note->press,
                                       note->partial, &hz, &faults),
                         HBK_OK);
        const double cents = hbk_cents(hz, p->slides.notes.notes[i].target_hz);
        sum += note->weight * cents * cents;
    }
    hbk_arena_finish(&arena);
    return sum;
}

/* No draw nearby, one slide or two moved, makes the sum smaller. */
static void check_least(struct planned *p)
{
    double draw_m[4] = {0};
    for (size_t s = 1; s < 4; s++) {
        draw_m[s] = p->slides.pulls[s].draw_m;
    }
    const double least = sum_at(p, draw_m);
    for (int a = -1; a <= 1; a++) {
        for (int b = -1; b <= 1; b++) {
            for (int c = -1; c <= 1; c++) {
                double moved[4] = {0.0, draw_m[1] + (a * 0.4e-3),
                                   draw_m[2] + (b * 0.4e-3),
                                   draw_m[3] + (c * 0.4e-3)};
                bool can = true;
                for (size_t s = 1; s < 4; s++) {
                    can = can && moved[s] >= 0.0 &&
                          moved[s] <= p->horn.slides[s].travel_m;
                }
                assert_true(!can || sum_at(p, moved) >= least - 0.5);
            }
        }
    }
}

static void no_other_draw_is_a_better_compromise(void **state)
{
    (void)state;
    struct planned p;
    read_horn(&p, exact_cornet);
    for (int crook = -1; crook < 3; crook++) {
        plan(&p, 440.0, crook);
        assert_true(p.slides.best_rms <= p.slides.own_rms + 0.01);
        assert_true(p.slides.best_rms <= p.slides.home_rms + 0.01);
        check_least(&p);
    }
    put_away(&p);
}

static void a_bored_cornet_is_served_as_well(void **state)
{
    (void)state;
    struct planned p = {0};
    assert_int_equal(hbk_horn_read("instruments/patterns/"
                                   "cornet-b-flat-bore.yaml",
                                   &p.horn, &p.faults),
                     HBK_OK);
    plan(&p, 428.0, -1);
    check_least(&p);
    /*
     * In proportion the valve keeps its interval: share of the loop times
     * tube drawn, so the second slide wants half of what the first wants: to
     * half a millimetre, nearer than a slide is set.
     */
    const double first = p.slides.pulls[1].own_m;
    const double second = p.slides.pulls[2].own_m;
    check_abs(first, second * 12.356 / 6.001, 0.5e-3);
    check_abs(p.slides.reach.cents_per_degree, 2.90, 0.06);
    assert_true(p.slides.pulls[3].cents_per_mm > -3.0 &&
                p.slides.pulls[3].cents_per_mm < -1.0);
    put_away(&p);
}

/* The travel is a wall, and what is wanted beyond it is told. */
static void a_short_slide_stops_and_the_others_make_up(void **state)
{
    (void)state;
    struct planned p = {0};
    assert_int_equal(hbk_horn_read("instruments/patterns/cornopean-b-flat.yaml",
                                   &p.horn, &p.faults),
                     HBK_OK);
    plan(&p, 440.0, 2); /* the G crook */
    for (size_t s = 1; s < 4; s++) {
        check_abs(p.slides.pulls[s].draw_m, p.horn.slides[s].travel_m, 1e-9);
        assert_true(p.slides.pulls[s].own_m > p.horn.slides[s].travel_m);
    }
    put_away(&p);
}

/* A valve that no note uses is left in proportion. */
static void a_valve_out_of_use_stays_in_proportion(void **state)
{
    (void)state;
    struct planned p;
    read_horn(&p, exact_cornet);
    struct hbk_setting setting = hbk_setting_of(&p.horn);
    setting.crook = 0;
    setting.valve_slides = HBK_VALVE_SLIDES_BEST;
    setting.stuck.held_up = 4; /* the third valve is stuck up */
    assert_int_equal(
        hbk_slides_plan(&p.horn, &setting, &p.arena, &p.slides, &p.faults),
        HBK_OK);
    check_abs(p.slides.pulls[3].draw_m, p.slides.pulls[3].own_m, 1e-6);
    put_away(&p);
}

/* The setting carries the draws: notes then are those of the plan. */
static void notes_with_the_slides_drawn_are_those_of_the_plan(void **state)
{
    (void)state;
    struct planned p;
    read_horn(&p, exact_cornet);
    plan(&p, 440.0, 1);
    struct hbk_setting setting = hbk_setting_of(&p.horn);
    setting.crook = 1;
    setting.valve_slides = HBK_VALVE_SLIDES_HOME;
    struct hbk_notes home;
    assert_int_equal(hbk_solve(&p.horn, &setting, &p.arena, &home, &p.faults),
                     HBK_OK);
    setting.valve_slides = HBK_VALVE_SLIDES_BEST;
    struct hbk_notes drawn;
    assert_int_equal(hbk_solve(&p.horn, &setting, &p.arena, &drawn, &p.faults),
                     HBK_OK);
    double moved = 0.0;
    for (size_t i = 0; i < drawn.n; i++) {
        check_abs(drawn.notes[i].fingerings[0].cents,
                  p.slides.list[i].best_cents, 1e-6);
        /* Slides home, the lowest lie too far off to be played at all. */
        moved += home.notes[i].n == 0
                     ? setting.lip_cents
                     : fabs(drawn.notes[i].fingerings[0].cents -
                            home.notes[i].fingerings[0].cents);
    }
    assert_true(moved > 100.0);
    put_away(&p);
}

/*
 * What the three ways give does not depend on which of them is set, though
 * with the slides home two notes of the A shank are out of reach.
 */
static void the_three_ways_are_compared_alike(void **state)
{
    (void)state;
    double means[HBK_VALVE_SLIDES_COUNT][3];
    for (int how = 0; how < HBK_VALVE_SLIDES_COUNT; how++) {
        struct planned p = {0};
        assert_int_equal(
            hbk_horn_read("instruments/patterns/cornopean-b-flat.yaml", &p.horn,
                          &p.faults),
            HBK_OK);
        struct hbk_setting setting = hbk_setting_of(&p.horn);
        setting.a4_hz = 452.5;
        setting.crook = 0;
        setting.valve_slides = (enum hbk_valve_slides)how;
        assert_int_equal(
            hbk_slides_plan(&p.horn, &setting, &p.arena, &p.slides, &p.faults),
            HBK_OK);
        means[how][0] = p.slides.home_rms;
        means[how][1] = p.slides.own_rms;
        means[how][2] = p.slides.best_rms;
        for (size_t i = 0; i < 3; i++) {
            check_abs(means[how][i], means[0][i], 1e-6);
        }
        put_away(&p);
    }
    assert_true(means[0][2] < means[0][1] && means[0][1] < means[0][0]);
}

static void a_horn_without_slides_has_one_pitch(void **state)
{
    (void)state;
    struct planned p;
    read_horn(&p, "hornbook: 1\nname: Plain\nwritten_c4_sounds: Bb3\n"
                  "tuning: {note: C5, a4: 447, temperature: 15}\n"
                  "fundamental: Bb2\n");
    plan(&p, 440.0, -1);
    check_abs(p.slides.reach.highest_hz, 447.0, 0.001);
    check_abs(p.slides.reach.lowest_hz, 447.0, 0.001);
    assert_int_equal(p.slides.n, 0);
    assert_true(isnan(p.slides.reach.cents_per_mm));
    put_away(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(crooks_want_the_slides_in_proportion),
        cmocka_unit_test(high_pitch_comes_down_by_the_main_slide),
        cmocka_unit_test(no_other_draw_is_a_better_compromise),
        cmocka_unit_test(a_bored_cornet_is_served_as_well),
        cmocka_unit_test(a_short_slide_stops_and_the_others_make_up),
        cmocka_unit_test(a_valve_out_of_use_stays_in_proportion),
        cmocka_unit_test(notes_with_the_slides_drawn_are_those_of_the_plan),
        cmocka_unit_test(the_three_ways_are_compared_alike),
        cmocka_unit_test(a_horn_without_slides_has_one_pitch),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
