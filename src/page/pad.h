#ifndef HBK_PAGE_PAD_H
#define HBK_PAGE_PAD_H

#include "base/status.h"
#include "page/mark.h"
#include "page/paper.h"

/* Points, as printers count letters, in mm. */
#define HBK_PT(n) ((n) * (HBK_MM_PER_INCH / HBK_POINTS_PER_INCH))

/*
 * Where marks are put down: the last page of a sheet. Every mark gets the
 * current group. Strings are copied into the sheet's arena.
 */
struct hbk_pad {
    struct hbk_sheet *sheet;       /* borrowed */
    const struct hbk_ruler *ruler; /* borrowed */
    unsigned group;                /* of the marks to come */
    unsigned groups;               /* how many were handed out */
    const char *reads;             /* see hbk_pad_read_as() */
};

/* How a line of text looks. `size` is the height of the em in mm. */
struct hbk_style {
    enum hbk_face face;
    double size;
    enum hbk_align align;
    enum hbk_ink ink;
};

/* `points` high where `unit` is 1. */
struct hbk_style hbk_style_of(enum hbk_face face, double points, double unit,
                              enum hbk_align align);

/* Starts a page; `label` (copied) names it in the outline. */
struct hbk_page *hbk_pad_page(struct hbk_pad *pad, struct hbk_paper_size size,
                              const char *label);
/* The last page. */
struct hbk_page *hbk_pad_last(const struct hbk_pad *pad);
/* Starts a group of marks that may touch each other, and nothing else. */
void hbk_pad_group(struct hbk_pad *pad);

/* Adds a mark as it is, but for its group. */
struct hbk_mark *hbk_pad_add(struct hbk_pad *pad, struct hbk_mark mark);

/* A copy of a mark, moved; its points lie in the arena, its text is shared. */
struct hbk_mark hbk_mark_moved(struct hbk_arena *arena,
                               const struct hbk_mark *mark, double x, double y);
/* Moves down what the last page has from its mark `first` on. */
void hbk_pad_shift(struct hbk_pad *pad, size_t first, double dy);

void hbk_pad_line(struct hbk_pad *pad, double x, double y, double dx, double dy,
                  double pen);
void hbk_pad_frame(struct hbk_pad *pad, double x, double y, double dx,
                   double dy, double pen);
void hbk_pad_panel(struct hbk_pad *pad, double x, double y, double dx,
                   double dy, enum hbk_ink ink);
void hbk_pad_ring(struct hbk_pad *pad, double x, double y, double radius,
                  double pen);
void hbk_pad_disc(struct hbk_pad *pad, double x, double y, double radius);
/* A filled polygon through n points. */
void hbk_pad_shape(struct hbk_pad *pad, size_t n,
                   const struct hbk_point points[]);
/* An open line through n points. */
void hbk_pad_path(struct hbk_pad *pad, size_t n,
                  const struct hbk_point points[], double pen);
/* One line of text with its baseline at y; nothing for an empty one. */
void hbk_pad_text(struct hbk_pad *pad, double x, double y,
                  struct hbk_style style, const char *text);
/* A music character; `reads` is what it says when read out, or NULL. */
void hbk_pad_glyph(struct hbk_pad *pad, double x, double y, double space,
                   uint32_t glyph, const char *reads);

/* Draws nothing; `text` is read out there, like printed words. */
void hbk_pad_say(struct hbk_pad *pad, double x, double y, const char *text);
/*
 * What is printed from now on is read out as `reads` (borrowed until the end
 * of the sheet), once for all of it; NULL: as it is printed again.
 */
void hbk_pad_read_as(struct hbk_pad *pad, const char *reads);

/* A figure is closed with HBK_TAG_FIGURE; `alt` is what it says. */
void hbk_pad_open_figure(struct hbk_pad *pad, const char *alt);
void hbk_pad_open(struct hbk_pad *pad, enum hbk_tag tag);
void hbk_pad_close(struct hbk_pad *pad, enum hbk_tag tag);

double hbk_pad_width(const struct hbk_pad *pad, struct hbk_style style,
                     const char *text);
/* The style, made smaller (to `least` of its size) until the text fits. */
struct hbk_style hbk_pad_fit(const struct hbk_pad *pad, struct hbk_style style,
                             double width, double least, const char *text);

/* As much of the text as fits, with a sign that it goes on. */
const char *hbk_pad_cut(const struct hbk_pad *pad, struct hbk_style style,
                        double width, const char *text);

/* Text broken into lines no wider than a column. */
struct hbk_lines {
    size_t n;
    const char *const *text;
    double widest;
};

/*
 * Breaks at spaces, and at newlines always; not between a number and its
 * unit, nor within "A = 440 Hz", where these fit the column. A word wider than
 * the column is broken between letters. The lines live in the sheet's arena.
 */
struct hbk_lines hbk_pad_wrap(const struct hbk_pad *pad, struct hbk_style style,
                              double width, const char *text);
/* Draws them, first baseline at y, `leading` mm apart. */
void hbk_pad_lines(struct hbk_pad *pad, double x, double y,
                   struct hbk_style style, double leading,
                   const struct hbk_lines *lines);
/* The same as a group and a block of that tag: a paragraph, a title. */
void hbk_pad_block(struct hbk_pad *pad, enum hbk_tag tag, double x, double y,
                   struct hbk_style style, double leading,
                   const struct hbk_lines *lines);

/* What a text takes when it is broken into lines `leading` mm apart. */
double hbk_pad_paragraph_height(const struct hbk_pad *pad,
                                struct hbk_style style, double leading,
                                double width, const char *text);
/*
 * Draws it as a block in a column with its top left corner at `at`, in the
 * column's middle if the style is centred; nothing for "". Returns what it
 * takes.
 */
double hbk_pad_paragraph(struct hbk_pad *pad, enum hbk_tag tag,
                         struct hbk_style style, double leading,
                         struct hbk_point at, double width, const char *text);

#endif
