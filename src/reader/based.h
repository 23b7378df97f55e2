#ifndef HBK_READER_BASED_H
#define HBK_READER_BASED_H

#include "reader/tree.h"

/*
 * Horns based on others: `based_on: other.yaml`, a path relative to the
 * folder of the file that says so, or the name of a shipped horn. The
 * result is one tree, in which
 *
 *   - a name at the top of the newer file replaces that of the older one;
 *   - but the entries of keys, valves, triggers, slides, crooks and
 *     mouthpieces are taken
 *     one by one: an entry with the number or name of an older one replaces
 *     just the fields it gives, `remove: true` drops it, and others are
 *     added at the end;
 *   - `stuck` is taken item by item too: a newer one replaces the older of
 *     the same control or slide, and what is removed is not stuck any more;
 *   - `provenance` of the older horn becomes "pattern", for it was not this
 *     horn that was measured, and is left out of what the newer one changes;
 *   - what excludes each other goes together: a newer `length`, `fundamental`
 *     or `bore` drops the older of the three (and with `bore` its
 *     mouthpiece, wavefronts, bell and step_inertance); of a key, `from_bell`
 *     and `at`; of a valve, `loop`, `lowers` and `raises`.
 *
 * Each node keeps the place it came from.
 */
enum { HBK_BASES_MAX = 8 /* how long a chain of files may be */ };

/*
 * Follows `based_on` from a tree and puts the chain together.
 *
 * path    of the file that `own` was read from
 * arena   receives the trees and paths; faults may name the latter
 * root    result; untouched on failure
 *
 * Returns HBK_OK when there is a tree (faults may have been added), or
 * HBK_ERR_INPUT: a file of the chain is missing, unreadable or stands in it
 * twice, or the chain is longer than HBK_BASES_MAX.
 */
enum hbk_status hbk_based_on(const char *path, const struct hbk_node *own,
                             struct hbk_arena *arena, struct hbk_node *root,
                             struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
