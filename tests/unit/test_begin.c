/* A horn file to begin with: answers, the nearest pattern, the file. */
#include "support/check.h"
#include "support/solved.h"

#include "begin/make.h"
#include "begin/question.h"
#include "begin/write.h"
#include "edition/check.h"

#include <string.h>

/* What a player says, and what came of it. */
struct begun {
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_patterns patterns;
    struct hbk_answers answers;
    struct hbk_draft draft;
    struct hbk_text file;
    struct hbk_horn horn;
    struct hbk_understood found;
};

static void begin(struct begun *b)
{
    *b = (struct begun){.answers = {.arena = NULL}};
    b->answers.arena = &b->arena;
    b->file.arena = &b->arena;
    assert_int_equal(hbk_patterns_read(&b->arena, &b->patterns, &b->faults),
                     HBK_OK);
}

static void end(struct begun *b)
{
    hbk_horn_finish(&b->horn);
    hbk_patterns_finish(&b->patterns);
    hbk_arena_finish(&b->arena);
}

static void say(struct begun *b, enum hbk_question question, const char *text)
{
    char hint[HBK_HINT_SIZE] = "";
    const bool is_taken = hbk_answer(&b->answers, question, text, hint);
    if (!is_taken) {
        print_error("%s: '%s': %s\n", hbk_question_option(question), text,
                    hint);
    }
    assert_true(is_taken);
}

/* The file, read back without a word said of it. */
static void write_down(struct begun *b)
{
    hbk_draft_make(&b->answers, &b->patterns, &b->draft);
    hbk_draft_write(&b->answers, &b->draft, "my-horn.yaml", &b->file);
    const enum hbk_status status =
        hbk_horn_read_text("my-horn.yaml", hbk_text_string(&b->file),
                           b->file.length, &b->horn, &b->faults);
    if (status != HBK_OK || b->faults.count > 0) {
        print_error("%s\n%s\n", b->faults.items[0].text,
                    hbk_text_string(&b->file));
    }
    assert_int_equal(status, HBK_OK);
    assert_int_equal(b->faults.count, 0);
}

/* And understood, as `check` does. */
static void understand(struct begun *b)
{
    assert_int_equal(hbk_understand(&b->horn, &b->arena, &b->found, &b->faults),
                     HBK_OK);
    if (b->faults.count > 0) {
        print_error("%s: %s\n%s\n", b->draft.name, b->faults.items[0].text,
                    hbk_text_string(&b->file));
    }
    assert_int_equal(b->faults.count, 0);
}

static const char *number(struct begun *b, size_t n)
{
    return hbk_arena_printf(&b->arena, "%zu", n);
}

static void check_kind(const struct hbk_horn_kind *kind, const char *key,
                       size_t n)
{
    struct begun b;
    begin(&b);
    say(&b, HBK_ASK_KIND, kind->word);
    say(&b, HBK_ASK_KEY, key);
    if (kind->system != HBK_SYSTEM_PLAIN) {
        say(&b, kind->system == HBK_SYSTEM_KEYS ? HBK_ASK_KEYS : HBK_ASK_VALVES,
            number(&b, n));
    }
    assert_string_equal(hbk_question_missing(&b.answers), "");
    write_down(&b);
    understand(&b);
    assert_int_equal(b.horn.n_controls,
                     kind->system == HBK_SYSTEM_PLAIN ? 0 : n);
    /* Open, it sounds its own C, whatever it is read in. */
    const int octave = (b.draft.fundamental - b.answers.sounds) % 12;
    if (!kind->is_independent) {
        assert_int_equal(octave, 0);
    }
    end(&b);
}

static const char *const pitches[] = {"C",  "C#", "D",  "Eb", "E",  "F",
                                      "F#", "G",  "Ab", "A",  "Bb", "B"};
enum { N_PITCHES = 12 };

static void every_kind_in_every_key_is_good(void **state)
{
    (void)state;
    const struct hbk_horn_kind *kinds = NULL;
    const size_t n = hbk_horn_kinds(&kinds);
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < N_PITCHES; k++) {
            check_kind(&kinds[i], pitches[k], kinds[i].n);
        }
    }
}

