/*
 * What is made for a player, without any argument of a program: a chord held,
 * a horn beside another or beside itself, a fitted horn. Orders are in
 * test_ordered.c, tunes in test_perform.c.
 */
#include "support/editions.h"

#include "edition/band.h"
#include "edition/beside.h"
#include "edition/check.h"
#include "edition/file_names.h"
#include "edition/fit.h"
#include "horn/horn.h"
#include "notes/slides.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* A pure major third is 5:4, a pure fifth 3:2: ratios of the harmonic series.
 */
static void a_chord_is_held_by_its_ratios(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_held held;
    held_open(&s, "C5, E5 G5", &held);
    assert_int_equal(held.n, 3);
    assert_true(held.is_just && !held.root_given);
    assert_string_equal(held.root, "C5");
    check_abs(held.notes[0].aim_cents, 0.0, 1e-9);
    check_abs(held.notes[1].aim_cents, 1200.0 * log2(5.0 / 4.0) - 400.0, 1e-9);
    check_abs(held.notes[2].aim_cents, 1200.0 * log2(3.0 / 2.0) - 700.0, 1e-9);
    assert_string_equal(held.notes[1].degree, "third");
    assert_string_equal(held.words,
                        "Held as C major, root C5: the third 14 cents low, "
                        "the fifth 2 cents high.");
    for (size_t k = 0; k < held.n; k++) {
        assert_int_equal(held.notes[k].note.written, note_of(k == 0   ? "C5"
                                                             : k == 1 ? "E5"
                                                                      : "G5"));
        assert_true(held.notes[k].note.n > 0);
    }
    struct hbk_text why = {.arena = &s.arena};
    const struct hbk_hold_ask other = {"C5 E5 G5", "A", NULL};
    assert_int_equal(hbk_hold_notes(&other, &s.notes, &s.arena, &held, &why),
                     HBK_HOLD_FINE);
    assert_true(held.root_given);
    assert_string_equal(held.root, "A");
    solved_close(&s);
}

/* The way to name a root is told as whoever asks has it, or not at all. */
static void a_root_that_is_found_is_told_with_the_others(void **state)
{
    (void)state;
    static const struct {
        const char *notes, *words, *other_words;
        size_t n_others;
    } cases[] = {
        {"A4 C5 E5 G5", "Held as A minor seventh, root A4: ",
         "The root can also be C5 (C major sixth); the lowest is taken", 1},
        {"C5 Eb5 Gb5 A5", "Held as C diminished seventh, root C5: ",
         "The root can also be E\u266D5, G\u266D5 or A5; the lowest is taken",
         3},
        {"C5", "Held by equal temperament: one note alone has no chord", "", 0},
        {"C5 C6", "Held by equal temperament: one note alone has no chord", "",
         0},
        {"C5 E5",
         "Held by equal temperament: two notes do not tell their chord", "", 0},
        {"C5 C#5 D5",
         "Held by equal temperament: no chord known here has these notes", "",
         0},
    };
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_hold_ask ask = {.notes = cases[i].notes};
        struct hbk_held held;
        struct hbk_text why = {.arena = &s.arena};
        const bool is_chord = cases[i].n_others > 0;
        assert_int_equal(hbk_hold_notes(&ask, &s.notes, &s.arena, &held, &why),
                         HBK_HOLD_FINE);
        assert_int_equal(held.is_just, is_chord);
        assert_int_equal(held.n_other_roots, cases[i].n_others);
        const char *const point = is_chord ? "" : ".";
        const char *const wanted =
            hbk_arena_printf(&s.arena, "%s%s", cases[i].words, point);
        assert_int_equal(strncmp(held.words, wanted, strlen(wanted)), 0);
        assert_string_equal(
            held.other_words,
            is_chord ? hbk_arena_printf(&s.arena, "%s.", cases[i].other_words)
                     : "");
        ask.root_by = "the baton";
        assert_int_equal(hbk_hold_notes(&ask, &s.notes, &s.arena, &held, &why),
                         HBK_HOLD_FINE);
        assert_string_equal(
            is_chord ? held.other_words : held.words,
            is_chord
                ? hbk_arena_printf(&s.arena, "%s, and the baton names another.",
                                   cases[i].other_words)
                : hbk_arena_printf(&s.arena, "%s; the baton names a root.",
                                   cases[i].words));
    }
    solved_close(&s);
}

static void what_cannot_be_held_is_said_by_its_name(void **state)
{
    (void)state;
    static const struct {
        struct hbk_hold_ask ask;
        enum hbk_hold_fault fault;
        const char *why;
    } cases[] = {
        {{"C5 X5", NULL, NULL}, HBK_HOLD_NOTES, "'X5' is not a written note"},
        {{"C9", NULL, NULL}, HBK_HOLD_NOTES, "C9 is outside the compass"},
        {{" , ", NULL, NULL}, HBK_HOLD_NOTES, "names no note"},
        {{"C5 E5", "Q", NULL}, HBK_HOLD_ROOT, "'Q' is not a written note"},
    };
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_held held;
        struct hbk_text why = {.arena = &s.arena};
        assert_int_equal(
            hbk_hold_notes(&cases[i].ask, &s.notes, &s.arena, &held, &why),
            cases[i].fault);
        assert_true(strncmp(hbk_text_string(&why), cases[i].why,
                            strlen(cases[i].why)) == 0);
    }
    solved_close(&s);
}

