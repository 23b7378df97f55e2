#ifndef HBK_PASSAGE_LATTICE_H
#define HBK_PASSAGE_LATTICE_H

#include "base/arena.h"

#include <stdbool.h>
#include <stdint.h>

/*
 * Choices that cost something each and something together: the cheapest
 * sets, exactly. Costs are whole numbers, so that sums do not depend on
 * their order and equal costs are equal.
 *
 * Mostly each node is linked with the one before it, and the search is the
 * usual one along a chain. A link that reaches further back, as a repeat
 * makes one, is carried along until both its ends are decided, which
 * multiplies the work by the choices of its earlier end.
 */

/* A choice that may not be taken. The sum of all others lies within
   +-2^60. */
#define HBK_LATTICE_BARRED INT64_MAX

enum { HBK_LATTICE_CHOICES_MAX = 64, HBK_LATTICE_WAYS_MAX = 16 };

struct hbk_lattice_link {
    size_t from, to; /* from < to */
};

/* Writes the costs of a link: out[x_from * n_choices[to] + x_to]. */
typedef void hbk_lattice_fill(const void *ctx, size_t link, int64_t out[]);

/* Borrows everything it points to. */
struct hbk_lattice {
    size_t n;
    const size_t *n_choices;     /* 1 to HBK_LATTICE_CHOICES_MAX each */
    const int64_t *const *costs; /* one open choice a node at least */
    size_t n_links;
    const struct hbk_lattice_link *links; /* sorted by `to` */
    hbk_lattice_fill *fill;
    const void *ctx; /* handed to fill untouched */
};

struct hbk_lattice_way {
    int64_t cost;
    unsigned char *pick; /* one choice a node */
};

/*
 * The `k` cheapest ways, each another set of choices, cheapest first; of
 * equal ones the one whose first differing choice is smaller.
 *
 * k       1 to HBK_LATTICE_WAYS_MAX
 * ways    receives as many as there are, at most k, in the arena
 * exact   false when so many far links overlap that the search would not
 *         end in reasonable time and memory (repeats of real music do not):
 *         then the earlier ends of all far links were decided along the chain
 *         first, and the ways are the cheapest ones with those choices. Fewer
 *         than k are found where even so they would take too much memory
 *
 * Returns how many ways were found.
 */
size_t hbk_lattice_search(const struct hbk_lattice *lattice, size_t k,
                          struct hbk_arena *arena,
                          struct hbk_lattice_way ways[], bool *exact);

#endif
