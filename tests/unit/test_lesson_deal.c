/* Which tune each lesson has: new notes become music, and nothing jumps. */
#include "support/taught.h"
#include "support/tune_book.h"

#include "base/dice.h"
#include "lesson/assign.h"
#include "lesson/deal.h"

#include <math.h>
#include <stdlib.h>

static const struct taught_need in_need[] = {
    {"keyed-bugle-c-6", "key:1=open"},
    {"keyed-bugle-c-6", "key:5=closed"},
    {"keyed-bugle-b-flat-6", "key:3=open"},
    {"cornet-b-flat", "valve:2=up"},
    {"cornet-b-flat", "valve:1=down"},
    {"ophicleide-c-9", "key:6=closed,key:8=closed"},
    {"trombone-six-independent", "valve:3=up"},
};

static struct taught_horns horns;
static struct read read;

static int open_all(void **state)
{
    (void)state;
    open_book(&read);
    taught_horns_open(&horns, in_need, sizeof(in_need) / sizeof(in_need[0]));
    return 0;
}

static int close_all(void **state)
{
    (void)state;
    taught_horns_close(&horns);
    close_book(&read);
    return 0;
}

static struct hbk_dealt deal(const struct taught *t, struct hbk_arena *arena)
{
    return hbk_tunes_deal(t->lessons, read.book.tunes, read.book.n, arena);
}

typedef void check_deal(const struct taught *t, const struct hbk_dealt *dealt);

static void on_every_horn(check_deal *check)
{
    for (size_t i = 0; i < horns.n; i++) {
        const struct taught_horn *const horn = &horns.of[i];
        struct hbk_arena arena = {0};
        print_message("# %s %s\n", horn->name,
                      horn->stuck == NULL ? "" : horn->stuck);
        const struct hbk_dealt dealt = deal(&horn->t, &arena);
        check(&horn->t, &dealt);
        hbk_arena_finish(&arena);
    }
}

static bool has_note(const struct hbk_tune *tune, int written)
{
    for (size_t e = 0; e < tune->n_events; e++) {
        if (sounds(&tune->events[e]) && tune->events[e].note == written) {
            return true;
        }
    }
    return false;
}

static bool has_new(const struct hbk_tune *tune,
                    const struct hbk_lesson *lesson)
{
    bool has = false;
    for (size_t i = 0; i < lesson->n_new; i++) {
        has = has || has_note(tune, lesson->added[i].written);
    }
    return has;
}

/* Of what was taught by then, and fingers may make its moves. */
static void check_playable(const struct taught *t,
                           const struct hbk_dealt_tune *dealt)
{
    enum { FIFTH = 7 };
    const struct hbk_tune *const tune = &dealt->tune.tune;
    const struct hbk_lesson *const lesson =
        &t->lessons->lessons[dealt->after - 1];
    int before = -1;
    for (size_t e = 0; e < tune->n_events; e++) {
        const int note = tune->events[e].note;
        if (!sounds(&tune->events[e])) {
            continue;
        }
        assert_true(hbk_lesson_knows(lesson, note));
        assert_true(dealt->after > HBK_DEAL_CALM || before < 0 ||
                    abs(note - before) <= FIFTH);
        assert_true(e == 0 || !sounds(&tune->events[e - 1]) ||
                    hbk_moves_allow(lesson->moves, before, note));
        before = note;
    }
}

/* A note of the signature has the sign with which a lesson taught it. */
static void check_signs(const struct taught *t, const struct hbk_tune *tune)
{
    const struct hbk_tune_key *const key = &tune->keys[0];
    for (size_t e = 0; e < tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        const size_t number =
            sounds(event) ? lesson_of(t->lessons, event->note) : 0;
        if (number == 0 ||
            event->spelling.alter != key->alter[event->spelling.step]) {
            continue;
        }
        const struct hbk_lesson *const lesson =
            &t->lessons->lessons[number - 1];
        for (size_t i = 0; i < lesson->n_new; i++) {
            assert_true(lesson->added[i].written != event->note ||
                        lesson->added[i].spelling.alter ==
                            event->spelling.alter);
        }
    }
}

