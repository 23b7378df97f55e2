/*
 * Files of readings: what is read, and what is refused or flagged in exactly
 * the words beside each file of tests/bad_readings. Those that can be read
 * are tied to a cornopean, which has three valves and crooks.
 */
#include "support/bad_files.h"
#include "support/solved.h"

#include "fit/bind.h"
#include "fit/fit.h"
#include "reader/readings_file.h"

#include <stdlib.h>
#include <unistd.h>

/* Reads what stands in a file of that text; nothing is left of the file. */
static enum hbk_status read_text(const char *text,
                                 struct hbk_readings *readings,
                                 struct hbk_faults *faults)
{
    static char path[] = P_tmpdir "/hornbook-readings-XXXXXX";
    (void)memcpy(strrchr(path, '-') + 1, "XXXXXX", 6);
    const int file = mkstemp(path);
    assert_true(file >= 0);
    const size_t length = strlen(text);
    assert_int_equal(write(file, text, length), length);
    assert_int_equal(close(file), 0);
    const enum hbk_status status = hbk_readings_read(path, readings, faults);
    assert_int_equal(unlink(path), 0);
    return status;
}

static const char *messages_of(void *ctx, const char *path,
                               struct hbk_arena *arena)
{
    const struct hbk_horn *const horn = ctx;
    struct hbk_readings readings;
    struct hbk_faults faults = {0};
    struct hbk_fit fit;
    enum hbk_status status = hbk_readings_read(path, &readings, &faults);
    if (status == HBK_OK) {
        status = hbk_fit_horn(horn, &readings, arena, &fit, &faults);
    } else {
        assert_int_equal(readings.n, 0);
    }
    /* What is not refused is flagged. */
    assert_true((status == HBK_OK) == (faults.errors == 0));
    assert_true(faults.count > 0);
    const char *const lines = lines_of(&faults, arena);
    hbk_readings_finish(&readings);
    return lines;
}

static void each_bad_file_gives_exactly_its_messages(void **state)
{
    (void)state;
    static struct solved s;
    solved_read(&s, "cornopean-b-flat");
    check_bad_files("tests/bad_readings", 15, messages_of, &s.horn);
    solved_close(&s);
}

static void what_holds_for_the_file_can_be_told_anew(void **state)
{
    (void)state;
    struct hbk_readings readings;
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_readings_read("tests/data/readings/mixed.yaml", &readings, &faults),
        HBK_OK);
    assert_int_equal(readings.n, 4);
    assert_string_equal(readings.mouthpiece, "deep cup");
    const struct hbk_reading *const r = readings.readings;
    assert_int_equal(r[0].note, note_of("C4"));
    assert_string_equal(r[0].fingering, "0");
    assert_string_equal(r[1].fingering, "1-3");
    check_abs(r[1].cents, 22.0, 0.0);
    check_abs(r[0].uncertainty_cents, 3.0, 0.0);
    check_abs(r[1].uncertainty_cents, 6.0, 0.0);
    check_abs(r[0].a4_hz, 452.5, 0.0);
    check_abs(r[3].a4_hz, 440.0, 0.0);
    check_abs(r[2].temperature_c, 21.5, 0.0);
    check_abs(r[3].temperature_c, 18.0, 0.0);
    assert_int_equal(r[2].partial, 3);
    assert_null(r[0].set->crook);
    assert_string_equal(r[2].set->crook, "A");
    /* The main slide stays as it was while only the first one is named. */
    assert_int_equal(r[2].set->n_draws, 2);
    check_abs(r[2].set->draws[0].draw_m, 0.012, 1e-12);
    check_abs(r[2].set->draws[1].draw_m, 0.004, 1e-12);
    check_abs(r[3].set->draws[0].draw_m, 0.0, 1e-12);
    assert_int_equal(r[3].place.line, 12);
    hbk_readings_finish(&readings);
}

/*
 * Pulls and crooks mixed: with the crook, written C4 sounds another note,
 * and what is heard must still be the same partial of the same horn.
 */
