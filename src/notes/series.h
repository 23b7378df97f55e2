#ifndef HBK_NOTES_SERIES_H
#define HBK_NOTES_SERIES_H

#include "notes/curve.h"

/*
 * The notes that the partials of one fingering are played for: those of a
 * bugle call, moved as a whole to where most of them fit. What a partial lies
 * nearest to may be another note, when it is far off.
 */
struct hbk_series {
    bool found; /* false for a curve without a numbered maximum */
    int lowest; /* the written note of partial 1 */
};

/*
 * By the median of partials 2 to 8, those that are mostly played; by that of
 * all where none of these was found.
 */
struct hbk_series hbk_series_of(const struct hbk_curve *curve);

/* The written note of a partial, from 1. */
int hbk_series_note(const struct hbk_series *series, unsigned partial);

/* By how much a numbered maximum is heard sharp of its note; negative: flat. */
double hbk_series_cents(const struct hbk_series *series,
                        const struct hbk_curve_maximum *m);

/* The numbered maximum of that partial, NULL where it was not found. */
const struct hbk_curve_maximum *hbk_curve_partial(const struct hbk_curve *curve,
                                                  unsigned partial);

#endif
