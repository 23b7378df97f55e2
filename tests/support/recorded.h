#ifndef HBK_TESTS_RECORDED_H
#define HBK_TESTS_RECORDED_H

#include "support/solved.h"

#include "horn/horn.h"

/* What a museum records of a horn, looked up in what was read of its file. */

/* The diameter, in mm, of the station at x_mm; fails where there is none. */
static inline double diameter_at(const struct hbk_horn *horn, double x_mm)
{
    for (size_t i = 0; i < horn->bore.n_stations; i++) {
        const struct hbk_station *const station = &horn->bore.stations[i];
        if (fabs(1000.0 * station->x_m - x_mm) < 0.01) {
            return 2000.0 * station->radius_m;
        }
    }
    fail_msg("%s: no station at %g mm", horn->id, x_mm);
    return 0.0;
}

/* The least diameter of the bore, in mm. */
static inline double narrowest_of(const struct hbk_horn *horn)
{
    double least = INFINITY;
    for (size_t i = 0; i < horn->bore.n_stations; i++) {
        least = fmin(least, 2000.0 * horn->bore.stations[i].radius_m);
    }
    return least;
}

/* The holes that a key moves, and the nearest to the bell of those. */
static inline size_t holes_of(const struct hbk_horn *horn, size_t key,
                              const struct hbk_site **own)
{
    size_t n = 0;
    *own = NULL;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        for (size_t t = 0; t < site->n_terms; t++) {
            if ((site->terms[t] >> key & 1U) != 0) {
                *own = *own == NULL ? site : *own;
                n++;
            }
        }
    }
    return n;
}

#endif
