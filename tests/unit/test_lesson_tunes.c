/* How lessons choose from the tunes that come with the program. */
#include "support/tune_book.h"

#include "lesson/order.h"
#include "lesson/pupil.h"
#include "lesson/tunes.h"
#include "tune/melody/transpose.h"

#include <stdlib.h>

static void they_stand_from_easy_to_hard(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    for (size_t i = 1; i < read.book.n; i++) {
        assert_true(hbk_tune_difficulty(read.book.tunes[i]) >=
                    hbk_tune_difficulty(read.book.tunes[i - 1]));
    }
    assert_true(hbk_tune_difficulty(read.book.tunes[0]) < 2.0);
    close_book(&read);
}

/* A tune at another pitch is as hard as before. */
static void difficulty_does_not_depend_on_pitch(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    for (size_t i = 0; i < read.book.n; i++) {
        struct hbk_tune moved;
        assert_int_equal(
            hbk_tune_transposed(read.book.tunes[i], -9, &read.arena, &moved),
            HBK_OK);
        check_abs(hbk_tune_difficulty(&moved),
                  hbk_tune_difficulty(read.book.tunes[i]), 1e-12);
    }
    close_book(&read);
}

static bool is_among(int note, const int notes[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (notes[i] == note) {
            return true;
        }
    }
    return false;
}

/* A tune as it was handed out: only known notes, in its key, the same tune. */
static void check_taken(const struct hbk_lesson_tune *taken,
                        const struct hbk_tune *from,
                        const struct hbk_tune_wish *wish)
{
    const struct hbk_tune *const tune = &taken->tune;
    assert_int_equal(tune->n_events, from->n_events);
    assert_string_equal(tune->title, from->title);
    const int semitones = wish->home - HBK_NOTE_C4 + taken->moved;
    for (size_t e = 0; e < tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        if (!sounds(event)) {
            continue;
        }
        assert_true(is_among(event->note, wish->known, wish->n_known));
        assert_int_equal(event->note, from->events[e].note + semitones);
        assert_int_equal(hbk_spelling_note(event->spelling), event->note);
    }
    assert_int_equal(tune->transpose, from->transpose);
    assert_true(tune->keys[0].fifths >= -6 && tune->keys[0].fifths <= 6);
}

/*
 * Takes until the shelf gives no more; returns how many, which are all
 * different.
 */
static size_t take_all(const struct read *read,
                       const struct hbk_tune_wish *wish,
                       struct hbk_arena *arena)
{
    struct hbk_tune_shelf *const shelf =
        hbk_tune_shelf_make(read->book.tunes, read->book.n, arena);
    bool *const seen = HBK_ARENA_ARRAY(arena, bool, read->book.n);
    size_t n = 0;
    struct hbk_lesson_tune taken;
    while (hbk_tune_shelf_take(shelf, wish, arena, &taken)) {
        assert_true(taken.which < read->book.n);
        assert_false(seen[taken.which]);
        seen[taken.which] = true;
        check_taken(&taken, read->book.tunes[taken.which], wish);
        n++;
    }
    assert_int_equal(hbk_tune_shelf_left(shelf), read->book.n - n);
    return n;
}

static bool has_note(const struct hbk_notes *notes, int written)
{
    const struct hbk_note *const note = hbk_notes_find(notes, written);
    return note != NULL && note->n > 0;
}

/*
 * Every run of do re mi fa sol that a shipped horn has, in the pupil's C, F or
 * G, so that the first five notes are among them.
 */
static void five_notes_have_six_tunes_on_every_horn(void **state)
{
    (void)state;
    static const int run[] = {0, 2, 4, 5, 7};
    static const int tonics[] = {0, 5, 7};
    struct read read;
    open_book(&read);
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&read.arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_open(&s, horns[i].name);
        size_t runs = 0;
        for (int low = 12; low + 7 <= HBK_NOTE_MAX; low++) {
            int known[5];
            bool is_whole = true;
            for (size_t k = 0; k < 5; k++) {
                known[k] = low + run[k];
                is_whole = is_whole && has_note(&s.notes, known[k]);
            }
            for (size_t t = 0; is_whole && t < 3; t++) {
                const struct hbk_tune_wish wish = {
                    .n_known = 5,
                    .known = known,
                    .home = low - tonics[t],
                    .clef = s.horn.clef,
                };
                struct hbk_arena arena = {0};
                assert_true(take_all(&read, &wish, &arena) >= 6);
                hbk_arena_finish(&arena);
                runs++;
            }
        }
        /* A duty bugle has the open notes only. */
        assert_true(runs > 0 || s.horn.n_controls == 0);
        solved_close(&s);
    }
    close_book(&read);
}