static void every_number_of_keys_and_valves_is_good(void **state)
{
    (void)state;
    const struct hbk_horn_kind *kinds = NULL;
    const size_t n = hbk_horn_kinds(&kinds);
    for (size_t i = 0; i < n; i++) {
        const size_t most = kinds[i].system == HBK_SYSTEM_KEYS ? 12 : 6;
        /* Independent valves go by sixes: their compass hangs on it. */
        const size_t least = kinds[i].is_independent ? 6 : 1;
        for (size_t k = least; k <= most && kinds[i].n > 0; k++) {
            check_kind(&kinds[i], "Bb", k);
        }
    }
}

/* What the owner of such a horn would say, in words. */
static void say_essentials(struct begun *b, const struct hbk_horn *horn,
                           const struct hbk_horn_kind *kind, const char *key)
{
    struct hbk_text open = {.arena = &b->arena};
    struct hbk_text called = {.arena = &b->arena};
    struct hbk_text lowers = {.arena = &b->arena};
    size_t n[2] = {0, 0};
    enum hbk_action action = HBK_ACTION_UNKNOWN;
    for (size_t i = 0; i < horn->n_controls; i++) {
        const struct hbk_control *const control = &horn->controls[i];
        if (control->kind == HBK_KEY) {
            n[0]++;
            if (control->stands_open) {
                hbk_text_addf(&open, "%s ", control->name);
            }
            if (control->called != NULL) {
                hbk_text_addf(&called, "%s,", control->called);
            }
        } else if (control->kind == HBK_VALVE) {
            const int by = hbk_pattern_lowers(horn, i);
            n[1]++;
            hbk_text_addf(&lowers, "%s%d ", by < 0 ? "+" : "",
                          by < 0 ? -by : by);
            action = control->action;
        }
    }
    say(b, HBK_ASK_KIND, kind->word);
    say(b, HBK_ASK_KEY, key);
    say(b, HBK_ASK_KEYS, number(b, n[0]));
    say(b, HBK_ASK_VALVES, number(b, n[1]));
    if (n[0] > 0) {
        say(b, HBK_ASK_OPEN, open.length == 0 ? "none" : open.bytes);
    }
    if (called.length > 0) {
        say(b, HBK_ASK_CALLED, called.bytes);
    }
    if (n[1] > 0 && horn->model == HBK_MODEL_LENGTH) {
        say(b, HBK_ASK_LOWERS, lowers.bytes);
    }
    if (action != HBK_ACTION_UNKNOWN) {
        say(b, HBK_ASK_ACTION, hbk_action_name(action));
    }
    say(b, HBK_ASK_CLEF, hbk_clef_name(horn->clef));
    say(b, HBK_ASK_A4, hbk_arena_printf(&b->arena, "%g", horn->a4_hz));
}

static const struct hbk_horn_kind *kind_of(const char *name)
{
    const struct hbk_horn_kind *kinds = NULL;
    const struct hbk_horn_kind *found = NULL;
    const size_t n = hbk_horn_kinds(&kinds);
    for (size_t i = 0; i < n; i++) {
        const size_t length = strlen(kinds[i].pattern);
        if (strncmp(name, kinds[i].pattern, length) == 0 &&
            (found == NULL || length > strlen(found->pattern))) {
            found = &kinds[i];
        }
    }
    assert_non_null(found);
    return found;
}

/* Notes of both whose first choice is the same, and of both in all. */
static void count_alike(const struct hbk_notes *a, const struct hbk_notes *b,
                        size_t *alike, size_t *all)
{
    *alike = 0;
    *all = 0;
    for (size_t i = 0; i < a->n; i++) {
        const struct hbk_note *const other =
            hbk_notes_find(b, a->notes[i].written);
        const size_t n = a->notes[i].n;
        if (other == NULL) {
            continue;
        }
        ++*all;
        *alike += (n == 0) == (other->n == 0) &&
                          (n == 0 || a->notes[i].fingerings[0].press ==
                                         other->fingerings[0].press)
                      ? 1
                      : 0;
    }
}

