/*
 * What reports say in words, line by line: of hard places, tempos and other
 * ways of a passage, of choices, notes, keys and slides.
 */
#include "support/editions.h"
#include "support/told.h"

#include "passage/scale.h"
#include "report/choose.h"
#include "report/columns.h"
#include "report/notes.h"
#include "report/passage.h"
#include "report/passage_hard.h"
#include "report/passage_moved.h"
#include "report/passage_tempo.h"
#include "report/scales.h"
#include "report/slides.h"
#include "report/stuck.h"
#include "sheet/words/words_slides.h"
#include "solve/slides.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* Four times the same four notes, too quick for the ring finger. */
static const char quick[] =
    "X:1\nM:4/4\nL:1/16\nK:C\nQ:1/4=300\n^DEFE ^DEFE ^DEFE ^DEFE|\n";

static void hard_places_are_told_with_those_like_them(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", quick, &ask);
    const struct hbk_passage *const passage = &p.performed.passage;
    const struct hbk_passage_note *worst = NULL;
    size_t n_hard = 0;
    size_t n_worst = 0;
    for (size_t i = 0; i < passage->n; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        if (note->playable_quarters <= 0.0) {
            continue;
        }
        n_hard++;
        if (worst == NULL ||
            note->playable_quarters < worst->playable_quarters) {
            worst = note;
            n_worst = 0;
        }
        n_worst += note->playable_quarters == worst->playable_quarters ? 1 : 0;
    }
    assert_true(n_worst > 1);
    size_t n = 0;
    const char *const *const lines =
        hbk_passage_hard(&p.performed.view, &p.arena, &n);
    const char *const pace = hbk_passage_pace(
        &p.performed.view, 0, worst->playable_quarters, &p.arena);
    check_line(lines[0], hbk_arena_printf(&p.arena,
                                          "playable from about %s down (and "
                                          "%zu like it)",
                                          pace, n_worst - 1));
    check_line(
        lines[n - 1],
        hbk_arena_printf(&p.arena, "All of it from about %s down.", pace));
    struct told told = told_in(&p.arena);
    hbk_passage_text(&p.performed.view, NULL, &told.text);
    assert_int_equal(count_of(hbk_text_string(&told.text), "   !\n"), n_hard);
    perform_done(&p);
}

/*
 * More kinds of hard places than are told, at one of two tempos; among them a
 * leap of the lip, which takes longer than the fingers.
 */
static void what_is_hard_is_told_worst_first_up_to_a_dozen(void **state)
{
    (void)state;
    static const char abc[] =
        "X:1\nM:4/4\nL:1/16\nQ:1/4=90\nK:C\nC4 D4 E4 F4|[Q:1/4=300]C^CD^D "
        "EF^FG ^GA_BB C^CD^D|C^CD^D EF^FG ^GA_BB C^CcG|\n";
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", abc, &ask);
    const struct hbk_passage *const passage = &p.performed.passage;
    double share = 1.0;
    const struct hbk_passage_note *leap = NULL;
    for (size_t i = 0; i < passage->n; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        if (note->playable_quarters > 0.0) {
            share = fmin(share, note->playable_quarters / note->quarters);
            leap = note->lip_s > note->hands_s + 0.01 ? note : leap;
        }
    }
    size_t n = 0;
    const char *const *const lines =
        hbk_passage_hard(&p.performed.view, &p.arena, &n);
    assert_int_equal(n, 14);
    assert_string_equal(lines[12], "and 3 more that are easier");
    check_line(lines[13],
               hbk_arena_printf(&p.arena, "All of it from about %.0f %% of",
                                floor(100.0 * share)));
    assert_non_null(leap);
    size_t n_leaps = 0;
    const char *const time =
        hbk_arena_printf(&p.arena, "it takes about %.2f s:", leap->lip_s);
    for (size_t i = 0; i < n; i++) {
        const bool is_leap =
            strstr(lines[i], "the lip goes from partial") != NULL;
        n_leaps += is_leap && strstr(lines[i], time) != NULL ? 1 : 0;
    }
    assert_true(n_leaps > 0);
    perform_done(&p);
}

