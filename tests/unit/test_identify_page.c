/*
 * Whole pages of readings: of the horn they are asked of, named otherwise,
 * counted from the other end, of no horn. The pages are made by the program
 * itself from the shipped horns, so this is a check of the question against
 * our own model, not of the model.
 */
#include "support/rng.h"
#include "support/solved.h"

#include "fit/identify.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"

enum { READ_MAX = 14, HORNS_MAX = 64, DRAWN_MAX = 16 };

struct page {
    struct hbk_readings readings;
    struct hbk_reading items[READ_MAX];
    struct hbk_reading_set set;
    struct hbk_reading_draw draws[DRAWN_MAX];
    char labels[READ_MAX][HBK_LABEL_SIZE];
};

/* The slides as the horn was tuned. */
static void set_slides(struct page *page, const struct solved *s)
{
    page->set = (struct hbk_reading_set){.draws = page->draws};
    for (size_t i = 0; i < s->horn.n_slides; i++) {
        page->draws[page->set.n_draws++] =
            (struct hbk_reading_draw){.slide = s->horn.slides[i].name,
                                      .draw_m = s->notes.tuned.draw_m[i]};
    }
    for (unsigned b = 0; b < s->horn.n_bits; b++) {
        if ((s->notes.tuned.bits >> b & 1U) != 0) {
            page->set.bits[page->set.n_bits++] = b + 1;
        }
    }
}

/* By how much the pages are sharp as a whole, and the tuner's own error. */
static const double overall_cents = 12.0;
static const double error_cents = 4.0;

/* Notes of the horn by their first choices, all a little sharp. */
static void make_page(struct page *page, const struct solved *s,
                      struct rng *rng)
{
    memset(page, 0, sizeof(*page));
    set_slides(page, s);
    page->readings =
        (struct hbk_readings){.path = "page.yaml", .readings = page->items};
    const size_t step = 1 + (s->notes.n / READ_MAX);
    for (size_t i = 0; i < s->notes.n && page->readings.n < READ_MAX;
         i += step) {
        const struct hbk_note *const note = &s->notes.notes[i];
        if (note->n == 0) {
            continue;
        }
        const size_t at = page->readings.n++;
        page->items[at] = (struct hbk_reading){
            .place = {"page.yaml", (unsigned)at + 1, 1},
            .note = note->written,
            .fingering = hbk_horn_press_label(
                &s->horn, note->fingerings[0].press, page->labels[at]),
            .cents = note->fingerings[0].cents + overall_cents +
                     (error_cents * rng_normal(rng)),
            .uncertainty_cents = 5.0,
            .a4_hz = s->notes.tuned.pitch_hz,
            .temperature_c = s->setting.temperature_c,
            .set = &page->set};
    }
}

/* The same page by someone who counts the keys from the other end. */
static void count_from_the_other_end(struct page *page,
                                     const struct hbk_horn *horn)
{
    const enum hbk_control_kind kind =
        hbk_horn_has_kind(horn, HBK_KEY) ? HBK_KEY : HBK_VALVE;
    size_t of_kind[HBK_CONTROLS_MAX];
    size_t n = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == kind) {
            of_kind[n++] = i;
        }
    }
    for (size_t r = 0; r < page->readings.n; r++) {
        uint32_t press = 0;
        assert_true(
            hbk_horn_press_parse(horn, page->items[r].fingering, &press));
        uint32_t other = press;
        for (size_t k = 0; k < n; k++) {
            const uint32_t bit = UINT32_C(1) << of_kind[k];
            const uint32_t mirror = UINT32_C(1) << of_kind[n - 1 - k];
            other = (press & bit) != 0 ? other | mirror : other & ~mirror;
        }
        hbk_horn_press_label(horn, other, page->labels[r]);
    }
}

/* The same page with the names that a tuner shows. */
static void name_as_the_tuner_does(struct page *page,
                                   const struct hbk_horn *horn)
{
    for (size_t r = 0; r < page->readings.n; r++) {
        page->items[r].note += horn->written_c4_sounds - HBK_NOTE_C4;
    }
}

static bool ask_one(const struct page *page, const struct hbk_horn *horn,
                    struct hbk_arena *arena, struct hbk_identified *found)
{
    const enum hbk_status status =
        hbk_identify(1, &horn, &page->readings, arena, found);
    assert_int_equal(status, found->is_explained ? HBK_OK : HBK_ERR_NO_RESULT);
    return found->is_explained;
}

static size_t count_controls(const struct hbk_horn *horn)
{
    const enum hbk_control_kind kind =
        hbk_horn_has_kind(horn, HBK_KEY) ? HBK_KEY : HBK_VALVE;
    size_t n = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        n += horn->controls[i].kind == kind ? 1 : 0;
    }
    return n;
}

/*
 * Five readings or more of a horn by its length tell its pitch to three of
 * their standard errors; of a bored one length, flare and holes take a part.
 */
static void check_pitch(const struct hbk_horn *horn,
                        const struct hbk_identified_layout *layout)
{
    if (horn->model == HBK_MODEL_LENGTH) {
        check_abs(layout->pitch_cents, overall_cents,
                  3.0 * error_cents / sqrt(5.0));
    }
}

