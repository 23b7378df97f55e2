/* What is taught, in which order: of every horn, and of horns in need. */
#include "support/taught.h"

#include "support/horn_files.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* Horns of our own: what is closed for good is a key that is not there. */
static const struct taught_need in_need[] = {
    {"keyed-bugle-c-6", "key:5=closed"},
    {"keyed-bugle-c-6", "key:1=closed"},
    {"keyed-bugle-c-6", "key:3=closed,key:4=closed"},
    {"keyed-bugle-b-flat-7-f-sharp", "key:2=open"},
    {"cornet-b-flat", "valve:2=up"},
    {"cornet-b-flat", "valve:1=down"},
    {"ophicleide-c-9", "key:6=closed,key:8=closed"},
    {"keyed-trumpet-e-flat-5", "key:2=closed"},
    {"trombone-six-independent", "valve:3=up"},
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

typedef void check_horn(const struct taught *t);

static void on_every_horn(check_horn *check)
{
    for (size_t i = 0; i < horns.n; i++) {
        const struct taught_horn *const horn = &horns.of[i];
        print_message("# %s %s\n", horn->name,
                      horn->stuck == NULL ? "" : horn->stuck);
        check(&horn->t);
    }
}

static const struct hbk_fingering *first_choice(const struct taught *t,
                                                int written)
{
    const struct hbk_note *const note = hbk_notes_find(&t->s.notes, written);
    return note == NULL || note->n == 0 ? NULL : &note->fingerings[0];
}

/* The new notes of a lesson, given what was taught before it. */
static void check_new(const struct taught *t, const struct hbk_lesson *lesson,
                      bool taught[128])
{
    assert_in_range(lesson->n_new, 1, HBK_LESSON_NEW_MOST);
    for (size_t i = 0; i < lesson->n_new; i++) {
        const struct hbk_lesson_note *const added = &lesson->added[i];
        assert_ptr_equal(added->fingering, first_choice(t, added->written));
        assert_non_null(added->fingering);
        assert_false(taught[added->written]);
        assert_in_range(added->written, t->lessons->low, t->lessons->high);
        assert_int_equal(hbk_spelling_note(added->spelling), added->written);
        assert_true(strlen(added->why) > 20);
        taught[added->written] = true;
    }
}

/* What the lesson says is known is what was taught, neither more nor less. */
static void check_known(const struct hbk_lesson *lesson, const bool taught[128])
{
    size_t n = 0;
    for (int w = 0; w < 128; w++) {
        assert_int_equal(hbk_lesson_knows(lesson, w), taught[w]);
        n += taught[w] ? 1 : 0;
    }
    assert_int_equal(lesson->n_known, n);
    for (size_t i = 1; i < n; i++) {
        assert_true(lesson->known[i] > lesson->known[i - 1]);
    }
    assert_int_equal(lesson->low, lesson->known[0]);
    assert_int_equal(lesson->high, lesson->known[n - 1]);
}

static void check_order(const struct taught *t)
{
    bool taught[128] = {false};
    const struct hbk_lessons *const lessons = t->lessons;
    for (size_t i = 0; i < lessons->n; i++) {
        const struct hbk_lesson *const lesson = &lessons->lessons[i];
        assert_int_equal(lesson->number, i + 1);
        if (lesson->kind == HBK_LESSON_NOTES) {
            check_new(t, lesson, taught);
        } else {
            assert_int_equal(lesson->n_new, 0);
            assert_true(taught[lesson->from] && taught[lesson->to]);
            assert_true(strlen(lesson->why) > 20);
        }
        check_known(lesson, taught);
    }
    for (size_t i = 0; i < lessons->n_left; i++) {
        assert_false(taught[lessons->left[i].written]);
        assert_true(strlen(lessons->left[i].why) > 0);
        taught[lessons->left[i].written] = true;
    }
    for (int w = lessons->low; lessons->n > 0 && w <= lessons->high; w++) {
        assert_true(taught[w] || lessons->first.is_open);
    }
}

static void every_note_is_available_and_taught_once(void **state)
{
    (void)state;
    on_every_horn(check_order);
}

static void check_first(const struct taught *t)
{
    const struct hbk_first *const first = &t->lessons->first;
    assert_int_equal(t->lessons->n > 0, first->n > 0);
    assert_true(strlen(first->why) > 20);
    for (size_t i = 0; i < first->n; i++) {
        assert_ptr_equal(first->fingerings[i],
                         first_choice(t, first->notes[i]));
        assert_non_null(first->fingerings[i]);
        if (i > 0) {
            assert_in_range(first->notes[i] - first->notes[i - 1], 1,
                            first->is_open ? 7 : 2);
        }
        /* They are taught before anything else. */
        for (int w = 0; w < 128; w++) {
            bool is_first = false;
            for (size_t k = 0; k < first->n; k++) {
                is_first = is_first || first->notes[k] == w;
            }
            const size_t other = lesson_of(t->lessons, w);
            assert_true(is_first || other == 0 ||
                        other > lesson_of(t->lessons, first->notes[i]));
        }
    }
}

static void the_first_notes_are_a_run_and_come_first(void **state)
{
    (void)state;
    on_every_horn(check_first);
}

/* records: C4 to G4, then A4, then C5; partials 2 and 3 before 4. */
static void a_three_valve_cornet_begins_as_first_books_do(void **state)
{
    (void)state;
    static const char *const cornets[] = {
        "cornet-b-flat",          "cornet-b-flat-semitone-first",
        "cornopean-b-flat",       "cornet-b-flat-rotary",
        "saxhorn-soprano-b-flat", "bass-e-flat"};
    for (size_t i = 0; i < COUNT(cornets); i++) {
        struct taught t;
        taught_open(&t, cornets[i], NULL);
        const struct hbk_first *const first = &t.lessons->first;
        assert_int_equal(first->n, HBK_FIRST_MOST);
        const size_t a4 = lesson_of_name(&t, "A4");
        for (size_t k = 0; k < first->n; k++) {
            assert_in_range(first->notes[k], note_of("C4"), note_of("G4"));
            assert_in_range(first->fingerings[k]->partial, 2, 3);
            assert_true(lesson_of(t.lessons, first->notes[k]) < a4);
        }
        assert_true(a4 < lesson_of_name(&t, "C5"));
        /* 1-2-3 is sharp without a slide to draw: not before the rest. */
        assert_true(lesson_of_name(&t, "C#4") > lesson_of_name(&t, "F#4"));
        taught_close(&t);
    }
}

static void six_keys_have_c5_before_the_note_that_leads_to_it(void **state)
{
    (void)state;
    static const char *const bugles[] = {"keyed-bugle-c-6",
                                         "keyed-bugle-b-flat-6"};
    for (size_t i = 0; i < COUNT(bugles); i++) {
        struct taught t;
        taught_open(&t, bugles[i], NULL);
        const size_t c5 = lesson_of_name(&t, "C5");
        assert_true(c5 > lesson_of_name(&t, "A4"));
        assert_true(lesson_of_name(&t, "B4") > c5);
        assert_true(lesson_of_name(&t, "F#4") > lesson_of_name(&t, "G4"));
        taught_close(&t);
    }
}

/* Of every key that stands open: worked out here from the model alone. */
static void check_open_first(const struct taught *t)
{
    uint32_t open_keys = 0;
    for (size_t i = 0; i < t->s.horn.n_controls; i++) {
        const struct hbk_control *const control = &t->s.horn.controls[i];
        if (control->kind == HBK_KEY && control->stands_open) {
            open_keys |= UINT32_C(1) << i;
        }
    }
    for (int w = t->lessons->low; w < t->lessons->high; w++) {
        const struct hbk_fingering *const below = first_choice(t, w);
        const struct hbk_fingering *const above = first_choice(t, w + 1);
        if (below == NULL || above == NULL || (below->press & open_keys) == 0 ||
            above->press != (below->press & ~open_keys) ||
            above->partial != below->partial ||
            lesson_of(t->lessons, w + 1) == 0) {
            continue;
        }
        assert_true(lesson_of(t->lessons, w) > lesson_of(t->lessons, w + 1));
    }
}

static void a_closed_key_comes_after_the_open_note(void **state)
{
    (void)state;
    on_every_horn(check_open_first);
}

/* Whatever needs care comes after whatever does not. */
static void check_care_last(const struct taught *t)
{
    bool care = false;
    for (size_t i = 0; i < t->lessons->n; i++) {
        const struct hbk_lesson *const lesson = &t->lessons->lessons[i];
        for (size_t k = 0; k < lesson->n_new; k++) {
            const int written = lesson->added[k].written;
            bool is_first = false;
            for (size_t j = 0; j < t->lessons->first.n; j++) {
                is_first = is_first || t->lessons->first.notes[j] == written;
            }
            /* B4 waits for C5, careful or not. */
            const bool waits = lesson->added[k].fingering->press != 0;
            if (!is_first && !waits) {
                assert_true(lesson->added[k].care || !care);
            }
            care = care || (lesson->added[k].care && !is_first);
        }
    }
}

static void what_needs_care_comes_last(void **state)
{
    (void)state;
    on_every_horn(check_care_last);
}

/* Once there are five, the range grows by one note a lesson. */
static void check_alone(const struct taught *t)
{
    size_t known = 0;
    for (size_t i = 0; i < t->lessons->n; i++) {
        const struct hbk_lesson *const lesson = &t->lessons->lessons[i];
        assert_true(lesson->n_new <= 1 || known < t->lessons->first.n);
        known = lesson->n_known;
    }
}

static void after_the_first_notes_each_has_its_lesson(void **state)
{
    (void)state;
    on_every_horn(check_alone);
}

static bool is_first(const struct taught *t, int written)
{
    const struct hbk_first *const first = &t->lessons->first;
    for (size_t i = 0; i < first->n; i++) {
        if (first->notes[i] == written) {
            return true;
        }
    }
    return false;
}

/* Whether a note has to come later than its place, for reasons of its own. */
static bool comes_late(const struct taught *t, int written)
{
    const struct hbk_lesson_note *found = NULL;
    for (size_t i = 0; i < t->lessons->n; i++) {
        for (size_t k = 0; k < t->lessons->lessons[i].n_new; k++) {
            const struct hbk_lesson_note *const added =
                &t->lessons->lessons[i].added[k];
            found = added->written == written ? added : found;
        }
    }
    return found == NULL || found->care;
}

/*
 * Of two notes an octave apart the one in the octave from C4 comes first, and
 * the low notes before the highest: lips go down before they climb.
 */
static void check_lips(const struct taught *t)
{
    enum { OCTAVE = 12, A3 = -3, G3 = -5, F5 = 17, G5 = 19 };
    static const int low[] = {A3, G3};
    static const int high[] = {F5, G5};
    const int home = t->lessons->home;
    for (int w = home; w < home + OCTAVE; w++) {
        const size_t here = lesson_of(t->lessons, w);
        const size_t above = lesson_of(t->lessons, w + OCTAVE);
        const size_t below = lesson_of(t->lessons, w - OCTAVE);
        if (!comes_late(t, w)) {
            /* C5 itself is of that octave; the first five are first. */
            assert_true(above == 0 || here < above || w == home ||
                        is_first(t, w + OCTAVE));
            assert_true(below == 0 || here < below);
        }
    }
    for (size_t i = 0; i < COUNT(low); i++) {
        for (size_t k = 0; k < COUNT(high); k++) {
            const size_t first = lesson_of(t->lessons, home + low[i]);
            const size_t second = lesson_of(t->lessons, home + high[k]);
            assert_true(comes_late(t, home + low[i]) || second == 0 ||
                        first < second);
        }
    }
}

static void the_middle_comes_before_low_and_low_before_high(void **state)
{
    (void)state;
    on_every_horn(check_lips);
}

/* Whether a lesson before had the fingers of two notes with one held down. */
static bool was_told(const struct taught *t, size_t before, int a, int b)
{
    const uint32_t one = first_choice(t, a)->press;
    const uint32_t other = first_choice(t, b)->press;
    for (size_t i = 0; i < before; i++) {
        const struct hbk_lesson *const lesson = &t->lessons->lessons[i];
        for (size_t k = 0; k < lesson->n_new; k++) {
            for (size_t h = 0; h < lesson->added[k].n_holds; h++) {
                const struct hbk_lesson_hold *const hold =
                    &lesson->added[k].holds[h];
                const uint32_t from = first_choice(t, hold->from)->press;
                const uint32_t to = first_choice(t, hold->to)->press;
                if ((from == one && to == other) ||
                    (from == other && to == one)) {
                    return true;
                }
            }
        }
    }
    return false;
}

/* A hard step is the next lesson after the note that brings it. */
static void check_moves(const struct taught *t)
{
    size_t n = 0;
    for (size_t i = 0; i < t->lessons->n; i++) {
        const struct hbk_lesson *const lesson = &t->lessons->lessons[i];
        const struct hbk_moves *const moves = lesson->moves;
        if (lesson->kind != HBK_LESSON_MOVE) {
            /* A half-tone that no other step leads to takes one along. */
            assert_true(moves->n == n || lesson->n_new == 2 ||
                        strstr(lesson->added[0].why, "is awkward") != NULL);
            n = moves->n;
            continue;
        }
        assert_true(hbk_move_is_hard(&moves->pupil, lesson->from, lesson->to));
        assert_in_range(lesson->to - lesson->from, 1, 5);
        assert_true(lesson->to - lesson->from <= 2 ||
                    was_told(t, i, lesson->from, lesson->to));
        assert_int_equal(moves->n, n + 1);
        assert_true(hbk_moves_allow(moves, lesson->from, lesson->to));
        assert_false(hbk_moves_allow(t->lessons->lessons[i - 1].moves,
                                     lesson->from, lesson->to));
        n = moves->n;
    }
}

static void a_hard_step_is_a_lesson_once(void **state)
{
    (void)state;
    on_every_horn(check_moves);
}

/* What holds of the usual range holds of all notes a horn has. */
static void the_whole_compass_keeps_the_rules(void **state)
{
    (void)state;
    for (size_t i = 0; i < horns.n; i++) {
        struct taught t = horns.of[i].t;
        struct hbk_arena arena = {0};
        t.lessons = hbk_lessons_of(&t.s.notes, t.s.notes.lowest,
                                   t.s.notes.highest, &arena);
        print_message("# %s\n", horns.of[i].name);
        check_order(&t);
        check_moves(&t);
        check_open_first(&t);
        for (size_t k = 0; k < t.lessons->n; k++) {
            assert_in_range(
                ready_for(t.lessons, t.lessons->lessons[k].study.tune), 1,
                k + 1);
        }
        hbk_arena_finish(&arena);
    }
}

/*
 * "Key" is what a finger works. Of a half-tone it is said in what it is played,
 * when all notes of that scale are known, in some octave.
 */
static void check_use(const struct taught *t)
{
    enum { OCTAVE = 12 };
    for (size_t i = 0; i < t->lessons->n; i++) {
        const struct hbk_lesson *const lesson = &t->lessons->lessons[i];
        for (size_t k = 0; k < lesson->n_new; k++) {
            const char *const why = lesson->added[k].why;
            bool in_key[OCTAVE] = {false};
            assert_null(strstr(why, "key of"));
            assert_null(strstr(why, "The key"));
            if (strstr(why, "you can play in") == NULL) {
                continue;
            }
            const int fifths = lesson->study.tune->keys[0].fifths;
            size_t n = 0;
            for (size_t m = 0; m < lesson->n_known; m++) {
                const int note = lesson->known[m];
                const struct hbk_spelling as =
                    hbk_spelling_in_key(note, fifths);
                const bool is_of_key =
                    as.alter == lesson->study.tune->keys[0].alter[as.step];
                n += is_of_key && !in_key[note % OCTAVE] ? 1 : 0;
                in_key[note % OCTAVE] = in_key[note % OCTAVE] || is_of_key;
            }
            print_message("# %s: %zu\n", why, n);
            assert_int_equal(n, 7);
        }
    }
}

static void what_a_note_is_good_for_is_so(void **state)
{
    (void)state;
    on_every_horn(check_use);
}

/*
 * Six keys: D4 to E4 takes turns between the hands, and from A4 to B flat key 3
 * stays down; B3 to C sharp has no such way.
 */
static void what_is_hard_is_what_players_find_hard(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "keyed-bugle-c-6", NULL);
    const struct hbk_pupil *pupil = &t.lessons->lessons[0].moves->pupil;
    assert_false(hbk_move_is_hard(pupil, note_of("D4"), note_of("E4")));
    assert_false(hbk_move_is_hard(pupil, note_of("E4"), note_of("F4")));
    assert_false(hbk_move_is_hard(pupil, note_of("A4"), note_of("Bb4")));
    assert_false(hbk_move_is_hard(pupil, note_of("D4"), note_of("C#4")));
    assert_true(hbk_move_is_hard(pupil, note_of("B3"), note_of("C#4")));
    assert_true(hbk_move_is_hard(pupil, note_of("D4"), note_of("F#4")));
    taught_close(&t);
    taught_open(&t, "cornet-b-flat", NULL);
    pupil = &t.lessons->lessons[0].moves->pupil;
    assert_true(hbk_move_is_hard(pupil, note_of("D4"), note_of("E4")));
    assert_false(hbk_move_is_hard(pupil, note_of("F4"), note_of("F#4")));
    assert_false(hbk_move_is_hard(pupil, note_of("A4"), note_of("B4")));
    assert_true(lesson_of_name(&t, "A4") > 4); /* D4 to E4 is lesson 4 */
    assert_int_equal(t.lessons->lessons[3].kind, HBK_LESSON_MOVE);
    taught_close(&t);
}