static void each_pattern_comes_back_from_its_name(void **state)
{
    (void)state;
    struct begun all;
    begin(&all);
    assert_true(all.patterns.n > 20);
    for (size_t i = 0; i < all.patterns.n; i++) {
        struct begun b;
        struct solved solved;
        size_t alike, notes;
        begin(&b);
        assert_true(hbk_answers_of_pattern(&b.answers, &b.patterns.items[i]));
        write_down(&b);
        understand(&b);
        solved_open(&solved, b.patterns.items[i].name);
        count_alike(&solved.notes, b.found.notes, &alike, &notes);
        assert_int_equal(notes, solved.notes.n);
        assert_int_equal(alike, notes);
        /* Not the same choices alone: the same cents. */
        for (size_t k = 0; k < notes; k++) {
            if (solved.notes.notes[k].n > 0) {
                check_abs(b.found.notes->notes[k].fingerings[0].cents,
                          solved.notes.notes[k].fingerings[0].cents, 0.01);
            }
        }
        solved_close(&solved);
        end(&b);
    }
    end(&all);
}

static void each_pattern_comes_back_from_what_its_owner_says(void **state)
{
    (void)state;
    struct begun all;
    begin(&all);
    for (size_t i = 0; i < all.patterns.n; i++) {
        const struct hbk_pattern *const pattern = &all.patterns.items[i];
        struct begun b;
        struct solved solved;
        size_t alike, notes;
        char key[HBK_NAME_SIZE];
        begin(&b);
        hbk_note_name(pattern->horn->written_c4_sounds, HBK_ASCII, key);
        say_essentials(&b, pattern->horn, kind_of(pattern->name), key);
        write_down(&b);
        understand(&b);
        assert_string_equal(b.draft.pattern->name, pattern->name);
        solved_open(&solved, pattern->name);
        count_alike(&solved.notes, b.found.notes, &alike, &notes);
        if (notes != solved.notes.n || alike != notes) {
            print_error("%s: %zu of %zu\n%s", pattern->name, alike, notes,
                        hbk_text_string(&b.file));
        }
        assert_int_equal(notes, solved.notes.n);
        assert_int_equal(alike, notes);
        solved_close(&solved);
        end(&b);
    }
    end(&all);
}

/* "Bb" of "ophicleide-b-flat-11-museum", "C" of "keyed-bugle-c-6-munich". */
static const char *key_in(struct begun *b, const char *name)
{
    const char *const begins = kind_of(name)->pattern;
    const char *const key = name + strlen(begins);
    const bool is_flat = strncmp(key + 1, "-flat", 5) == 0;
    assert_true(key[0] >= 'a' && key[0] <= 'g' && key[1] == '-');
    return hbk_arena_printf(&b->arena, "%c%s", key[0] - 'a' + 'A',
                            is_flat ? "b" : "");
}

/*
 * A horn known by its bore, begun by its length from what its owner says: the
 * names of its keys and what its valves are for agree, so most first choices
 * do. Those that differ are so since the bore knows how several open holes
 * and the flare bend the pitch, and the begun file cannot.
 */
static void a_bored_horn_is_begun_by_length_and_mostly_agrees(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    size_t n_bored = 0;
    size_t all_alike = 0;
    size_t all_notes = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        struct begun b;
        size_t alike, notes;
        solved_open(&solved, horns[i].name);
        begin(&b);
        if (solved.horn.model == HBK_MODEL_BORE) {
            n_bored++;
            say_essentials(&b, &solved.horn, kind_of(horns[i].name),
                           key_in(&b, horns[i].name));
            write_down(&b);
            understand(&b);
            count_alike(&solved.notes, b.found.notes, &alike, &notes);
            all_alike += alike;
            all_notes += notes;
            if (3 * alike < notes) {
                print_error("%s: %zu of %zu\n", horns[i].name, alike, notes);
            }
            assert_true(3 * alike >= notes);
        }
        end(&b);
        solved_close(&solved);
    }
    assert_true(n_bored >= 9);
    assert_true(10 * all_alike >= 6 * all_notes);
    hbk_arena_finish(&arena);
}

