/*
 * One setting, one answer: what a player does before playing does not change
 * what he has learned, but where metal ends or keys have truly shifted.
 */
#include "support/solved.h"
#include "support/written.h"

#include "base/file.h"
#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "solve/setup.h"

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

/* Valves whose slides would have to go further than they can, as a mask. */
static uint32_t valves_at_end(const struct solved *s)
{
    uint32_t valves = 0;
    for (size_t k = 0; k < s->horn.n_slides; k++) {
        const struct hbk_slide *const slide = &s->horn.slides[k];
        const double want_m =
            slide->valve < 0 ? (double)NAN : s->notes.tuned.want_m[k];
        if (want_m < -1e-6 || want_m > slide->travel_m + 1e-6) {
            valves |= UINT32_C(1) << slide->valve;
        }
    }
    return valves;
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

/* What changes anywhere, each change once, as the golden file lists it. */
struct changes {
    struct hbk_text text;
    size_t n; /* of all settings */
};

static void add_change(struct changes *changes, const struct solved *here,
                       struct hbk_fingering from, struct hbk_fingering to,
                       int written)
{
    const struct hbk_horn *const horn = &here->horn;
    const int crook = here->setting.crook;
    char name[HBK_NAME_SIZE];
    char before[HBK_LABEL_SIZE];
    char after[HBK_LABEL_SIZE];
    const char *const line = hbk_arena_printf(
        changes->text.arena, "%s %s %s: %s (%u) to %s (%u)\n", horn->id,
        crook < 0 ? "-" : horn->crooks[crook].name,
        hbk_note_name(written, HBK_ASCII, name),
        hbk_horn_press_label(horn, from.press, before), from.partial,
        hbk_horn_press_label(horn, to.press, after), to.partial);
    changes->n++;
    if (strstr(hbk_text_string(&changes->text), line) == NULL) {
        hbk_text_add(&changes->text, line);
    }
}

/*
 * A first choice may change where the valve slide of either fingering ends,
 * or where tube was moved and the metal has shifted the one or the other.
 */
static void check_setting(const struct solved *own, const struct solved *here,
                          struct changes *changes)
{
    const uint32_t ends = valves_at_end(here);
    const double moved = tube_added(here) - tube_added(own);
    assert_int_equal(own->notes.n, here->notes.n);
    for (size_t i = 0; i < own->notes.n; i++) {
        if (!is_changed(&own->notes, &here->notes, i)) {
            continue;
        }
        const struct hbk_fingering from = first_of(&own->notes, i);
        const struct hbk_fingering to = first_of(&here->notes, i);
        add_change(changes, here, from, to, own->notes.notes[i].written);
        assert_true(((from.press | to.press) & ends) != 0 ||
                    (can_shift(&own->horn) && fabs(moved) > 1e-4 &&
                     is_shifted(&own->notes, &here->notes, i)));
    }
}

/* Every setting of one horn against its own pitch. */
static size_t check_horn(const char *name, struct changes *changes)
{
    struct solved own;
    size_t n = 0;
    solved_open(&own, name);
    for (int crook = -1; crook < (int)own.horn.n_crooks; crook++) {
        for (size_t i = 0; i < N_PITCHES * N_AIRS; i++) {
            struct solved here;
            solved_read(&here, name);
            here.setting.crook = crook;
            here.setting.a4_hz = pitches_hz[i / N_AIRS];
            here.setting.temperature_c = airs_c[i % N_AIRS];
            solved_run(&here);
            check_setting(&own, &here, changes);
            n++;
            solved_close(&here);
        }
    }
    solved_close(&own);
    return n;
}

static const char golden[] = "tests/golden/first-choices.txt";
static bool update;

static void pitch_and_weather_leave_the_fingerings(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    size_t settings = 0;
    struct changes changes = {.text = {.arena = &arena}};
    assert_true(n >= 25);
    for (size_t i = 0; i < n; i++) {
        settings += check_horn(horns[i].name, &changes);
    }
    print_message("# %zu settings, %zu first choices changed\n", settings,
                  changes.n);
    const char *const list = hbk_text_string(&changes.text);
    struct hbk_faults faults = {0};
    if (update) {
        assert_int_equal(write_one(golden, list, changes.text.length, &faults),
                         HBK_OK);
    }
    char *kept = NULL;
    size_t length = 0;
    assert_int_equal(
        hbk_file_read(golden, 1u << 20, &arena, &kept, &length, &faults),
        HBK_OK);
    if (strcmp(kept, list) != 0) {
        print_error("other first choices change than %s lists; look whether a "
                    "player would, then run this test with --update:\n%s",
                    golden, list);
    }
    assert_string_equal(kept, list);
    hbk_arena_finish(&arena);
}

int main(int argc, char *argv[])
{
    update = argc > 1 && strcmp(argv[1], "--update") == 0;
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pitch_and_weather_leave_the_fingerings),
    };
    return cmocka_run_group_tests_name("setup", tests, NULL, NULL);
}