static void check_dealt(const struct taught *t, const struct hbk_dealt *dealt)
{
    bool *const seen =
        HBK_ARENA_ARRAY(&read.arena, bool, read.book.n); /* all false */
    assert_true(dealt->n <= read.book.n);
    for (size_t i = 0; i < dealt->n; i++) {
        const struct hbk_dealt_tune *const one = &dealt->tunes[i];
        assert_false(seen[one->tune.which]);
        seen[one->tune.which] = true;
        assert_in_range(one->after, 1, t->lessons->n);
        assert_true(i == 0 || i >= dealt->n_in_lessons ||
                    one->after > dealt->tunes[i - 1].after);
        check_playable(t, one);
        assert_true(
            i >= dealt->n_in_lessons ||
            one->tune.has_new ==
                has_new(&one->tune.tune, &t->lessons->lessons[one->after - 1]));
        check_signs(t, &one->tune.tune);
    }
}

static void each_is_dealt_once_and_can_be_played(void **state)
{
    (void)state;
    on_every_horn(check_dealt);
}

/* Not much harder than what was played before it. */
static void check_rise(const struct taught *t, const struct hbk_dealt *dealt)
{
    (void)t;
    double hardest = 0.0;
    for (size_t i = 0; i < dealt->n_in_lessons; i++) {
        const double here = dealt->tunes[i].tune.difficulty;
        check_abs(here, hbk_tune_difficulty(&dealt->tunes[i].tune.tune), 1e-9);
        assert_true(i == 0 || here <= hardest + HBK_DEAL_RISE);
        hardest = fmax(hardest, here);
    }
}

static void none_is_much_harder_than_those_before(void **state)
{
    (void)state;
    on_every_horn(check_rise);
}

static size_t notes_lessons, with_their_note;

static void count_notes(const struct taught *t, const struct hbk_dealt *dealt)
{
    for (size_t k = 0; k < t->lessons->n; k++) {
        notes_lessons += t->lessons->lessons[k].n_new > 0 ? 1 : 0;
    }
    for (size_t i = 0; i < dealt->n_in_lessons; i++) {
        with_their_note +=
            has_new(&dealt->tunes[i].tune.tune,
                    &t->lessons->lessons[dealt->tunes[i].after - 1]);
    }
}

static void two_lessons_of_three_have_a_tune_with_their_note(void **state)
{
    (void)state;
    on_every_horn(count_notes);
    assert_true(notes_lessons > 700);
    assert_true(3 * with_their_note > 2 * notes_lessons - notes_lessons / 10);
}

static const struct hbk_dealt_tune *tune_of(const struct hbk_dealt *dealt,
                                            size_t lesson)
{
    for (size_t i = 0; i < dealt->n_in_lessons; i++) {
        if (dealt->tunes[i].after == lesson) {
            return &dealt->tunes[i];
        }
    }
    return NULL;
}

/*
 * Where a lesson of a note lacks a tune with it, none that stands in no lesson
 * would have it and be easy enough.
 */
static void check_none_wasted(const struct taught *t,
                              const struct hbk_dealt *dealt)
{
    struct hbk_arena arena = {0};
    struct hbk_tune_shelf *const shelf =
        hbk_tune_shelf_make(read.book.tunes, read.book.n, &arena);
    double hardest = 0.0;
    for (size_t k = 0; k < t->lessons->n; k++) {
        const struct hbk_lesson *const lesson = &t->lessons->lessons[k];
        const struct hbk_dealt_tune *const own = tune_of(dealt, k + 1);
        int added[HBK_LESSON_NEW_MOST];
        for (size_t i = 0; i < lesson->n_new; i++) {
            added[i] = lesson->added[i].written;
        }
        const struct hbk_tune_wish wish = {
            .n_known = lesson->n_known,
            .known = lesson->known,
            .n_new = lesson->n_new,
            .added = added,
            .home = t->lessons->home,
            .clef = t->s.horn.clef,
            .leap_most = lesson->number <= HBK_DEAL_CALM ? 7 : 0,
            .moves = lesson->moves};
        const double most =
            fmin(hardest,
                 hbk_tune_difficulty(
                     read.book.tunes[k < read.book.n ? k : read.book.n - 1])) +
            HBK_DEAL_RISE;
        const bool lacks = lesson->n_new > 0 &&
                           (own == NULL || !has_new(&own->tune.tune, lesson));
        for (size_t i = dealt->n_in_lessons; lacks && i < dealt->n; i++) {
            struct hbk_tune_place place;
            const size_t which = dealt->tunes[i].tune.which;
            const bool fits =
                hbk_tune_shelf_place(shelf, which, &wish, &place) &&
                place.has_new && abs(place.moved) % 12 == 0;
            assert_true(!fits || dealt->tunes[i].tune.difficulty > most);
        }
        hardest = own == NULL ? hardest : fmax(hardest, own->tune.difficulty);
    }
    hbk_arena_finish(&arena);
}

