#ifndef HBK_SHEET_BLOCK_LADDER_H
#define HBK_SHEET_BLOCK_LADDER_H

#include "notes/series.h"
#include "page/pad.h"

/*
 * What a player hears of one fingering: a rung for each of its partials, the
 * lowest at the foot, with the note that it is played for. A mark stands on
 * the middle line where the note is in tune, at its left where it is flat, at
 * its right where it is sharp, at the end of the rung as an arrow where it is
 * further off; the surer the note speaks, the larger the mark. A stroke stands
 * where the tube has the maximum, if that is seen beside the mark. Lengths in
 * mm.
 */
struct hbk_ladder {
    const struct hbk_notes *about;
    const struct hbk_curve *curve;
    unsigned rungs;   /* partials shown, from 1 */
    double surest_db; /* the response that gets the largest mark */
    double unit;      /* 1 for names of 10.5 points */
    double row;       /* from rung to rung */
    double width;
    /* Columns of Hz at the right of each rung: none, of what is heard, or of
       that and of the maximum of the tube. */
    unsigned hertz;
};

/* From the middle line to either end of a rung, and from line to line. */
#define HBK_LADDER_CENTS 60.0
#define HBK_LADDER_LINE_CENTS 25.0
/* A maximum nearer to the mark than this has no stroke of its own; and one
   beyond the ends of the rung has none. */
#define HBK_LADDER_STROKE_CENTS 2.0
/* A mark within so many cents stands on the tint, as on every sheet. */
#define HBK_LADDER_TRUE_CENTS 10.0

/* A response so much under the surest gets the smallest mark; our choice. */
#define HBK_LADDER_WEAK_DB 20.0

/* The least width in which a ladder can be read. */
double hbk_ladder_least_width(const struct hbk_pad *pad,
                              const struct hbk_ladder *ladder);
/* Of what stands above its rungs. */
double hbk_ladder_head_height(double unit);

void hbk_ladder_draw(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                     double x, double y);

#endif
