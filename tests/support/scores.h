#ifndef HBK_TESTS_SCORES_H
#define HBK_TESTS_SCORES_H

#include "support/musicxml.h"

/* Small tunes, and MusicXML scores put together from their measures. */

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* A tune of quarter notes. */
#define ABC(music) "X:1\nM:4/4\nL:1/4\nK:C\n" music "\n"

/* One part with these measures. */
static inline const char *score(struct hbk_arena *arena, const char *measures)
{
    return hbk_arena_printf(
        arena,
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\">"
        "<part-name>Bugle</part-name></score-part></part-list><part "
        "id=\"P1\">%s</part></score-partwise>",
        measures);
}

/* The same as played, and the warning it gets; 0 for none. */
static inline void check_played(const char *measures, const char *want,
                                unsigned warning)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.xml", score(&arena, measures), &document, &faults);
    assert_string_equal(played_text(&document.tune, &arena), want);
    if (warning == 0) {
        print_faults(&faults);
        assert_int_equal(faults.count, 0);
    } else {
        assert_true(has_fault(&faults, warning));
    }
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

#define DIVISIONS(n) "<attributes><divisions>" n "</divisions></attributes>"
#define NOTE(step, octave, duration, more)                                     \
    "<note><pitch><step>" step "</step><octave>" octave                        \
    "</octave></pitch><duration>" duration "</duration>" more "</note>"
#define REST(duration, more)                                                   \
    "<note><rest/><duration>" duration "</duration>" more "</note>"

#endif