static void readings_with_slides_and_crooks_are_tied_to_the_horn(void **state)
{
    (void)state;
    static struct solved s;
    static const char text[] =
        "hornbook_readings: 1\n"
        "readings:\n"
        "  - {note: C5, fingering: 0, cents: 1}\n"
        "  - {note: C5, fingering: 0, cents: -9, set: {crook: A}}\n"
        "  - {note: G4, fingering: 0, cents: -30, set: {main: 12}}\n";
    struct hbk_readings readings;
    struct hbk_bound_readings bound;
    solved_read(&s, "cornopean-b-flat");
    assert_int_equal(read_text(text, &readings, &s.faults), HBK_OK);
    assert_int_equal(
        hbk_readings_bind(&readings, &s.horn, &s.arena, &bound, &s.faults),
        HBK_OK);
    assert_int_equal(s.faults.count, 0);
    assert_int_equal(bound.n_rigs, 3);
    assert_int_equal(bound.items[0].partial, 4);
    assert_int_equal(bound.items[1].partial, 4);
    assert_int_equal(bound.items[2].partial, 3);
    /* The A crook lowers what is written by a semitone. */
    check_abs(hbk_cents(bound.items[1].note_hz, bound.items[0].note_hz), -100.0,
              1e-9);
    hbk_readings_finish(&readings);
    solved_close(&s);
}

/* Which one was in holds until it is said anew; without a word, the own one. */
static void readings_with_mouthpieces_are_tied_to_the_horn(void **state)
{
    (void)state;
    static struct solved s;
    struct hbk_readings readings;
    struct hbk_bound_readings bound;
    static const size_t in[] = {1, 0, 2, 1};
    solved_read(&s, "cornet-b-flat-bore");
    assert_int_equal(hbk_readings_read("tests/data/readings/mouthpiece.yaml",
                                       &readings, &s.faults),
                     HBK_OK);
    assert_int_equal(
        hbk_readings_bind(&readings, &s.horn, &s.arena, &bound, &s.faults),
        HBK_OK);
    assert_int_equal(s.faults.count, 0);
    for (size_t i = 0; i < bound.n; i++) {
        assert_int_equal(bound.rigs[bound.items[i].rig].mouthpiece, in[i]);
    }
    assert_int_equal(bound.n_rigs, 4);
    hbk_readings_finish(&readings);
    solved_close(&s);
}

/* What holds for the page holds where a reading says nothing of it. */
static void nothing_stuck_holds_until_it_is_said_anew(void **state)
{
    (void)state;
    struct hbk_readings readings;
    struct hbk_faults faults = {0};
    assert_int_equal(
        read_text("hornbook_readings: 1\nset: {stuck: none}\nreadings:\n"
                  "  - {note: C5, fingering: 0, cents: 1, set: {main: 3}}\n"
                  "  - {note: C5, fingering: 0, cents: 1, set: {stuck: "
                  "'valve:1=down'}}\n",
                  &readings, &faults),
        HBK_OK);
    assert_true(readings.readings[0].set->none_stuck);
    assert_null(readings.readings[0].set->stuck);
    assert_false(readings.readings[1].set->none_stuck);
    assert_string_equal(readings.readings[1].set->stuck, "valve:1=down");
    hbk_readings_finish(&readings);
}

/* A slide may have that name: what it is drawn is a number. */
static void a_slide_may_be_called_mouthpiece(void **state)
{
    (void)state;
    struct hbk_readings readings;
    struct hbk_faults faults = {0};
    assert_int_equal(
        read_text("hornbook_readings: 1\nset: {mouthpiece: 7}\nreadings:\n"
                  "  - {note: C5, fingering: 0, cents: 1}\n",
                  &readings, &faults),
        HBK_OK);
    const struct hbk_reading_set *const set = readings.readings[0].set;
    assert_null(set->mouthpiece);
    assert_int_equal(set->n_draws, 1);
    check_abs(set->draws[0].draw_m, 0.007, 1e-12);
    hbk_readings_finish(&readings);
}

