#ifndef HBK_PASSAGE_MOVE_TIMES_H
#define HBK_PASSAGE_MOVE_TIMES_H

/* How long fingers, keys and valves take, and where the figures come from. */

/*
 * Opening or closing a flute key takes 10 ms when a finger pushes it and 16
 * ms when a spring returns it (Almeida, Chow, Smith and Wolfe 2009, J.
 * Acoust. Soc. Am., from the abstract). Brass keys and valves are heavier,
 * so these are the least.
 */
#define HBK_MOVE_DOWN_S 0.010
#define HBK_MOVE_UP_S 0.016

/*
 * Fingers meant to move together do so tens of milliseconds apart, the more
 * the more fingers move (same source). The figure for each finger beyond
 * the first is our own choice.
 */
#define HBK_MOVE_SPREAD_S 0.010

/*
 * What an index finger needs beside the key's own time before it can do the
 * next thing: our own choice, no source. Chosen so that one finger makes
 * about 14 changes a second, as in a quick trill.
 */
#define HBK_MOVE_FINGER_S 0.055

/*
 * One finger goes down while another comes up, and nothing wrong may sound
 * in between: players keep to paths without a wrong note (Almeida and others
 * 2009). The figure is our own choice, no source.
 */
#define HBK_MOVE_CROSSED_S 0.020
/*
 * Where both fingers may be down for a moment and one of the two notes still
 * sounds, they need not meet so closely: half of that. Our own choice.
 */
#define HBK_MOVE_SAFE 0.5

/* Two thumbs one after the other: our own choice, no source. */
#define HBK_MOVE_THUMBS_S 0.015

/*
 * Two fingers in turn tap 50 % faster than one finger alone (Aoki and
 * Kinoshita 2001, Ergonomics 44, from the abstract). So a finger that must
 * leave one control and land on another needs 1.5 times the sum of both
 * strokes, and fingers of different hands cross in 1 / 1.5 of the time.
 */
#define HBK_MOVE_SAME_FINGER 1.5

/*
 * How much slower than the index a finger is. That ring and little finger
 * are slower than index and middle: Aoki, Furuya and Kinoshita 2005, Motor
 * Control 9, from the abstract. The figures are our own choice, no source.
 */
#define HBK_MOVE_THUMB 1.10
#define HBK_MOVE_MIDDLE 1.05
#define HBK_MOVE_RING 1.30
#define HBK_MOVE_LITTLE 1.20

/*
 * How much slower than a slim piston an action is: a long stroke takes
 * longer, a quarter turn less (common practice); the figures are our own
 * choice, no source.
 */
#define HBK_MOVE_EARLY_PISTON 1.25
#define HBK_MOVE_WIDE_PISTON 1.10
#define HBK_MOVE_DOUBLE_PISTON 1.15
#define HBK_MOVE_ROTARY 0.90
#define HBK_MOVE_STRING_ROTARY 0.95
/* A trigger is drawn, not struck. Our own choice, no source. */
#define HBK_MOVE_TRIGGER 1.50

/*
 * A stroke that the file gives counts in proportion to a slim piston's 16 mm
 * (from memory), within these bounds. Our own choice, no source.
 */
#define HBK_MOVE_USUAL_STROKE_M 0.016
#define HBK_MOVE_LEAST_STROKE 0.80
#define HBK_MOVE_MOST_STROKE 1.50

/*
 * Large pads near the bell are slower than small ones (common practice):
 * 1 + (diameter - 15 mm) / 60 mm, our own choice, no source. From 22 mm on
 * a pad is called large.
 */
#define HBK_MOVE_SMALL_PAD_M 0.015
#define HBK_MOVE_PAD_SCALE_M 0.060
#define HBK_MOVE_LARGE_PAD_M 0.022

#endif
