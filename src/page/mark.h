#ifndef HBK_PAGE_MARK_H
#define HBK_PAGE_MARK_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * A sheet as a list of marks. Lengths in mm, origin at the top left corner
 * of the page, x to the right, y downwards. Everything about where and how
 * large is decided here; render/ only plays the marks.
 */

enum hbk_mark_kind {
    HBK_LINE,  /* from (x, y) by (dx, dy), width pen */
    HBK_FRAME, /* rectangle (x, y) to (x + dx, y + dy), outline of width pen */
    HBK_PANEL, /* the same, filled */
    HBK_RING,  /* circle about (x, y), radius dx, outline of width pen */
    HBK_DISC,  /* the same, filled */
    HBK_SHAPE, /* closed polygon through `points` (absolute), filled */
    HBK_PATH,  /* open line through `points` (absolute), width pen */
    HBK_CURVE, /* filled band between two cubic curves: 8 points */
    HBK_TEXT,  /* text with its baseline at (x, y) */
    HBK_GLYPH, /* music character `glyph`, origin at (x, y) */
    HBK_SAY,   /* draws nothing: `text` is read out at (x, y) */
    HBK_OPEN,  /* draws nothing: a part of the document begins, see `tag` */
    HBK_CLOSE  /* draws nothing: it ends; parts nest within a page */
};

/* What a part of the page is to someone who has it read out. */
enum hbk_tag {
    HBK_TAG_SECTION,
    HBK_TAG_TITLE,
    HBK_TAG_HEADING,
    HBK_TAG_PARAGRAPH,
    HBK_TAG_TABLE,
    HBK_TAG_ROW,
    HBK_TAG_COLUMN, /* a cell that heads a column */
    HBK_TAG_HEADER, /* a cell that heads a row */
    HBK_TAG_CELL,
    HBK_TAG_FIGURE,  /* read out as its `text` and nothing in it */
    HBK_TAG_ARTIFACT /* is not read out: it says again what is said already */
};

/*
 * Music characters. `size` is four staff spaces; the origin is the left edge
 * of the ink and, upright, the centre of a head, the line a clef names,
 * where the head that an accidental belongs to has its centre, the middle
 * line for rests and signs of time, the foot of other signs. engrave/glyph.h
 * has their boxes.
 */

/* Of words that are said and not seen, mm: they reach over no neighbour. */
#define HBK_SAID_SIZE 0.7

/*
 * Faces. Words are set in a book face, its small cut below 13 points; names
 * of notes in a bold sans serif, fingerings in a narrow one.
 */
enum hbk_face {
    HBK_FACE_PLAIN,  /* book face, roman */
    HBK_FACE_ITALIC, /* book face, italic */
    HBK_FACE_CAPS,   /* book face, small capitals, spaced */
    HBK_FACE_BOLD,   /* sans serif, bold */
    HBK_FACE_FIGURE, /* sans serif, bold and narrow */
    HBK_FACE_COUNT
};

enum hbk_align { HBK_LEFT, HBK_CENTRE, HBK_RIGHT };

/*
 * Black on white; grey only where losing it loses nothing. The tint lies under
 * the columns of half-tones, pale enough for dim light.
 */
enum hbk_ink { HBK_BLACK, HBK_GREY, HBK_PALE, HBK_TINT, HBK_WHITE };

enum { HBK_DASH_MAX = 4 };

struct hbk_point {
    double x, y;
};

struct hbk_mark {
    enum hbk_mark_kind kind;
    enum hbk_ink ink;
    enum hbk_tag tag; /* open and close */
    double x, y;
    double dx, dy;
    double pen;
    /*
     * Line and path: lengths drawn and left out in turn, up to the first 0;
     * all 0 for an unbroken line.
     */
    double dash[HBK_DASH_MAX];
    enum hbk_face face;   /* text */
    enum hbk_align align; /* text: which part of it stands at x */
    bool turned;          /* text: reads upwards, aligned along y */
    double size;          /* text and glyph: height of the em, mm */
    const char *text;     /* text: UTF-8; glyph: what it says when read out
                             (or copied), NULL for nothing; open: what stands
                             for a figure */
    const char *reads;    /* text: what is read out in its place, "" for
                             nothing; NULL: the text itself */
    uint32_t glyph;       /* glyph: code point in the music font */
    size_t n_points;
    const struct hbk_point *points;
    unsigned group; /* marks of one group may touch; 0 may touch anything */
};

/*
 * The group of a staff, whose lines run through everything but words; words
 * of this group (the figures of a meter) are touched by its lines only.
 */
#define HBK_GROUP_STAFF 0xFFFFFFFFu

struct hbk_page {
    double width, height;
    double margin; /* nothing is drawn nearer the edge */
    const char *label;
    size_t n;
    size_t capacity;
    struct hbk_mark *marks;
};

/* Zero-initialise all but the arena. */
struct hbk_sheet {
    struct hbk_arena *arena; /* borrowed; owns the pages and every string */
    const char *title;
    const char *subject;
    const char *kind; /* "chart", "trills": names the pages; NULL: "page" */
    size_t n_pages;
    size_t capacity;
    struct hbk_page *pages;
};

/*
 * How wide text will be, in mm. The renderer asks pango; tests use a fixed
 * table. `size` is the height of the em in mm.
 */
struct hbk_ruler {
    double (*text_width)(const void *ctx, enum hbk_face face, double size,
                         const char *text);
    const void *ctx;
};

#endif