static void check_horn(const char *id, struct rng *rng, size_t counts[2])
{
    static struct page page;
    struct solved s;
    struct hbk_arena arena = {0};
    struct hbk_identified found;
    solved_open(&s, id);
    make_page(&page, &s, rng);
    print_message("# %s, %zu readings\n", id, page.readings.n);
    assert_true(page.readings.n >= 5);
    assert_true(ask_one(&page, &s.horn, &arena, &found));
    assert_null(found.otherwise);
    check_pitch(&s.horn, &found.layouts[0]);
    check_abs(found.layouts[0].probability, 1.0, 0.0);
    assert_true(found.layouts[0].fit.chi_square < found.layouts[0].fit.limit);
    const int away = s.horn.written_c4_sounds - HBK_NOTE_C4;
    if (away % 12 != 0) {
        struct page tuners = page;
        for (size_t r = 0; r < tuners.readings.n; r++) {
            tuners.items[r].fingering = tuners.labels[r];
            tuners.items[r].set = &tuners.set;
        }
        tuners.readings.readings = tuners.items;
        tuners.set.draws = tuners.draws;
        name_as_the_tuner_does(&tuners, &s.horn);
        (void)ask_one(&tuners, &s.horn, &arena, &found);
        assert_non_null(found.otherwise);
        assert_int_equal(found.otherwise->naming, HBK_NAMED_OTHERWISE);
        check_pitch(&s.horn, &found.otherwise->layouts[0]);
        counts[0]++;
    }
    if (count_controls(&s.horn) > 1) {
        count_from_the_other_end(&page, &s.horn);
        assert_false(ask_one(&page, &s.horn, &arena, &found));
        check_abs(found.layouts[0].probability, 0.0, 0.0);
        assert_int_equal(found.n_next, 0);
        assert_non_null(found.otherwise);
        assert_int_equal(found.otherwise->naming, HBK_NUMBERED_OTHERWISE);
        counts[1]++;
    }
    solved_close(&s);
    hbk_arena_finish(&arena);
}

static void every_shipped_horn_is_known_by_its_page(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct rng rng = {.state = 31};
    size_t n = 0;
    size_t counts[2] = {0};
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        check_horn(horns[i].name, &rng, counts);
    }
    /* Most horns stand in another key than C, and have two controls. */
    assert_true(counts[0] > n / 2 && counts[1] > n / 2);
    hbk_arena_finish(&arena);
}

/* Notes and fingerings by the dice, of the compass of a cornet. */
static void roll(struct page *page, size_t n, const char *const labels[],
                 size_t n_labels, struct rng *rng)
{
    memset(page, 0, sizeof(*page));
    page->readings = (struct hbk_readings){
        .path = "dice.yaml", .readings = page->items, .n = n};
    const int low = note_of("F#3");
    const uint64_t width = (uint64_t)(note_of("C6") - low + 1);
    for (size_t i = 0; i < n; i++) {
        page->items[i] =
            (struct hbk_reading){.place = {"dice.yaml", (unsigned)i + 1, 1},
                                 .note = low + (int)(rng_next(rng) % width),
                                 .fingering = labels[rng_next(rng) % n_labels],
                                 .cents = (100.0 * rng_unit(rng)) - 50.0,
                                 .uncertainty_cents = 5.0,
                                 .a4_hz = 440.0,
                                 .temperature_c = 20.0,
                                 .set = &page->set};
    }
}

/* A dozen notes by the dice are no horn's, in whatever way they are named. */
static void a_page_by_the_dice_is_none_of_them(void **state)
{
    (void)state;
    static const char *const cornets[] = {"cornet-b-flat",
                                          "cornet-b-flat-semitone-first",
                                          "cornet-b-flat-third-two-tones"};
    static const char *const bugles[] = {"keyed-bugle-c-6",
                                         "keyed-bugle-b-flat-7-f-sharp",
                                         "keyed-bugle-b-flat-7-second-e-flat"};
    static const char *const valves[] = {"0",   "1",   "2",   "3",
                                         "1-2", "1-3", "2-3", "1-2-3"};
    static const char *const keys[] = {"0", "1", "2", "3", "4", "5", "6"};
    enum { PAGES = 100, READINGS = 12, ASKED = 3 };
    static struct page page;
    struct rng rng = {.state = 32};
    for (size_t family = 0; family < 2; family++) {
        struct solved horns[ASKED];
        const struct hbk_horn *list[ASKED];
        for (size_t i = 0; i < ASKED; i++) {
            solved_read(&horns[i], family == 0 ? cornets[i] : bugles[i]);
            list[i] = &horns[i].horn;
        }
        for (size_t k = 0; k < PAGES; k++) {
            struct hbk_arena arena = {0};
            struct hbk_identified found;
            roll(&page, READINGS, family == 0 ? valves : keys,
                 family == 0 ? 8 : 7, &rng);
            assert_int_equal(
                hbk_identify(ASKED, list, &page.readings, &arena, &found),
                HBK_ERR_NO_RESULT);
            assert_null(found.otherwise);
            hbk_arena_finish(&arena);
        }
        for (size_t i = 0; i < ASKED; i++) {
            solved_close(&horns[i]);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_shipped_horn_is_known_by_its_page),
        cmocka_unit_test(a_page_by_the_dice_is_none_of_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
