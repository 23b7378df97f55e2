#ifndef HBK_ACOUSTICS_PIECE_H
#define HBK_ACOUSTICS_PIECE_H

#include "acoustics/pair.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * Pressure and flow near one interval of the grid, as polynomials through 10
 * points.
 */
enum { HBK_PIECE_NODES = 10, HBK_PIECE_PARTS = 4 };

struct hbk_piece {
    /* c[power], in grid steps from the middle of the 10 points: Re p and Re U,
       then Im p and Im U */
    hbk_pair c[HBK_PIECE_NODES][2];
    bool is_middle; /* the two highest powers are left out */
};

/* The polynomials at one place. */
struct hbk_spot {
    hbk_pair re, im;  /* of p and U */
    double p2, u2;    /* |p|^2, |U|^2 */
    double rise;      /* half of (|p|^2)' |U|^2 - |p|^2 (|U|^2)': the sign of
                         the slope of |Z| */
    double curvature; /* derivative of `rise` */
    double slope;     /* Re(U' conj U) */
    double square;    /* |U'|^2: -slope/square is how far ahead a zero of U is
                         seen from here */
};

/*
 * Through part[k][0] .. part[k][9] of Re p, Im p, Re U, Im U. `is_middle`: for
 * use no farther than 0.75 from the middle, where powers 8 and 9 of a wave of
 * 14 points a turn come to less than 5e-9 of it, a sixteenth of what the
 * polynomials miss it by.
 */
void hbk_piece_fit(const double *const part[HBK_PIECE_PARTS], bool is_middle,
                   struct hbk_piece *piece);

void hbk_piece_at(const struct hbk_piece *piece, double t,
                  struct hbk_spot *spot);

/*
 * The maximum of |p/U| between low and high, by Newton's method held within a
 * bracket, starting at *t. Returns false, with *t at an edge, if there is only
 * an edge.
 */
bool hbk_piece_maximum(const struct hbk_piece *piece, double low, double high,
                       double *t, struct hbk_spot *spot);

/*
 * Two steps of Newton's method in each of n pieces, from t[k], for maxima that
 * are nearly found: the processor works on several at a time, where one alone
 * would have it wait for each step. Returns a bit for each k that has
 * converged; the others must be found by hbk_piece_maximum. n: up to
 * HBK_PIECE_TOGETHER.
 */
enum { HBK_PIECE_TOGETHER = 16 };
unsigned hbk_piece_two_steps(size_t n, const struct hbk_piece *const piece[],
                             double t[], struct hbk_spot spot[]);

#endif
