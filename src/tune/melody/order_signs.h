#ifndef HBK_TUNE_MELODY_ORDER_SIGNS_H
#define HBK_TUNE_MELODY_ORDER_SIGNS_H

#include "tune/melody/build.h"
#include "tune/melody/sections.h"

/*
 * The signs of a tune as a whole: what a coda sign means depends on the others.
 * Of tune/melody/order_walk.h.
 */

/* What the player may do at the end of a bar. */
enum { HBK_ROLE_FINE = 1, HBK_ROLE_LEAVE = 2, HBK_ROLE_JUMP = 4 };

struct hbk_order_signs {
    unsigned char *roles; /* by bar */
    bool jumps;           /* there is a D.C. or D.S. */
    size_t last_jump;     /* the last bar with one */
    /*
     * Without any, Fine and To Coda in a section that is repeated are for its
     * last time through.
     */
    bool at_last_time;
    bool signs_alone; /* coda signs mark also where it is left */
};

/* Warns of what contradicts, if `build` is to be told. */
struct hbk_order_signs hbk_order_signs_of(struct hbk_build *build,
                                          const struct hbk_sections *sections);

/* The bar to which the D.C. or D.S. at the end of a bar goes. */
size_t hbk_order_back(struct hbk_build *build, size_t jump);

/*
 * The bar with which the coda begins, left from `leave` after the D.C. or D.S.
 * of bar `jump`, HBK_TUNE_NONE without one; HBK_TUNE_NONE if there is none.
 */
size_t hbk_order_coda(struct hbk_build *build,
                      const struct hbk_order_signs *signs, size_t leave,
                      size_t jump);

/* The bar at whose end the segno stands that comes after bar `from`. */
size_t hbk_order_segno(const struct hbk_tune *tune, size_t from);

/* A warning HBK_H_ORDER_READING that begins "bar 16: ". */
void hbk_order_tell(struct hbk_build *build, size_t bar, const char *fmt, ...)
    HBK_PRINTF(3, 4);

#endif
