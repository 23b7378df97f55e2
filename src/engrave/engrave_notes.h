#ifndef HBK_ENGRAVE_ENGRAVE_NOTES_H
#define HBK_ENGRAVE_ENGRAVE_NOTES_H

#include "engrave/engrave.h"

/*
 * Makes notes, columns and bars of a range of bars; `labels` has the width
 * of what stands below each event, or is NULL.
 */
void hbk_eng_collect(struct hbk_engraving *eng, const double *labels);

#endif
