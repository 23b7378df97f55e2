/* How lessons choose from the tunes that come with the program. */
#include "support/taught.h"
#include "support/tune_book.h"

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
    /* Three notes by step, in four bars that differ. */
    assert_true(hbk_tune_difficulty(read.book.tunes[0]) < 3.0);
    close_book(&read);
}

static size_t place_of(const struct hbk_tune_book *book, const char *title)
{
    for (size_t i = 0; i < book->n; i++) {
        if (strcmp(book->tunes[i]->title, title) == 0) {
            return i;
        }
    }
    fail_msg("no tune is called %s", title);
    return 0;
}

/* Of two that need the same notes a teacher knows the easier one. */
static void teachers_would_have_them_in_this_order(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {
        {"Au clair de la lune", "Ode to Joy"},
        {"Frère Jacques", "All Through the Night"},
        {"Row, Row, Row Your Boat", "Deck the Halls"},
        {"Ah! vous dirai-je, Maman", "Oh! Susanna"},
        {"London Bridge", "Yankee Doodle"}};
    struct read read;
    open_book(&read);
    for (size_t i = 0; i < sizeof(pairs) / sizeof(pairs[0]); i++) {
        assert_true(place_of(&read.book, pairs[i][0]) <
                    place_of(&read.book, pairs[i][1]));
    }
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

/* Whether a tune of the book fits, so many semitones from where it stands. */
static bool would_fit(const struct hbk_tune *tune,
                      const struct hbk_tune_wish *wish, int semitones)
{
    for (size_t e = 0; e < tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        const bool follows = e > 0 && sounds(&tune->events[e - 1]);
        if (sounds(event) &&
            (!is_among(event->note + semitones, wish->known, wish->n_known) ||
             (follows && !hbk_moves_allow(wish->moves,
                                          tune->events[e - 1].note + semitones,
                                          event->note + semitones)))) {
            return false;
        }
    }
    return true;
}

/* The easiest of those that fit, as they stand or by octaves. */
static void check_easiest(const struct hbk_tune_book *book, const bool given[],
                          const struct hbk_lesson_tune *taken,
                          const struct hbk_tune_wish *wish)
{
    enum { OCTAVE = 12 };
    assert_true(would_fit(book->tunes[taken->which], wish,
                          wish->home - HBK_NOTE_C4 + taken->moved));
    for (size_t i = 0; i < book->n; i++) {
        for (int octaves = -2; !given[i] && octaves <= 2; octaves++) {
            const int by = wish->home - HBK_NOTE_C4 + OCTAVE * octaves;
            if (would_fit(book->tunes[i], wish, by)) {
                assert_true(taken->difficulty <=
                            hbk_tune_difficulty(book->tunes[i]) +
                                HBK_TUNE_OCTAVE_COST * abs(octaves) + 1e-9);
            }
        }
    }
}

/* One lesson after the other; how many tunes were handed out. */
static size_t follow_lessons(const struct read *read, const struct taught *t,
                             struct hbk_arena *arena)
{
    const struct hbk_lessons *const lessons = t->lessons;
    struct hbk_tune_shelf *const shelf =
        hbk_tune_shelf_make(read->book.tunes, read->book.n, arena);
    bool *const given = HBK_ARENA_ARRAY(arena, bool, read->book.n);
    size_t n = 0;
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
            .clef = t->s.horn.clef,
            .moves = lesson->moves,
        };
        struct hbk_lesson_tune taken;
        if (hbk_tune_shelf_take(shelf, &wish, arena, &taken)) {
            check_taken(&taken, read->book.tunes[taken.which], &wish);
            given[taken.which] = true;
            check_easiest(&read->book, given, &taken, &wish);
            n++;
        }
    }
    return n;
}

/*
 * One by one: a tune a lesson, of what was taught up to then, the easiest that
 * fits. The first five notes of a horn have six, and before its last lesson ten
 * were played; horns in need have some.
 */
