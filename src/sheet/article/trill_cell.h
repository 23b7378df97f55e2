#ifndef HBK_SHEET_ARTICLE_TRILL_CELL_H
#define HBK_SHEET_ARTICLE_TRILL_CELL_H

#include "engrave/staff.h"
#include "notes/trills.h"

/*
 * One trill in a cell of its sheet: the names of both notes, both heads on the
 * staff, and below it the fingering: plain figures stay pressed, the sign of
 * dot.h is a finger that trills. Lengths in mm.
 */

/* How all trills of a sheet are drawn. */
struct hbk_trill_look {
    const struct hbk_notes *notes;
    double unit;   /* 1 for names of 14 points */
    double column; /* width of a cell */
    double space;  /* between the lines of the staff */
    bool sounding; /* also what the lower note sounds */
    bool words;    /* some trill has a word below */
};

/* A trill with both notes spelled as they are read, on neighbouring letters. */
struct hbk_trill_cell {
    const struct hbk_trill *trill;
    struct hbk_spelling lower, upper;
};

struct hbk_trill_cell hbk_trill_cell_of(const struct hbk_notes *notes,
                                        const struct hbk_trill *trill);

/* "awkward", "by lip", or "" for an easy one and for none. */
const char *hbk_trill_cell_words(const struct hbk_trill *trill);

/* Whether an arrow stands beside one of its names: 30 cents off, or more. */
bool hbk_trill_cell_is_off(const struct hbk_trill *trill);

/* The narrowest cell in which it can be read. */
double hbk_trill_cell_least(const struct hbk_pad *pad,
                            const struct hbk_trill_look *look,
                            const struct hbk_trill_cell *cell);

/* Widens how far heads reach above and below the staff, in spaces. */
void hbk_trill_cell_reach(const struct hbk_trill_look *look,
                          const struct hbk_trill_cell *cell, double *above,
                          double *below);

/* Where things stand below the top of a half-strip. */
struct hbk_trill_lines {
    double name;     /* base line */
    double sounding; /* base line */
    double bottom;   /* lowest line of the staff */
    double middle;   /* of the signs */
    double words;    /* base line */
    double end;      /* height */
};

/* `extra` is white to be spread. */
struct hbk_trill_lines hbk_trill_lines_of(const struct hbk_trill_look *look,
                                          double above, double below,
                                          double extra);

/* Draws a cell whose left end is at x in a half-strip with its top at y. */
void hbk_trill_cell_draw(struct hbk_pad *pad, const struct hbk_trill_look *look,
                         const struct hbk_trill_lines *lines,
                         const struct hbk_staff *staff,
                         const struct hbk_trill_cell *cell,
                         struct hbk_point at);

#endif
