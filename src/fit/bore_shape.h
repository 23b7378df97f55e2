#ifndef HBK_FIT_BORE_SHAPE_H
#define HBK_FIT_BORE_SHAPE_H

#include "horn/bore.h"

struct hbk_horn;

/*
 * Errors of a bore between its ends that nobody has a name for: wider here and
 * narrower there, in half waves over the whole axis. What readings cannot tell
 * of them is uncertain of every note, and less of a player's habit is taken
 * for flare and cup.
 */

/* At most so many waves of the axis: of one, two ... half waves. */
enum { HBK_BORE_WAVES = 4 };

/* As many as its stations carry, two for each. */
size_t hbk_bore_waves(const struct hbk_horn *horn);

/* Multiplies the radii by exp(by sin(pi (wave + 1) x / axis)). */
void hbk_bore_wave(const struct hbk_horn *horn, struct hbk_station stations[],
                   size_t wave, double by);

#endif
