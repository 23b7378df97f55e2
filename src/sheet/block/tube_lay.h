#ifndef HBK_SHEET_BLOCK_TUBE_LAY_H
#define HBK_SHEET_BLOCK_TUBE_LAY_H

#include "horn/site.h"
#include "page/pad.h"
#include "sheet/block/unrolled.h"

/* Where everything of the unrolled tube stands; for sheet/block/tube.c. */

/* mm, in units of the drawing. */
#define HBK_UNROLLED_LABEL 5.6   /* name and hand */
#define HBK_UNROLLED_LEADER 1.6  /* from there to the tube */
#define HBK_UNROLLED_LEGS 1.2    /* between the legs of a loop */
#define HBK_UNROLLED_LOOP 2.2    /* from loop to loop below it */
#define HBK_UNROLLED_ARC 5.0     /* longer loops have legs */
#define HBK_UNROLLED_LEADING 3.0 /* of the caption */

enum { HBK_UNROLLED_NAME = 40 };

/* One hole or loop on the paper; x from the left end of the drawing. */
struct hbk_unrolled_part {
    const struct hbk_site *site;
    double x;
    double length; /* loop: of its tube */
    double span;   /* loop: along the tube */
    int level;     /* loop: how many hang above it */
    double label_x;
    double label_width;
    bool is_left;
    const struct hbk_control *control;
    char label[HBK_UNROLLED_NAME];
};

struct hbk_unrolled_layout {
    const struct hbk_unrolled *tube;
    size_t n;
    struct hbk_unrolled_part parts[HBK_SITES_MAX]; /* from the mouthpiece */
    double whole_m;                                /* length of the tube */
    double left, length;                           /* the same on paper */
    double widths; /* bored: paper mm to the metre */
    double times;  /* bored: over the scale of the length */
    double axis;
    double tall; /* half the width where it is widest among the parts */
    int levels;
    bool stretched; /* a loop beneath others reaches down beyond its length */
    bool computed;  /* a hole's place, from its semitones */
    bool unplaced;  /* a loop's place is not known */
    double bottom;  /* of tube and loops */
    double height;
    struct hbk_lines caption;
};

/* Type of the drawing; `points` at unit 1. */
struct hbk_style hbk_unrolled_small(double unit, double points);
struct hbk_style hbk_unrolled_name(double unit);

/* Half the tube's width on paper at a share of its length, mm. */
double hbk_unrolled_half(const struct hbk_unrolled_layout *layout,
                         double share);

/* Whether that slide is marked on the tube: a main one of known place. */
bool hbk_unrolled_has_slide(const struct hbk_horn *horn, size_t slide);

/* Lays it out; false when there is nothing to draw or no room. */
bool hbk_unrolled_lay(struct hbk_pad *pad, const struct hbk_unrolled *tube,
                      struct hbk_unrolled_layout *layout);

#endif
