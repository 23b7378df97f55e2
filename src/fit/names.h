#ifndef HBK_FIT_NAMES_H
#define HBK_FIT_NAMES_H

#include "base/fault.h"
#include "horn/readings.h"

struct hbk_horn;

/*
 * What the keys of a horn are called, as evidence of its shape: whoever made
 * it meant each key to give the note that is engraved on it, or that a record
 * says it gives.
 *
 * Of every note of the compass, and of the lowest with every key shut wherever
 * that ends, one fingering is taken, as a tutor prints it
 * (solve/taught.h): nothing pressed before one key, keys nearer to the bell
 * before those further from it, and partials to be avoided last. It is a
 * reading of 0 cents on the horn tuned as its file has it, good to
 * HBK_NAMES_CENTS.
 */

/* How near a maker's key comes to its note, one standard deviation. Ours. */
#define HBK_NAMES_CENTS 25.0

/*
 * From so far off on a name counts by its distance only. A player does not
 * bend a note further, and plays it otherwise than the tutor has it.
 */
#define HBK_NAMES_BEND_CENTS 60.0

/*
 * The names as readings, with those of a tuner after them if there are any.
 *
 * read    the tuner's, or NULL; borrowed
 * arena   owns the result
 *
 * Returns HBK_OK; HBK_ERR_INPUT when the horn cannot be tuned, or
 * HBK_ERR_NO_RESULT when its keys tell nothing, with the reason in `faults`.
 */
enum hbk_status hbk_names_take(const struct hbk_horn *horn,
                               const struct hbk_readings *read,
                               struct hbk_arena *arena,
                               struct hbk_readings *taken,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The same with every note of a key that is shut at rest so many semitones
 * higher, as if the keys had been called by wrong names.
 */
struct hbk_readings hbk_names_moved(const struct hbk_horn *horn,
                                    const struct hbk_readings *taken,
                                    int semitones, struct hbk_arena *arena);

#endif
