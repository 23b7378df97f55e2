#include "support/tunes.h"

/*
 * ABC that is refused, and why: what one horn cannot play, slips with their
 * places, what is too much; and whatever comes by accident.
 */

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void macros_are_refused(void **state)
{
    (void)state;
    read_bad("t.abc", "X:1\nT:t\nm:~G2={A}G\nK:C\nC|\n", 218, "t.abc:3:1");
}

/* The text in UTF-16, with its mark and without, is told by that. */
static void read_wide(const char *text)
{
    char wide[100];
    const size_t n = strlen(text);
    for (size_t i = 0; i < n; i++) {
        wide[2 + 2 * i] = text[i];
        wide[3 + 2 * i] = '\0';
    }
    wide[0] = '\xFF';
    wide[1] = '\xFE';
    for (size_t skip = 0; skip <= 2; skip += 2) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        assert_int_equal(hbk_tune_read_bytes("t.abc", wide + skip,
                                             2 * n + 2 - skip, NULL, &document,
                                             &faults),
                         HBK_ERR_INPUT);
        assert_non_null(strstr(faults.items[0].text, "save it as UTF-8"));
        hbk_tune_document_finish(&document);
    }
}

/* A list of tunes is kept in memory, so that it has an end. */
static void a_file_of_too_many_tunes_is_refused(void **state)
{
    (void)state;
    enum { MANY = 100001 };
    static const char head[] = "X:1\n";
    struct hbk_arena arena = {0};
    struct hbk_text text = {.arena = &arena};
    for (size_t i = 0; i < MANY; i++) {
        hbk_text_add(&text, head);
    }
    hbk_text_add(&text, "T:t\nK:C\nC|\n");
    read_bad("t.abc", hbk_text_string(&text), 202,
             "more than 100000 tunes in it");
    hbk_arena_finish(&arena);
}

static void slips_are_named_with_their_place(void **state)
{
    (void)state;
    read_bad("t.abc", "some words\n", 211, "X:1");
    read_bad("t.abc", "", 211, "the file is empty");
    read_bad("t.musicxml", " \n", 211, "the file is empty");
    read_bad("t.musicxml", "<!DOCTYPE html>\n<html>Hello</html>\n", 211,
             "a web page");
    read_bad("t.musicxml", "PITCH C5\n", 211, "this is not MusicXML");
    read_wide("X:1\nT:t\nK:C\nC|\n");
    read_bad("t.abc", "X:1\nT:t\nCDE\n", 219, "K:");
    read_bad("t.abc", "X:1\nT:t\nK:C\n", 203, "no notes");
    read_bad("t.abc", "X:1\nT:t\nK:H\nC\n", 220, "t.abc:3:1");
    read_bad("t.abc", "X:1\nT:t\nK:G#\nC\n", 220, "seven");
    read_bad("t.abc", "X:1\nT:t\nM:4/5\nK:C\nC\n", 220, "M:4/5");
    read_bad("t.abc", "X:1\nT:t\nL:1/3\nK:C\nC\n", 220, "L:1/3");
    read_bad("t.abc", "X:1\nT:t\nK:C\nC \"_1 D\n", 229, "t.abc:4:3");
    read_bad("t.abc", "X:1\nT:t\nK:C\nC {de D|\n", 229, "grace");
    read_bad("t.abc", "X:1\nT:t\nK:C\nC [K:D D|\n", 229, "field");
    read_bad("t.abc", "X:1\nT:t\nK:C\nC ^z|\n", 228, "accidental");
    read_bad("t.abc", "X:1\nT:t\nK:C\nC ^^^D|\n", 228, "^^^");
    read_bad("t.abc", "X:1\nT:t\nK:C\nC,,,,,,|\n", 209, "C-1");
    read_bad("t.abc", "X:1\nT:t\nK:C\nC99999|\n", 201, "length");
    read_bad("t.abc", "X:1\nT:t\nK:C\nC0|\n", 201, "length");
    read_bad("t.abc", "X:1\nT:t\nK:C\n(3a(3bcd|\n", 227, "tuplet");
    read_bad("t.abc", "X:1\nT:t\nK:C\n(1a|\n", 227, "tuplet");
    read_bad("t.abc", "X:1\nT:t\nK:C\nA>>>>>>>B|\n", 226, "7 signs");
    read_bad("t.abc", "X:1\nT:t\nK:C\nA|1-99 B:|\n", 210, "64");
    read_bad("t.abc", "%abc-2.1\nX:1\nT:t\nK:C\nC|\nE:words|\n", 230, "E:");
    read_bad("t.abc", "%abc-2.1\nX:1\nT:t\nK:C\nC !trill D|\n", 229,
             "decoration");
}

