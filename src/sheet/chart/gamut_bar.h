#ifndef HBK_SHEET_CHART_GAMUT_BAR_H
#define HBK_SHEET_CHART_GAMUT_BAR_H

#include "engrave/staff.h"
#include "sheet/chart/gamut_plan.h"

/* One bar of a gamut: a note, and what stands above and below it. */

/* Baselines and tops below the top of the row, mm. */
struct hbk_gamut_lines {
    double name;     /* baseline */
    double sounding; /* baseline */
    double bottom;   /* the staff's lowest line */
    double number;   /* baseline */
    double hands;    /* centre of the first row of circles */
    double cents;    /* baseline */
    double lip;      /* baseline */
    double draw;     /* baseline */
    double care;     /* baseline */
    double rest;     /* top of the alternates */
    double end;      /* height of the row */
};

/* Draws what stands in one bar: all but the staff lines and barlines. */
void hbk_gamut_bar_draw(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                        const struct hbk_gamut_lines *lines,
                        const struct hbk_staff *staff, size_t index, double x,
                        double y);

/* Height of one alternate, and of its word of use. */
double hbk_gamut_alternate_height(const struct hbk_gamut *gamut);

/* The label of a fingering: its controls, or its partial without any. */
const char *hbk_gamut_label(struct hbk_arena *arena,
                            const struct hbk_notes *notes,
                            const struct hbk_fingering *fingering);

/*
 * The narrowest bar for what is said of a note, without the white at its
 * sides: its first choice and names; one of its alternates.
 */
double hbk_gamut_first_width(const struct hbk_pad *pad,
                             const struct hbk_gamut *gamut, size_t index);
double hbk_gamut_alternate_width(const struct hbk_pad *pad,
                                 const struct hbk_gamut *gamut, size_t index,
                                 size_t rank);

#endif
