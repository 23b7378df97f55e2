#ifndef HBK_SHEET_PART_PART_LAYOUT_H
#define HBK_SHEET_PART_PART_LAYOUT_H

#include "page/paper.h"
#include "sheet/part/part_words.h"

/* A part while it is laid out: its lines are drawn first, then its pages. */

/* A line of music, drawn and measured, before it has its place. */
struct hbk_part_row {
    struct hbk_page *page;
    struct hbk_engraving *eng;            /* borrowed, like the rest */
    size_t line;                          /* of eng->lines */
    const size_t *begins, *ends;          /* by event: marks of its fingering */
    const struct hbk_part_excerpt *opens; /* begins with this line; or NULL */
    double head;         /* height of what is said of it, above the music */
    double above, below; /* mm from the lowest line of its staff, with head */
    size_t n_asides;     /* what is read out at a note */
    const struct hbk_eng_aside *asides;
};

struct hbk_part_layout {
    const struct hbk_part_options *options;
    struct hbk_paper_size paper;
    struct hbk_pad pad;
    struct hbk_engraving eng;       /* what those of the rows begin from */
    struct hbk_part_excerpts shown; /* of the whole, one without a heading */
    struct hbk_fingers fingers;
    struct hbk_part_text text;
    double space; /* mm */
    double left;  /* of the staves */
    double width;
    size_t n_rows;
    struct hbk_part_row *rows;
    size_t n_pages;
    size_t page; /* the one that is open, from 1 */
    bool draw;   /* else pages are only counted */
    double foot; /* height of what stands below the music */
};

/* The notes of a line: first to before the end. */
void hbk_part_notes(const struct hbk_engraving *eng,
                    const struct hbk_eng_line *line, size_t *first,
                    size_t *end);

/* Engraves what is shown, and draws and measures all its lines as rows. */
void hbk_part_draw_rows(struct hbk_part_layout *part);

/* A row on the last page, the lowest line of its staff at `bottom`. */
void hbk_part_copy_row(struct hbk_part_layout *part, size_t number,
                       double bottom);

/* All pages; or, not drawing, only how many they are, into n_pages. */
void hbk_part_lay_pages(struct hbk_part_layout *part, bool draw);

#endif
