#ifndef HBK_SOLVE_HABIT_H
#define HBK_SOLVE_HABIT_H

struct hbk_horn;

/* What the habit of the horn's player (horn/habit.h) does to a pitch. */

/*
 * Octaves of a frequency above the tuning note, as that sounds at the horn's
 * own pitch and without a crook; hz > 0.
 */
double hbk_habit_octaves(const struct hbk_horn *horn, double hz);

/* By how many cents the player sounds a resonance of the horn sharper. */
double hbk_habit_cents(const struct hbk_horn *horn, double hz);

#endif
