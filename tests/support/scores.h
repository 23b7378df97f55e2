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

#define DIVISIONS(n) "<attributes><divisions>" n "</divisions></attributes>"
#define NOTE(step, octave, duration, more)                                     \
    "<note><pitch><step>" step "</step><octave>" octave                        \
    "</octave></pitch><duration>" duration "</duration>" more "</note>"
#define REST(duration, more)                                                   \
    "<note><rest/><duration>" duration "</duration>" more "</note>"

#endif
