#ifndef HBK_ENGRAVE_DYNAMIC_H
#define HBK_ENGRAVE_DYNAMIC_H

#include "base/arena.h"
#include "engrave/quill.h"

/* Letters of dynamics: p, mf, sfz. */

/* Whether there are signs for all letters of a text. */
bool hbk_dynamic_is_drawn(const char *text);
/* From the left edge of the first sign's ink to the right of the last's. */
double hbk_dynamic_width(const char *text);
/* Draws it, its base line at y; it is read out in words. */
void hbk_dynamic_draw(struct hbk_quill *quill, double x, double y,
                      const char *text);
/* "mezzo forte" for "mf"; the letters themselves where they are no word. */
const char *hbk_dynamic_said(const char *text);

#endif
