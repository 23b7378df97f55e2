#ifndef HBK_PAGE_PAPER_H
#define HBK_PAGE_PAPER_H

#include <stdbool.h>

/* The units of printers. */
#define HBK_MM_PER_INCH 25.4
#define HBK_POINTS_PER_INCH 72.0

struct hbk_notes;
struct hbk_trills;

/* Sizes of paper: ISO 216 and ANSI/ASME Y14.1 (Letter). */
enum hbk_paper { HBK_A4, HBK_A3, HBK_A5, HBK_A6, HBK_LETTER, HBK_PAPER_COUNT };

/* Upright sizes, and the margin that printers and thumbs leave alone; mm. */
struct hbk_paper_size {
    double width, height;
    double margin;
};

struct hbk_paper_size hbk_paper_size(enum hbk_paper paper);
/* The same turned on its side. */
struct hbk_paper_size hbk_paper_turned(struct hbk_paper_size size);
/* "A4", ..., "Letter". */
const char *hbk_paper_name(enum hbk_paper paper);
/* Reads "A4", "A3", "A5", "A6" or "Letter", capitals or not. */
bool hbk_paper_parse(const char *text, enum hbk_paper *paper);

/* What the user chose for a sheet. Zero-initialise for A4 and written names. */
struct hbk_sheet_options {
    enum hbk_paper paper;
    bool sounding;     /* also print what each note sounds */
    const char *title; /* in place of the horn's name; NULL for that */
    const char *whom;  /* for whom the sheet is; NULL for nobody */
    /* A horn the player knows: what changes is told too; NULL for none. */
    const struct hbk_notes *beside;
    /* Of the horn, for a layout that shows them; NULL for any other. */
    const struct hbk_trills *trills;
};

#endif
