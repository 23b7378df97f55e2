#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "sheet/block/instrument.h"
#include "sheet/block/unrolled.h"
#include "solve/rest.h"

/* The site that a control's own term names. */
static size_t site_of(const struct hbk_horn *horn, enum hbk_control_kind kind,
                      const char *name)
{
    const int control = hbk_horn_find_control(horn, kind, name);
    assert_true(control >= 0);
    for (size_t i = 0; i < horn->n_sites; i++) {
        if (horn->sites[i].n_terms > 0 &&
            horn->sites[i].terms[0] == 1U << control) {
            return i;
        }
    }
    fail();
    return 0;
}

/*
 * Equal temperament (a closed form): the bell of a horn whose open key
 * lowers a semitone lies 2^(1/12) of the sounding length away, a hole five
 * semitones up at 2^(-5/12) of it.
 */
static void holes_lie_where_their_semitones_put_them(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "keyed-bugle-c-6");
    const double whole = exp2(1.0 / 12.0);
    check_rel(hbk_unrolled_hole(&s.horn, hbk_axis_at_rest(&s.horn),
                                site_of(&s.horn, HBK_KEY, "1")),
              1.0 / whole, 1e-12);
    check_rel(hbk_unrolled_hole(&s.horn, hbk_axis_at_rest(&s.horn),
                                site_of(&s.horn, HBK_KEY, "6")),
              exp2(-5.0 / 12.0) / whole, 1e-12);
    solved_close(&s);
}

/* The catalogue's places of the Munich bugle: 127 and 476 of 1201 mm. */
static void holes_of_a_bored_horn_lie_where_they_were_measured(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "keyed-bugle-c-6-munich");
    check_rel(hbk_unrolled_hole(&s.horn, hbk_axis_at_rest(&s.horn),
                                site_of(&s.horn, HBK_KEY, "1")),
              1.0 - 127.0 / 1201.0, 1e-12);
    check_rel(hbk_unrolled_hole(&s.horn, hbk_axis_at_rest(&s.horn),
                                site_of(&s.horn, HBK_KEY, "6")),
              1.0 - 476.0 / 1201.0, 1e-12);
    solved_close(&s);
}

static void a_loop_is_as_long_as_its_share_of_the_tube(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    const size_t third = site_of(&s.horn, HBK_VALVE, "3");
    check_rel(hbk_unrolled_loop(&s.horn, hbk_axis_at_rest(&s.horn), third),
              0.19998, 1e-12);
    /* An octave in cents doubles the tube. */
    s.horn.sites[third].loop.measure = HBK_LOOP_CENTS;
    s.horn.sites[third].loop.value = 1200.0;
    check_rel(hbk_unrolled_loop(&s.horn, hbk_axis_at_rest(&s.horn), third), 1.0,
              1e-12);
    solved_close(&s);
}

/*
 * The same horn twice, its loops in cents and in metres. A closed form: what
 * is left of a tube that rises by c cents is 2^(-c/1200) of it.
 */
static void a_loop_in_cents_is_as_long_as_the_same_in_mm(void **state)
{
    (void)state;
    static const char *const names[] = {"horn-f-ascending-third",
                                        "cornet-six-independent"};
    size_t rest_in = 0;
    for (size_t i = 0; i < 2; i++) {
        struct solved s;
        solved_read(&s, names[i]);
        s.horn.length_m = 2.718;
        s.horn.fundamental_hz = (double)NAN;
        for (size_t k = 0; k < s.horn.n_sites; k++) {
            struct hbk_site *const site = &s.horn.sites[k];
            assert_int_equal(site->loop.measure, HBK_LOOP_CENTS);
            const double in_cents =
                hbk_unrolled_loop(&s.horn, hbk_axis_at_rest(&s.horn), k);
            const double cents = site->loop.value;
            site->loop.measure = HBK_LOOP_METRES;
            site->loop.value =
                2.718 *
                fabs(exp2((site->at_rest ? -cents : cents) / 1200.0) - 1.0);
            check_rel(hbk_unrolled_loop(&s.horn, hbk_axis_at_rest(&s.horn), k),
                      in_cents, 1e-12);
            rest_in += site->at_rest ? 1 : 0;
        }
        solved_close(&s);
    }
    assert_int_equal(rest_in, 7);
}

/* It stays within what it says it takes, and its words touch nothing. */
static void check_drawing(const struct solved *s, double unit, double growth)
{
    struct hbk_arena arena = {0};
    struct hbk_sheet sheet = {.arena = &arena, .title = s->horn.id};
    const struct hbk_ruler ruler = fixed_ruler();
    struct hbk_pad pad = {.sheet = &sheet, .ruler = &ruler};
    const struct hbk_paper_size size = {400.0, 200.0, 5.0};
    hbk_pad_page(&pad, size, "bench");
    const struct hbk_instrument drawn = {.notes = &s->notes,
                                         .unit = unit,
                                         .growth = growth,
                                         .x = 30.0,
                                         .width = 245.0 * unit};
    const double axis = 100.0;
    const double above = hbk_instrument_above(&drawn);
    const double below = hbk_instrument_below(&drawn);
    assert_true(above >= HBK_INSTRUMENT_BELL * unit * growth);
    hbk_instrument_draw(&pad, &drawn, axis);
    hbk_pad_group(&pad);
    hbk_pad_line(&pad, 10.0, axis - above, 380.0, 0.0, 0.02);
    hbk_pad_line(&pad, 10.0, axis + below, 380.0, 0.0, 0.02);
    check_no_clash(&sheet, &ruler);
    hbk_arena_finish(&arena);
}

static void no_drawing_of_a_shipped_horn_has_a_clash(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_open(&s, horns[i].name);
        check_drawing(&s, 1.0, 1.0);
        check_drawing(&s, 1.0, 1.34);
        check_drawing(&s, 1.3, 1.1);
        solved_close(&s);
    }
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(holes_lie_where_their_semitones_put_them),
        cmocka_unit_test(holes_of_a_bored_horn_lie_where_they_were_measured),
        cmocka_unit_test(a_loop_is_as_long_as_its_share_of_the_tube),
        cmocka_unit_test(a_loop_in_cents_is_as_long_as_the_same_in_mm),
        cmocka_unit_test(no_drawing_of_a_shipped_horn_has_a_clash),
    };
    return cmocka_run_group_tests_name("tube_sheet", tests, NULL, NULL);
}