static void no_tune_is_kept_from_a_lesson_that_needs_it(void **state)
{
    (void)state;
    on_every_horn(check_none_wasted);
}

/* What follows the lessons rises; a move may cost a point or two. */
static void check_rest(const struct taught *t, const struct hbk_dealt *dealt)
{
    double last = 0.0;
    for (size_t i = dealt->n_in_lessons; i < dealt->n; i++) {
        const struct hbk_lesson_tune *const tune = &dealt->tunes[i].tune;
        assert_int_equal(dealt->tunes[i].after, t->lessons->n);
        if (tune->moved == 0) {
            assert_true(tune->difficulty >= last);
            last = tune->difficulty;
        }
    }
}

static void what_is_left_stands_from_easy_to_hard(void **state)
{
    (void)state;
    on_every_horn(check_rest);
}

/* The notes of which players had no music, before and after. */
static void late_notes_become_music(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        const char *notes[9];
    } late[] = {
        {"keyed-bugle-c-6", {"C#4", "C#5", "Eb4", "Eb5", "Ab4", "F#5", "D5"}},
        {"ophicleide-c-11", {"A2", "Bb2", "G2", "C#3", "Eb3", "Ab3", "F#4"}},
        {"cornet-b-flat", {"C#5", "Eb4", "Eb5", "Ab4", "G3", "F#5", "C#4"}}};
    for (size_t i = 0; i < sizeof(late) / sizeof(late[0]); i++) {
        struct taught t;
        struct hbk_arena arena = {0};
        taught_open(&t, late[i].horn, NULL);
        const struct hbk_dealt dealt = deal(&t, &arena);
        for (size_t k = 0; late[i].notes[k] != NULL; k++) {
            size_t n = 0;
            for (size_t d = 0; d < dealt.n_in_lessons; d++) {
                n += has_note(&dealt.tunes[d].tune.tune,
                              note_of(late[i].notes[k]));
            }
            print_message("# %s %s: %zu\n", late[i].horn, late[i].notes[k], n);
            assert_true(n > 0);
        }
        taught_close(&t);
        hbk_arena_finish(&arena);
    }
}

/* The least sum over all ways to give each row a column of its own. */
static double least_sum(const double prices[], size_t rows, size_t columns,
                        size_t row, unsigned used)
{
    double least = row == rows ? 0.0 : (double)INFINITY;
    for (size_t c = 0; row < rows && c < columns; c++) {
        if ((used >> c & 1U) == 0) {
            least = fmin(least, prices[row * columns + c] +
                                    least_sum(prices, rows, columns, row + 1,
                                              used | 1U << c));
        }
    }
    return least;
}

static void assigning_finds_the_least_sum(void **state)
{
    (void)state;
    enum { ROWS = 5, COLUMNS = 7, TIMES = 200 };
    struct hbk_dice dice = hbk_dice_for("assign", 1);
    for (size_t n = 0; n < TIMES; n++) {
        struct hbk_arena arena = {0};
        double prices[ROWS * COLUMNS];
        for (size_t i = 0; i < sizeof(prices) / sizeof(prices[0]); i++) {
            /* One in four must not be; the last columns always may. */
            const bool barred =
                i % COLUMNS < COLUMNS - ROWS && hbk_dice_below(&dice, 4) == 0;
            prices[i] = barred ? (double)INFINITY
                               : 0.37 * (double)hbk_dice_below(&dice, 29);
        }
        const size_t *const of = hbk_assign(prices, ROWS, COLUMNS, &arena);
        double sum = 0.0;
        unsigned used = 0;
        for (size_t row = 0; row < ROWS; row++) {
            assert_true(of[row] < COLUMNS);
            assert_int_equal(used >> of[row] & 1U, 0);
            used |= 1U << of[row];
            sum += prices[row * COLUMNS + of[row]];
        }
        check_abs(sum, least_sum(prices, ROWS, COLUMNS, 0, 0), 1e-9);
        hbk_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_is_dealt_once_and_can_be_played),
        cmocka_unit_test(none_is_much_harder_than_those_before),
        cmocka_unit_test(two_lessons_of_three_have_a_tune_with_their_note),
        cmocka_unit_test(no_tune_is_kept_from_a_lesson_that_needs_it),
        cmocka_unit_test(what_is_left_stands_from_easy_to_hard),
        cmocka_unit_test(late_notes_become_music),
        cmocka_unit_test(assigning_finds_the_least_sum),
    };
    return cmocka_run_group_tests(tests, open_all, close_all);
}
