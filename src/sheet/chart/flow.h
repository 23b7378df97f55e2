#ifndef HBK_SHEET_CHART_FLOW_H
#define HBK_SHEET_CHART_FLOW_H

#include "sheet/block/heading.h"
#include "sheet/block/tube.h"
#include "sheet/chart/gamut.h"
#include "sheet/chart/legend.h"

/*
 * A chart that flows over as many pages as it needs: the heading, the rows
 * of the gamut, and at the foot of the last page the legend. Further pages
 * have a running head. The unrolled tube stands beneath the last row, else
 * above the legend on the page after the gamut.
 */
struct hbk_flow {
    const struct hbk_notes *notes;
    struct hbk_pad pad;
    struct hbk_gamut_notes chosen;
    struct hbk_heading heading;
    struct hbk_gamut gamut;
    struct hbk_legend legend;
    struct hbk_unrolled tube;
    bool has_tube; /* to be drawn at all */
    struct hbk_paper_size paper;
    double heading_height, legend_height; /* for that paper */
};

/*
 * Chooses the notes and fills in everything but sizes, paper and detail;
 * copies title and subject into the sheet. Returns HBK_ERR_DOMAIN when there
 * is no note to show.
 */
enum hbk_status hbk_flow_begin(struct hbk_flow *flow,
                               const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet) HBK_MUST_CHECK;

/* The units of heading and legend; the tube has the legend's. */
struct hbk_flow_units {
    double heading, legend;
};

/* Measures heading, legend and tube anew. */
void hbk_flow_set_paper(struct hbk_flow *flow, struct hbk_paper_size paper,
                        struct hbk_flow_units units);

/* Between rows at least, in units of the gamut. */
#define HBK_FLOW_ROW_GAP 3.2

/* All rows with the white above each. */
double hbk_flow_rows_height(const struct hbk_flow *flow);
/* The tube with the white above it; 0 when there is nothing to draw. */
double hbk_flow_tube_height(const struct hbk_flow *flow);
/*
 * Pages that heading, rows, tube and legend take; SIZE_MAX when a row is
 * taller than a page.
 */
size_t hbk_flow_pages(const struct hbk_flow *flow);

void hbk_flow_draw(struct hbk_flow *flow);

#endif
