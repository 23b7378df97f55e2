#ifndef HBK_NOTES_CURVE_H
#define HBK_NOTES_CURVE_H

#include "notes/notes.h"

/*
 * The input impedance of a horn in one or several fingerings, as results.
 * Levels are 20 log10(|Z| S / (rho c)) in dB, S the area of the bore at the
 * mouthpiece end of the column.
 */

/* A frequency, named by the written note it lies nearest to. */
struct hbk_curve_place {
    double hz; /* of the air alone: the player's offset is left out */
    int written;
    double cents; /* of hz from that note, at the pitch the horn has */
};

/* A maximum. */
struct hbk_curve_maximum {
    unsigned partial; /* from 1; 0 for a side maximum that no one counts */
    struct hbk_curve_place at;    /* where it lies */
    struct hbk_curve_place heard; /* the pitch found there (acoustics/ear.h) */
    double height;                /* |Z|, Pa s/m^3 */
    double level_db;
    double q;           /* hz over the width at half power */
    double response_db; /* how surely it speaks */
};

struct hbk_curve {
    uint32_t press;         /* what fingers hold; stuck controls come on top */
    const double *level_db; /* n_points of struct hbk_curves */
    size_t n_maxima;        /* up to to_hz, by rising frequency */
    const struct hbk_curve_maximum *maxima;
};

enum { HBK_CURVES_MAX = 6 };

struct hbk_curves {
    /* The horn, its setting and tuning; no notes were looked for (n is 0). */
    struct hbk_notes about;
    double to_hz;
    double wave_impedance; /* rho c / S that levels refer to, Pa s/m^3 */
    size_t n_points;
    const double *hz; /* evenly spaced, the last one to_hz */
    size_t n;         /* 1 to HBK_CURVES_MAX */
    const struct hbk_curve *curves;
};

#endif
