#ifndef HBK_LESSON_STUDY_H
#define HBK_LESSON_STUDY_H

#include "horn/clef.h"
#include "music/pitch.h"
#include "tune/melody/tune.h"

/*
 * A study: four or eight bars made by rule from the notes a pupil has and a
 * seed. The rules, after which of many such tunes the best is taken:
 *
 *   form      bars of 4/4; a motif of a bar that is answered, in eight bars
 *             taken up again, moved by step, and brought back at the end
 *   breath    a rest or a long note with a breath mark ends every second bar
 *   line      mostly by step; one highest note, late; after a leap the line
 *             turns back; no note more than twice running
 *   leaps     none over a fifth
 *   cadence   the last note is the tonic or, while that is not taught, the
 *             note that stands for it; long, on a strong beat, by step
 *   new notes three times each at least, on strong beats at least once
 *   rhythm    halves and quarters; then dotted halves; then eighths by step
 *             between known notes; then dotted quarters
 *
 * Everything is in written notes.
 */

/* What stands in a study that a beginner must have been told. */
enum hbk_study_sign {
    HBK_STUDY_WHOLE = 1 << 0,
    HBK_STUDY_HALF = 1 << 1,
    HBK_STUDY_DOTTED_HALF = 1 << 2,
    HBK_STUDY_QUARTER = 1 << 3,
    HBK_STUDY_DOTTED_QUARTER = 1 << 4,
    HBK_STUDY_EIGHTH = 1 << 5,
    HBK_STUDY_HALF_REST = 1 << 6,
    HBK_STUDY_QUARTER_REST = 1 << 7,
    HBK_STUDY_BREATH = 1 << 8,
    HBK_STUDY_SLUR = 1 << 9,
    HBK_STUDY_SHARP = 1 << 10,    /* before a note */
    HBK_STUDY_FLAT = 1 << 11,     /* likewise */
    HBK_STUDY_NATURAL = 1 << 12,  /* likewise */
    HBK_STUDY_SIGNATURE = 1 << 13 /* sharps or flats at the clef */
};
enum { HBK_STUDY_SIGNS = 14 };

struct hbk_study {
    const struct hbk_tune *tune; /* title and composer "" */
    size_t n_bars;               /* 4 or 8 */
    int tonic;                   /* written; of the last note */
    unsigned signs;              /* of enum hbk_study_sign */
};

enum { HBK_STUDY_NEW_MOST = 2 };

struct hbk_study_wish {
    size_t number;    /* of the lesson, from 1: how far rhythm has come */
    size_t n_known;   /* 2 or more */
    const int *known; /* written, rising */
    size_t n_new;     /* 0 to HBK_STUDY_NEW_MOST, all of them known */
    int added[HBK_STUDY_NEW_MOST];
    bool paired; /* the two new ones follow each other three times or more */
    int home;    /* hbk_lesson_home() */
    int fifths;  /* of the major key for the pupil: -1 for his F */
    enum hbk_clef clef; /* as the horn is written */
    const char *seed;   /* the horn's name */
};

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

/*
 * Two bars of long notes on each of n written notes: a whole note, and a half
 * with its rest, in 4/4 without a signature.
 */
const struct hbk_tune *hbk_long_notes(const struct hbk_spelling notes[],
                                      size_t n, enum hbk_clef clef,
                                      struct hbk_arena *arena);

#endif