/*
 * A primer's way through them: a tune a lesson, of what was taught up to then.
 * The first five notes of a horn have six, and before its last lesson ten were
 * played.
 */
static void lessons_have_tunes_on_every_horn(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&read.arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_open(&s, horns[i].name);
        const struct hbk_lessons *const lessons =
            hbk_lessons_of(&s.notes, 0, 0, &s.arena);
        const struct hbk_tune_wish of_first = {
            .n_known = lessons->first.n,
            .known = lessons->first.notes,
            .home = lessons->home,
            .clef = s.horn.clef,
        };
        assert_true(take_all(&read, &of_first, &s.arena) >= 6 ||
                    lessons->first.n < 5);
        struct hbk_tune_shelf *const shelf =
            hbk_tune_shelf_make(read.book.tunes, read.book.n, &s.arena);
        size_t taken_now = 0;
        for (size_t k = 0; k < lessons->n; k++) {
            const struct hbk_lesson *const lesson = &lessons->lessons[k];
            int added[HBK_LESSON_NEW_MOST];
            for (size_t a = 0; a < lesson->n_new; a++) {
                added[a] = lesson->added[a].written;
            }
            const struct hbk_tune_wish wish = {
                .n_known = lesson->n_known,
                .known = lesson->known,
                .n_new = lesson->n_new,
                .added = added,
                .home = lessons->home,
                .clef = s.horn.clef,
            };
            struct hbk_lesson_tune taken;
            if (hbk_tune_shelf_take(shelf, &wish, &s.arena, &taken)) {
                check_taken(&taken, read.book.tunes[taken.which], &wish);
                taken_now++;
            }
        }
        assert_true(taken_now >= 10 || lessons->n < 15);
        solved_close(&s);
    }
    close_book(&read);
}

/* With every note all come, none of them moved, the easiest first. */
static void all_come_as_they_stand_when_all_notes_are_known(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    int known[32];
    for (int i = 0; i < 32; i++) {
        known[i] = note_of("G3") + i;
    }
    const struct hbk_tune_wish wish = {
        .n_known = 32, .known = known, .home = HBK_NOTE_C4};
    struct hbk_tune_shelf *const shelf =
        hbk_tune_shelf_make(read.book.tunes, read.book.n, &read.arena);
    for (size_t i = 0; i < read.book.n; i++) {
        struct hbk_lesson_tune taken;
        assert_true(hbk_tune_shelf_take(shelf, &wish, &read.arena, &taken));
        assert_int_equal(taken.which, i);
        assert_int_equal(taken.moved, 0);
        assert_false(taken.has_new);
    }
    struct hbk_lesson_tune none = {.which = 777};
    assert_false(hbk_tune_shelf_take(shelf, &wish, &read.arena, &none));
    assert_int_equal(none.which, 777);
    close_book(&read);
}

static void a_tune_moves_to_where_the_notes_are(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    /* Written F to C: a key up a fourth, with B flat as B flat. */
    static const int in_f[] = {65, 67, 69, 70, 72};
    const struct hbk_tune_wish of_f = {
        .n_known = 5, .known = in_f, .home = HBK_NOTE_C4};
    struct hbk_tune_shelf *shelf =
        hbk_tune_shelf_make(read.book.tunes, read.book.n, &read.arena);
    struct hbk_lesson_tune taken;
    size_t flats = 0;
    while (hbk_tune_shelf_take(shelf, &of_f, &read.arena, &taken)) {
        assert_int_equal(taken.moved, 5);
        assert_int_equal(taken.tune.keys[0].fifths, -1);
        for (size_t e = 0; e < taken.tune.n_events; e++) {
            const struct hbk_tune_event *const event = &taken.tune.events[e];
            flats += sounds(event) && event->spelling.alter == -1;
            assert_true(event->note != 70 || event->spelling.step == 6);
        }
    }
    assert_true(flats > 10);
    /* A horn in the bass clef has its C4 at C3: for its pupil nothing moves. */
    static const int in_bass[] = {48, 50, 52, 53, 55};
    const struct hbk_tune_wish of_bass = {
        .n_known = 5, .known = in_bass, .home = 48, .clef = HBK_BASS};
    shelf = hbk_tune_shelf_make(read.book.tunes, read.book.n, &read.arena);
    assert_true(hbk_tune_shelf_take(shelf, &of_bass, &read.arena, &taken));
    assert_int_equal(taken.moved, 0);
    assert_int_equal(lowest(&taken.tune), 48);
    assert_int_equal(taken.tune.clefs[0].sign, 'F');
    assert_int_equal(read.book.tunes[taken.which]->clefs[0].sign, 'G');
    /* An octave up the key is the same. */
    static const int high[] = {72, 74, 76, 77, 79};
    const struct hbk_tune_wish of_high = {
        .n_known = 5, .known = high, .home = HBK_NOTE_C4};
    assert_true(hbk_tune_shelf_take(shelf, &of_high, &read.arena, &taken));
    assert_int_equal(taken.moved, 12);
    assert_int_equal(taken.tune.keys[0].fifths, 0);
    close_book(&read);
}