/* The second valve down: every note that needs it up is lost or changed. */
static void what_is_stuck_is_set_against_the_free_horn(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_account account;
    stuck_open(&s, &account);
    assert_true(account.lost > 0 && account.other > 0);
    for (size_t i = 0; i < account.n; i++) {
        const struct hbk_fate_of *const fate = &account.items[i];
        /* B4 is played with the second valve; now with nothing pressed. */
        if (fate->written == note_of("B4")) {
            assert_int_not_equal(fate->fate, HBK_FATE_LOST);
            assert_int_equal(fate->now->press, 0);
        }
        if (fate->written == note_of("C5")) {
            assert_int_not_equal(fate->fate, HBK_FATE_SAME);
        }
    }
    solved_close(&s);
}

static void the_horn_known_is_set_by_the_same_wishes(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_notes known;
    struct hbk_wishes wishes = hbk_wishes_none();
    wishes.a4_hz = 452.0;
    wishes.stuck = "valve:1=up";
    solved_read(&s, "alto-e-flat");
    assert_int_equal(
        hbk_solve_beside(&s.horn, &wishes, &s.arena, &known, &s.faults),
        HBK_OK);
    check_abs(known.setting.a4_hz, 452.0, 0.0);
    assert_int_equal(known.setting.stuck.held_up, 0);
    assert_true(known.n > 20);
    solved_close(&s);
}

static void a_sound_horn_is_understood_without_doubts(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_understood found;
    solved_read(&s, "cornet-b-flat");
    assert_int_equal(hbk_understand(&s.horn, &s.arena, &found, &s.faults),
                     HBK_OK);
    assert_int_equal(s.faults.count, 0);
    assert_int_equal(found.gaps->n, 0);
    assert_true(found.reach->highest_hz > found.reach->lowest_hz);
    assert_true(found.notes->n > 25);
    solved_close(&s);
    /* The one of tests/doubtful whose valves do the same. */
    struct hbk_horn horn;
    struct hbk_faults faults = {0};
    struct hbk_arena arena = {0};
    assert_int_equal(
        hbk_horn_read("tests/doubtful/valves-alike.yaml", &horn, &faults),
        HBK_OK);
    assert_int_equal(hbk_understand(&horn, &arena, &found, &faults), HBK_OK);
    assert_int_equal(faults.errors, 0);
    assert_int_equal(faults.items[0].number, 417);
    hbk_arena_finish(&arena);
    hbk_horn_finish(&horn);
}

static void count_horns(void *ctx, size_t count)
{
    size_t *const told = ctx;
    assert_int_equal(count, *told + 1);
    *told = count;
}

/* Those that can be read meet, in their order; the others say why not. */
static void a_band_meets_without_those_who_cannot(void **state)
{
    (void)state;
    static const char *const words[] = {"cornet-b-flat", "no-such-horn",
                                        "tests/data/good/compensating.yaml"};
    for (size_t threads = 1; threads <= COUNT(words); threads += 2) {
        struct hbk_arena arena = {0};
        struct hbk_band band;
        size_t told = 0;
        const struct hbk_band_ask ask = {.n = COUNT(words),
                                         .words = words,
                                         .wishes = hbk_wishes_none(),
                                         .threads = threads,
                                         .done = count_horns,
                                         .ctx = &told};
        hbk_band_gather(&ask, &arena, &band);
        assert_int_equal(told, COUNT(words));
        assert_int_equal(band.n, COUNT(words));
        assert_int_equal(band.members[1].status, HBK_ERR_INPUT);
        assert_int_equal(band.members[1].unmet, HBK_WISH_ALL);
        assert_int_equal(band.members[1].faults.items[0].number, 125);
        assert_int_equal(band.view.n, 2);
        assert_string_equal(band.view.words[0], words[0]);
        assert_string_equal(band.view.words[1], words[2]);
        assert_false(band.view.asked);
        check_abs(band.view.pitch.a4_hz,
                  hbk_common_pitch_find(2, band.view.members).a4_hz, 0.0);
        for (size_t i = 0; i < band.view.n; i++) {
            const struct hbk_pitch_member *const reach = &band.view.members[i];
            /* The last one's file has 21.5 degrees. */
            check_abs(reach->setting.temperature_c, 20.0, 0.0);
            check_abs(band.view.places[i].tuned.after_cents,
                      hbk_pitch_error(reach, band.view.pitch.a4_hz), 0.05);
        }
        hbk_band_finish(&band);
        hbk_arena_finish(&arena);
    }
}

