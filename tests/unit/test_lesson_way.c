/* One finger that moves while others stay: on every horn, and in words. */
#include "support/taught.h"

#include "lesson/way.h"
#include "passage/trill.h"

#include <math.h>

static const struct taught_need in_need[] = {
    {"keyed-bugle-c-6", "key:1=open"},
    {"keyed-bugle-c-6", "key:5=closed"},
    {"ophicleide-c-9", "key:6=closed,key:8=closed"},
};

static struct taught_horns horns;

static int open_horns(void **state)
{
    (void)state;
    taught_horns_open(&horns, in_need, sizeof(in_need) / sizeof(in_need[0]));
    return 0;
}

static int close_horns(void **state)
{
    (void)state;
    taught_horns_close(&horns);
    return 0;
}

typedef void check_step(const struct hbk_pupil *pupil, int low, int high);

/* Every semitone and whole tone of every horn. */
static size_t on_every_step(check_step *check)
{
    size_t met = 0;
    for (size_t i = 0; i < horns.n; i++) {
        const struct hbk_notes *const notes = &horns.of[i].t.s.notes;
        struct hbk_pupil pupil;
        hbk_pupil_make(notes, notes->lowest, notes->highest, &pupil);
        print_message("# %s\n", horns.of[i].name);
        for (int low = notes->lowest; low < notes->highest; low++) {
            for (int high = low + 1; high <= low + 2; high++) {
                if (hbk_pupil_fingering(&pupil, low) != NULL &&
                    hbk_pupil_fingering(&pupil, high) != NULL) {
                    check(&pupil, low, high);
                    met++;
                }
            }
        }
    }
    return met;
}

static double off(const struct hbk_fingering *fingering)
{
    return fabs(fingering->cents);
}

static size_t told;

/* What is told is an easy trill, in tune, from a first fingering. */
static void check_told(const struct hbk_pupil *pupil, int low, int high)
{
    const struct hbk_fingering *const below = hbk_pupil_fingering(pupil, low);
    const struct hbk_fingering *const above = hbk_pupil_fingering(pupil, high);
    const struct hbk_way way = hbk_way_find(pupil, low, high);
    const struct hbk_ease_move usual = hbk_pupil_move(pupil, low, high);
    assert_int_equal(way.is_held, way.low != below || way.high != above);
    assert_true(way.is_held || !way.is_told);
    if (!way.is_told) {
        return;
    }
    told++;
    assert_true((way.low == below) != (way.high == above));
    assert_true(off(way.low) <= fmax(off(below), HBK_WAY_CENTS));
    assert_true(off(way.high) <= fmax(off(above), HBK_WAY_CENTS));
    assert_int_equal(__builtin_popcount(way.low->press ^ way.high->press), 1);
    assert_int_equal(way.low->partial, way.high->partial);
    assert_int_equal(
        hbk_trill_between(&pupil->keywork, low, high - low, way.low, way.high)
            .kind,
        HBK_TRILL_EASY);
    assert_true(hbk_ease_move_price(&usual) >= HBK_MOVE_HARD);
    assert_true(hbk_ease_move_price(&way.move) < HBK_MOVE_HARD);
}

static void what_is_told_is_an_easy_trill_in_tune(void **state)
{
    (void)state;
    assert_true(on_every_step(check_told) > 1000);
    assert_true(told > 40);
}

/*
 * Nothing is called awkward that the table of trills calls easy with the same
 * fingerings of what is taught first.
 */
static void check_hard(const struct hbk_pupil *pupil, int low, int high)
{
    const struct hbk_way way = hbk_way_find(pupil, low, high);
    const struct hbk_trill trill =
        hbk_trill_find(&pupil->keywork, pupil->notes, low, high - low, NULL);
    if (!hbk_way_is_hard(&way.move) || trill.kind != HBK_TRILL_EASY) {
        return;
    }
    const struct hbk_fingering *const below = hbk_pupil_fingering(pupil, low);
    const struct hbk_fingering *const above = hbk_pupil_fingering(pupil, high);
    const bool both = trill.main != below && trill.upper != above;
    const bool untaught = trill.main->untaught > below->untaught ||
                          trill.upper->untaught > above->untaught;
    const bool false_note = off(trill.main) > fmax(off(below), HBK_WAY_CENTS) ||
                            off(trill.upper) > fmax(off(above), HBK_WAY_CENTS);
    const bool care =
        (hbk_pupil_needs_care(trill.main) && !hbk_pupil_needs_care(below)) ||
        (hbk_pupil_needs_care(trill.upper) && !hbk_pupil_needs_care(above));
    assert_true(both || untaught || false_note || care);
}

