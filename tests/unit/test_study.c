/* Studies: the rules of lesson/study.h, on every horn and on horns in need. */
#include "support/taught.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { FIFTH = 7, STEP = 2 };

static const struct taught_need in_need[] = {
    {"keyed-bugle-c-6", "key:5=closed"},
    {"keyed-bugle-c-6", "key:1=closed"},
    {"keyed-bugle-c-6", "key:3=closed,key:4=closed"},
    {"keyed-bugle-c-6", "key:2=open"},
    {"keyed-bugle-c-6", "key:2=closed,key:5=closed"},
    {"cornet-b-flat", "valve:2=up"},
    {"cornet-b-flat", "valve:1=down"},
    {"ophicleide-c-9", "key:6=closed,key:8=closed"},
};

static struct taught_horns horns;

static int open_horns(void **state)
{
    (void)state;
    taught_horns_open(&horns, in_need, COUNT(in_need));
    return 0;
}

static int close_horns(void **state)
{
    (void)state;
    taught_horns_close(&horns);
    return 0;
}

typedef void check_study(const struct taught *t,
                         const struct hbk_lesson *lesson);

static void on_every_study(check_study *check)
{
    size_t met = 0;
    for (size_t i = 0; i < horns.n; i++) {
        const struct taught_horn *const horn = &horns.of[i];
        for (size_t k = 0; k < horn->t.lessons->n; k++) {
            print_message("# %s %s lesson %zu\n", horn->name,
                          horn->stuck == NULL ? "" : horn->stuck, k + 1);
            check(&horn->t, &horn->t.lessons->lessons[k]);
            met++;
        }
    }
    assert_true(met > 400);
}

/* The last note of a bar, or of the tune for its last bar. */
static const struct hbk_tune_event *last_note(const struct hbk_tune *tune,
                                              size_t bar)
{
    const struct hbk_tune_event *last = NULL;
    for (size_t i = 0; i < tune->bars[bar].count; i++) {
        const struct hbk_tune_event *const event =
            &tune->events[tune->bars[bar].first + i];
        last = event->kind == HBK_TUNE_NOTE ? event : last;
    }
    return last;
}

/* Bars are full, there are as many as are said, and the last has an end. */
static void check_bars(const struct taught *t, const struct hbk_lesson *lesson)
{
    (void)t;
    const struct hbk_tune *const tune = lesson->study.tune;
    assert_true(lesson->study.n_bars == 4 || lesson->study.n_bars == 8);
    assert_int_equal(tune->n_bars, lesson->study.n_bars);
    struct hbk_ratio all = hbk_ratio_whole(0);
    for (size_t b = 0; b < tune->n_bars; b++) {
        struct hbk_ratio sum = hbk_ratio_whole(0);
        for (size_t i = 0; i < tune->bars[b].count; i++) {
            const struct hbk_tune_event *const event =
                &tune->events[tune->bars[b].first + i];
            assert_true(event->value >= 0 && event->value <= 3);
            assert_true(hbk_ratio_add(sum, event->length, &sum));
        }
        assert_true(hbk_ratio_equal(sum, hbk_ratio_whole(1)));
        assert_true(hbk_ratio_add(all, sum, &all));
    }
    assert_true(
        hbk_ratio_equal(all, hbk_ratio_whole((int64_t)lesson->study.n_bars)));
    assert_int_equal(tune->bars[tune->n_bars - 1].right, HBK_TUNE_BAR_FINAL);
    assert_int_equal(tune->meters[0].beats, 4);
    assert_int_equal(tune->meters[0].unit, 4);
}

static void every_study_counts_its_bars_and_ends(void **state)
{
    (void)state;
    on_every_study(check_bars);
}

