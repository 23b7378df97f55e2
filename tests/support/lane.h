#ifndef HBK_TESTS_LANE_H
#define HBK_TESTS_LANE_H

#include "acoustics/twoport.h"
#include "base/cplx.h"

/* One frequency of a two-port. */
static inline struct hbk_abcd lane_of(const struct hbk_twoport *port,
                                      size_t lane)
{
    return (struct hbk_abcd){
        .a = hbk_cplx(port->ar[lane], port->ai[lane]),
        .b = hbk_cplx(port->br[lane], port->bi[lane]),
        .c = hbk_cplx(port->cr[lane], port->ci[lane]),
        .d = hbk_cplx(port->dr[lane], port->di[lane]),
    };
}

#endif
