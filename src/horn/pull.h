#ifndef HBK_HORN_PULL_H
#define HBK_HORN_PULL_H

#include <stddef.h>

struct hbk_horn;

/*
 * How far slides are drawn, as it is told to a player: no finer than the
 * length of the horn is known. Formats for programs keep full figures.
 */

enum { HBK_PULL_SIZE = 16 };

/*
 * The step to which pulls of that horn are told, m: half a mm where its
 * length (or its bore, and the mouthpiece if the file describes one) was
 * measured, is from a catalogue, which somebody measured, or was fitted to
 * readings; a whole mm where it is assumed or not said. Half a mm is what a
 * player sets by eye; the steps are our choice, without a source.
 */
double hbk_pull_step_m(const struct hbk_horn *horn);

/* `draw_m` to that step, in mm; never -0. */
double hbk_pull_mm(const struct hbk_horn *horn, double draw_m);

/*
 * hbk_pull_mm() of a draw of slide `s`, which is not told to go beyond its
 * travel, however that is rounded.
 */
double hbk_pull_slide_mm(const struct hbk_horn *horn, size_t s, double draw_m);

/* "12", "5.5", "-0.5": the same as text, without the unit. */
char *hbk_pull_text(const struct hbk_horn *horn, double draw_m,
                    char text[HBK_PULL_SIZE]);
char *hbk_pull_slide_text(const struct hbk_horn *horn, size_t s, double draw_m,
                          char text[HBK_PULL_SIZE]);

#endif