static void check_hint(struct begun *b, enum hbk_question question,
                       const char *text, const char *wanted)
{
    char hint[HBK_HINT_SIZE] = "";
    const struct hbk_answers before = b->answers;
    if (hbk_answer(&b->answers, question, text, hint) ||
        strstr(hint, wanted) == NULL) {
        print_error("'%s' is told: %s\n", text, hint);
        fail();
    }
    assert_memory_equal(&before, &b->answers, sizeof(before));
}

static void a_wrong_answer_is_told_what_would_be_right(void **state)
{
    (void)state;
    struct begun b;
    begin(&b);
    check_hint(&b, HBK_ASK_KIND, "cornett", "did you mean 'cornet'?");
    check_hint(&b, HBK_ASK_KIND, "xylophone", "keyed or valved for any other");
    check_hint(&b, HBK_ASK_KEY, "Q", "is no key; write C, Bb, Eb or F");
    check_hint(&b, HBK_ASK_KEY, "Bb9", "is no key");
    check_hint(&b, HBK_ASK_KEYS, "six", "write how many keys there are");
    check_hint(&b, HBK_ASK_KEYS, "17", "0 to 16");
    check_hint(&b, HBK_ASK_VALVES, "-1", "0 to 6");
    say(&b, HBK_ASK_KEYS, "6");
    say(&b, HBK_ASK_VALVES, "3");
    check_hint(&b, HBK_ASK_OPEN, "7", "1 to 6 from the bell, or none");
    check_hint(&b, HBK_ASK_CALLED, "B C# D", "has 6 keys, and this names 3");
    check_hint(&b, HBK_ASK_CALLED, "1 2 3 4 5 6", "'1' names no note");
    check_hint(&b, HBK_ASK_LOWERS, "2 1", "has 3 valves, and this names 2");
    check_hint(&b, HBK_ASK_LOWERS, "200 100 300", "write semitones, 1 to 9");
    check_hint(&b, HBK_ASK_LOOPS, "182,88", "has 3 valves, and this names 2");
    check_hint(&b, HBK_ASK_LOOPS, "182 88 abc", "'abc' is no number");
    check_hint(&b, HBK_ASK_ACTION, "perinet", "early piston");
    check_hint(&b, HBK_ASK_CLEF, "G", "treble, bass, alto or tenor");
    check_hint(&b, HBK_ASK_A4, "452,5", "with a point, as in 452.5");
    check_hint(&b, HBK_ASK_A4, "45", "from 300 to 600");
    check_hint(&b, HBK_ASK_LENGTH, "54", "from 400 to 12000");
    check_hint(&b, HBK_ASK_NAME,
               "a\x07"
               "b",
               "1 to 120 letters");
    check_hint(&b, HBK_ASK_NAME, "   ", "nothing was written");
    end(&b);
}

static void keys_of_pitch_are_read_as_people_write_them(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int near, sounds;
    } keys[] = {{"Bb", 60, 58},       {"b flat", 60, 58},  {"B-flat", 60, 58},
                {"Bflat", 60, 58},    {"B\u266d", 60, 58}, {"Eb", 58, 63},
                {"Eb", 51, 51},       {"E flat", 39, 39},  {"F", 60, 65},
                {"F#", 60, 66},       {"f sharp", 60, 66}, {"Bb2", 60, 46},
                {"B flat 3", 46, 58}, {"C", 39, 36},       {"Bb", 39, 34}};
    for (size_t i = 0; i < sizeof(keys) / sizeof(keys[0]); i++) {
        int sounds = 0;
        assert_true(hbk_key_parse(keys[i].text, keys[i].near, &sounds));
        if (sounds != keys[i].sounds) {
            print_error("%s\n", keys[i].text);
        }
        assert_int_equal(sounds, keys[i].sounds);
    }
    int sounds = 0;
    assert_false(hbk_key_parse("", 60, &sounds));
    assert_false(hbk_key_parse("H", 60, &sounds));
    assert_false(hbk_key_parse("B flat and more of it", 60, &sounds));
}