static void a_tune_with_the_new_note_comes_before_one_without(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    static const int six[] = {60, 62, 64, 65, 67, 69};
    static const int new_note[] = {69};
    const struct hbk_tune_wish wish = {.n_known = 6,
                                       .known = six,
                                       .n_new = 1,
                                       .added = new_note,
                                       .home = HBK_NOTE_C4};
    struct hbk_tune_shelf *const shelf =
        hbk_tune_shelf_make(read.book.tunes, read.book.n, &read.arena);
    /* The easiest has three notes, and the new one is no reason to wait. */
    struct hbk_lesson_tune taken;
    bool seen = false;
    for (size_t i = 0; i < 4 && !seen; i++) {
        assert_true(hbk_tune_shelf_take(shelf, &wish, &read.arena, &taken));
        seen = taken.has_new;
        assert_true(!seen || highest(&taken.tune) == 69);
    }
    assert_true(seen);
    close_book(&read);
}

/* F sharp is worth no key of two sharps while others fit. */
static void far_keys_come_last(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    static const int six[] = {60, 62, 64, 65, 66, 67, 69};
    static const int new_note[] = {66};
    const struct hbk_tune_wish wish = {.n_known = 7,
                                       .known = six,
                                       .n_new = 1,
                                       .added = new_note,
                                       .home = HBK_NOTE_C4};
    struct hbk_tune_shelf *const shelf =
        hbk_tune_shelf_make(read.book.tunes, read.book.n, &read.arena);
    struct hbk_lesson_tune taken;
    assert_true(hbk_tune_shelf_take(shelf, &wish, &read.arena, &taken));
    assert_int_equal(taken.moved, 0);
    /* Where there is nothing else they serve. */
    static const int in_d[] = {62, 64, 66, 67, 69};
    const struct hbk_tune_wish of_d = {
        .n_known = 5, .known = in_d, .home = HBK_NOTE_C4};
    assert_true(hbk_tune_shelf_take(shelf, &of_d, &read.arena, &taken));
    assert_int_equal(taken.moved, 2);
    assert_int_equal(taken.tune.keys[0].fifths, 2);
    close_book(&read);
}

static void leaps_are_kept_within_what_is_asked(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    int known[32];
    for (int i = 0; i < 32; i++) {
        known[i] = note_of("G3") + i;
    }
    const struct hbk_tune_wish wish = {
        .n_known = 32, .known = known, .home = HBK_NOTE_C4, .leap_most = 5};
    struct hbk_tune_shelf *const shelf =
        hbk_tune_shelf_make(read.book.tunes, read.book.n, &read.arena);
    struct hbk_lesson_tune taken;
    size_t n = 0;
    while (hbk_tune_shelf_take(shelf, &wish, &read.arena, &taken)) {
        int before = -1;
        for (size_t e = 0; e < taken.tune.n_events; e++) {
            const struct hbk_tune_event *const event = &taken.tune.events[e];
            if (sounds(event)) {
                assert_true(before < 0 || abs(event->note - before) <= 5);
                before = event->note;
            }
        }
        n++;
    }
    assert_true(n >= 6 && n < read.book.n);
    close_book(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(they_stand_from_easy_to_hard),
        cmocka_unit_test(difficulty_does_not_depend_on_pitch),
        cmocka_unit_test(five_notes_have_six_tunes_on_every_horn),
        cmocka_unit_test(lessons_have_tunes_on_every_horn),
        cmocka_unit_test(all_come_as_they_stand_when_all_notes_are_known),
        cmocka_unit_test(a_tune_moves_to_where_the_notes_are),
        cmocka_unit_test(a_tune_with_the_new_note_comes_before_one_without),
        cmocka_unit_test(far_keys_come_last),
        cmocka_unit_test(leaps_are_kept_within_what_is_asked),
    };
    return cmocka_run_group_tests_name("lesson_tunes", tests, NULL, NULL);
}
