#ifndef HBK_FIT_TROUBLE_PLAYER_H
#define HBK_FIT_TROUBLE_PLAYER_H

#include "base/arena.h"

#include <stdbool.h>

/*
 * How likely the errors of a page are, whoever plays it. A player sounds every
 * note sharper by a pitch, and by a slope more with every octave above the
 * tuning note (solve/habit.h), both beyond the habit of the horn's file.
 * Neither is known, so the likelihood is the mean over both, by sums over a
 * grid as fine as the page tells them apart. Private to fit/trouble_page.c.
 */

/* Amounts of pitch, or slope, that are tried, and how likely each is. */
struct hbk_trouble_grid {
    size_t n;
    double step; /* cents, or cents an octave; the middle one is 0 */
    const double *log_prior;
};

struct hbk_trouble_player {
    size_t n;              /* readings */
    const double *octaves; /* n: above the tuning note; borrowed */
    /* n: the logarithm of the density of an error, by its size. */
    const double *const *curves;
    /* n + 1: the most that the readings from there on can add up to. */
    const double *most_left;
    struct hbk_trouble_grid pitch, slope;
};

/*
 * octaves, sd  n >= 1 of each; sd > 0 is that of a reading which is no slip
 * arena        owns what the player points at, but for octaves
 */
struct hbk_trouble_player hbk_trouble_player_of(size_t n,
                                                const double octaves[],
                                                const double sd[],
                                                struct hbk_arena *arena);

/* What a page says of its player, where that is likeliest. */
struct hbk_trouble_played {
    double log_most; /* -INFINITY where nothing was likely enough */
    double pitch_cents, slope_cents;
};

/*
 * The logarithm of the likelihood of n errors, each between -400 and 400 cents.
 * Pitches and slopes that are e^-16 times as likely as the likeliest so far, or
 * less, are left out; -INFINITY where all are.
 *
 * best   of all that was asked before on the same page; log_most is -INFINITY
 *        at first. Replaced where these errors make something likelier.
 *
 * Returns whether it was.
 */
bool hbk_trouble_player_ask(const struct hbk_trouble_player *player,
                            const double errors[],
                            struct hbk_trouble_played *best,
                            double *log_likelihood);

#endif