/* What stands in brackets is an answer like any other, and changes nothing. */
static void what_is_usual_is_taken_as_an_answer(void **state)
{
    (void)state;
    const struct hbk_horn_kind *kinds = NULL;
    const size_t n = hbk_horn_kinds(&kinds);
    for (size_t i = 0; i < n; i++) {
        struct begun plain, said;
        size_t alike, notes;
        begin(&plain);
        begin(&said);
        say(&plain, HBK_ASK_KIND, kinds[i].word);
        say(&said, HBK_ASK_KIND, kinds[i].word);
        for (int q = HBK_ASK_KEY; q < HBK_ASK_COUNT; q++) {
            const enum hbk_question question = (enum hbk_question)q;
            hbk_draft_make(&said.answers, &said.patterns, &said.draft);
            const char *const words =
                hbk_question_words(question, &said.answers, &said.draft);
            const char *const usual =
                words == NULL
                    ? ""
                    : hbk_question_usual(question, &said.answers, &said.draft);
            if (usual[0] != '\0') {
                say(&said, question, usual);
            }
        }
        write_down(&plain);
        write_down(&said);
        understand(&plain);
        understand(&said);
        count_alike(plain.found.notes, said.found.notes, &alike, &notes);
        assert_string_equal(plain.horn.name, said.horn.name);
        assert_int_equal(plain.horn.written_c4_sounds,
                         said.horn.written_c4_sounds);
        assert_int_equal(notes, plain.found.notes->n);
        assert_int_equal(alike, notes);
        end(&plain);
        end(&said);
    }
}

static void names_of_every_sort_are_quoted(void **state)
{
    (void)state;
    static const char *const names[] = {"Bugle #3 of the band",
                                        "Cornet: the \"good\" one",
                                        "true",
                                        "null",
                                        "- a list?",
                                        "[attic]",
                                        "{attic}",
                                        "It's \\ mine",
                                        "440",
                                        "C#",
                                        "Fl\u00fcgelhorn in B\u266d",
                                        "x, y",
                                        "no",
                                        "*star",
                                        "&and",
                                        "%",
                                        "@",
                                        "`tick`",
                                        "trailing:",
                                        "!bang",
                                        "|",
                                        "> not folded",
                                        "a \"b\" # c"};
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        struct begun b;
        begin(&b);
        say(&b, HBK_ASK_KIND, "cornet");
        say(&b, HBK_ASK_KEY, "Bb");
        say(&b, HBK_ASK_NAME, names[i]);
        write_down(&b);
        assert_string_equal(b.horn.name, names[i]);
        end(&b);
    }
}

static void the_file_says_what_is_whose(void **state)
{
    (void)state;
    struct begun b;
    begin(&b);
    say(&b, HBK_ASK_KIND, "cornet");
    say(&b, HBK_ASK_KEY, "C");
    say(&b, HBK_ASK_LOWERS, "1 2 3 5");
    write_down(&b);
    assert_int_equal(b.horn.n_controls, 4);
    assert_int_equal(b.horn.provenance[HBK_PART_VALVES], HBK_OF_PATTERN);
    assert_int_equal(b.horn.provenance[HBK_PART_TUNING], HBK_ASSUMED);
    /* No cornet among the patterns has a fourth valve. */
    assert_int_equal(b.horn.controls[3].provenance, HBK_ASSUMED);
    assert_non_null(strstr(b.horn.source, b.draft.pattern->name));
    assert_non_null(strstr(b.horn.source, "order of valves"));
    end(&b);
    begin(&b);
    say(&b, HBK_ASK_KIND, "keyed bugle");
    say(&b, HBK_ASK_KEY, "C");
    say(&b, HBK_ASK_CALLED, "B, C#, D, Eb, Eb, E, F, high A, high B");
    say(&b, HBK_ASK_LENGTH, "1312");
    say(&b, HBK_ASK_A4, "444.5");
    write_down(&b);
    understand(&b);
    assert_string_equal(b.draft.pattern->name, "keyed-bugle-e-flat-9");
    assert_int_equal(b.horn.n_controls, 9);
    check_abs(hbk_pattern_site(&b.horn, 8)->hole.raises, 7.0, 0.0);
    assert_true(b.horn.controls[0].stands_open);
    assert_int_equal(b.horn.provenance[HBK_PART_LENGTH], HBK_MEASURED);
    assert_int_equal(b.horn.provenance[HBK_PART_TUNING], HBK_MEASURED);
    assert_int_equal(b.horn.provenance[HBK_PART_SLIDES], HBK_OF_PATTERN);
    check_abs(b.horn.length_m, 1.312, 1e-9);
    check_abs(b.horn.a4_hz, 444.5, 1e-9);
    end(&b);
}

