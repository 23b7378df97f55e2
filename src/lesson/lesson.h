#ifndef HBK_LESSON_LESSON_H
#define HBK_LESSON_LESSON_H

#include "lesson/moves.h"
#include "lesson/study.h"
#include "notes/notes.h"

/* One lesson: what is new in it, why, and its study. */

enum hbk_lesson_kind {
    HBK_LESSON_NOTES, /* one or two new notes */
    HBK_LESSON_SLUR,  /* from one partial to the next, the fingers still */
    HBK_LESSON_CHORD, /* by thirds and a fourth up to the octave */
    HBK_LESSON_MOVE,  /* two known notes with a hard move between them */
    HBK_LESSON_CALL   /* of open notes, on a horn that has no scale */
};

/* A step from a new note or to it, with one finger that moves. */
struct hbk_lesson_hold {
    int from, to;                          /* written, either way */
    const struct hbk_fingering *fingering; /* of `to`, in place of the first */
    /* "From C♯4 to D4 leave key 2 down and add key 3 (2-3)." */
    const char *words;
};

enum { HBK_LESSON_HOLDS_MOST = 4 };

struct hbk_lesson_note {
    int written;
    struct hbk_spelling spelling; /* as it is written when it is taught */
    const struct hbk_fingering *fingering; /* the first of the chart */
    bool care; /* it speaks or tunes badly; `why` says which */
    /* Sentences: why this note, and why now; then those of the holds. */
    const char *why;
    size_t n_holds; /* that no lesson before has told of the same fingers */
    struct hbk_lesson_hold holds[HBK_LESSON_HOLDS_MOST];
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
    const struct hbk_moves *moves; /* the hard ones that are taught by now */
    struct hbk_study study;
    unsigned new_signs; /* of enum hbk_study_sign: not seen in any before */
};

#endif
