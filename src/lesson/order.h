#ifndef HBK_LESSON_ORDER_H
#define HBK_LESSON_ORDER_H

#include "lesson/first.h"
#include "lesson/study.h"

/*
 * What is taught on a horn, lesson by lesson: the order of its notes, with
 * reasons, and a study for each lesson.
 *
 * The order is that of teachers (what SOURCES.md names): first the five notes,
 * then the scale upwards to the octave, the two notes that F and G major need,
 * a few notes below and above, the notes of B flat and D major, the rest of the
 * range, and what is left of the half-tones. In each of these the easiest note
 * comes first that lies beside a known one, by the measure of passage/ease.h.
 * Notes that need care come last. On a keyed horn what is taken by shutting the
 * key that stands open comes after the open note above it.
 */

enum hbk_lesson_kind {
    HBK_LESSON_NOTES, /* one or two new notes */
    HBK_LESSON_SLUR,  /* from one partial to the next, the fingers still */
    HBK_LESSON_CHORD, /* by thirds and a fourth up to the octave */
    HBK_LESSON_MOVE   /* two known notes between which fingers cross */
};

struct hbk_lesson_note {
    int written;
    struct hbk_spelling spelling; /* as it is written when it is taught */
    const struct hbk_fingering *fingering; /* the first of the chart */
    bool care;       /* it speaks or tunes badly; `why` says which */
    const char *why; /* a sentence: why this note, and why now */
};

enum { HBK_LESSON_NEW_MOST = 2 };

struct hbk_lesson {
    enum hbk_lesson_kind kind;
    size_t number; /* from 1 */
    size_t n_new;  /* 1 or 2; 0 of a new movement */
    struct hbk_lesson_note added[HBK_LESSON_NEW_MOST]; /* as they are taught */
    /* Of a movement: between which notes. Else both 0. */
    int from, to;
    const char *why;  /* of a movement: a sentence; else "" */
    size_t n_known;   /* all that are taught by now, new ones too, */
    const int *known; /* rising */
    int low, high;    /* the lowest and highest of them */
    struct hbk_study study;
    unsigned new_signs; /* of enum hbk_study_sign: not seen in any before */
};

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
    size_t n_left;
    const struct hbk_lesson_left *left;
};

/*
 * Where nobody says another: from so many semitones below hbk_lesson_home() to
 * so many above, G3 to G5 of a horn in the treble clef.
 */
enum { HBK_LESSON_BELOW = 5, HBK_LESSON_ABOVE = 19 };

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

/*
 * The lesson after which all notes of a tune are known, from 1; 0 if there is
 * none.
 */
size_t hbk_lessons_ready_for(const struct hbk_lessons *lessons,
                             const struct hbk_tune *tune);

#endif
