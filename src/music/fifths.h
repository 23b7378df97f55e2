#ifndef HBK_MUSIC_FIFTHS_H
#define HBK_MUSIC_FIFTHS_H

/*
 * The line of fifths: ... Bb is -2, F -1, C 0, G 1, D 2 ... F# 6 ... A
 * semitone up is 7 places up or 5 down; a sharp is 7 places.
 */

/* Of a letter, 0 to 6 for C to B, with its sign in semitones. */
int hbk_fifths_of(int step, int alter);
int hbk_fifths_step(int fifths);
int hbk_fifths_alter(int fifths);

/* Division towards minus infinity, and what it leaves, 0 to b - 1. */
int hbk_whole_part(int a, int b);
int hbk_rest_of(int a, int b);

#endif