static void lessons_have_tunes_on_every_horn(void **state)
{
    (void)state;
    static const struct taught_need in_need[] = {
        {"keyed-bugle-c-6", "key:1=open"},
        {"keyed-bugle-c-6", "key:5=closed"},
        {"keyed-bugle-b-flat-6", "key:3=open"},
        {"cornet-b-flat", "valve:2=up"},
        {"cornet-b-flat", "valve:1=down"},
        {"ophicleide-c-9", "key:6=closed,key:8=closed"},
        {"trombone-six-independent", "valve:3=up"},
    };
    struct read read;
    struct taught_horns horns = {.n = 0};
    open_book(&read);
    taught_horns_open(&horns, in_need, sizeof(in_need) / sizeof(in_need[0]));
    for (size_t i = 0; i < horns.n; i++) {
        const struct taught *const t = &horns.of[i].t;
        const struct hbk_tune_wish of_first = {
            .n_known = t->lessons->first.n,
            .known = t->lessons->first.notes,
            .home = t->lessons->home,
            .clef = t->s.horn.clef,
        };
        struct hbk_arena arena = {0};
        print_message("# %s\n", horns.of[i].name);
        assert_true(horns.of[i].stuck != NULL || t->lessons->first.n < 5 ||
                    take_all(&read, &of_first, &arena) >= 6);
        const size_t n = follow_lessons(&read, t, &arena);
        assert_true(n >= (t->lessons->n < 15          ? 1U
                          : horns.of[i].stuck != NULL ? 5U
                                                      : 10U));
        hbk_arena_finish(&arena);
    }
    taught_horns_close(&horns);
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

/* Do re mi lies on C; for the sake of A it goes to F, and to C all the same. */
static void a_tune_goes_where_it_has_the_new_note(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    static const int six[] = {60, 62, 64, 65, 67, 69};
    static const int new_notes[] = {69, 72};
    struct hbk_tune_wish wish = {
        .n_known = 6, .known = six, .home = HBK_NOTE_C4};
    struct hbk_tune_shelf *const shelf =
        hbk_tune_shelf_make(read.book.tunes, read.book.n, &read.arena);
    struct hbk_tune_place place;
    assert_true(hbk_tune_shelf_place(shelf, 0, &wish, &place));
    assert_int_equal(place.moved, 0);
    assert_false(place.has_new);
    wish.n_new = 1;
    wish.added = new_notes;
    assert_true(hbk_tune_shelf_place(shelf, 0, &wish, &place));
    assert_int_equal(place.moved, 5);
    assert_true(place.has_new);
    wish.added = new_notes + 1; /* C5, of which no tune is made yet */
    assert_true(hbk_tune_shelf_place(shelf, 0, &wish, &place));
    assert_int_equal(place.moved, 0);
    assert_false(place.has_new);
    close_book(&read);
}

/* A flat was taught: it is no G sharp in the key of A. */
static void a_note_is_read_as_it_was_taught(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    static const int in_e_flat[] = {63, 65, 67, 68, 70};
    static const int in_e[] = {64, 66, 68, 69, 71};
    signed char flats[HBK_NOTE_MAX + 1] = {0};
    flats[63] = flats[66] = flats[68] = flats[70] = -1;
    struct hbk_tune_wish wish = {
        .n_known = 5, .known = in_e_flat, .alters = flats, .home = HBK_NOTE_C4};
    assert_true(take_all(&read, &wish, &read.arena) >= 6);
    wish.known = in_e;
    assert_int_equal(take_all(&read, &wish, &read.arena), 0);
    wish.alters = NULL;
    assert_true(take_all(&read, &wish, &read.arena) >= 6);
    close_book(&read);
}

/* D4 to E4 with valves 1-3 and 1-2 is hard: tunes wait until it was taught. */
static void hard_moves_are_kept_out_until_they_are_taught(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    static const int five[] = {60, 62, 64, 65, 67};
    struct hbk_moves moves = {.n = 0};
    hbk_pupil_make(&s.notes, 0, 0, &moves.pupil);
    const struct hbk_tune_wish wish = {
        .n_known = 5, .known = five, .home = HBK_NOTE_C4, .moves = &moves};
    const size_t before = take_all(&read, &wish, &s.arena);
    hbk_moves_add(&moves, note_of("D4"), note_of("E4"));
    const size_t after = take_all(&read, &wish, &s.arena);
    assert_true(after >= 6);
    assert_true(before < after);
    solved_close(&s);
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
        cmocka_unit_test(teachers_would_have_them_in_this_order),
        cmocka_unit_test(difficulty_does_not_depend_on_pitch),
        cmocka_unit_test(five_notes_have_six_tunes_on_every_horn),
        cmocka_unit_test(lessons_have_tunes_on_every_horn),
        cmocka_unit_test(all_come_as_they_stand_when_all_notes_are_known),
        cmocka_unit_test(a_tune_moves_to_where_the_notes_are),
        cmocka_unit_test(a_tune_goes_where_it_has_the_new_note),
        cmocka_unit_test(a_note_is_read_as_it_was_taught),
        cmocka_unit_test(hard_moves_are_kept_out_until_they_are_taught),
        cmocka_unit_test(far_keys_come_last),
        cmocka_unit_test(leaps_are_kept_within_what_is_asked),
    };
    return cmocka_run_group_tests_name("lesson_tunes", tests, NULL, NULL);
}
