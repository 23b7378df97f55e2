/*
 * One setting, one answer: what a player does before playing does not change
 * what he has learned, but where metal ends or keys have truly shifted.
 */
#include "support/solved.h"

#include "solve/setup.h"
#include "solve/valve_slides.h"

/*
 * The pitches and temperatures at which every shipped horn is asked. A = 415
 * and 466 are a semitone on either side of 440; 435, 452.5: Encyclopaedia
 * Britannica 1911, Pitch, Musical.
 */
static const double pitches_hz[] = {415.0, 435.0, 438.0, 444.0, 452.5, 466.0};
static const double airs_c[] = {10.0, 20.0, 30.0};

enum {
    N_PITCHES = sizeof(pitches_hz) / sizeof(pitches_hz[0]),
    N_AIRS = sizeof(airs_c) / sizeof(airs_c[0])
};

/* The first choice of a note; partial 0 where it is out of reach. */
static struct hbk_fingering first_of(const struct hbk_notes *notes, size_t i)
{
    const struct hbk_note *const note = &notes->notes[i];
    return note->n == 0 ? (struct hbk_fingering){0} : note->fingerings[0];
}

static bool is_changed(const struct hbk_notes *own,
                       const struct hbk_notes *here, size_t i)
{
    const struct hbk_fingering a = first_of(own, i);
    const struct hbk_fingering b = first_of(here, i);
    return a.partial != b.partial || a.press != b.press;
}

static size_t count_changes(const struct hbk_notes *own,
                            const struct hbk_notes *here)
{
    size_t n = 0;
    assert_int_equal(own->n, here->n);
    for (size_t i = 0; i < own->n; i++) {
        n += is_changed(own, here, i);
    }
    return n;
}

/* Cents of a fingering among those of a note; NAN if it is not kept. */
static double cents_of(const struct hbk_note *note, struct hbk_fingering which)
{
    for (size_t k = 0; k < note->n; k++) {
        const struct hbk_fingering *const f = &note->fingerings[k];
        if (f->press == which.press && f->partial == which.partial) {
            return f->cents;
        }
    }
    return (double)NAN;
}

/*
 * Whether what was the first choice, or has become it, lies a tenth of a cent
 * or more from where it lay, counted from the pitch the horn has each time.
 */
static bool is_shifted(const struct hbk_notes *own,
                       const struct hbk_notes *here, size_t i)
{
    const struct hbk_fingering choices[] = {first_of(own, i),
                                            first_of(here, i)};
    for (size_t k = 0; k < 2; k++) {
        const double before = cents_of(&own->notes[i], choices[k]);
        const double after = cents_of(&here->notes[i], choices[k]);
        if (!(fabs(after - before) < 0.1)) {
            return true;
        }
    }
    return false;
}

static bool all_shifted(const struct hbk_notes *own,
                        const struct hbk_notes *here)
{
    for (size_t i = 0; i < own->n; i++) {
        if (is_changed(own, here, i) && !is_shifted(own, here, i)) {
            return false;
        }
    }
    return true;
}

/* Whether a valve slide would have to go further than it can. */
static bool slide_ends(const struct solved *s, struct hbk_arena *arena)
{
    double own_m[HBK_SLIDES_MAX];
    assert_int_equal(
        hbk_valve_slides_own(&s->horn, &s->setting, arena, own_m, NULL),
        HBK_OK);
    for (size_t k = 0; k < s->horn.n_slides; k++) {
        const struct hbk_slide *const slide = &s->horn.slides[k];
        if (slide->valve >= 0 &&
            (own_m[k] < -1e-6 || own_m[k] > slide->travel_m + 1e-6)) {
            return true;
        }
    }
    return false;
}

/* A valve whose loop nothing lengthens does not follow the main slide. */
static bool loop_is_fixed(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        bool has_slide = horn->controls[i].kind != HBK_VALVE;
        for (size_t k = 0; k < horn->n_slides; k++) {
            has_slide = has_slide || horn->slides[k].valve == (int)i;
        }
        if (!has_slide) {
            return true;
        }
    }
    return false;
}

/*
 * Whether tube put in or taken away tells on some notes more than on others:
 * keys are holes at their places, and a bore is no plain tube.
 */
static bool can_shift(const struct hbk_horn *horn)
{
    return hbk_horn_has_kind(horn, HBK_KEY) || loop_is_fixed(horn) ||
           horn->model == HBK_MODEL_BORE;
}

/* Tube that main slides and crook add to what the file has, m. */
static double tube_added(const struct solved *s)
{
    double moved =
        s->setting.crook < 0 ? 0.0 : s->horn.crooks[s->setting.crook].adds_m;
    for (size_t k = 0; k < s->horn.n_slides; k++) {
        const struct hbk_slide *const slide = &s->horn.slides[k];
        if (slide->valve < 0) {
            moved +=
                slide->legs * (s->notes.tuned.draw_m[k] - slide->stands_out_m);
        }
    }
    return moved;
}

/* Every setting of one horn against its own pitch. */
static void check_horn(const char *name, size_t *settings, size_t *changed)
{
    struct solved own;
    solved_open(&own, name);
    const struct hbk_horn *const horn = &own.horn;
    for (int crook = -1; crook < (int)horn->n_crooks; crook++) {
        for (size_t i = 0; i < N_PITCHES * N_AIRS; i++) {
            struct solved here;
            solved_read(&here, name);
            here.setting.crook = crook;
            here.setting.a4_hz = pitches_hz[i / N_AIRS];
            here.setting.temperature_c = airs_c[i % N_AIRS];
            solved_run(&here);
            const size_t n = count_changes(&own.notes, &here.notes);
            ++*settings;
            *changed += n;
            if (n > 0) {
                const double moved = tube_added(&here) - tube_added(&own);
                print_message(
                    "%s, crook %d, A = %.1f, %.0f degrees: %zu "
                    "change, %.0f mm of tube moved, %.0f cents left\n",
                    name, crook, here.setting.a4_hz, here.setting.temperature_c,
                    n, 1000.0 * moved, here.notes.tuned.left_cents);
                assert_true(slide_ends(&here, &here.arena) ||
                            (can_shift(horn) && fabs(moved) > 1e-4 &&
                             all_shifted(&own.notes, &here.notes)));
            }
            solved_close(&here);
        }
    }
    solved_close(&own);
}

static void pitch_and_weather_leave_the_fingerings(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    size_t settings = 0;
    size_t changed = 0;
    assert_true(n >= 25);
    for (size_t i = 0; i < n; i++) {
        check_horn(horns[i].name, &settings, &changed);
    }
    print_message("%zu settings, %zu first choices changed\n", settings,
                  changed);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pitch_and_weather_leave_the_fingerings),
    };
    return cmocka_run_group_tests_name("setup", tests, NULL, NULL);
}
