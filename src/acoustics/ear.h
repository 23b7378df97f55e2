#ifndef HBK_ACOUSTICS_EAR_H
#define HBK_ACOUSTICS_EAR_H

#include "acoustics/maxima.h"

/*
 * The pitch that a player finds at a maximum of the impedance: where the air
 * column helps the whole tone most, its harmonics together, and not where it
 * helps the lowest alone. It is the sum function of Wogram 1972 (from memory
 * of the publication), the resistance at the harmonics summed up,
 *
 *   S(f) = sum over k = 1 .. 8 of R(k f) / k,
 *
 * read as the mean of the frequency over S^16, within HBK_EAR_REACH_CENTS of
 * the maximum of the impedance (HBK_EAR_FIRST_REACH_CENTS of the first) and not
 * past half way, in cents, to the maxima on either side; the last
 * HBK_EAR_EDGE_CENTS of that count less and less. R is taken off the maxima
 * alone: for k = 1 the one that is listened to, above that two below each
 * multiple and two above, as
 *
 *   R(x) = sum of H b0/b / (1 + ((x - f_m)/b)^2),  b = b0 + blur f_m,
 *
 * H the height, b0 = f_m/2Q the half width of a maximum: the resonance as it
 * stands in the curve, its area kept while it is made wider by
 * HBK_EAR_BLUR_CENTS.
 *
 * Why so. 1/k: a brass tone of middling loudness, whose harmonics the lips
 * drive about so; with weights that fall as k^-1.5 or faster (very soft) the
 * lone maximum wins again and the low octave of valved horns stays half a
 * semitone flat, which no player has found it to be; with equal ones a hair of
 * bore moves notes of ophicleides by a semitone. 8: more changes nothing. The
 * mean: S has two humps where a low note's own maximum and its harmonics do not
 * agree. One that stands clearly over the other has the note to itself, as at
 * the highest maximum of S; where they are nearly as high a player, who has no
 * name for humps, finds a note somewhere between, and a hair's breadth of bore,
 * which makes now one the higher and now the other, moves it by cents and not
 * from one to the other. 16: from 8 to 16 the low octaves of cornets come out
 * alike; below, the lesser hump counts though it is far lower; above, a note
 * hangs on hairs again. The reach: with three valves down the hump of the
 * harmonics lies 74 to 129 cents above the second maximum on the cornets of
 * `instruments`, 110 on a trumpet with a published bell, and further where a
 * bell leaves that maximum lower still; 200 is less than half way to the next
 * note of the series up to the third, above which half way counts. Of the first
 * maximum, which has none below it to say where half way is, less: beyond 130
 * the lowest notes of ophicleides move by a semitone with 3 % of cup. The blur:
 * as steady as a player holds a note. The maxima in the top tenth below the
 * limit fade out as harmonics: whether a maximum lies just below the limit or
 * just above makes no difference.
 *
 * Accuracy: of the mean, a tenth of a cent (rms; at most 5 cents, where two
 * humps are nearly alike); within the blur of the same over the whole impedance
 * of valved horns (tests/unit/test_ear.c). How near it is to players: 60 cents
 * of error (rms) of the seven lowest notes of a trumpet with a published bell
 * become 10, against what a teaching page says of them; no measurement of
 * players is known to us.
 */
#define HBK_EAR_REACH_CENTS 200.0
#define HBK_EAR_FIRST_REACH_CENTS 130.0
#define HBK_EAR_EDGE_CENTS 25.0
#define HBK_EAR_BLUR_CENTS 10.0
enum { HBK_EAR_POWER = 16 };
/* How many maxima are listened to, the lowest. */
enum { HBK_EAR_HARMONICS = 8, HBK_EAR_MAXIMA_MOST = 96 };

/*
 * Fills in heard_hz of n maxima of one state, which stand by rising frequency.
 * Those above limit_hz, or without a harmonic below it, are heard where they
 * lie.
 */
void hbk_ear_hear(size_t n, struct hbk_maximum maxima[], double limit_hz);

#endif
