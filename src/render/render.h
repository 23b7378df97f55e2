#ifndef HBK_RENDER_RENDER_H
#define HBK_RENDER_RENDER_H

#include "base/fault.h"
#include "page/mark.h"

/*
 * Sheets become files. Three faces and no other are used: DejaVu Sans,
 * DejaVu Sans Bold and Noto Music, from the files that the packages
 * fonts-dejavu-core and fonts-noto-core install, or from the folders that
 * the environment variable HORNBOOK_FONTS lists, parted by colons.
 */

/* The faces, opened. For one thread at a time. */
struct hbk_fonts;

/*
 * Finds and opens the faces.
 *
 * arena   holds *fonts; must outlive it
 * fonts   result, to be closed by the caller; untouched on failure
 *
 * Returns HBK_OK, or HBK_ERR_RENDER with one fault for each file that is
 * missing (150) or is not the face it should be (151).
 */
enum hbk_status hbk_fonts_open(struct hbk_arena *arena,
                               struct hbk_fonts **fonts,
                               struct hbk_faults *faults) HBK_MUST_CHECK;
/* NULL is fine. */
void hbk_fonts_close(struct hbk_fonts *fonts);

/*
 * How wide these faces make text; see struct hbk_ruler. The ruler borrows
 * the fonts. Accuracy: what the PDF has, within 0.01 mm a line.
 */
struct hbk_ruler hbk_fonts_ruler(struct hbk_fonts *fonts);

enum hbk_format { HBK_PDF, HBK_SVG, HBK_PNG };

/* Finds the format of a file by the ending of its name. */
bool hbk_format_of(const char *path, enum hbk_format *format);

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
