#ifndef HBK_ENGRAVE_ENGRAVE_SPACE_H
#define HBK_ENGRAVE_ENGRAVE_SPACE_H

#include "engrave/engrave.h"

/* Ideal and least distances; breaks bars wider than `width`. */
void hbk_eng_space(struct hbk_engraving *eng, double width);
/* Gives every column of a line its x; a ragged line its width. */
void hbk_eng_place(struct hbk_engraving *eng, struct hbk_eng_line *line);
/* Lines of at least total cost; each is `width` wide. */
void hbk_eng_break(struct hbk_engraving *eng, double width);

#endif
