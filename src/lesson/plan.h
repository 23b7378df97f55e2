#ifndef HBK_LESSON_PLAN_H
#define HBK_LESSON_PLAN_H

#include "lesson/first.h"
#include "lesson/lesson.h"
#include "lesson/moves.h"

/*
 * The order of notes while it is made: which note comes next, and in which key
 * it is taught. Used by order.c alone.
 */

enum { HBK_PLAN_NOTES = HBK_NOTE_MAX + 1 };

/* Parts of a course, in their order; see the table in plan.c. */
enum hbk_plan_part {
    HBK_PLAN_FIRST,     /* the first five */
    HBK_PLAN_OCTAVE,    /* the scale up to the octave */
    HBK_PLAN_KEYS,      /* what F and G major need within it */
    HBK_PLAN_ROUND,     /* a note below, one above */
    HBK_PLAN_MORE_KEYS, /* what B flat and D major need */
    HBK_PLAN_RANGE,     /* two notes below, two above */
    HBK_PLAN_CHROMATIC, /* the half-tones that are left there */
    HBK_PLAN_LOW,       /* down to the lowest of the usual range */
    HBK_PLAN_HIGH,      /* up to its highest */
    HBK_PLAN_BEYOND,    /* outside the usual range */
    HBK_PLAN_CARE,      /* what needs care */
    HBK_PLAN_PARTS
};

struct hbk_plan {
    struct hbk_pupil pupil;
    struct hbk_first first;
    enum hbk_plan_part part;
    size_t number;                 /* of the lesson that is made */
    size_t taught[HBK_PLAN_NOTES]; /* in which lesson; 0 in none */
    struct hbk_moves moves;        /* that were a lesson */
    struct hbk_moves told;         /* with a finger that stays down */
};

/* A step that two notes make is taught in a key of so many signs at most. */
enum { HBK_PLAN_KEY_MOST = 3 };

/* The best note to teach next in this part and those before; -1 for none. */
int hbk_plan_next(const struct hbk_plan *plan);

/*
 * The note that may go into one lesson with `added`, which counts as taught;
 * -1 for none.
 */
int hbk_plan_second(const struct hbk_plan *plan, int added);

/* Whether the pupil may learn a note at all: it is there and not far off. */
bool hbk_plan_can_be_taught(const struct hbk_pupil *pupil, int written);

/*
 * The major key in which n notes are taught, as sharps for the pupil: the
 * nearest to C that has them all; of C, F and G, once they are known, those by
 * turns in which a close lies near. 99 for no key.
 */
enum { HBK_PLAN_NO_KEY = 99 };
int hbk_plan_key(const struct hbk_plan *plan, const int notes[], size_t n);

/* The nearest note that is taught, or -1. */
int hbk_plan_nearest(const struct hbk_plan *plan, int written);

#endif
