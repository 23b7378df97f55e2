#ifndef HBK_SOUND_TONE_H
#define HBK_SOUND_TONE_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * Tones as sound: a plain tone in the manner of brass, that lets pitch and
 * rhythm be heard and claims no more. Knows hertz and seconds and no notes.
 *
 * A tone is a sum of sines at the whole multiples of its pitch, exactly, so
 * that what a tuner shows of it is the pitch that was asked for. As on brass,
 * the low ones begin sooner than the high ones (Risset 1965, J. Acoust. Soc.
 * Am. 38, 912, from the abstract), and above a frequency that belongs to the
 * horn they soon give out, which leaves low notes bright and high ones round;
 * how soon is our own choice. All tones are equally loud by their mean square.
 */

/* Samples a second, as on a compact disc. */
enum { HBK_SOUND_RATE = 44100 };

/*
 * A tone that begins slurred goes on from the one before: pitch and tone glide
 * over so many seconds, and nothing is attacked. Else it begins over the
 * first, and ends over the second of the others. Each takes a third of the
 * tone at most. All our own choice.
 */
#define HBK_SOUND_GLIDE_S 0.012
#define HBK_SOUND_ATTACK_S 0.020
#define HBK_SOUND_RELEASE_S 0.030

struct hbk_tone {
    double start_s, length_s; /* not before the end of the one before */
    double hz;                /* 20 to 5000 */
    bool slurred;             /* begins where the one before ends */
};

struct hbk_sound {
    size_t n;
    int16_t *samples;
};

/*
 * Nothing but silence where no tone is; the first and the last sample are 0,
 * and no sample is clipped. The same tones make the same samples.
 *
 * tones       in the order of their beginnings
 * length_s    of the whole; what sounds later is cut off softly
 * open_hz     what the tube of the horn would sound as its first partial,
 *             which says how bright it is: a small horn is brighter
 */
struct hbk_sound hbk_sound_of(const struct hbk_tone *tones, size_t n,
                              double length_s, double open_hz,
                              struct hbk_arena *arena);

#endif