static void a_tempo_that_comes_late_is_told_as_such(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    perform_abc(&p, "cornet-b-flat", "X:1\nL:1/4\nK:C\nC [Q:1/4=60]D|\n", &ask);
    assert_string_equal(hbk_passage_tempo(&p.performed.view, &p.arena),
                        "quarter = 100, for the tune gives none at its "
                        "beginning");
    perform_done(&p);
}

static void a_part_is_said_to_be_moved_as_it_was(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_notes own = {.horn = NULL};
    const struct hbk_notes bass = {.setting = {.reads = HBK_READS_BASS},
                                   .notation = {.shift = -14}};
    const struct hbk_passage_view up = {.notes = &own, .placing.for_horn = 2};
    const struct hbk_passage_view down = {.notes = &own,
                                          .placing.for_horn = -2};
    const struct hbk_passage_view stays = {.notes = &own,
                                           .placing.for_horn = 0};
    const struct hbk_passage_view read = {.notes = &bass,
                                          .placing.for_horn = 2};
    const struct hbk_passage_view as_is = {.notes = &bass,
                                           .placing.for_horn = 14};
    assert_string_equal(hbk_passage_moved(&up, &arena),
                        "The part is moved up by a whole tone for this horn");
    assert_string_equal(hbk_passage_moved(&down, &arena),
                        "The part is moved down by a whole tone for this horn");
    assert_null(hbk_passage_moved(&stays, &arena));
    assert_string_equal(
        hbk_passage_moved(&read, &arena),
        "The part is moved down by an octave for the player who reads it");
    assert_null(hbk_passage_moved(&as_is, &arena));
    assert_string_equal(
        hbk_passage_reads(&up, &arena),
        "for a horn that reads these notes a whole tone higher");
    assert_string_equal(hbk_passage_reads(&down, &arena),
                        "for a horn that reads these notes a whole tone lower");
    assert_null(hbk_passage_reads(&stays, &arena));
    hbk_arena_finish(&arena);
}

/* E5 goes with 0, 1-2 and 3; the first one is kept on 3. */
static void other_ways_stand_behind_the_one_taken(void **state)
{
    (void)state;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct performance p;
    ask.keep = true;
    ask.choices = 2.0;
    perform_abc(&p, "cornet-b-flat",
                "X:1\nL:1/4\nM:4/4\nK:C\n\"_3\"e e e e|e e e e|\n", &ask);
    struct hbk_passage *const passage = &p.performed.passage;
    struct told told = told_in(&p.arena);
    hbk_passage_text(&p.performed.view, NULL, &told.text);
    const char *const text = shown(&told.text);
    assert_int_equal(count_of(text, " 3 * "), 1);
    assert_int_equal(count_of(text, " 1-2 (6) +"), 7);
    assert_int_equal(count_of(text, " 3 (6) +"), 7);
    /* A way that differs on all eight notes, of which six are told. */
    unsigned char other[8];
    memset(other, passage->ways[0].pick[1] == 0 ? 1 : 0, sizeof(other));
    const struct hbk_passage_way ways[] = {
        passage->ways[0],
        {.price = 400.0 + passage->ways[0].price, .pick = other}};
    passage->ways = ways;
    passage->n_ways = 2;
    struct hbk_text again = {.arena = &p.arena};
    hbk_passage_text(&p.performed.view, NULL, &again);
    const char *const head = "Next best for the whole\n  +20:";
    const char *const way = strstr(shown(&again), head);
    assert_non_null(way);
    assert_int_equal(count_of(way, "beat "), 6);
    check_says(&again, "; and 2 more\n");
    perform_done(&p);
}

