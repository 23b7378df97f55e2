/*
 * One player, one pull: for whom the file describes, and for the horn itself,
 * table, chart, slide card and common pitch set the slides alike.
 */
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#include "horn/pull.h"
#include "sheet/article/slide_card.h"
#include "sheet/words/words_player.h"
#include "sheet/words/words_slides.h"
#include "solve/common_pitch.h"
#include "solve/habit.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* Invented: as far sharp as a main slide of a cornet makes up for. */
static const struct hbk_habit sharp_player = {.offset_cents = 25.0,
                                              .slope_cents = 8.0};

/* A shipped horn that such a player plays. */
static void open_played(struct solved *s, const char *name, bool as_played)
{
    solved_read(s, name);
    s->horn.habit = sharp_player;
    s->setting.as_played = as_played;
}

static void check_same_pulls(const struct hbk_tuned *a,
                             const struct hbk_tuned *b)
{
    assert_int_equal(a->n_draws, b->n_draws);
    assert_int_equal(a->bits, b->bits);
    check_abs(a->after_cents, b->after_cents, 1e-9);
    for (size_t i = 0; i < a->n_draws; i++) {
        check_abs(a->draw_m[i], b->draw_m[i], 1e-12);
    }
}

/* "main slide 24.5 mm out" of a chart, "Pull the main slide 24.5 mm". */
static void check_printed(const struct solved *s,
                          const struct hbk_slides *slides)
{
    struct hbk_arena arena = {0};
    struct hbk_sheet chart = {.arena = &arena};
    struct hbk_sheet card = {.arena = &arena};
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet_options a6 = {.paper = HBK_A6};
    const struct hbk_sheet_options a4 =
        with_trills((struct hbk_sheet_options){.paper = HBK_A4},
                    HBK_LAYOUT_WALL, &s->notes, &arena);
    assert_int_equal(
        hbk_sheet_chart(HBK_LAYOUT_WALL, &s->notes, &a4, &ruler, &chart),
        HBK_OK);
    hbk_sheet_slide_card(slides, &a6, &ruler, &card);
    const char *const player = hbk_words_player(&arena, &s->horn);
    const struct hbk_sheet *const both[] = {&chart, &card};
    for (size_t i = 0; i < COUNT(both); i++) {
        assert_int_equal(strstr(sheet_words(both[i]), player) != NULL,
                         s->setting.as_played);
        check_no_clash(both[i], &ruler);
    }
    for (size_t i = 0; i < s->horn.n_slides; i++) {
        const double mm =
            hbk_pull_slide_mm(&s->horn, i, s->notes.tuned.draw_m[i]);
        const char *const name =
            hbk_words_slide_name(&arena, &s->horn.slides[i]);
        if (s->horn.slides[i].valve < 0 && mm > 0.0 && strlen(name) <= 12) {
            check_sheet_says(
                &chart, hbk_arena_printf(&arena, "%s %.4g mm out", name, mm));
            check_sheet_says(
                &card,
                hbk_arena_printf(&arena, "Pull the %s %.4g mm", name, mm));
        }
    }
    hbk_arena_finish(&arena);
}

/* The pull of the first main slide, m; all four ways to ask for it agree. */
static double check_agree(struct solved *s)
{
    struct hbk_pitch_member member;
    struct hbk_pitch_place place;
    solved_run(s);
    const struct hbk_slides slides = solved_slides(s);
    assert_int_equal(
        hbk_pitch_reach(&s->horn, &s->setting, &s->arena, &member, &s->faults),
        HBK_OK);
    member.n_setups = 1; /* without a crook, as the others */
    assert_int_equal(hbk_pitch_place(&member, s->setting.a4_hz, &s->arena,
                                     &place, &s->faults),
                     HBK_OK);
    check_same_pulls(&slides.notes.tuned, &s->notes.tuned);
    check_same_pulls(&place.tuned, &s->notes.tuned);
    double main_m = NAN;
    for (size_t i = 0; i < slides.n; i++) {
        check_abs(slides.pulls[i].draw_m, s->notes.tuned.draw_m[i], 1e-12);
        if (isnan(main_m) && s->horn.slides[i].valve < 0) {
            main_m = slides.pulls[i].draw_m;
        }
    }
    check_printed(s, &slides);
    return main_m;
}

static void every_shipped_horn_is_pulled_alike_for_one_player(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *list;
    const size_t n = hbk_shipped_list(&arena, &list);
    size_t further = 0;
    assert_true(n > 0);
    for (size_t i = 0; i < n; i++) {
        struct solved alone;
        struct solved played;
        open_played(&alone, list[i].name, false);
        open_played(&played, list[i].name, true);
        const double alone_m = check_agree(&alone);
        const double played_m = check_agree(&played);
        const struct hbk_tuned *const tuned = &played.notes.tuned;
        /* Tuned, or the slides are at their ends: never left where they were.*/
        if (fabs(tuned->after_cents) < 0.01 && played_m > alone_m) {
            further++;
        } else {
            assert_true(isnan(played_m) || tuned->after_cents > 0.01 ||
                        tuned->bits != alone.notes.tuned.bits);
        }
        solved_close(&alone);
        solved_close(&played);
    }
    print_message("# %zu of %zu horns are pulled further\n", further, n);
    assert_true(2 * further > n);
    hbk_arena_finish(&arena);
}

