#ifndef HBK_NOTES_SLIDES_H
#define HBK_NOTES_SLIDES_H

#include "notes/notes.h"

/*
 * How every slide of a horn is to be set for a pitch, a temperature and a
 * crook, and what the notes then give. Lengths in metres as the hand draws:
 * a U-slide adds twice as much tube.
 */

/* One slide, in the order of horn->slides; from home, as the hand draws. */
struct hbk_slide_pull {
    double draw_m; /* where it is set, 0 to its travel */
    /*
     * Valve slides: the draw in proportion (solve/valve_slides.h). It may lie
     * beyond the travel, or below 0 where the slide would have to be shorter
     * than home. NAN for a main slide, and where the valve has no note to tell
     * it by.
     */
    double own_m;
    double best_m; /* the best compromise, within its travel; NAN: main */
    /* What a further mm does to the tuning note, or to the valve's notes. */
    double cents_per_mm; /* negative; NAN where it works on nothing */
};

/*
 * What a player wants left at either end of a slide: room for a hall that
 * warms or cools by two degrees, and tube enough within the other to hold. 3 mm
 * are 7 cents on a cornet in B flat. Our own choice.
 */
#define HBK_SLIDE_MARGIN_M 0.003

/* The pitches that main slides and bits can bring a horn to. */
struct hbk_reach {
    double highest_hz; /* A4 with everything home */
    double lowest_hz;  /* A4 with every main slide out and every bit in */
    /*
     * The same with the last main slide HBK_SLIDE_MARGIN_M from its end, or
     * half way where it travels less than twice that, so that it can still be
     * moved either way. As above where no slide moves.
     */
    double kept_highest_hz, kept_lowest_hz;
    /*
     * What a further mm of the main slide that is next to be drawn does to
     * the tuning note; negative; NAN where there is none.
     */
    double cents_per_mm;
    double cents_per_degree; /* at the temperature of the setting */
};

/* The main slides at another temperature. */
struct hbk_warmth {
    double temperature_c;
    const double *draw_m; /* one a slide; valve slides as in the pulls */
    uint32_t bits;
    double after_cents;
};

/* Every five degrees from 10 to 30, and as far as the setting asks. */
enum { HBK_WARMTHS_MAX = 13 };

/* Cents of one note under the ways to set the valve slides. */
struct hbk_slide_note {
    int written;
    uint32_t press;   /* first choice with the slides as they are set */
    unsigned partial; /* 0: out of reach */
    double home_cents, own_cents, best_cents; /* of that fingering */
    double weight; /* in the compromise: 1, or 1/2 for an extreme note */
};

struct hbk_slides {
    const struct hbk_horn *horn; /* borrowed */
    /* With the slides as the setting asks. */
    struct hbk_notes notes;
    size_t n; /* as horn->n_slides */
    const struct hbk_slide_pull *pulls;
    bool has_valve_slides;
    struct hbk_reach reach;
    size_t n_warmths;
    struct hbk_warmth warmths[HBK_WARMTHS_MAX]; /* rising by 5 degrees */
    const struct hbk_slide_note *list;          /* one a note, as notes.notes */
    /*
     * Weighted root mean squares of all notes, each way with the first choices
     * that its draws want; a note out of reach counts as lip_cents.
     */
    double home_rms, own_rms, best_rms;
};

#endif