/* 64 bits hold no such sum of lengths: primes in every denominator. */
static void lengths_that_cannot_be_kept_are_refused(void **state)
{
    (void)state;
    read_bad("t.abc",
             "X:1\nT:t\nL:1/1\nK:C\nA/9973A/9967A/9949A/9941A/9931A/9929"
             "A/9923A/9907|\n",
             201, "exactly");
}

static void warnings_leave_room_for_errors(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_text text = {.arena = &arena};
    hbk_text_add(&text, "X:1\nT:t\nL:1/4\nK:C\n");
    for (int i = 0; i < 50; i++) {
        hbk_text_add(&text, "c -c|");
    }
    hbk_text_add(&text, "\n");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", text.bytes, &document, &faults);
    assert_int_equal(faults.count, 9);
    assert_int_equal(faults.items[8].number, 207);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void too_many_notes_are_refused(void **state)
{
    (void)state;
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_text text = {.arena = &arena};
    hbk_text_add(&text, "X:1\nT:t\nM:C\nL:1\nK:C\n");
    for (int i = 0; i < 110; i++) {
        hbk_text_add(&text, "Z999|");
    }
    read_bad("t.abc", text.bytes, 202, "100000");
    hbk_arena_finish(&arena);
}

static void floods_of_fields_and_texts_are_refused(void **state)
{
    (void)state;
    static const char *const parts[] = {"[K:D]", "\"_1\"", "\nN:x"};
    for (size_t i = 0; i < COUNT(parts); i++) {
        struct hbk_arena arena = {.newest = NULL};
        struct hbk_text text = {.arena = &arena};
        hbk_text_add(&text, "X:1\nT:t\nK:C\nC");
        for (int k = 0; k < 200001; k++) {
            hbk_text_add(&text, parts[i]);
        }
        read_bad("t.abc", text.bytes, 202, "200000");
        hbk_arena_finish(&arena);
    }
}

/* Whatever comes, an answer comes: the sanitizers watch. */
static void mutated_tunes_are_read_or_refused(void **state)
{
    (void)state;
    static const char seed[] =
        "%abc-2.1\nX:1\nT:t \\'e &quot;\nM:6/8\nL:1/8\nQ:\"A\" 3/8=60\n"
        "U:T=!trill!\nV:1\nK:D Phr ^f clef=bass-8 t=-2\n"
        "|:((3.A{/^gf}BTc) (d2-|d\"_1-2\"He4)) z2>e2 \"Gm\"[K:G]f_g'|1,3 "
        "Z2:|[2 !D.C.!^c,,3/2- c/4|]\nw: a b- c *\n%%propagate-accidentals "
        "not\n[V:1]AB y x2 `d\\\n";
    enum { ROOM = 2 * sizeof(seed) };
    uint32_t random = 20231;
    size_t good = 0;
    for (int i = 0; i < 20000; i++) {
        char bytes[ROOM];
        memcpy(bytes, seed, sizeof(seed));
        const size_t length = mutate(bytes, sizeof(seed) - 1, ROOM, &random);
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const enum hbk_status status = hbk_tune_read_bytes(
            "t.abc", bytes, length, NULL, &document, &faults);
        assert_int_equal(status == HBK_OK, faults.errors == 0);
        struct hbk_tune_performance played;
        if (status == HBK_OK) {
            good++;
            (void)!hbk_tune_unfold(&document.tune, (double)NAN, &document.arena,
                                   &played);
        }
        hbk_tune_document_finish(&document);
    }
    assert_true(good > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(macros_are_refused),
        cmocka_unit_test(a_file_of_too_many_tunes_is_refused),
        cmocka_unit_test(slips_are_named_with_their_place),
        cmocka_unit_test(lengths_that_cannot_be_kept_are_refused),
        cmocka_unit_test(warnings_leave_room_for_errors),
        cmocka_unit_test(too_many_notes_are_refused),
        cmocka_unit_test(floods_of_fields_and_texts_are_refused),
        cmocka_unit_test(mutated_tunes_are_read_or_refused),
    };
    return cmocka_run_group_tests_name("abc_refused", tests, NULL, NULL);
}
