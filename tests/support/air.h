#ifndef HBK_TESTS_AIR_H
#define HBK_TESTS_AIR_H

#include "support/check.h"

#include "acoustics/air.h"

static inline struct hbk_air air_at(double celsius, bool lossless)
{
    struct hbk_air air;
    assert_int_equal(hbk_air_at(celsius, &air), HBK_OK);
    air.lossless = lossless;
    return air;
}

#endif