/* Two keys open, the higher a semitone, both a tone: B and B flat by name. */
static void keys_that_are_open_lower_in_turn(void **state)
{
    (void)state;
    static const char *const ways[] = {"Bb B C# D Eb", NULL};
    for (size_t i = 0; i < 2; i++) {
        struct begun b;
        begin(&b);
        say(&b, HBK_ASK_KIND, "keyed bugle");
        say(&b, HBK_ASK_KEY, "C");
        say(&b, HBK_ASK_KEYS, "5");
        say(&b, HBK_ASK_OPEN, "1 2");
        if (ways[i] != NULL) {
            say(&b, HBK_ASK_CALLED, ways[i]);
        }
        write_down(&b);
        understand(&b);
        check_abs(hbk_pattern_site(&b.horn, 0)->hole.raises, -1.0, 0.0);
        check_abs(hbk_pattern_site(&b.horn, 1)->hole.raises, -1.0, 0.0);
        check_abs(hbk_pattern_site(&b.horn, 2)->hole.raises, 1.0, 0.0);
        assert_string_equal(b.horn.controls[0].called, "Bb");
        assert_string_equal(b.horn.controls[4].called, "Eb");
        end(&b);
    }
}

static void what_is_missing_is_named(void **state)
{
    (void)state;
    struct begun b;
    begin(&b);
    assert_string_equal(hbk_question_missing(&b.answers), "--kind and --key");
    say(&b, HBK_ASK_KIND, "bugle");
    assert_string_equal(hbk_question_missing(&b.answers), "--key");
    say(&b, HBK_ASK_KIND, "ophicleide");
    assert_string_equal(hbk_question_missing(&b.answers), "--key and --keys");
    say(&b, HBK_ASK_KEY, "C");
    assert_string_equal(hbk_question_missing(&b.answers), "--keys");
    say(&b, HBK_ASK_KIND, "cornet");
    assert_string_equal(hbk_question_missing(&b.answers), "--valves");
    say(&b, HBK_ASK_LOOPS, "182 88 294");
    assert_string_equal(hbk_question_missing(&b.answers), "");
    write_down(&b);
    assert_int_equal(b.horn.provenance[HBK_PART_VALVES], HBK_MEASURED);
    end(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_in_every_key_is_good),
        cmocka_unit_test(every_number_of_keys_and_valves_is_good),
        cmocka_unit_test(each_pattern_comes_back_from_its_name),
        cmocka_unit_test(each_pattern_comes_back_from_what_its_owner_says),
        cmocka_unit_test(a_bored_horn_is_begun_by_length_and_mostly_agrees),
        cmocka_unit_test(a_wrong_answer_is_told_what_would_be_right),
        cmocka_unit_test(keys_of_pitch_are_read_as_people_write_them),
        cmocka_unit_test(what_is_usual_is_taken_as_an_answer),
        cmocka_unit_test(names_of_every_sort_are_quoted),
        cmocka_unit_test(the_file_says_what_is_whose),
        cmocka_unit_test(keys_that_are_open_lower_in_turn),
        cmocka_unit_test(what_is_missing_is_named),
    };
    return cmocka_run_group_tests_name("begin", tests, NULL, NULL);
}