/* Only known notes, and no leap over a fifth. */
static void check_notes(const struct taught *t, const struct hbk_lesson *lesson)
{
    (void)t;
    const struct hbk_tune *const tune = lesson->study.tune;
    int before = -1;
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        if (event->kind != HBK_TUNE_NOTE) {
            continue;
        }
        assert_int_equal(event->note, hbk_spelling_note(event->spelling));
        assert_true(hbk_lesson_knows(lesson, event->note));
        assert_in_range(event->note, lesson->low, lesson->high);
        assert_true(before < 0 || abs(event->note - before) <= FIFTH);
        before = event->note;
        /* The signature says it: a beginner meets no other accidental. */
        assert_int_equal(event->spelling.alter,
                         tune->keys[0].alter[event->spelling.step]);
    }
}

static void a_study_has_known_notes_and_no_wide_leap(void **state)
{
    (void)state;
    on_every_study(check_notes);
}

/* Strong beats are the first and the third. */
static void check_practice(const struct taught *t,
                           const struct hbk_lesson *lesson)
{
    (void)t;
    const struct hbk_tune *const tune = lesson->study.tune;
    for (size_t k = 0; k < lesson->n_new; k++) {
        size_t times = 0;
        size_t strong = 0;
        for (size_t i = 0; i < tune->n_events; i++) {
            const struct hbk_tune_event *const event = &tune->events[i];
            if (event->kind == HBK_TUNE_NOTE &&
                event->note == lesson->added[k].written) {
                times++;
                strong += event->onset.den <= 2 ? 1 : 0;
            }
        }
        assert_true(times >= 3);
        assert_true(strong >= 2);
    }
}

static void new_notes_are_practised_on_strong_beats(void **state)
{
    (void)state;
    on_every_study(check_practice);
}

/* Whether a study could go by step from a note, or to it. */
static bool has_step(const struct hbk_lesson *lesson, int written)
{
    const struct hbk_tune_key *const key = &lesson->study.tune->keys[0];
    for (size_t i = 0; i < lesson->n_known; i++) {
        const int note = lesson->known[i];
        const struct hbk_spelling as = hbk_spelling_in_key(note, key->fifths);
        if (note != written && abs(note - written) <= STEP &&
            as.alter == key->alter[as.step] &&
            hbk_moves_allow(lesson->moves, note, written)) {
            return true;
        }
    }
    return false;
}

/* It closes on its tonic, long, on the first beat, by step in a melody. */
static void check_cadence(const struct taught *t,
                          const struct hbk_lesson *lesson)
{
    const struct hbk_tune *const tune = lesson->study.tune;
    const struct hbk_tune_event *const end = &tune->events[tune->n_events - 1];
    assert_int_equal(end->kind, HBK_TUNE_NOTE);
    assert_int_equal(end->note, lesson->study.tonic);
    assert_int_equal(end->value, 0);
    assert_int_equal(tune->bars[tune->n_bars - 1].count, 1);
    const bool is_open = t->lessons->first.is_open;
    if (!is_open &&
        (lesson->kind == HBK_LESSON_NOTES || lesson->kind == HBK_LESSON_MOVE)) {
        const struct hbk_tune_event *const before =
            last_note(tune, tune->n_bars - 2);
        assert_in_range(abs(before->note - end->note), 1,
                        has_step(lesson, end->note) ? STEP : FIFTH);
    }
}

static void every_study_has_a_cadence(void **state)
{
    (void)state;
    on_every_study(check_cadence);
}

/* After every second bar there is a rest, or a mark to breathe at. */
static void check_breath(const struct taught *t,
                         const struct hbk_lesson *lesson)
{
    (void)t;
    const struct hbk_tune *const tune = lesson->study.tune;
    for (size_t b = 1; b + 1 < tune->n_bars; b += 2) {
        const struct hbk_tune_bar *const bar = &tune->bars[b];
        const struct hbk_tune_event *const end =
            &tune->events[bar->first + bar->count - 1];
        assert_true(end->kind == HBK_TUNE_REST ||
                    (end->articulation & (unsigned)HBK_TUNE_BREATH) != 0);
    }
}

/*
 * No cold start: on a note between C4 and G4, or up to C5 for what is higher;
 * where the key has none of these yet, on the nearest there is.
 */
