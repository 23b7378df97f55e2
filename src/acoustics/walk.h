#ifndef HBK_ACOUSTICS_WALK_H
#define HBK_ACOUSTICS_WALK_H

#include "acoustics/maxima.h"
#include "acoustics/sections.h"

/*
 * The resonances of one column in many states. The states are sorted by their
 * word as seen from the bell, and the load in front of every site is kept, so
 * that states which agree on the bell side share all the work there: all
 * states of 12 sites are 8,190 steps instead of 49,152. Nothing is allocated
 * while it runs.
 */
struct hbk_walk;

/* Zero-initialised gives the defaults. */
struct hbk_walk_options {
    size_t states_max; /* most states of one run; 0: 4096 */
    unsigned threads;  /* 0 and 1: the caller's only; at most 64 */
    /*
     * Every state from the bell up, for comparing: the same results, more
     * work.
     */
    bool without_sharing;
    /* Up to where maxima are listened to, Hz; 0: the limit of the sections. */
    double ear_limit_hz;
};

/*
 * Makes the workspace, once for any number of runs. `sections` is borrowed
 * while the walk is used; the arena owns the workspace.
 */
struct hbk_walk *hbk_walk_make(const struct hbk_sections *sections,
                               const struct hbk_walk_options *options,
                               struct hbk_arena *arena);

/*
 * All impedance maxima up to sections->limit_hz for each of n states, with
 * numbers, response and the pitch that is heard (see acoustics/maxima.h,
 * acoustics/response.h and acoustics/ear.h).
 *
 * words    bit s says whether site s is open or in; bits of no site are
 *          ignored; words may repeat
 * room     how many maxima are kept for a state: the lowest ones
 * maxima   results, n times room: state i's begin at maxima[i * room]
 * counts   how many state i has there, at most room
 *
 * The results of a state are the same bits whatever the other states, their
 * order and the number of threads.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN if n exceeds states_max or room is 0;
 * results are then untouched.
 *
 * Accuracy: within 0.05 cent of a dense scan of the model.
 */
enum hbk_status hbk_walk_run(struct hbk_walk *walk, size_t n,
                             const uint64_t words[], size_t room,
                             struct hbk_maximum maxima[],
                             size_t counts[]) HBK_MUST_CHECK;

/* Memory of the workspace, and steps taken by the last run. */
size_t hbk_walk_bytes(const struct hbk_walk *walk);
size_t hbk_walk_steps(const struct hbk_walk *walk);

#endif
