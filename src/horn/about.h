#ifndef HBK_HORN_ABOUT_H
#define HBK_HORN_ABOUT_H

#include "horn/control.h"

struct hbk_horn;

/*
 * What can be done with a horn and asked of it by those who do not look
 * inside: its insides are in horn/horn.h.
 */

/* Releases the arena. A zeroed horn is fine. */
void hbk_horn_finish(struct hbk_horn *horn);

/* Index of the control of that kind and name, or -1. */
int hbk_horn_find_control(const struct hbk_horn *horn,
                          enum hbk_control_kind kind, const char *name);

bool hbk_horn_has_kind(const struct hbk_horn *horn, enum hbk_control_kind kind);

#endif
