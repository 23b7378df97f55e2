#ifndef HBK_NOTES_IDENTIFIED_H
#define HBK_NOTES_IDENTIFIED_H

#include "horn/readings.h"
#include "notes/notes.h"

/* Which of several layouts an unsigned horn has, as plain results. */

enum { HBK_IDENTIFY_NEXT_MAX = 3 };

struct hbk_identified_layout {
    const struct hbk_horn *horn; /* borrowed */
    const char *impossible;      /* why not; NULL when it may be */
    double probability;          /* of all layouts asked about; 0 to 1 */
    double pitch_cents; /* by which the horn tried is sharper than the file */
    double rms_cents;   /* what is then left to its keys and valves */
    double surprise;    /* squared error over what was expected, per reading:
                           near 1 for the right layout */
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
    size_t n;
    const struct hbk_identified_layout *layouts; /* in the order asked */
    const size_t *order;                         /* n: the likeliest first */
    size_t n_next;
    struct hbk_identify_next
        next[HBK_IDENTIFY_NEXT_MAX]; /* most telling first */
};

#endif
