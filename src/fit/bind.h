#ifndef HBK_FIT_BIND_H
#define HBK_FIT_BIND_H

#include "base/fault.h"
#include "horn/readings.h"
#include "horn/stuck.h"
#include "solve/peak.h"
#include "solve/rig.h"

/*
 * Readings tied to a horn: names become controls, slides and crooks, and each
 * reading the resonance it is taken to be.
 */

enum hbk_bound_state {
    HBK_BOUND,     /* can be compared with the horn */
    HBK_BOUND_FAR, /* no partial of the fingering lies near */
    HBK_BOUND_MUTE /* the stated partial does not sound */
};

struct hbk_bound {
    const struct hbk_reading *reading; /* borrowed */
    enum hbk_bound_state state;
    uint32_t press;   /* what fingers press, */
    uint32_t pressed; /* and what is stuck down beside it */
    size_t rig;       /* index into struct hbk_bound_readings */
    unsigned partial;
    double peak_hz; /* of the horn as described; 0 when mute */
    double note_hz; /* that of the note the player meant */
    int written;    /* as for this horn, its crook included */
};

struct hbk_bound_readings {
    size_t n;
    struct hbk_bound *items; /* in the order of the file */
    size_t n_rigs;
    const struct hbk_rig *rigs; /* every way the horn was set up */
    struct hbk_stuck stuck;     /* what was stuck in every reading */
};

/*
 * Further from every partial than this no reading can belong to it: a fifth
 * partial is 386 cents from the fourth, and a horn may be 150 cents off.
 */
#define HBK_BOUND_FAR_CENTS 150.0

/* A player may take either for the note when neither answers twice as well. */
#define HBK_BOUND_CLAIM_DB 6.0

/*
 * Ties the readings to the horn. The partial is the stated one, else the one
 * nearest to what was heard once the horn's overall pitch (the median
 * deviation of the low partials) is allowed for. Of maxima that claim one
 * number (solve/peak.h) those count that answer within
 * HBK_BOUND_CLAIM_DB of the highest.
 *
 * arena  owns the result, which borrows the readings
 *
 * Returns HBK_OK, with a warning for each reading that is not HBK_BOUND; or
 * HBK_ERR_INPUT with an error for each reading that names what the horn has
 * not, or draws a slide further than it goes.
 */
enum hbk_status hbk_readings_bind(const struct hbk_readings *readings,
                                  const struct hbk_horn *horn,
                                  struct hbk_arena *arena,
                                  struct hbk_bound_readings *bound,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