/* Partials 2 and 3, then 4, 5 and 6, and then calls. */
static void a_duty_bugle_has_its_open_notes_and_calls(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "bugle-b-flat", NULL);
    static const char *const names[] = {"C4", "G4", "C5", "E5", "G5"};
    assert_true(t.lessons->first.is_open);
    assert_int_equal(t.lessons->first.n, 3);
    assert_non_null(strstr(t.lessons->first.why, "open notes"));
    assert_int_equal(t.lessons->n_left, 0);
    const struct hbk_lesson *const last = &t.lessons->lessons[t.lessons->n - 1];
    assert_int_equal(last->n_known, COUNT(names));
    size_t calls = 0;
    for (size_t i = 0; i < COUNT(names); i++) {
        assert_int_equal(last->known[i], note_of(names[i]));
        assert_true(i == 0 || lesson_of_name(&t, names[i]) >=
                                  lesson_of_name(&t, names[i - 1]));
    }
    for (size_t i = 0; i < t.lessons->n; i++) {
        calls += t.lessons->lessons[i].kind == HBK_LESSON_CALL ? 1 : 0;
    }
    assert_true(calls >= 3);
    taught_close(&t);
}

static void a_missing_key_moves_the_first_notes_and_is_named(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "keyed-bugle-c-6", "key:5=closed");
    assert_int_equal(t.lessons->first.n, HBK_FIRST_MOST);
    assert_true(t.lessons->first.notes[0] > note_of("E4"));
    assert_non_null(strstr(t.lessons->first.why, "E4 is not available"));
    assert_int_equal(lesson_of_name(&t, "E4"), 0);
    taught_close(&t);
}

