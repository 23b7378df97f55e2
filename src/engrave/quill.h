#ifndef HBK_ENGRAVE_QUILL_H
#define HBK_ENGRAVE_QUILL_H

#include "page/pad.h"

/*
 * What draws on one staff: in staff spaces, x to the right from the left end
 * of the staff, y upwards from its lowest line. It keeps the skyline of what
 * it has drawn, so that what comes later can be put beyond it.
 */
struct hbk_sky {
    size_t n; /* columns of half a space */
    double *top, *bottom;
};

struct hbk_quill {
    struct hbk_pad *pad;
    double x, y; /* of the origin, mm */
    double space;
    struct hbk_sky sky;
};

/* A quill for a staff of that width, the skyline on the staff itself. */
void hbk_quill_open(struct hbk_quill *quill, struct hbk_pad *pad, double x,
                    double y, double space, double width);

/* The highest and lowest ink between two x. */
double hbk_quill_top(const struct hbk_quill *quill, double x0, double x1);
double hbk_quill_bottom(const struct hbk_quill *quill, double x0, double x1);
/* Takes a box up into the skyline. */
void hbk_quill_fill(struct hbk_quill *quill, double x0, double x1,
                    double bottom, double top);

void hbk_quill_line(struct hbk_quill *quill, double x, double y, double dx,
                    double dy, double pen);
/* A filled rectangle. */
void hbk_quill_block(struct hbk_quill *quill, double x, double y, double dx,
                     double dy);
void hbk_quill_disc(struct hbk_quill *quill, double x, double y, double radius);
/* `scale` of the usual size; see hbk_pad_glyph for `reads`. */
void hbk_quill_glyph(struct hbk_quill *quill, double x, double y, double scale,
                     uint32_t glyph, const char *reads);
void hbk_quill_shape(struct hbk_quill *quill, size_t n,
                     const struct hbk_point points[]);
/* An open line of straight pieces. */
void hbk_quill_path(struct hbk_quill *quill, size_t n,
                    const struct hbk_point points[], double pen);
/* A band between two cubic curves; see HBK_CURVE. */
void hbk_quill_band(struct hbk_quill *quill, const struct hbk_point points[8]);
/*
 * A slur from one point to another, its middle control points lifted by
 * `lift` (down if negative), ends thin and middle thick as ties are.
 */
void hbk_quill_slur(struct hbk_quill *quill, struct hbk_point from,
                    struct hbk_point to, double lift);
/* y of such a slur's middle line at the share t of its way. */
struct hbk_point hbk_quill_slur_at(struct hbk_point from, struct hbk_point to,
                                   double lift, double t);
/* Text; the size of its em in spaces. */
void hbk_quill_text(struct hbk_quill *quill, double x, double y,
                    struct hbk_style style, const char *text);
double hbk_quill_width(const struct hbk_quill *quill, struct hbk_style style,
                       const char *text);
/* The em of words: so many spaces, but no fewer than so many points. */
double hbk_quill_em(const struct hbk_quill *quill, double em, double points);
/* A circle; a line of dashes to the right. */
void hbk_quill_ring(struct hbk_quill *quill, double x, double y, double radius,
                    double pen);
void hbk_quill_dashes(struct hbk_quill *quill, double x, double y, double dx,
                      double pen);
/* Draws nothing; is read out there. */
void hbk_quill_say(struct hbk_quill *quill, double x, double y,
                   const char *text);

#endif
