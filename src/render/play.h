#ifndef HBK_RENDER_PLAY_H
#define HBK_RENDER_PLAY_H

#include "render/faces.h"
#include "render/structure.h"

/* For the files of this folder only: marks to cairo. */

/* What drawing one sheet keeps from mark to mark. */
struct hbk_player {
    struct hbk_fonts *fonts;
    cairo_t *cr;
    struct hbk_structure *structure; /* of a document with parts (PDF) */
    const struct hbk_page *page;     /* that is played */
    uint32_t missing[HBK_MISSING_KEPT];
    struct hbk_faults *faults;
    cairo_status_t failed; /* of what neither context nor surface keep */
};

/*
 * The image as PNG, with its dots per metre so that it prints at its size.
 */
cairo_status_t hbk_png_write(cairo_surface_t *surface, double dpi,
                             struct hbk_text *out);

/*
 * Plays a page, one with parts on a white ground; one unit of the context is
 * one millimetre.
 */
void hbk_play_page(struct hbk_player *player, const struct hbk_page *page);

/*
 * A page as SVG, whole. The player's context serves to trace glyphs on.
 */
void hbk_svg_write(struct hbk_player *player, const struct hbk_sheet *sheet,
                   const struct hbk_page *page, struct hbk_text *out);

#endif