static void a_range_keeps_everything_within_it(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "cornet-b-flat", NULL);
    const struct hbk_lessons *const few =
        hbk_lessons_of(&t.s.notes, note_of("C4"), note_of("C5"), &t.s.arena);
    assert_true(few->n > 0);
    assert_true(few->n < t.lessons->n);
    for (size_t i = 0; i < few->n; i++) {
        assert_in_range(few->lessons[i].low, note_of("C4"), note_of("C5"));
        assert_in_range(few->lessons[i].high, note_of("C4"), note_of("C5"));
    }
    const struct hbk_lessons *const none =
        hbk_lessons_of(&t.s.notes, note_of("C4"), note_of("C#4"), &t.s.arena);
    assert_int_equal(none->n, 0);
    taught_close(&t);
}

/* A horn in the tenor clef, as it sounds, is taught as one in the treble. */
static void a_clef_changes_nothing_but_the_names(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "trombone-six-independent", NULL);
    assert_int_equal(t.lessons->home, note_of("Bb2"));
    assert_int_equal(t.lessons->first.notes[0], note_of("Bb2"));
    assert_int_equal(t.lessons->first.spellings[0].alter, -1);
    assert_int_equal(t.lessons->lessons[0].study.tune->keys[0].fifths, -2);
    assert_int_equal(t.lessons->lessons[0].study.tune->clefs[0].sign, 'C');
    assert_int_equal(t.lessons->lessons[0].study.tune->clefs[0].line, 4);
    taught_close(&t);
}

