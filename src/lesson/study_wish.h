#ifndef HBK_LESSON_STUDY_WISH_H
#define HBK_LESSON_STUDY_WISH_H

#include "lesson/moves.h"
#include "music/clef.h"
#include "music/pitch.h"
#include "tune/melody/tune.h"

/* What a study is made from (lesson/study.h), and what comes of it. */

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
    HBK_STUDY_SIGNATURE = 1 << 10 /* sharps or flats at the clef */
};
enum { HBK_STUDY_SIGNS = 11 };

struct hbk_study {
    const struct hbk_tune *tune; /* title and composer "" */
    size_t n_bars;               /* 4 or 8 */
    int tonic;                   /* written; of the last note */
    unsigned signs;              /* of enum hbk_study_sign */
};

enum { HBK_STUDY_NEW_MOST = 2 };

struct hbk_study_wish {
    size_t number;    /* of the lesson, from 1 */
    size_t rhythm;    /* up to which lesson its rhythm is that of */
    size_t n_known;   /* 2 or more */
    const int *known; /* written, rising */
    size_t n_new;     /* 0 to HBK_STUDY_NEW_MOST, all of them known */
    int added[HBK_STUDY_NEW_MOST];
    /* So many of them, from the first, are taught now: what C major has not is
       approached and left by step. */
    size_t n_fresh;
    bool paired; /* the two new ones follow each other three times or more */
    int home;    /* hbk_lesson_home() */
    int fifths;  /* of the major key for the pupil: -1 for his F */
    enum hbk_clef clef; /* as the horn is written */
    /* Hard moves that may be made; NULL where none is barred. */
    const struct hbk_moves *moves;
    bool by_partials; /* of open notes: the next one is a step */
    const char *seed; /* the horn's name */
};

#endif