/*
 * By hand: the half wave of B flat at 440 Hz grows by what the player sounds
 * too sharp, and each loop with it: 25 cents, less what the slope takes away as
 * the tube gives a lower note. c = 343.2816 m/s (Keefe 1984, 20 degrees), two
 * legs.
 */
static const char plain_cornet[] =
    "hornbook: 1\n"
    "name: Plain cornet\n"
    "written_c4_sounds: Bb3\n"
    "tuning: {note: C5, a4: 440, temperature: 20}\n"
    "fundamental: Bb2\n"
    "player: {offset: 25, slope: 8}\n"
    "valves:\n"
    "  - {valve: 1, lowers: 200 cents, finger: right index}\n"
    "  - {valve: 3, lowers: 300 cents, finger: right ring}\n"
    "slides:\n"
    "  - {slide: main, travel: 60, legs: 2}\n"
    "  - {slide: first, valve: 1, travel: 20, legs: 2}\n"
    "  - {slide: third, valve: 3, travel: 20, legs: 2}\n";
static const double half_wave_m = 343.2816 / (2.0 * 116.54094);
static const double too_sharp_cents = 25.0 / (1.0 + 8.0 / 1200.0);

static void valves_follow_the_main_slide_of_the_player(void **state)
{
    (void)state;
    struct solved s = {0};
    if (hbk_horn_read_text("plain.yaml", plain_cornet, strlen(plain_cornet),
                           &s.horn, &s.faults) != HBK_OK) {
        fail_msg("%s", s.faults.items[0].text);
    }
    s.setting = hbk_setting_of(&s.horn);
    s.setting.as_played = true;
    const double added_m =
        half_wave_m * (hbk_cents_ratio(too_sharp_cents) - 1.0);
    /* However little the pitch is off the horn's own, nothing jumps. */
    for (int i = -1; i <= 1; i++) {
        s.setting.a4_hz = 440.0 + (1e-5 * i);
        const struct hbk_slides slides = solved_slides(&s);
        check_abs(slides.pulls[0].draw_m, 0.5 * added_m, 2e-6);
        check_abs(slides.pulls[1].draw_m,
                  0.5 * added_m * (hbk_cents_ratio(200.0) - 1.0), 2e-6);
        check_abs(slides.pulls[2].draw_m,
                  0.5 * added_m * (hbk_cents_ratio(300.0) - 1.0), 2e-6);
    }
    solved_close(&s);
}

/* A slope turns about the tuning note, which then needs no other pull. */
static void a_slope_alone_moves_no_slide(void **state)
{
    (void)state;
    struct solved alone;
    struct solved played;
    open_played(&alone, "cornet-b-flat", false);
    open_played(&played, "cornet-b-flat", true);
    played.horn.habit.offset_cents = 0.0;
    solved_run(&alone);
    solved_run(&played);
    check_same_pulls(&alone.notes.tuned, &played.notes.tuned);
    const struct hbk_fingering *const a = &note_at(&alone, "C4")->fingerings[0];
    const struct hbk_fingering *const b =
        &note_at(&played, "C4")->fingerings[0];
    assert_int_equal(a->press, b->press);
    check_abs(b->cents - a->cents, hbk_habit_cents(&played.horn, a->hz), 1e-6);
    check_abs(b->cents - a->cents, -8.0, 0.2);
    solved_close(&alone);
    solved_close(&played);
}

static void the_player_is_told_in_whole_cents(void **state)
{
    (void)state;
    static const struct {
        struct hbk_habit habit;
        const char *words;
    } cases[] = {
        {{25.0, 8.0},
         "As its player plays it: 25 cents sharper than the horn on the tuning "
         "note, and 8 cents sharper with every octave above it."},
        {{-1.2, -1.0},
         "As its player plays it: 1 cent flatter than the horn on the tuning "
         "note, and 1 cent flatter with every octave above it."},
        {{-7.0, 0.3},
         "As its player plays it: 7 cents flatter than the horn on the tuning "
         "note."},
        {{0.0, 11.6},
         "As its player plays it: like the horn on the tuning note, and 12 "
         "cents sharper with every octave above it."},
        {{0.0, 0.0},
         "The horn's file says nothing of its player, so this is the horn "
         "itself."}};
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    for (size_t i = 0; i < COUNT(cases); i++) {
        s.horn.habit = cases[i].habit;
        assert_string_equal(hbk_words_player(&s.arena, &s.horn),
                            cases[i].words);
    }
    solved_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_shipped_horn_is_pulled_alike_for_one_player),
        cmocka_unit_test(valves_follow_the_main_slide_of_the_player),
        cmocka_unit_test(a_slope_alone_moves_no_slide),
        cmocka_unit_test(the_player_is_told_in_whole_cents),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