static void a_tune_is_ready_when_its_last_note_is_taught(void **state)
{
    (void)state;
    struct taught t;
    taught_open(&t, "cornet-b-flat", NULL);
    const struct hbk_lesson *const last = &t.lessons->lessons[t.lessons->n - 1];
    for (size_t i = 0; i < t.lessons->n; i++) {
        const struct hbk_lesson *const lesson = &t.lessons->lessons[i];
        const size_t ready = ready_for(t.lessons, lesson->study.tune);
        assert_in_range(ready, 1, lesson->number);
        assert_true(lesson->n_new == 0 || ready == lesson->number);
    }
    assert_true(hbk_lesson_knows(last, note_of("G5")));
    const struct hbk_spelling out = {0, 0, 6}; /* C6: over the range */
    assert_int_equal(
        ready_for(t.lessons, hbk_long_notes(&out, 1, HBK_TREBLE, &t.s.arena)),
        0);
    taught_close(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_note_is_available_and_taught_once),
        cmocka_unit_test(the_first_notes_are_a_run_and_come_first),
        cmocka_unit_test(a_three_valve_cornet_begins_as_first_books_do),
        cmocka_unit_test(six_keys_have_c5_before_the_note_that_leads_to_it),
        cmocka_unit_test(a_closed_key_comes_after_the_open_note),
        cmocka_unit_test(what_needs_care_comes_last),
        cmocka_unit_test(after_the_first_notes_each_has_its_lesson),
        cmocka_unit_test(the_middle_comes_before_low_and_low_before_high),
        cmocka_unit_test(a_hard_step_is_a_lesson_once),
        cmocka_unit_test(the_whole_compass_keeps_the_rules),
        cmocka_unit_test(what_a_note_is_good_for_is_so),
        cmocka_unit_test(what_is_hard_is_what_players_find_hard),
        cmocka_unit_test(a_duty_bugle_has_its_open_notes_and_calls),
        cmocka_unit_test(a_missing_key_moves_the_first_notes_and_is_named),
        cmocka_unit_test(a_range_keeps_everything_within_it),
        cmocka_unit_test(a_clef_changes_nothing_but_the_names),
        cmocka_unit_test(a_tune_is_ready_when_its_last_note_is_taught),
    };
    return cmocka_run_group_tests(tests, open_horns, close_horns);
}
