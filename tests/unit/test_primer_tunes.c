/* The tunes that come with the program, each as it stands. */
#include "support/tune_book.h"

#include "base/text.h"
#include "tune/melody/transpose.h"

#include <stdlib.h>

static const char free_by_death[] = "Free: the composer died before 1930.";
static const char free_by_age[] = "Free: traditional, printed before 1900.";

static void all_are_read_without_a_warning(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    assert_int_equal(read.faults.count, 0);
    assert_true(read.book.n >= 24);
    size_t within_five = 0;
    for (size_t i = 0; i < read.book.n; i++) {
        const struct hbk_tune *const tune = read.book.tunes[i];
        assert_true(tune->title[0] != '\0' && tune->composer[0] != '\0');
        within_five +=
            lowest(tune) >= note_of("C4") && highest(tune) <= note_of("G4");
        assert_true(lowest(tune) >= note_of("B3"));
        assert_true(highest(tune) <= note_of("G5"));
        assert_true(highest(tune) - lowest(tune) <= 17);
    }
    assert_true(within_five >= 6);
    close_book(&read);
}

/* The years in a text that stand after `word`, or any for ""; the largest. */
static int last_year(const char *text, const char *word, int *first)
{
    int largest = 0;
    *first = 9999;
    for (const char *at = text; *at != '\0'; at++) {
        const size_t n = strspn(at, "0123456789");
        const size_t before = strlen(word);
        if (n != 4 || (size_t)(at - text) < before ||
            memcmp(at - before, word, before) != 0) {
            at += n > 0 ? n - 1 : 0;
            continue;
        }
        const int year = 1000 * (at[0] - '0') + 100 * (at[1] - '0') +
                         10 * (at[2] - '0') + (at[3] - '0');
        largest = year > largest ? year : largest;
        *first = year < *first ? year : *first;
        at += n - 1;
    }
    return largest;
}

/* Where it comes from, with a year; then why it is free, which is so. */
static void each_names_its_source_and_is_free(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    for (size_t i = 0; i < read.book.n; i++) {
        const struct hbk_tune *const tune = read.book.tunes[i];
        const char *const line = strchr(tune->about, '\n');
        assert_non_null(line);
        const char *const source = hbk_arena_copy(&read.arena, tune->about,
                                                  (size_t)(line - tune->about));
        const char *const why = line + 1;
        int first = 0;
        assert_true(last_year(source, "", &first) < 1930);
        assert_true(first < 1900);
        const bool by_death = strcmp(why, free_by_death) == 0;
        if (!by_death) {
            assert_string_equal(why, free_by_age);
            continue;
        }
        /* "(died 1827)" or "(died about 1560)", beside his own name */
        const int died = last_year(source, "died ", &first) +
                         last_year(source, "died about ", &first);
        assert_true(died > 1500 && died < 1930);
        const char *const name = strrchr(tune->composer, ' ');
        assert_non_null(name);
        assert_non_null(strstr(source, name + 1));
    }
    close_book(&read);
}

static void keys_are_c_f_and_g(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    size_t of_key[3] = {0};
    for (size_t i = 0; i < read.book.n; i++) {
        const struct hbk_tune *const tune = read.book.tunes[i];
        assert_int_equal(tune->n_keys, 1);
        assert_int_equal(tune->n_meters, 1);
        assert_int_equal(tune->n_clefs, 1);
        assert_int_equal(tune->clefs[0].sign, 'G');
        assert_int_equal(tune->n_tempos, 1);
        assert_string_equal(tune->keys[0].mode, "major");
        assert_in_range(tune->keys[0].fifths + 1, 0, 2);
        of_key[tune->keys[0].fifths + 1]++;
        /* It ends on the tonic or, as a carol does, on the third. */
        size_t last = tune->n_events - 1;
        while (!sounds(&tune->events[last])) {
            last--;
        }
        const int tonic = hbk_spelling_note(hbk_tune_tonic(&tune->keys[0]));
        const int above = (tune->events[last].note - tonic + 120) % 12;
        assert_true(above == 0 || above == 4);
    }
    assert_true(of_key[0] > 0 && of_key[1] > 0 && of_key[2] > 0);
    close_book(&read);
}

/* A bar that begins before the first beat lends its beats from the last. */
static void every_bar_is_full(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    for (size_t i = 0; i < read.book.n; i++) {
        const struct hbk_tune *const tune = read.book.tunes[i];
        const struct hbk_ratio full = hbk_tune_full_bar(&tune->meters[0]);
        const struct hbk_ratio first = tune->bars[0].length;
        struct hbk_ratio last = tune->bars[tune->n_bars - 1].length;
        if (!hbk_ratio_equal(first, full)) {
            assert_true(hbk_ratio_add(last, first, &last));
        }
        assert_true(hbk_ratio_equal(last, full));
        for (size_t b = 1; b + 1 < tune->n_bars; b++) {
            assert_true(hbk_ratio_equal(tune->bars[b].length, full));
        }
        assert_true(tune->n_bars >= 7);
    }
    close_book(&read);
}

/* A rest, a breath mark, or the end, before the breath is gone. */
static void phrases_leave_time_to_breathe(void **state)
{
    (void)state;
    const double breath_s = 9.0;
    struct read read;
    open_book(&read);
    for (size_t i = 0; i < read.book.n; i++) {
        const struct hbk_tune *const tune = read.book.tunes[i];
        const double whole_s = 240.0 / hbk_tune_quarters_at(tune, 0, NAN);
        double since_s = 0.0;
        for (size_t e = 0; e < tune->n_events; e++) {
            const struct hbk_tune_event *const event = &tune->events[e];
            since_s += whole_s * hbk_ratio_value(event->length);
            if (since_s > breath_s) {
                print_error("%s, bar %s\n", tune->title,
                            tune->bars[event->bar].number);
            }
            assert_true(since_s <= breath_s);
            if (!sounds(event) || event->articulation & HBK_TUNE_BREATH) {
                since_s = 0.0;
            }
        }
    }
    close_book(&read);
}