static void check_start(const struct taught *t, const struct hbk_lesson *lesson)
{
    enum { FOURTH = 5, OCTAVE = 12 };
    const struct hbk_tune *const tune = lesson->study.tune;
    const int home = t->lessons->home;
    const int begins = tune->events[0].note;
    const bool melody =
        lesson->kind == HBK_LESSON_NOTES || lesson->kind == HBK_LESSON_MOVE;
    bool is_high = false;
    for (size_t i = 0; i < lesson->n_new; i++) {
        is_high = is_high || lesson->added[i].written > home + OCTAVE;
    }
    is_high =
        is_high || lesson->from > home + OCTAVE || lesson->to > home + OCTAVE;
    const int most = home + (is_high ? OCTAVE : FIFTH);
    for (size_t i = 0; melody && i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        if (event->kind == HBK_TUNE_NOTE && event->note >= home &&
            event->note <= most) {
            assert_in_range(begins, home, most);
        }
    }
    /* Nobody begins over C5 who has anything lower. */
    assert_true(begins <= home + OCTAVE || lesson->low > home + OCTAVE);
}

static void no_study_begins_high(void **state)
{
    (void)state;
    on_every_study(check_start);
}

/* What is hard for the fingers was a lesson, or has a rest to be made in. */
static void check_fingers(const struct taught *t,
                          const struct hbk_lesson *lesson)
{
    (void)t;
    const struct hbk_tune *const tune = lesson->study.tune;
    for (size_t i = 1; i < tune->n_events; i++) {
        const struct hbk_tune_event *const from = &tune->events[i - 1];
        const struct hbk_tune_event *const to = &tune->events[i];
        assert_true(from->kind == HBK_TUNE_REST || to->kind == HBK_TUNE_REST ||
                    hbk_moves_allow(lesson->moves, from->note, to->note));
    }
}

static void no_study_has_a_hard_move_before_its_lesson(void **state)
{
    (void)state;
    on_every_study(check_fingers);
}

static bool is_of_c(const struct taught *t, int written)
{
    struct hbk_pupil pupil;
    hbk_pupil_make(&t->s.notes, 0, 0, &pupil);
    return hbk_pupil_is_of_key(&pupil, written, 0);
}

/* So many half-tones were met, and so many of them lead home. */
static size_t half_tones, that_resolve;

/*
 * A half-tone that is new is neither the first note nor beaten twice running,
 * and no leap leads to it or from it. Where it is ti or fa it resolves.
 */
static void check_half_tones(const struct taught *t,
                             const struct hbk_lesson *lesson)
{
    const struct hbk_tune *const tune = lesson->study.tune;
    for (size_t k = 0; k < lesson->n_new; k++) {
        const int written = lesson->added[k].written;
        int before = -1;
        int after = -1;
        if (t->lessons->first.is_open || is_of_c(t, written) ||
            !has_step(lesson, written)) {
            continue;
        }
        for (size_t i = 0; i < tune->n_events; i++) {
            const int note = tune->events[i].note;
            if (tune->events[i].kind == HBK_TUNE_REST) {
                continue;
            }
            if (note == written || before == written) {
                assert_true(before >= 0);
                assert_in_range(abs(note - before), 1, STEP);
            }
            after = before == written ? note : after;
            before = note;
        }
        half_tones++;
        that_resolve += abs(after - written) == 1 ? 1 : 0;
    }
}

static void new_half_tones_are_passed_by_step(void **state)
{
    (void)state;
    on_every_study(check_half_tones);
    assert_true(half_tones > 300);
    /* The rest are kept from it by their fingers, or end the tune. */
    assert_true(10 * that_resolve > 8 * half_tones);
}

/* Of five notes or more, eight bars use more than a third. */
static void check_form(const struct taught *t, const struct hbk_lesson *lesson)
{
    enum { ENOUGH = 5, THIRD = 4 };
    const struct hbk_tune *const tune = lesson->study.tune;
    const bool melody =
        lesson->kind == HBK_LESSON_NOTES && !t->lessons->first.is_open;
    if (!melody || lesson->study.n_bars < 8 || lesson->n_known < ENOUGH) {
        return;
    }
    int top = 0;
    int bottom = HBK_NOTE_MAX;
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        if (event->kind == HBK_TUNE_NOTE) {
            top = event->note > top ? event->note : top;
            bottom = event->note < bottom ? event->note : bottom;
        }
    }
    assert_true(top - bottom > THIRD);
}

