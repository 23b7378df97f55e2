#ifndef HBK_SOLVE_REST_H
#define HBK_SOLVE_REST_H

struct hbk_horn;

/*
 * How long a horn is at rest, slides as in the file and without a crook, in
 * air of the file's temperature; m. NAN outside the temperatures that air has
 * laws for (acoustics/air.h).
 */

/* Half the wave, of a horn of the length model. */
double hbk_length_at_rest(const struct hbk_horn *horn);

/* The same, or the axis of a horn described by its bore. */
double hbk_axis_at_rest(const struct hbk_horn *horn);

#endif