/*
 * An upbeat belongs to what follows it: breath is taken before "and with the
 * girls" and before "its fleece", not after the first word. Bars count from 1.
 */
static void breath_is_taken_before_an_upbeat(void **state)
{
    (void)state;
    static const struct {
        const char *title;
        size_t bar, note; /* after which; from 1 */
    } breaths[] = {{"Yankee Doodle", 14, 3},
                   {"Merrily We Roll Along", 6, 3},
                   {"Auld Lang Syne", 3, 3},
                   {"Adeste Fideles", 5, 2},
                   {"Au clair de la lune", 2, 2}};
    struct read read;
    open_book(&read);
    for (size_t i = 0; i < sizeof(breaths) / sizeof(breaths[0]); i++) {
        const struct hbk_tune *tune = NULL;
        for (size_t t = 0; t < read.book.n; t++) {
            tune = strcmp(read.book.tunes[t]->title, breaths[i].title) == 0
                       ? read.book.tunes[t]
                       : tune;
        }
        assert_non_null(tune);
        const struct hbk_tune_bar *const bar = &tune->bars[breaths[i].bar - 1];
        for (size_t n = 0; n < bar->count; n++) {
            const bool marked = (tune->events[bar->first + n].articulation &
                                 (unsigned)HBK_TUNE_BREATH) != 0;
            assert_int_equal(marked, n + 1 == breaths[i].note);
        }
    }
    close_book(&read);
}

enum { BEGINNING = 7 };

/* Steps and lengths of the first notes, wherever they lie, "0:1/4 2:1/4". */
static const char *melody_of(const struct hbk_tune *tune,
                             struct hbk_arena *arena)
{
    struct hbk_text text = {.arena = arena};
    int before = -1;
    size_t n = 0;
    for (size_t e = 0; e < tune->n_events && n < BEGINNING; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        if (sounds(event)) {
            char length[HBK_RATIO_TEXT];
            hbk_text_addf(&text, "%d:%s ",
                          before < 0 ? 0 : event->note - before,
                          hbk_ratio_text(event->length, length));
            before = event->note;
            n++;
        }
    }
    return hbk_text_string(&text);
}

static void no_two_are_the_same_melody(void **state)
{
    (void)state;
    struct read read;
    open_book(&read);
    for (size_t i = 0; i < read.book.n; i++) {
        const char *const melody = melody_of(read.book.tunes[i], &read.arena);
        for (size_t k = 0; k < i; k++) {
            assert_string_not_equal(melody,
                                    melody_of(read.book.tunes[k], &read.arena));
            assert_string_not_equal(read.book.tunes[i]->title,
                                    read.book.tunes[k]->title);
        }
    }
    close_book(&read);
}

/* Set where horns of one's own are, the tunes are still those shipped. */
static void the_tunes_are_found_beside_the_horns(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    assert_int_equal(setenv("HORNBOOK_INSTRUMENTS", "instruments", 1), 0);
    assert_string_equal(hbk_shipped_tunes(&arena, &faults),
                        "instruments/../charts/primer-tunes.abc");
    assert_int_equal(setenv("HORNBOOK_INSTRUMENTS", "tests/unit", 1), 0);
    const char *const path = hbk_shipped_tunes(&arena, &faults);
    assert_non_null(path);
    assert_null(strstr(path, "tests/unit/.."));
    assert_int_equal(unsetenv("HORNBOOK_INSTRUMENTS"), 0);
    assert_int_equal(faults.count, 0);
    hbk_arena_finish(&arena);
}

/* What is no book is read all the same, or refused with its reason. */
static void a_book_may_be_one_tune_or_none(void **state)
{
    (void)state;
    struct hbk_faults faults = {0};
    struct hbk_tune_book book = {0};
    assert_int_equal(
        hbk_tune_book_read("charts/attic-galop.abc", &book, &faults), HBK_OK);
    assert_int_equal(book.n, 1);
    assert_string_equal(book.tunes[0]->title, "Attic Galop");
    assert_string_equal(book.tunes[0]->about, "");
    hbk_tune_book_finish(&book);
    assert_int_equal(faults.count, 0);
    assert_int_equal(hbk_tune_book_read("LICENSE", &book, &faults),
                     HBK_ERR_INPUT);
    assert_true(faults.count > 0);
    hbk_tune_book_finish(&book);
    faults = (struct hbk_faults){0};
    assert_int_equal(hbk_tune_book_read("charts", &book, &faults),
                     HBK_ERR_INPUT);
    hbk_tune_book_finish(&book);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_are_read_without_a_warning),
        cmocka_unit_test(each_names_its_source_and_is_free),
        cmocka_unit_test(keys_are_c_f_and_g),
        cmocka_unit_test(every_bar_is_full),
        cmocka_unit_test(phrases_leave_time_to_breathe),
        cmocka_unit_test(breath_is_taken_before_an_upbeat),
        cmocka_unit_test(no_two_are_the_same_melody),
        cmocka_unit_test(the_tunes_are_found_beside_the_horns),
        cmocka_unit_test(a_book_may_be_one_tune_or_none),
    };
    return cmocka_run_group_tests_name("primer_tunes", tests, NULL, NULL);
}
