#ifndef HBK_ENGRAVE_ENGRAVE_BEAM_H
#define HBK_ENGRAVE_ENGRAVE_BEAM_H

#include "engrave/engrave.h"

/*
 * When an event begins, in whole notes since the beginning of its full bar: a
 * pickup ends where one does.
 */
double hbk_eng_time_in_bar(const struct hbk_tune *tune,
                           const struct hbk_tune_event *event);
/* Groups notes by the source or the meter and settles every stem. */
void hbk_eng_beams(struct hbk_engraving *eng);
/* Once notes stand in their places: slant and height, tips of stems. */
void hbk_eng_slant(struct hbk_engraving *eng, struct hbk_eng_beam *beam);
/* Parts a beam before a note, where a line ends within it. */
void hbk_eng_split_beam(struct hbk_engraving *eng, size_t note);
/* y of the outermost beam's middle at x. */
double hbk_eng_beam_y(const struct hbk_eng_beam *beam, double x);

#endif
