#ifndef HBK_RENDER_FACES_H
#define HBK_RENDER_FACES_H

#include "base/fault.h"
#include "base/text.h"
#include "page/mark.h"

#include <cairo.h>
#include <pango/pangocairo.h>

/* For the files of this folder only: the opened faces. */

enum { HBK_WIDTHS_KEPT = 4096, HBK_MISSING_KEPT = 8 };

/* A font file; what a face is set in goes by the size too. */
enum hbk_cut {
    HBK_CUT_BOOK,       /* for text below HBK_LARGE_CUT */
    HBK_CUT_BOOK_LARGE, /* for larger text */
    HBK_CUT_ITALIC,     /* likewise */
    HBK_CUT_ITALIC_LARGE,
    HBK_CUT_BOLD,
    HBK_CUT_FIGURE,
    HBK_CUT_OTHER, /* for characters that the others lack */
    HBK_CUT_OTHER_BOLD,
    HBK_CUT_MUSIC, /* drawn by glyph, never as text */
    HBK_CUT_COUNT
};

/* From this size (of the em, mm) on the large cut is used: 13 points. */
#define HBK_LARGE_CUT (13.0 * 25.4 / 72.0)

/*
 * Sharps, flats and arrows among bold letters are drawn with an outline so
 * wide (ems): as they are in their font they look pale beside the letters.
 */
#define HBK_BOLD_OUTLINE 0.045

/*
 * All text is set at this size, and scaled where it is drawn: so that each cut
 * is opened once, and pango's units of 1/1024 lose nothing.
 */
#define HBK_SET_SIZE 100.0

/* How a text is set: the cut, and whether in small capitals. */
struct hbk_typeset {
    enum hbk_cut cut;
    bool is_caps;
};

struct hbk_typeset hbk_typeset_of(enum hbk_face face, double size);

/* One measured text; widths go by the size, so one size is enough. */
struct hbk_kept_width {
    const char *text; /* in the arena; NULL for a free place */
    struct hbk_typeset how;
    double width; /* for an em of 1 */
};

struct hbk_fonts {
    struct hbk_fonts *self;  /* a ruler has only a const way in */
    struct hbk_arena *arena; /* borrowed */
    PangoFontMap *map;
    PangoContext *context; /* for measuring and drawing: never changed */
    PangoFontDescription *cuts[HBK_CUT_COUNT]; /* none of the music */
    void *charsets[HBK_CUT_COUNT];             /* FcCharSet */
    const char *files[HBK_CUT_COUNT];          /* paths, in the arena */
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

/* Whether a cut has a character. */
bool hbk_fonts_has(const struct hbk_fonts *fonts, enum hbk_cut cut,
                   uint32_t letter);

/* The cut whose file a font of pango's was opened from. */
enum hbk_cut hbk_fonts_cut(const struct hbk_fonts *fonts, PangoFont *font);

/*
 * The text with each character that no cut has as a box, in the arena; the
 * same pointer when none. With faults, a warning for each such one, at most
 * once a character; `missing` (0-terminated) keeps those told of.
 */
const char *hbk_fonts_known_text(const struct hbk_fonts *fonts,
                                 struct hbk_typeset how, const char *text,
                                 uint32_t missing[HBK_MISSING_KEPT],
                                 struct hbk_faults *faults);

/*
 * A layout of one line at HBK_SET_SIZE; the caller unrefs it. Characters that
 * the cut lacks come from the others.
 */
PangoLayout *hbk_fonts_layout(const struct hbk_fonts *fonts,
                              struct hbk_typeset how, const char *known_text);

#endif
