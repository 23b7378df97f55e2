#ifndef HBK_RENDER_RENDER_H
#define HBK_RENDER_RENDER_H

#include "base/fault.h"
#include "page/mark.h"

/* Sheets become files. */

struct hbk_fonts; /* render/fonts.h */

enum hbk_format { HBK_PDF, HBK_SVG, HBK_PNG };

#define HBK_DPI_USUAL 150.0
#define HBK_DPI_LOW 36.0
#define HBK_DPI_HIGH 1200.0

/* What is to be drawn. */
struct hbk_render_job {
    const struct hbk_sheet *sheet; /* at least one page */
    enum hbk_format format;
    size_t page; /* SVG and PNG hold one page: which, from 0 */
    double dpi;  /* PNG: HBK_DPI_LOW to HBK_DPI_HIGH */
};

/*
 * Draws a sheet into memory. The same sheet and fonts give the same bytes.
 * A PDF holds every page and says it was made at SOURCE_DATE_EPOCH (seconds
 * since 1970 UTC, from the environment), or at a fixed date without it.
 *
 * arena           receives the bytes
 * bytes, length   results; untouched on failure
 *
 * Characters that the faces lack are drawn as a box, with a warning (153)
 * for each; a SOURCE_DATE_EPOCH that is none gives a warning (155). Returns
 * HBK_OK, HBK_ERR_DOMAIN for a page or dpi out of range, or HBK_ERR_RENDER with
 * a fault (154) when the drawing library failed.
 */
enum hbk_status hbk_render(struct hbk_fonts *fonts,
                           const struct hbk_render_job *job,
                           struct hbk_arena *arena, char **bytes,
                           size_t *length,
                           struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
