#ifndef HBK_LESSON_STUDY_H
#define HBK_LESSON_STUDY_H

#include "lesson/study_tune.h"
#include "lesson/study_wish.h"

/*
 * A study: four or eight bars made by rule from the notes a pupil has and a
 * seed. The rules, after which of many such tunes the best is taken:
 *
 *   form      bars of 4/4; a motif of a bar that is answered, in eight bars
 *             taken up again, moved by step, and brought back at the end so
 *             that it leads home; phrases that ask before, on re, mi or sol,
 *             and the second not the first once more
 *   breath    a rest or a long note with a breath mark ends every second bar
 *   start     between the pupil's C4 and G4, or what is known nearest to it;
 *             up to C5 where a new note is higher than that
 *   line      mostly by step; one highest note, in the third of four phrases;
 *             after a leap the line turns back; no note more than twice running
 *   leaps     none over a fifth
 *   fingers   no hard move (lesson/moves.h) that was not a lesson, but over a
 *             rest
 *   cadence   the last note is the tonic or, while that is not taught, the
 *             note that stands for it; long, on a strong beat, by step
 *             if there is one that fingers may take
 *   new notes three times each at least, two of them on a strong beat
 *   half-tones  a new note that C major has not is reached by step and left by
 *             step, never the first; as ti it rises to do and as fa it falls
 *             to mi, the last time at least; while fingers may not go there
 *             yet, from the side they may
 *   rhythm    halves and wholes, then quarters, dotted halves, from the
 *             seventh lesson eighths, from the eleventh dotted quarters; what
 *             is outgrown does not come back
 *   key       no sign but those of the signature
 *
 * Where a horn has open notes only, the next of them counts as a step.
 *
 * Everything is in written notes.
 */

/* The same wish gives the same study. The arena owns it. */
struct hbk_study hbk_study_make(const struct hbk_study_wish *wish,
                                struct hbk_arena *arena);

/*
 * Slurs between notes that the same fingers give: low and high of each pair,
 * two bars a pair, the first pair once more at the end.
 */
struct hbk_slur_pair {
    int low, high; /* written */
};
struct hbk_study hbk_study_slurs(const struct hbk_slur_pair pairs[], size_t n,
                                 const struct hbk_study_wish *wish,
                                 struct hbk_arena *arena);

/* Up and down a chord of do mi sol do, written and rising, in eight bars. */
enum { HBK_STUDY_CHORD = 4 };
struct hbk_study hbk_study_chord(const int chord[HBK_STUDY_CHORD],
                                 const struct hbk_study_wish *wish,
                                 struct hbk_arena *arena);

#endif
