#ifndef HBK_NOTES_TROUBLES_H
#define HBK_NOTES_TROUBLES_H

#include "horn/readings.h"
#include "notes/notes.h"

/* What one thing may be wrong with a horn that played well, as results. */

enum hbk_trouble_kind {
    HBK_TROUBLE_NONE,       /* nothing is wrong */
    HBK_TROUBLE_OTHER,      /* more than one thing, or another */
    HBK_TROUBLE_LEAK,       /* a pad leaks, or does not close */
    HBK_TROUBLE_LIFT,       /* a key opens its hole too little */
    HBK_TROUBLE_SLIDE,      /* a slide is not where it was said to be */
    HBK_TROUBLE_STUCK_DOWN, /* a valve does not come up */
    HBK_TROUBLE_STUCK_UP    /* a valve does not go down */
};

/* What is concerned, of the horn that the result names; -1 for no such. */
struct hbk_trouble_case {
    enum hbk_trouble_kind kind;
    int site;    /* LEAK, LIFT: the hole */
    int control; /* its key; the valve; that of the slide */
    int slide;   /* SLIDE */
};

struct hbk_trouble {
    struct hbk_trouble_case what;
    double probability; /* all of a result sum to 1 */
    /*
     * The likeliest amount and one standard deviation, m: the leak as a round
     * hole, how far the pad still lifts, how much further out the slide is than
     * said (negative: further in). NAN where there is none to be known: valves
     * that stick, holes of a horn by length.
     */
    double amount_m, amount_sd_m;
    bool is_whole;      /* LEAK: as far as open; LIFT: as far as closed */
    double most_cents;  /* by which it moves the reading it moves most */
    double pitch_cents; /* all sharper by so much: the player, the day */
    double
        slope_cents;  /* and by so much with every octave upwards: the player */
    double rms_cents; /* what is then left, */
    size_t n_aside;   /* without so many readings that do not fit at all */
};

enum hbk_trouble_verdict {
    HBK_TROUBLE_SOUND,  /* nothing wrong is likelier than all else */
    HBK_TROUBLE_FOUND,  /* one thing wrong; which, the probabilities say */
    HBK_TROUBLE_MIXED,  /* nothing single explains the page */
    HBK_TROUBLE_UNCLEAR /* the page does not tell */
};

enum { HBK_TROUBLE_NEXT_MAX = 3 };

/* A note that tells the likeliest from another. */
struct hbk_trouble_next {
    int written; /* as the page names notes */
    uint32_t press;
    unsigned partial;
    /*
     * What each of the two would show, as on the page; another note may come
     * out than was meant.
     */
    double cents[2];
};

/* A reading that does not fit the answer, nor chance. */
struct hbk_trouble_astray {
    const struct hbk_reading *reading; /* borrowed */
    uint32_t press;
    double cents; /* how much sharper it is than the others make expect */
};

struct hbk_troubles {
    const struct hbk_readings *readings; /* borrowed */
    /*
     * The horn asked about, with a slide for every valve that its file gives
     * none; in the arena.
     */
    const struct hbk_horn *horn;
    enum hbk_trouble_verdict verdict;
    size_t n; /* at least 2: HBK_TROUBLE_NONE is items[0], OTHER items[1] */
    const struct hbk_trouble *items;
    const size_t *order; /* n: the likeliest first */
    bool was_fitted;     /* the horn's file, to readings */
    size_t pair[2];      /* which two `next` tells apart, if any */
    size_t n_astray;     /* to be read again; 0 where verdict is MIXED */
    const struct hbk_trouble_astray *astray;
    size_t n_next; /* 0 as well where one is all but certain */
    struct hbk_trouble_next next[HBK_TROUBLE_NEXT_MAX]; /* best first */
};

#endif
