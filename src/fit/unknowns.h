#ifndef HBK_FIT_UNKNOWNS_H
#define HBK_FIT_UNKNOWNS_H

#include "fit/parameter.h"

#include <stdbool.h>
#include <stddef.h>

struct hbk_arena;
struct hbk_station;
struct hbk_stretch;

/*
 * What is unknown of an old horn whose record says how long it is, how wide at
 * its ends and perhaps where its holes are, and nothing else:
 *
 *   the bore between recorded stations: in every stretch that is assumed four
 *     half waves of its length over 1, 2, 3 and 4, in the logarithm of the
 *     width, so that the ends of the stretch keep theirs
 *   cup and throat of the mouthpiece; the backbore goes with the throat
 *   all holes together whose places are not recorded: nearer or further from
 *     the bell, in proportion, wider
 *   all chimneys and all pads, unless they were measured
 *   the pitch at which the notes on the keys are meant
 *
 * What is recorded stays as it is recorded. The pitch makes up for the length,
 * which the names cannot tell from it.
 */
enum { HBK_UNKNOWN_WAVES = 4 };

/* Wave k from 1 of stretch i is number i times this + k. */
enum { HBK_UNKNOWN_PER_STRETCH = 8 };

/* The stretches of the bore that are assumed; returns how many. */
size_t hbk_unknowns_stretches(const struct hbk_horn *horn,
                              struct hbk_arena *arena,
                              const struct hbk_stretch **stretches);

/* Adds them to the list, with a prior by provenance. */
void hbk_unknowns_list(struct hbk_parameters *parameters);

/* The cents by which the names are meant sharper than the file's pitch. */
double hbk_unknowns_pitch(const struct hbk_parameters *parameters,
                          const double d[]);

/*
 * Changes a horn by one of them. `stations` are its own, to be changed, `horn`
 * is as the file has it; what else must be its own comes from the arena. False
 * if that is no horn.
 */
bool hbk_unknowns_apply(const struct hbk_horn *horn,
                        const struct hbk_parameter *parameter, double d,
                        struct hbk_arena *arena, struct hbk_station *stations,
                        struct hbk_horn *changed);

#endif
