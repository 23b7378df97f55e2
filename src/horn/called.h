#ifndef HBK_HORN_CALLED_H
#define HBK_HORN_CALLED_H

#include <stddef.h>

struct hbk_horn;

/*
 * How the text is read that a touch is `called`: for the written note that
 * the key gives, without its octave.
 *
 * Blanks and the signs . , ; / + ( ) part it into words. A word is a note when
 * it is a letter A to G or H with one sign or none and nothing more but
 * figures or strokes for an octave, which say nothing here:
 *
 *   E  F#  F♯  Eb  E♭  a2   as they stand
 *   E flat  F sharp         in two words
 *   H  Cis  Dis  Es  As     in German, where a plain B is B flat on every key
 *                           of a horn that has one such name
 *
 * A small letter, and a small word with a German ending, is a note only where
 * it is the whole text ("e", "as") or has a sign or an octave ("eb", "a2").
 * Every other word says nothing: "high A", "second Eb" and "Ab basso" are read
 * as A, E flat and A flat.
 *
 * Two notes are what one key gives on two partials a fifth apart ("C# G#", as
 * engraved on a bugle, Munich, c. 1825, National Music Museum
 * 10787); then the lower one of that fifth is the name, whichever stands
 * first. Of other two the first is the name.
 *
 * Returns 0 to 11 from C up, or -1 when the text names no note or there is
 * none.
 */
int hbk_called_note(const struct hbk_horn *horn, size_t control);

#endif
