#include "support/tunes.h"

/* Values, dots and groups of the typed notes: "8.3" is an eighth in threes. */
static const char *written(const struct hbk_tune *tune, struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        const bool inside = event->tuplet != HBK_TUNE_NONE;
        const struct hbk_tune_tuplet *const tuplet =
            inside ? &tune->tuplets[event->tuplet] : NULL;
        hbk_text_addf(&out, "%s%s", i > 0 ? " " : "",
                      inside && tuplet->first == i ? "(" : "");
        if (event->value == HBK_TUNE_NO_VALUE) {
            hbk_text_add(&out, "?");
        } else {
            hbk_text_addf(&out, "%d%.*s", 1 << event->value, (int)event->dots,
                          "...");
        }
        hbk_text_add(&out, event->tie_start ? "-" : "");
        if (inside && tuplet->first + tuplet->count == i + 1) {
            hbk_text_addf(&out, ")%u:%u", tuplet->actual, tuplet->normal);
        }
    }
    return hbk_text_string(&out);
}

/* Worked out by hand: each length times its tuplet is the length typed. */
static void typed_lengths_are_written_as_notes(void **state)
{
    (void)state;
    static const struct {
        const char *run, *want;
        unsigned warning;
    } cases[] = {
        {"E5:1/12 F5:1/12 G5:1/12 E5:1/6 F5:1/12 C5:1/24 D5:1/24",
         "(8 8 8)3:2 (4 8)3:2 (16 16)3:2", 227},
        {"C5:1/12 D5:1/12 E5:1/12 C5", "(8 8 8)3:2 4", 0},
        {"C5:1/12 r:1/12 E5:1/12 | C5:1/24 D5:1/24 E5:1/24",
         "(8 8 8)3:2 (16 16 16)3:2", 0},
        {"C5:1/20 D5:1/20 E5:1/20 F5:1/10", "(16 16 16 8)5:4", 0},
        {"C5:1/28 D5:1/28 E5:1/28 F5:1/28 G5:1/28 F5:1/28 E5:1/28",
         "(16 16 16 16 16 16 16)7:4", 0},
        {"C5:1/24 D5:1/24 E5:1/24 F5:1/24 E5:1/24 D5:1/24",
         "(16 16 16)3:2 (16 16 16)3:2", 0},
        {"C5:1/6 D5:1/6 E5:1/6", "(4 4 4)3:2", 0},
        {"C5:1/8 D5:1/12 C5:1/12 B4:1/12 C5:3/8", "8 (8 8 8)3:2 4.", 0},
        {"C5:1/12 D5 E5:1/6", "(8 4. 4)3:2", 0},
        {"C5:5/8", "2- 8", 0},
        {"C5 r:5/8", "4 2 8", 0},
        {"C5:5/12 D5:1/12", "4- (4 8)3:2", 0},
        {"C5:1/404", "?", 266},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        assert_int_equal(
            hbk_tune_from_run("run", cases[i].run, &document, &faults), HBK_OK);
        assert_string_equal(written(&document.tune, &document.arena),
                            cases[i].want);
        assert_int_equal(faults.count, cases[i].warning == 0 ? 0 : 1);
        assert_true(cases[i].warning == 0 ||
                    has_fault(&faults, cases[i].warning));
        hbk_tune_document_finish(&document);
    }
}

/* As lengths in ABC, with groups of its own on both sides. */
static void lengths_in_abc_are_grouped_too(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc",
              "X:1\nT:t\nM:4/4\nL:1/4\nK:C\n"
              "(3c/d/e/ d4/3{e}c2/3 (3e/d/c/|[Q:1/4=90]c5/2 d3/2|[K:G]g4|\n",
              &document, &faults);
    const struct hbk_tune *const tune = &document.tune;
    assert_int_equal(faults.count, 0);
    assert_string_equal(written(tune, &document.arena),
                        "(8 8 8)3:2 (2 8 4)3:2 (8 8 8)3:2 2- 8 4. 1");
    for (size_t i = 0; i < tune->n_tuplets; i++) {
        assert_int_equal(tune->events[tune->tuplets[i].first].tuplet, i);
    }
    /* What is named by number moves with the notes. */
    assert_int_equal(tune->tempos[0].event, 9);
    assert_int_equal(tune->keys[1].event, 12);
    assert_int_equal(tune->bars[1].count, 3);
    assert_int_equal(tune->bars[2].first, 12);
    assert_int_equal(tune->events[10].head, 9);
    assert_true(tune->events[10].tie_stop);
    hbk_tune_document_finish(&document);
}

/* No one note is five eighths long, so it is counted in quarters. */
static void a_beat_is_always_one_note(void **state)
{
    (void)state;
    static const struct {
        const char *field;
        int64_t num, den;
        double beats;
    } cases[] = {
        {"Q:3/8=116", 3, 8, 116.0},     {"Q:5/8=40", 1, 4, 100.0},
        {"Q:\"Largo\" 50", 1, 4, 50.0}, {"Q:1/4 1/8=116", 3, 8, 116.0},
        {"Q:7/16=60", 7, 16, 60.0},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        char text[80];
        (void)snprintf(text, sizeof(text), "X:1\nT:t\n%s\nL:1/4\nK:C\nC|\n",
                       cases[i].field);
        read_good("t.abc", text, &document, &faults);
        const struct hbk_tune_tempo *const tempo = &document.tune.tempos[0];
        assert_int_equal(tempo->beat.num, cases[i].num);
        assert_int_equal(tempo->beat.den, cases[i].den);
        check_abs(tempo->beats, cases[i].beats, 1e-9);
        check_abs(tempo->quarters,
                  4.0 * hbk_ratio_value(tempo->beat) * cases[i].beats, 1e-9);
        hbk_tune_document_finish(&document);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(typed_lengths_are_written_as_notes),
        cmocka_unit_test(lengths_in_abc_are_grouped_too),
        cmocka_unit_test(a_beat_is_always_one_note),
    };
    return cmocka_run_group_tests_name("values", tests, NULL, NULL);
}
