#ifndef HBK_SHEET_CHART_GAMUT_PLAN_H
#define HBK_SHEET_CHART_GAMUT_PLAN_H

#include "notes/notes.h"
#include "sheet/block/hand.h"

/* How much is said of a fingering. */
enum hbk_detail {
    HBK_DETAIL_ALL,    /* cents, partial, lip, response, the alternates */
    HBK_DETAIL_HINTS,  /* first choices: lip, draw and response in words */
    HBK_DETAIL_FINGERS /* first choices, and how far a trigger is drawn */
};

enum { HBK_ALTERNATES_MAX = 3 };

/*
 * The scale of a horn, low to high, in rows: a staff with one bar a note,
 * its names above, the fingering and what to know of it below, as the old
 * tutors print their gamut. Lengths in mm.
 */
struct hbk_gamut {
    const struct hbk_notes *notes;
    struct hbk_hands hands;
    size_t n;            /* notes shown */
    const size_t *shown; /* their indices in notes->notes */
    double unit;         /* size of everything; 1 for names of 14 pt */
    double width;        /* of a full row, clef and all */
    size_t per_row;      /* notes in a full row */
    size_t alternates;   /* other fingerings printed, HBK_ALTERNATES_MAX at
                            most, and none without HBK_DETAIL_ALL */
    bool sounding;       /* print what each note sounds */
    double least_points; /* no text is smaller */
    double least_spot;   /* nor any circle, mm across; 0: 1.6 mm */
    bool care;           /* say which first choices need care */
    enum hbk_detail detail;
    /* A horn the player knows: numbers unlike its are underlined; or NULL. */
    const struct hbk_notes *beside;
    /* Of everything in a bar, at unit 1; see hbk_gamut_measure. */
    double widest, widest_alternate[HBK_ALTERNATES_MAX + 1];
};

/* The notes worth a bar, in the arena; see `left_out`. */
struct hbk_gamut_notes {
    size_t n;
    const size_t *shown;
    /*
     * Notes of the compass without any fingering: shown as such where they
     * are few, or (then counted here) named in a sentence where the horn
     * gives only some notes of the scale.
     */
    size_t n_left_out;
    const int *left_out;
};

void hbk_gamut_choose(struct hbk_arena *arena, const struct hbk_notes *notes,
                      struct hbk_gamut_notes *chosen);

/* The most alternates any shown note has, up to `limit`. */
size_t hbk_gamut_alternates(const struct hbk_gamut *gamut, size_t limit);

/* Rows needed, and the width of a bar. */
size_t hbk_gamut_rows(const struct hbk_gamut *gamut);
double hbk_gamut_bar_width(const struct hbk_gamut *gamut);

/* What stands before the first bar of a row, in units. */
#define HBK_GAMUT_CLEF_ROOM 8.0
/* White at either side of a bar, in units. */
#define HBK_GAMUT_BAR_PAD 0.6

/* A space of the staff; from circle to circle. */
double hbk_gamut_space(const struct hbk_gamut *gamut);
double hbk_gamut_pitch(const struct hbk_gamut *gamut);

#endif
