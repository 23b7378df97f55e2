#ifndef HBK_ACOUSTICS_RESPONSE_H
#define HBK_ACOUSTICS_RESPONSE_H

#include "acoustics/maxima.h"

/*
 * How surely a note speaks at a maximum of the impedance, as one number in
 * decibels: 20 log10 of
 *
 *   support / wave impedance  x  sharpness  x  freedom
 *
 * support    sum over k = 1 .. 8, k f up to the limit, of 1/k times
 *            H/(1 + ((k f - f_m)/b)^2), the resistance at the k-th multiple
 *            of the note taken from the nearest maximum f_m of height H and
 *            half width b. It is the sum function of Wogram 1972 (from memory
 *            of the publication) with multiples weighted down: a note whose
 *            multiples meet resonances is helped by them, as Benade and Gans
 *            1968 explain (from memory).
 * wave       rho c / S at the mouthpiece end, so that columns of different
 * impedance  bores can be compared.
 * sharpness  (Q / 30)^(1/4): a blunt maximum holds the lips less than a
 *            sharp one of its height; 30 is ordinary for brass.
 * freedom    1/sqrt(1 + sum over the two neighbours of (H_n / H)^2
 *            (100 cents / distance)^2): a neighbour of equal height a semitone
 *            away costs 3 dB, one a fourth away 0.2 dB.
 *
 * An ordinary low note comes out at 20 to 40. Only differences within one
 * horn mean anything to a player; the weights are a choice, not a measurement.
 *
 * Fills in response_db of n maxima of one state, by rising frequency.
 */
void hbk_response_rate(size_t n, struct hbk_maximum maxima[], double limit_hz,
                       double wave_impedance);

#endif