static void studies_go_somewhere(void **state)
{
    (void)state;
    on_every_study(check_form);
}

static void there_is_a_breath_every_two_bars(void **state)
{
    (void)state;
    on_every_study(check_breath);
}

/*
 * In the first lessons nothing is shorter than a quarter, but where rhythm is
 * what there is to learn.
 */
static void check_rhythm(const struct taught *t,
                         const struct hbk_lesson *lesson)
{
    const struct hbk_tune *const tune = lesson->study.tune;
    const size_t most = t->lessons->first.is_open ? 2 : 6;
    for (size_t i = 0; lesson->number <= most && i < tune->n_events; i++) {
        assert_true(tune->events[i].value <= 2);
        assert_true(tune->events[i].value < 2 || lesson->number > 1);
    }
}

static void rhythm_grows(void **state)
{
    (void)state;
    on_every_study(check_rhythm);
}

static void a_move_is_made_three_times(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "cornet-b-flat", NULL);
    size_t met = 0;
    for (size_t i = 0; i < t.lessons->n; i++) {
        const struct hbk_lesson *const lesson = &t.lessons->lessons[i];
        const struct hbk_tune *const tune = lesson->study.tune;
        size_t times = 0;
        for (size_t k = 1; k < tune->n_events; k++) {
            const int pair[] = {tune->events[k - 1].note, tune->events[k].note};
            times += (pair[0] == lesson->from && pair[1] == lesson->to) ||
                             (pair[1] == lesson->from && pair[0] == lesson->to)
                         ? 1
                         : 0;
        }
        if (lesson->kind == HBK_LESSON_MOVE) {
            assert_true(times >= 3);
            met++;
        }
    }
    assert_true(met >= 3);
    taught_close(&t);
}

static void slurs_keep_the_fingers_and_change_the_partial(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "cornet-b-flat", NULL);
    size_t slurs = 0;
    for (size_t i = 0; i < t.lessons->n; i++) {
        const struct hbk_tune *const tune = t.lessons->lessons[i].study.tune;
        for (size_t k = 0; k < tune->n_events; k++) {
            if (tune->events[k].slur_starts == 0) {
                continue;
            }
            const struct hbk_fingering *const from =
                hbk_notes_find(&t.s.notes, tune->events[k].note)->fingerings;
            const struct hbk_fingering *const to =
                hbk_notes_find(&t.s.notes, tune->events[k + 1].note)
                    ->fingerings;
            assert_int_equal(from->press, to->press);
            assert_int_equal(abs((int)from->partial - (int)to->partial), 1);
            assert_int_equal(tune->events[k + 1].slur_stops, 1);
            slurs++;
        }
    }
    assert_int_equal(slurs, 4);
    taught_close(&t);
}

/* Each sign is new once, in the first study that shows it. */
static void check_signs_of(const struct hbk_lessons *lessons)
{
    unsigned seen = 0;
    for (size_t i = 0; i < lessons->n; i++) {
        const struct hbk_lesson *const lesson = &lessons->lessons[i];
        const struct hbk_tune *const tune = lesson->study.tune;
        assert_int_equal(lesson->new_signs & seen, 0);
        seen |= lesson->new_signs;
        assert_int_equal(lesson->study.signs & ~seen, 0);
        for (size_t k = 0; k < tune->n_events; k++) {
            const struct hbk_tune_event *const event = &tune->events[k];
            const bool dotted = event->dots == 1;
            const bool note = event->kind == HBK_TUNE_NOTE;
            const unsigned sign =
                !note && event->value == 1 ? HBK_STUDY_HALF_REST
                : !note                    ? HBK_STUDY_QUARTER_REST
                : event->value == 0        ? HBK_STUDY_WHOLE
                : event->value == 1
                    ? (dotted ? HBK_STUDY_DOTTED_HALF : HBK_STUDY_HALF)
                : event->value == 2
                    ? (dotted ? HBK_STUDY_DOTTED_QUARTER : HBK_STUDY_QUARTER)
                    : HBK_STUDY_EIGHTH;
            assert_true((lesson->study.signs & sign) != 0);
        }
    }
}

