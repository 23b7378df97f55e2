#ifndef HBK_SHEET_BLOCK_HEAD_H
#define HBK_SHEET_BLOCK_HEAD_H

#include "page/pad.h"

/*
 * The head of a sheet on its side: the name in small capitals at the left; at
 * the right a line in italics, and below it the legend. Each is one line where
 * it can be: it is set smaller, and then broken. Lines are not set below the
 * least size of a sentence, 8.5 points.
 */
struct hbk_head {
    const char *name;
    const char *line;   /* in italics; "" for none */
    const char *legend; /* "" for none */
    /* 1: the name has 27 points, the line 13, the legend 11. */
    double unit;
    double width; /* mm */
    double sign;  /* mm kept free before the legend for a drawn sign, or 0 */
};

/* From the top of the capitals to the foot of the last line, mm. */
double hbk_head_height(const struct hbk_pad *pad, const struct hbk_head *head);

/*
 * Draws it from the top left corner. Returns the left end of the base line of
 * the legend, where the room kept for a sign begins.
 */
struct hbk_point hbk_head_draw(struct hbk_pad *pad, const struct hbk_head *head,
                               double x, double y);

/*
 * What stands at the left of a sheet and what is left for the line: "Keyed
 * bugle in C" and "six keys" of "Keyed bugle in C, six keys". In the arena;
 * without a comma `rest` is "".
 */
void hbk_head_split(struct hbk_arena *arena, const char *title,
                    const char **name, const char **rest);

#endif
