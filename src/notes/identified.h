#ifndef HBK_NOTES_IDENTIFIED_H
#define HBK_NOTES_IDENTIFIED_H

#include "horn/readings.h"
#include "notes/notes.h"

/* Which of several layouts an unsigned horn has, as plain results. */

enum { HBK_IDENTIFY_NEXT_MAX = 3 };

/* How the page of readings was understood. */
enum hbk_identify_naming {
    HBK_NAMED_AS_READ,   /* notes and fingerings as the page has them */
    HBK_NAMED_OTHERWISE, /* the notes as the tuner shows them (concert names);
                            as written for the horn where the page says that
                            they are what the tuner shows */
    HBK_NUMBERED_OTHERWISE, /* keys, or valves where there are no keys,
                               counted from the other end */
    HBK_BOTH_OTHERWISE
};

/* How well a layout explains the readings: see fit/goodness.h. */
struct hbk_identify_fit {
    bool is_good;
    double chi_square;
    double limit;   /* above which chi_square refuses the layout */
    size_t n;       /* readings counted, */
    size_t n_aside; /* and slips set aside */
};

struct hbk_identified_layout {
    const struct hbk_horn *horn; /* borrowed */
    const char *impossible;      /* why not; NULL when it may be */
    double probability; /* among the layouts that explain the readings; 0 for
                           one that does not; they sum to 1 if any does */
    double pitch_cents; /* by which the horn tried is sharper than the file */
    double rms_cents;   /* what is then left to its keys and valves */
    struct hbk_identify_fit fit; /* zero when impossible */
};

/* What to try next. */
struct hbk_identify_next {
    const char *fingering;
    double bits; /* of information to expect; 1 bit halves the doubt */
    unsigned partial;
    /* Written note and cents, as each layout has it; n layouts. */
    const int *written;
    const double *cents;
};

struct hbk_identified {
    const struct hbk_readings *readings; /* borrowed */
    enum hbk_identify_naming naming;
    bool is_explained; /* by one of the layouts at least */
    size_t n;
    const struct hbk_identified_layout *layouts; /* in the order asked */
    const size_t *order;                         /* n: the likeliest first */
    /*
     * The page understood another way, where that explains it and this way
     * does not, or only far from the horn's pitch; else NULL.
     */
    const struct hbk_identified *otherwise;
    size_t n_next;
    struct hbk_identify_next
        next[HBK_IDENTIFY_NEXT_MAX]; /* most telling first */
};

#endif
