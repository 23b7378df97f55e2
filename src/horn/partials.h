#ifndef HBK_HORN_PARTIALS_H
#define HBK_HORN_PARTIALS_H

#include <stdbool.h>

enum { HBK_PARTIALS_MAX = 16 };

/*
 * Which resonances a player uses. Where the file does not say, the highest
 * follows the compass: the lowest of those not to be avoided, 8 at least, that
 * reaches its top on the horn at rest. `stretch_cents[p]` is the measured
 * deviation of partial p from p times the fundamental (length model only).
 */
struct hbk_partials {
    unsigned lowest, highest; /* 1 to HBK_PARTIALS_MAX */
    bool avoid[HBK_PARTIALS_MAX + 1];
    double stretch_cents[HBK_PARTIALS_MAX + 1];
};

#endif
