#ifndef HBK_SOLVE_GAPS_H
#define HBK_SOLVE_GAPS_H

#include "base/status.h"
#include "solve/tuning.h"

struct hbk_faults;

/* Why a note of the compass is out of reach. */
enum hbk_gap_reason {
    HBK_GAP_STUCK,   /* what is stuck stands in the way */
    HBK_GAP_PARTIAL, /* a partial gives it that the file leaves out */
    HBK_GAP_FAR,     /* the nearest fingering is too far off */
    HBK_GAP_NONE     /* nothing comes near it at all */
};

struct hbk_gap {
    int written;
    enum hbk_gap_reason reason;
    unsigned partial; /* HBK_GAP_PARTIAL: that would give it */
    double cents;     /* HBK_GAP_FAR: of the nearest fingering */
};

struct hbk_gaps {
    size_t n;
    const struct hbk_gap *items; /* by rising note */
};

/*
 * The notes out of reach, each with its reason: the horn is solved again, as
 * it was set up, with every partial up to HBK_PARTIALS_MAX and for players who
 * bend a note by half an octave, and once more with nothing stuck.
 *
 * setup   the one that the notes were found with
 * arena   owns the result
 *
 * Errors as hbk_solve_as_set().
 */
enum hbk_status hbk_gaps_of(const struct hbk_notes *notes,
                            const struct hbk_setup *setup,
                            struct hbk_arena *arena, struct hbk_gaps *gaps,
                            struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