static void a_choice_names_bars_losses_and_haste(void **state)
{
    (void)state;
    static const struct hbk_suit_out out[] = {
        {"1", 84}, {"2", 84}, {"3", 84}, {"4", 84}, {"5", 84},
        {"6", 84}, {"7", 84}, {"8", 84}, {"9", 84}, {"10", 84}};
    struct hbk_chosen horn = {.word = "w",
                              .name = "N",
                              .suit = {.n_notes = 20,
                                       .n_out = COUNT(out),
                                       .out = out,
                                       .worst_bar = "1",
                                       .hurry = 0.1,
                                       .extreme_share = 0.3,
                                       .left_cents = 12.0,
                                       .lost_tuning = 2.0,
                                       .lost_comfort = 0.04}};
    const struct hbk_choice choice = {
        .title = "", .quarters = 100.0, .n = 1, .horns = &horn};
    struct hbk_arena arena = {0};
    struct hbk_text text = {.arena = &arena};
    hbk_choose_text(&choice, &text);
    check_says(&text, "bar 8: C6 and in later bars)");
    check_says(&text, "; every move is in time, some hurried");
    check_says(&text, "; 30 % of the time in its extreme notes");
    check_says(&text, "; all 12 cents sharp of A");
    check_says(&text, "Lost: tuning 2.0.");
    horn.suit.hurry = 0.01;
    horn.suit.extreme_share = 0.004;
    struct hbk_text calm = {.arena = &arena};
    hbk_choose_text(&choice, &calm);
    check_says(&calm, "; nothing is hurried");
    assert_null(strstr(hbk_text_string(&calm), "of the time"));
    hbk_arena_finish(&arena);
}

static void what_plays_in_another_way_is_told_as_it_differs(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    const struct hbk_fingering was = {.press = 1, .partial = 4, .cents = 3.0};
    const struct hbk_fingering off = {.press = 1, .partial = 4, .cents = -9.0};
    const struct hbk_fingering up = {.press = 1, .partial = 5, .cents = -7.0};
    const struct hbk_fingering two = {.press = 2, .partial = 4, .cents = 6.0};
    const struct hbk_fate_of items[] = {{60, HBK_FATE_OTHER, &was, &off},
                                        {62, HBK_FATE_OTHER, &was, &up},
                                        {64, HBK_FATE_OTHER, &was, &two},
                                        {65, HBK_FATE_GAINED, NULL, &two}};
    const struct hbk_account account = {
        .n = COUNT(items), .items = items, .other = 3, .gained = 1};
    struct hbk_text text = {.arena = &s.arena};
    hbk_stuck_text(&s.notes, &account, &text);
    check_says(&text, "nothing is lost\navailable only now: F4\n");
    check_says(&text, "  C4   1 as before, but -9 cents, not +3\n");
    check_says(&text,
               "  D4   1 on partial 5 (-7 cents) in place of partial 4\n");
    check_says(&text, "  E4   2 (+6 cents) in place of 1\n");
    solved_close(&s);
}

/* Behind the first way stands how far each is from its place in the chord. */
static void ways_of_a_chord_are_told_from_its_places(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_held held;
    held_open(&s, "C5 E5 G5", &held);
    const struct hbk_notes_view view = {
        .notes = &s.notes, .held = &held, .alternates = SIZE_MAX};
    struct hbk_text text = {.arena = &s.arena};
    hbk_notes_text(&view, &text);
    const struct hbk_note *const third = &held.notes[1].note;
    assert_true(third->n > 1);
    for (size_t i = 1; i < third->n; i++) {
        const struct hbk_fingering *const f = &third->fingerings[i];
        check_says(&text, hbk_arena_printf(&s.arena, "(%u, %+.0f)", f->partial,
                                           f->cents - held.notes[1].aim_cents));
    }
    solved_close(&s);
}

