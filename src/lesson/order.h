#ifndef HBK_LESSON_ORDER_H
#define HBK_LESSON_ORDER_H

#include "lesson/first.h"
#include "lesson/lesson.h"

/*
 * What is taught on a horn, lesson by lesson: the order of its notes, with
 * reasons, and a study for each lesson.
 *
 * The order is that of teachers (what SOURCES.md names): first the five notes,
 * then the scale upwards to the octave and the two notes that F and G major
 * need; a note below and one above, with the notes of B flat and D major; two
 * more of each, and the half-tones among them; then down to the lowest, and
 * only then up to the highest of the usual range. In each of these the easiest
 * note comes first that lies beside a known one, by the measure of
 * passage/ease.h, natural ones and those in the first octave before others.
 * Once there are five notes, each has a lesson to itself. Notes that need care
 * come last. On a keyed horn what is taken by shutting the key that stands open
 * comes after the open note above it.
 *
 * A step that is hard for the fingers (lesson/moves.h) is the next lesson after
 * the note that brings it, and no music has it before. A horn of open notes
 * only has a lesson for each of them, and then calls.
 */

/* A note within the range that no lesson has. */
struct hbk_lesson_left {
    int written;
    const char *why; /* "not available", ... */
};

struct hbk_lessons {
    const struct hbk_notes *notes; /* borrowed */
    int home;                      /* hbk_lesson_home() */
    int low, high;                 /* written, as asked or as usual */
    struct hbk_first first;
    size_t n; /* 0 when there are no first notes: first.why says why */
    const struct hbk_lesson *lessons;
    size_t n_left; /* 0 of a horn that has open notes only */
    const struct hbk_lesson_left *left;
};

/*
 * low, high   written notes, low below high; both 0 for the usual range
 *
 * The arena owns the result, which borrows the notes. The same notes and range
 * give the same lessons, to the note.
 */
const struct hbk_lessons *hbk_lessons_of(const struct hbk_notes *notes, int low,
                                         int high, struct hbk_arena *arena);

/* Whether a lesson or one before it has taught the written note. */
bool hbk_lesson_knows(const struct hbk_lesson *lesson, int written);

#endif
