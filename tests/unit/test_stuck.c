/* The words for what is stuck, and what they take back. */
#include "support/check.h"

#include "base/arena.h"
#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/stuck.h"
#include "horn/stuck_list.h"
#include "reader/horn_file.h"

#include <stdio.h>
#include <string.h>

static const char text[] =
    "hornbook: 1\nname: X\nwritten_c4_sounds: Bb3\nlength: 1470\n"
    "keys:\n"
    "  - {key: 1, rest: open, raises: -1, finger: right little}\n"
    "  - {key: 2, rest: shut, raises: 2, finger: right ring}\n"
    "valves: [{valve: 1, lowers: 200, finger: left index}]\n"
    "triggers: [{trigger: T, valve: 1, travel: 20, finger: left thumb}]\n"
    "slides:\n"
    "  - {slide: main, travel: 20}\n"
    "  - {slide: crook tenon, travel: 30.5}\n"
    "  - {slide: 'odd, = one', travel: 5}\n";

enum { KEY_1 = 1, KEY_2 = 2, VALVE_1 = 4, TRIGGER_T = 8 };

static struct hbk_horn horn;

static int read_horn(void **state)
{
    (void)state;
    struct hbk_faults faults = {0};
    return hbk_horn_read_text("t.yaml", text, strlen(text), &horn, &faults) ==
                   HBK_OK
               ? 0
               : -1;
}

static int finish_horn(void **state)
{
    (void)state;
    hbk_horn_finish(&horn);
    return 0;
}

static struct hbk_stuck parsed(const struct hbk_stuck *base, const char *list)
{
    struct hbk_arena arena = {0};
    struct hbk_text why = {.arena = &arena};
    struct hbk_stuck stuck = {0};
    if (!hbk_stuck_parse(&horn, base, list, &stuck, &why)) {
        fail_msg("%s", hbk_text_string(&why));
    }
    assert_int_equal(why.length, 0);
    hbk_arena_finish(&arena);
    return stuck;
}

static void check_refused(const char *list, const char *words)
{
    struct hbk_arena arena = {0};
    struct hbk_text why = {.arena = &arena};
    struct hbk_stuck stuck = {.held_down = 77};
    assert_false(hbk_stuck_parse(&horn, NULL, list, &stuck, &why));
    assert_string_equal(hbk_text_string(&why), words);
    assert_int_equal(stuck.held_down, 77);
    hbk_arena_finish(&arena);
}

static void a_key_is_named_by_what_its_hole_does(void **state)
{
    (void)state;
    assert_int_equal(parsed(NULL, "key:1=shut").held_down, KEY_1);
    assert_int_equal(parsed(NULL, "key:1=closed").held_down, KEY_1);
    assert_int_equal(parsed(NULL, "key:1=open").held_up, KEY_1);
    assert_int_equal(parsed(NULL, "key:2=open").held_down, KEY_2);
    assert_int_equal(parsed(NULL, "key:2=closed").held_up, KEY_2);
    const struct hbk_stuck all =
        parsed(NULL, " valve:1=down ,trigger:T = in,  key:2=open ");
    assert_int_equal(all.held_down, VALVE_1 | KEY_2);
    assert_int_equal(all.held_up, TRIGGER_T);
    assert_int_equal(all.slides, 0);
}

static void a_slide_is_stuck_so_far_from_home(void **state)
{
    (void)state;
    const struct hbk_stuck home = parsed(NULL, "slide:main=in");
    assert_int_equal(home.slides, 1);
    check_abs(home.slide_out_m[0], 0.0, 0.0);
    /* As far as it goes, and no farther. */
    const struct hbk_stuck out =
        parsed(NULL, "slide:crook tenon=30.5, slide:odd, = one = 3,key:1=open");
    assert_int_equal(out.slides, 6);
    check_abs(out.slide_out_m[1], 0.0305, 1e-12);
    check_abs(out.slide_out_m[2], 0.003, 1e-12);
    assert_int_equal(out.held_up, KEY_1);
    assert_true(hbk_stuck_any(&out) && hbk_stuck_any(&home));
}

