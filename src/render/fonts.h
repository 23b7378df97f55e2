#ifndef HBK_RENDER_FONTS_H
#define HBK_RENDER_FONTS_H

#include "base/fault.h"
#include "page/mark.h"

/*
 * The fonts that sheets are written in, these and no other: EB Garamond in two
 * optical sizes for words, Noto Sans Bold for names, Open Sans Condensed Bold
 * for fingerings, Noto Music for music, and DejaVu Sans for the characters
 * that these lack. They are read from where the packages fonts-ebgaramond,
 * fonts-noto-core, fonts-open-sans and fonts-dejavu-core put them, or from
 * the folders that the environment variable HORNBOOK_FONTS lists, parted by
 * colons.
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
/*
 * Whether the files are there and are what they should be, without opening
 * them: no thread is started. Errors as hbk_fonts_open().
 */
enum hbk_status hbk_fonts_check(struct hbk_arena *arena,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

/* NULL is fine. */
void hbk_fonts_close(struct hbk_fonts *fonts);

/*
 * How wide these faces make text; see struct hbk_ruler. The ruler borrows
 * the fonts. Accuracy: what the PDF has, within 0.01 mm a line.
 */
struct hbk_ruler hbk_fonts_ruler(struct hbk_fonts *fonts);

#endif