static void no_easy_trill_is_called_awkward_without_a_reason(void **state)
{
    (void)state;
    assert_true(on_every_step(check_hard) > 1000);
}

/* As a lesson says it; "" where the fingers cross. */
static const char *said(struct taught *t, const char *low, const char *high)
{
    struct hbk_pupil pupil;
    hbk_pupil_make(&t->s.notes, 0, 0, &pupil);
    const struct hbk_way way =
        hbk_way_find(&pupil, note_of(low), note_of(high));
    return way.is_told
               ? hbk_way_words(&pupil, &way, hbk_note_usual(note_of(low)),
                               hbk_note_usual(note_of(high)), &t->s.arena)
               : "";
}

static void a_finger_that_stays_down_is_told(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "keyed-bugle-c-6", NULL);
    assert_string_equal(said(&t, "C#4", "D4"),
                        "From C♯4 to D4 leave key 2 down and add key 3 (2-3).");
    assert_string_equal(said(&t, "A4", "Bb4"),
                        "From A4 to B♭4 leave key 3 down and add key 4 (3-4).");
    assert_string_equal(said(&t, "B3", "C#4"), "");
    assert_string_equal(said(&t, "F#4", "A4"), ""); /* no step */
    taught_close(&t);
    taught_open(&t, "ophicleide-c-11", NULL);
    assert_string_equal(said(&t, "D3", "E3"),
                        "From D3 to E3 leave key 3 down and add key 5 (3-5).");
    assert_string_equal(said(&t, "G2", "A2"),
                        "From G2 to A2 leave key 8 down and add key 10 "
                        "(8-10).");
    taught_close(&t);
    taught_open(&t, "horn-f-ascending-third", NULL);
    assert_string_equal(said(&t, "C#4", "D4"),
                        "From C♯4 to D4 leave valve 1 down and lift valve 2 "
                        "(1). D4 is then 14 cents flat.");
    taught_close(&t);
    /* E4 with 3 is no fingering to learn first. */
    taught_open(&t, "cornet-b-flat", NULL);
    assert_string_equal(said(&t, "D4", "E4"), "");
    taught_close(&t);
}

/* Each where a lesson first has both notes, and once for the same fingers. */
static void lessons_tell_it_with_the_note_that_brings_it(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "keyed-bugle-c-6", NULL);
    static const struct {
        const char *brought, *from, *to;
    } holds[] = {
        {"B4", "A4", "B4"}, {"Bb4", "A4", "Bb4"}, {"C#4", "C#4", "D4"}};
    size_t n = 0;
    for (size_t i = 0; i < t.lessons->n; i++) {
        const struct hbk_lesson *const lesson = &t.lessons->lessons[i];
        for (size_t k = 0; k < lesson->n_new; k++) {
            const struct hbk_lesson_note *const added = &lesson->added[k];
            for (size_t h = 0; h < added->n_holds; h++) {
                assert_true(n < sizeof(holds) / sizeof(holds[0]));
                assert_int_equal(added->written, note_of(holds[n].brought));
                assert_int_equal(added->holds[h].from, note_of(holds[n].from));
                assert_int_equal(added->holds[h].to, note_of(holds[n].to));
                assert_non_null(strstr(added->why, added->holds[h].words));
                n++;
            }
        }
    }
    assert_int_equal(n, sizeof(holds) / sizeof(holds[0]));
    taught_close(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_told_is_an_easy_trill_in_tune),
        cmocka_unit_test(no_easy_trill_is_called_awkward_without_a_reason),
        cmocka_unit_test(a_finger_that_stays_down_is_told),
        cmocka_unit_test(lessons_tell_it_with_the_note_that_brings_it),
    };
    return cmocka_run_group_tests(tests, open_horns, close_horns);
}
