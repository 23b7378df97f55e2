#ifndef HBK_SHEET_ARTICLE_SCALES_SHEET_H
#define HBK_SHEET_ARTICLE_SCALES_SHEET_H

#include "notes/scales.h"
#include "sheet/article/article.h"
#include "sheet/article/scale_staff.h"

/* In which size scales are written out, and with which note they begin. */
struct hbk_scales_size {
    enum hbk_scale_from from;
    double unit;  /* of words: 1 on A4 */
    double space; /* between the lines of a staff, mm */
};

/* The eight most usable scales, to be written out within an article. */
struct hbk_scales_written;

/* In the article's arena; NULL for a horn without a whole octave. */
struct hbk_scales_written *hbk_scales_written_plan(
    struct hbk_article *article, const struct hbk_notes *notes,
    const struct hbk_scales *all, const struct hbk_scales_size *size);
/* What its signs mean, and the first scale: they stand on one page. */
double hbk_scales_written_height(const struct hbk_scales_written *written);
/* From where the article stands; each scale whole on a page. */
void hbk_scales_written_draw(struct hbk_scales_written *written);

/*
 * Two sheets on upright paper. The first has the eight most usable scales
 * written out with their fingerings, majors before minors, the easiest first:
 * a page of A4 or Letter, more on smaller paper; it is left out for a horn that
 * has no whole octave. The second ranks all written keys with their measures,
 * on two pages of A4 at most, or says that there is no scale; see
 * notes/scales.h.
 *
 * scales   those of the notes
 *
 * Other parameters, result and errors as of hbk_sheet_chart.
 */
enum hbk_status hbk_sheet_scales(const struct hbk_notes *notes,
                                 const struct hbk_scales *scales,
                                 const struct hbk_sheet_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