static void a_slide_that_a_hand_draws_is_told_in_mm(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    struct hbk_fingering drawn = s.notes.notes[0].fingerings[0];
    drawn.drawn_m = 0.012;
    struct hbk_note note = s.notes.notes[0];
    note.n = 1;
    note.fingerings = &drawn;
    struct hbk_notes notes = s.notes;
    notes.n = 1;
    notes.notes = &note;
    const struct hbk_notes_view view = {.notes = &notes,
                                        .alternates = SIZE_MAX};
    struct told told = told_in(&s.arena);
    hbk_notes_text(&view, &told.text);
    hbk_notes_csv(&view, &told.csv);
    check_says(&told.text, " pulled 12 mm\n");
    assert_string_equal(
        csv_at(hbk_text_string(&told.csv), 0, "pulled_mm", &s.arena), "12.0");
    solved_close(&s);
}

static void each_key_stands_once_among_its_kind(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-6");
    const struct hbk_scales *const scales = hbk_scales_of(&s.notes, &s.arena);
    const struct hbk_scales_view view = {&s.notes, scales};
    struct hbk_text text = {.arena = &s.arena};
    hbk_scales_text(&view, &text);
    size_t n_placed = 0;
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_scale *const key = &scales->keys[i];
        char name[HBK_KEY_NAME_SIZE];
        if (key->place == 0) {
            continue;
        }
        const char *const row = hbk_arena_printf(
            &s.arena, "\n%5u %5u  %s ", key->place_in_mode, key->place,
            hbk_scale_name(key, HBK_UNICODE, name));
        assert_int_equal(count_of(hbk_text_string(&text), row), 1);
        n_placed++;
    }
    assert_true(n_placed > 6);
    solved_close(&s);
}

static void slides_are_told_with_each_way_to_set_them(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    const struct hbk_slides slides = solved_slides(&s);
    struct told told = told_in(&s.arena);
    hbk_slides_text(&slides, &told.text);
    hbk_slides_csv(&slides, &told.csv);
    size_t n_out = 0;
    size_t n_just_out = 0;
    size_t n_apart = 0;
    for (size_t i = 0; i < slides.notes.n; i++) {
        const struct hbk_slide_note *const note = &slides.list[i];
        const double cents = fabs(slides.notes.notes[i].fingerings[0].cents);
        n_out += round(cents) >= HBK_STAYS_OUT_CENTS ? 1 : 0;
        n_just_out +=
            cents >= HBK_STAYS_OUT_CENTS && cents < 1.5 * HBK_STAYS_OUT_CENTS
                ? 1
                : 0;
        if (fabs(note->own_cents - note->best_cents) > 2.0) {
            check_says(&told.text,
                       hbk_arena_printf(&s.arena, "%+15.0f%+12.0f\n",
                                        hbk_report_whole(note->own_cents),
                                        hbk_report_whole(note->best_cents)));
            check_says(&told.csv,
                       hbk_arena_printf(&s.arena, ",%.2f,%.2f,%.2f,",
                                        note->home_cents, note->own_cents,
                                        note->best_cents));
            n_apart++;
        }
    }
    assert_true(n_apart > 3 && n_just_out > 0);
    assert_int_equal(count_of(hbk_text_string(&told.text), " *"), n_out);
    check_says(&told.text, "\n* 15 cents off or more: lip it or use an "
                           "alternate\n");
    solved_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hard_places_are_told_with_those_like_them),
        cmocka_unit_test(what_is_hard_is_told_worst_first_up_to_a_dozen),
        cmocka_unit_test(a_tempo_that_comes_late_is_told_as_such),
        cmocka_unit_test(a_part_is_said_to_be_moved_as_it_was),
        cmocka_unit_test(other_ways_stand_behind_the_one_taken),
        cmocka_unit_test(a_choice_names_bars_losses_and_haste),
        cmocka_unit_test(what_plays_in_another_way_is_told_as_it_differs),
        cmocka_unit_test(ways_of_a_chord_are_told_from_its_places),
        cmocka_unit_test(a_slide_that_a_hand_draws_is_told_in_mm),
        cmocka_unit_test(each_key_stands_once_among_its_kind),
        cmocka_unit_test(slides_are_told_with_each_way_to_set_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