static void a_list_replaces_what_it_names_and_nothing_else(void **state)
{
    (void)state;
    const struct hbk_stuck base =
        parsed(NULL, "key:1=shut,key:2=shut,valve:1=down,slide:main=7,"
                     "slide:crook tenon=in");
    const struct hbk_stuck now =
        parsed(&base, "key:2=open,valve:1=mended,slide:main=mended");
    assert_int_equal(now.held_down, KEY_1 | KEY_2);
    assert_int_equal(now.held_up, 0);
    assert_int_equal(now.slides, 2);
    const struct hbk_stuck none =
        parsed(&now, "key:1=mended,key:2=mended,slide:crook tenon=mended,"
                     "trigger:T=mended");
    assert_false(hbk_stuck_any(&none));
    /* The result may be the base. */
    struct hbk_stuck same = base;
    struct hbk_arena arena = {0};
    struct hbk_text why = {.arena = &arena};
    assert_true(hbk_stuck_parse(&horn, &same, "slide:main=9.5", &same, &why));
    check_abs(same.slide_out_m[0], 0.0095, 1e-12);
    assert_int_equal(same.held_down, base.held_down);
    hbk_arena_finish(&arena);
}

static void the_same_said_twice_is_no_contradiction(void **state)
{
    (void)state;
    assert_int_equal(parsed(NULL, "key:2=shut,key:2=closed").held_up, KEY_2);
    assert_int_equal(parsed(NULL, "slide:main=0,slide:main=in").slides, 1);
    check_refused("key:2=shut,key:2=open",
                  "'key:2=shut,key:2=open': nothing is stuck both ways");
    check_refused("valve:1=up,valve:1=mended",
                  "'valve:1=up,valve:1=mended': nothing is stuck both ways");
    check_refused("slide:main=3,slide:main=4",
                  "'slide:main=3,slide:main=4': nothing is stuck both ways");
}

static void what_cannot_be_is_refused_in_words(void **state)
{
    (void)state;
    static const char form[] =
        ": write key:3=open or key:3=closed, valve:2=up or valve:2=down, "
        "slide:main=in or, 12 mm out, slide:main=12, and =mended "
        "for what works again";
    static const char *const forms[] = {
        "",           "key",   "key:1",       "lever:1=up",
        "=open",      ":=up",  "key: 1=open", "key=1:open",
        "key 1=open", "slide", "slide:main",  "slidemain=in"};
    for (size_t i = 0; i < sizeof(forms) / sizeof(forms[0]); i++) {
        char words[300];
        (void)snprintf(words, sizeof(words), "'%s'%s", forms[i], form);
        check_refused(forms[i], words);
    }
    check_refused("key:1=ajar",
                  "'key:1=ajar': a key is stuck open or closed, or "
                  "it is mended; one that is missing is open, or closed if "
                  "its hole is covered");
    check_refused("valve:1=open", "'valve:1=open': a valve is stuck up or "
                                  "down, or it is mended");
    check_refused("key:9=open",
                  "'key:9=open': this horn has no key 9; it has 1, 2");
    check_refused("slide:tenon=in",
                  "'slide:tenon=in': this horn has no slide 'tenon'; it has "
                  "'main', 'crook tenon', 'odd, = one'");
    check_refused("slide:main=20.5",
                  "'slide:main=20.5': slide main pulls out 20 mm, not "
                  "more");
    check_refused("slide:main=12,5",
                  "'5': commas stand between what is stuck; write decimals "
                  "with a point, as in slide:main=12.5");
    check_refused("slide:main=-1",
                  "'slide:main=-1': a slide is stuck in or so many mm out, "
                  "as in slide:main=12, or it is mended");
    check_refused("slide:main=nan",
                  "'slide:main=nan': a slide is stuck in or so many mm out, "
                  "as in slide:main=12, or it is mended");
}

/* An item longer than any can be is cut where a letter ends. */
static void a_long_item_is_refused_whole_letters_only(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_text list = {.arena = &arena};
    struct hbk_text why = {.arena = &arena};
    struct hbk_stuck stuck = {0};
    hbk_text_add(&list, "slide:");
    for (size_t i = 0; i < 200; i++) {
        hbk_text_add(&list, "\xE2\x99\xAD");
    }
    hbk_text_add(&list, "=in");
    assert_false(
        hbk_stuck_parse(&horn, NULL, hbk_text_string(&list), &stuck, &why));
    assert_true(hbk_text_is_utf8(why.bytes, why.length));
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_key_is_named_by_what_its_hole_does),
        cmocka_unit_test(a_slide_is_stuck_so_far_from_home),
        cmocka_unit_test(a_list_replaces_what_it_names_and_nothing_else),
        cmocka_unit_test(the_same_said_twice_is_no_contradiction),
        cmocka_unit_test(what_cannot_be_is_refused_in_words),
        cmocka_unit_test(a_long_item_is_refused_whole_letters_only),
    };
    return cmocka_run_group_tests(tests, read_horn, finish_horn);
}
