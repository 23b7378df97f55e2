#ifndef HBK_RENDER_FACES_H
#define HBK_RENDER_FACES_H

#include "base/fault.h"
#include "base/text.h"
#include "page/mark.h"

#include <cairo.h>
#include <pango/pangocairo.h>

/* For the files of this folder only: the opened faces. */

enum { HBK_WIDTHS_KEPT = 4096, HBK_MISSING_KEPT = 8 };

/* One measured text; widths go by the size, so one size is enough. */
struct hbk_kept_width {
    const char *text; /* in the arena; NULL for a free place */
    enum hbk_face face;
    double width; /* for an em of 1 */
};

struct hbk_fonts {
    struct hbk_fonts *self;  /* a ruler has only a const way in */
    struct hbk_arena *arena; /* borrowed */
    PangoFontMap *map;
    PangoContext *context; /* for measuring: never changed */
    PangoContext *drawing; /* takes on what each surface asks for */
    PangoFontDescription *faces[HBK_FACE_COUNT];
    void *charsets[HBK_FACE_COUNT]; /* FcCharSet */
    cairo_font_face_t *music;
    cairo_font_options_t *options; /* neither hints nor rounded metrics */
    size_t n_kept;
    struct hbk_kept_width kept[HBK_WIDTHS_KEPT];
};

/* The index of a music character in its face; 0 for none. */
unsigned long hbk_fonts_music_index(struct hbk_fonts *fonts, uint32_t glyph);

/*
 * A music glyph as this face has it: what to do so that it sits as
 * engrave/glyph.h says. Lengths in staff spaces, y upwards.
 */
struct hbk_music_fix {
    double scale;  /* of the em: 1 for one em = four staff spaces */
    double dx, dy; /* where the face's own origin goes */
};

struct hbk_music_fix hbk_music_fix(uint32_t glyph);

/*
 * The text with each character that the face lacks as a box, in the arena;
 * the same pointer when none. With faults, a warning for each such one, at
 * most once a character; `missing` (0-terminated) keeps those told of.
 */
const char *hbk_fonts_known_text(const struct hbk_fonts *fonts,
                                 enum hbk_face face, const char *text,
                                 uint32_t missing[HBK_MISSING_KEPT],
                                 struct hbk_faults *faults);

/* A layout of one line in a face; the caller unrefs it. */
PangoLayout *hbk_fonts_layout(const struct hbk_fonts *fonts,
                              PangoContext *context, enum hbk_face face,
                              double size, const char *known_text);

#endif
