#ifndef HBK_SHEET_BLOCK_TITLE_H
#define HBK_SHEET_BLOCK_TITLE_H

#include "page/pad.h"

/*
 * The title of an engraved page, centred: small capitals over a swelled rule,
 * and a line in italics below.
 */
struct hbk_title {
    const char *name;
    const char *below; /* one line; "" for none */
    double points;     /* of the name: 26 */
    double unit;       /* 1 for lines of 12 points below */
    double rule;       /* length of the swelled rule, mm, at unit 1 */
};

/* From the top of the capitals to the foot of the line below, mm. */
double hbk_title_height(const struct hbk_title *title);

/*
 * Draws it about `centre` with its top at y, no wider than `width`: a longer
 * name or line is set smaller, and what is longer still is cut.
 */
void hbk_title_draw(struct hbk_pad *pad, const struct hbk_title *title,
                    double centre, double y, double width);

/* A rule that swells in the middle, about (centre, y). */
void hbk_title_rule(struct hbk_pad *pad, double centre, double y, double length,
                    double thickness);

#endif