static void a_band_is_set_as_it_is_asked(void **state)
{
    (void)state;
    static const char *const words[] = {"cornet-b-flat"};
    struct hbk_arena arena = {0};
    struct hbk_band band;
    struct hbk_band_ask ask = {
        .n = 1, .words = words, .wishes = hbk_wishes_none(), .threads = 1};
    ask.wishes.a4_hz = 431.0;
    ask.wishes.room_c = 12.0;
    ask.wishes.valve_slides = "best";
    hbk_band_gather(&ask, &arena, &band);
    assert_true(band.view.asked);
    check_abs(band.view.pitch.a4_hz, 431.0, 0.0);
    const struct hbk_setting *const setting = &band.members[0].reach.setting;
    check_abs(setting->room_c, 12.0, 0.0);
    assert_int_equal(setting->valve_slides, HBK_VALVE_SLIDES_BEST);
    hbk_band_finish(&band);
    ask.wishes.stuck = "key:1=open"; /* a cornet has no key */
    hbk_band_gather(&ask, &arena, &band);
    assert_int_equal(band.members[0].unmet, HBK_WISH_STUCK);
    assert_int_not_equal(band.members[0].status, HBK_OK);
    assert_true(band.members[0].why[0] != '\0');
    assert_int_equal(band.view.n, 0);
    hbk_band_finish(&band);
    hbk_arena_finish(&arena);
}

/* A file of tests/doubtful; what is said of it, by number. */
static bool is_doubted(const char *path, unsigned number)
{
    struct hbk_horn horn;
    struct hbk_faults faults = {0};
    struct hbk_arena arena = {0};
    struct hbk_understood found;
    bool is_told = false;
    assert_int_equal(hbk_horn_read(path, &horn, &faults), HBK_OK);
    assert_int_equal(hbk_understand(&horn, &arena, &found, &faults), HBK_OK);
    for (size_t i = 0; i < faults.count; i++) {
        is_told = is_told || faults.items[i].number == number;
    }
    assert_true(found.gaps->n > 0);
    hbk_arena_finish(&arena);
    hbk_horn_finish(&horn);
    return is_told;
}

/* Where a slip is found already, lost notes are most likely its doing. */
static void lost_notes_are_doubted_where_nothing_else_is(void **state)
{
    (void)state;
    assert_true(is_doubted("tests/doubtful/fundamental-left-out.yaml", 414));
    /* The same file with keys that are numbered from the wrong end. */
    assert_true(is_doubted("tests/doubtful/two-slips.yaml", 412));
    assert_false(is_doubted("tests/doubtful/two-slips.yaml", 414));
}

/* The fitted file stands alone, and its horn is nearer to the readings. */
static void a_fitted_horn_is_written_so_that_it_can_be_read(void **state)
{
    (void)state;
    struct fitted f;
    fitted_open(&f);
    struct solved *const s = &f.horn;
    assert_true(f.fit.report.after_rms < f.fit.report.before_rms);
    struct hbk_text out = {.arena = &s->arena};
    assert_int_equal(hbk_fit_write_horn(&f.fit, &s->horn, &out, &s->faults),
                     HBK_OK);
    struct hbk_horn again;
    assert_int_equal(hbk_horn_read_text("again.yaml", out.bytes, out.length,
                                        &again, &s->faults),
                     HBK_OK);
    assert_int_equal(again.n_controls, s->horn.n_controls);
    assert_null(strstr(hbk_text_string(&out), "based_on"));
    struct hbk_arena arena = {0};
    struct hbk_fit second;
    assert_int_equal(
        hbk_fit_horn(&again, &f.readings, &arena, &second, &s->faults), HBK_OK);
    /* What it now says before a second fit is what the first one said. */
    assert_true(second.report.before_rms < f.fit.report.before_rms);
    hbk_arena_finish(&arena);
    hbk_horn_finish(&again);
    fitted_close(&f);
}

/* Nobody fits a horn so far off, but what is written is read again. */
static void a_fitted_horn_that_is_none_is_not_written(void **state)
{
    (void)state;
    struct fitted f;
    fitted_open(&f);
    for (size_t i = 0; i < f.fit.parameters.n; i++) {
        f.fit.d[i] = -1e4;
    }
    struct hbk_text out = {.arena = &f.horn.arena};
    struct hbk_faults faults = {0};
    assert_int_equal(hbk_fit_write_horn(&f.fit, &f.horn.horn, &out, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.items[0].number, 357);
    assert_non_null(strstr(faults.items[0].text, "check the horn file"));
    fitted_close(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_chord_is_held_by_its_ratios),
        cmocka_unit_test(a_root_that_is_found_is_told_with_the_others),
        cmocka_unit_test(what_cannot_be_held_is_said_by_its_name),
        cmocka_unit_test(what_is_stuck_is_set_against_the_free_horn),
        cmocka_unit_test(the_horn_known_is_set_by_the_same_wishes),
        cmocka_unit_test(a_sound_horn_is_understood_without_doubts),
        cmocka_unit_test(lost_notes_are_doubted_where_nothing_else_is),
        cmocka_unit_test(a_band_meets_without_those_who_cannot),
        cmocka_unit_test(a_band_is_set_as_it_is_asked),
        cmocka_unit_test(a_fitted_horn_is_written_so_that_it_can_be_read),
        cmocka_unit_test(a_fitted_horn_that_is_none_is_not_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