static void every_sign_is_announced(void **state)
{
    (void)state;
    static const char *const some[] = {"keyed-bugle-c-6", "ophicleide-c-9",
                                       "cornet-b-flat"};
    for (size_t i = 0; i < COUNT(some); i++) {
        struct taught t;
        taught_open(&t, some[i], NULL);
        check_signs_of(t.lessons);
        taught_close(&t);
    }
}

static bool are_same(const struct hbk_tune *a, const struct hbk_tune *b)
{
    bool same = a->n_events == b->n_events && a->n_bars == b->n_bars;
    for (size_t i = 0; same && i < a->n_events; i++) {
        same = a->events[i].kind == b->events[i].kind &&
               a->events[i].note == b->events[i].note &&
               hbk_ratio_equal(a->events[i].length, b->events[i].length);
    }
    return same;
}

static void the_same_horn_has_the_same_studies(void **state)
{
    (void)state;
    struct taught once;
    struct taught again;
    struct taught other;
    taught_open(&once, "cornet-b-flat", NULL);
    taught_open(&again, "cornet-b-flat", NULL);
    taught_open(&other, "cornet-b-flat-rotary", NULL);
    size_t differ = 0;
    assert_int_equal(once.lessons->n, again.lessons->n);
    assert_int_equal(once.lessons->n, other.lessons->n);
    for (size_t i = 0; i < once.lessons->n; i++) {
        const struct hbk_tune *const tune = once.lessons->lessons[i].study.tune;
        assert_true(are_same(tune, again.lessons->lessons[i].study.tune));
        differ += are_same(tune, other.lessons->lessons[i].study.tune) ? 0 : 1;
    }
    /* Its name is the seed: a horn of another name has other studies. */
    assert_true(2 * differ > once.lessons->n);
    taught_close(&once);
    taught_close(&again);
    taught_close(&other);
}

static void long_notes_are_two_bars_each(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_spelling notes[] = {{4, 0, 4}, {6, -1, 3}};
    const struct hbk_tune *const tune =
        hbk_long_notes(notes, COUNT(notes), HBK_BASS, &arena);
    assert_int_equal(tune->n_bars, 4);
    assert_int_equal(tune->n_events, 6);
    assert_int_equal(tune->events[0].note, note_of("G4"));
    assert_int_equal(tune->events[3].note, note_of("Bb3"));
    assert_int_equal(tune->events[3].value, 0);
    assert_int_equal(tune->events[5].kind, HBK_TUNE_REST);
    assert_int_equal(tune->clefs[0].sign, 'F');
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_study_counts_its_bars_and_ends),
        cmocka_unit_test(a_study_has_known_notes_and_no_wide_leap),
        cmocka_unit_test(new_notes_are_practised_on_strong_beats),
        cmocka_unit_test(every_study_has_a_cadence),
        cmocka_unit_test(there_is_a_breath_every_two_bars),
        cmocka_unit_test(no_study_begins_high),
        cmocka_unit_test(no_study_has_a_hard_move_before_its_lesson),
        cmocka_unit_test(new_half_tones_are_passed_by_step),
        cmocka_unit_test(studies_go_somewhere),
        cmocka_unit_test(rhythm_grows),
        cmocka_unit_test(a_move_is_made_three_times),
        cmocka_unit_test(slurs_keep_the_fingers_and_change_the_partial),
        cmocka_unit_test(every_sign_is_announced),
        cmocka_unit_test(the_same_horn_has_the_same_studies),
        cmocka_unit_test(long_notes_are_two_bars_each),
    };
    return cmocka_run_group_tests(tests, open_horns, close_horns);
}