/* Notes as the tuner shows them: B flat is the cornopean's written C. */
static void notes_of_the_tuner_are_turned_into_written_ones(void **state)
{
    (void)state;
    static struct solved s;
    struct hbk_readings readings;
    struct hbk_bound_readings bound;
    solved_read(&s, "cornopean-b-flat");
    assert_int_equal(hbk_readings_read("tests/data/readings/sounding.yaml",
                                       &readings, &s.faults),
                     HBK_OK);
    assert_int_equal(
        hbk_readings_bind(&readings, &s.horn, &s.arena, &bound, &s.faults),
        HBK_OK);
    assert_int_equal(bound.items[0].written, note_of("C4"));
    assert_int_equal(bound.items[1].written, note_of("G4"));
    hbk_readings_finish(&readings);
    solved_close(&s);
}

/* With valve 2 down the open cornet is a semitone lower; see stuck.yaml. */
static void what_is_stuck_sounds_with_what_is_pressed(void **state)
{
    (void)state;
    static struct solved s;
    struct hbk_readings readings;
    struct hbk_fit fit;
    solved_read(&s, "cornet-b-flat");
    assert_int_equal(hbk_readings_read("tests/data/readings/stuck.yaml",
                                       &readings, &s.faults),
                     HBK_OK);
    assert_int_equal(
        hbk_fit_horn(&s.horn, &readings, &s.arena, &fit, &s.faults), HBK_OK);
    assert_int_equal(s.faults.count, 0);
    assert_int_equal(fit.report.n_used, 6);
    assert_int_equal(fit.report.items[0].press, 0);
    assert_int_equal(fit.report.items[0].partial, 2);
    /* Valve 2 tells of itself in five readings, 1 and 3 in one each. */
    assert_int_equal(fit.report.items[0].alone_on, -1);
    assert_int_equal(fit.report.items[3].alone_on, 0);
    assert_int_equal(fit.report.items[4].alone_on, 2);
    assert_int_equal(fit.report.items[5].alone_on, -1);
    /* The last was taken with nothing stuck, so nothing was stuck in all. */
    assert_int_equal(fit.stuck.held_down, 0);
    hbk_readings_finish(&readings);
    solved_close(&s);
}

/* Lines of readings by the thousand, as a program might write them. */
static const char *many(struct hbk_arena *arena, size_t n)
{
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, "hornbook_readings: 1\nreadings:\n");
    for (size_t i = 0; i < n; i++) {
        hbk_text_addf(&text, "  - {note: C5, fingering: 0, cents: %zu}\n",
                      i % 7);
    }
    return hbk_text_string(&text);
}

static void a_thousand_lines_are_fitted_and_more_refused(void **state)
{
    (void)state;
    static struct solved s;
    static const struct {
        size_t n;
        enum hbk_status status;
        unsigned number;
    } cases[] = {{1000, HBK_OK, 0},
                 {1001, HBK_ERR_INPUT, 47},
                 {10000, HBK_ERR_INPUT, 22}};
    solved_read(&s, "cornet-b-flat");
    for (size_t i = 0; i < 3; i++) {
        struct hbk_faults faults = {0};
        struct hbk_readings readings;
        const char *const text = many(&s.arena, cases[i].n);
        assert_int_equal(read_text(text, &readings, &faults), cases[i].status);
        if (cases[i].status == HBK_OK) {
            struct hbk_fit fit;
            assert_int_equal(
                hbk_fit_horn(&s.horn, &readings, &s.arena, &fit, &faults),
                HBK_OK);
            /* The mean of 0 to 6 cents, known better and better. */
            check_abs(fit.report.items[0].after_cents, 3.0, 0.1);
        } else {
            assert_int_equal(faults.items[0].number, cases[i].number);
            assert_true(faults.items[0].line > 0);
        }
        hbk_readings_finish(&readings);
    }
    solved_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_bad_file_gives_exactly_its_messages),
        cmocka_unit_test(what_holds_for_the_file_can_be_told_anew),
        cmocka_unit_test(readings_with_slides_and_crooks_are_tied_to_the_horn),
        cmocka_unit_test(readings_with_mouthpieces_are_tied_to_the_horn),
        cmocka_unit_test(nothing_stuck_holds_until_it_is_said_anew),
        cmocka_unit_test(a_slide_may_be_called_mouthpiece),
        cmocka_unit_test(notes_of_the_tuner_are_turned_into_written_ones),
        cmocka_unit_test(what_is_stuck_sounds_with_what_is_pressed),
        cmocka_unit_test(a_thousand_lines_are_fitted_and_more_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
