#ifndef HBK_SHEET_BLOCK_HEADING_H
#define HBK_SHEET_BLOCK_HEADING_H

#include "notes/notes.h"
#include "sheet/block/hand.h"
#include "sheet/words/words.h"

/*
 * What stands at the head of a sheet: the name of the horn, what written C
 * sounds, pitch and tuning, how it works, and a strip of the hands with the
 * finger that works each control and what the control does.
 */
struct hbk_heading {
    const struct hbk_notes *notes;
    const char *title;
    double unit;  /* 1 for body text of 8.5 pt */
    double width; /* mm */
    struct hbk_hands hands;
    const char *also; /* a further sentence after the system, or "" */
    const char *whom; /* for whom the sheet is; NULL for nobody */
    enum hbk_words_length length; /* of what is said of the slides */
};

/* The least unit a heading is made smaller to, so that a page holds more. */
#define HBK_HEADING_LEAST_UNIT 0.5

double hbk_heading_height(const struct hbk_pad *pad,
                          const struct hbk_heading *heading);
/* Draws it and returns its height. */
double hbk_heading_draw(struct hbk_pad *pad, const struct hbk_heading *heading,
                        double x, double y);

/* The line at the head of a page that goes on; returns its height. */
double hbk_running_head_height(double unit);
void hbk_running_head_draw(struct hbk_pad *pad, const char *title,
                           const char *page, double unit, double x, double y,
                           double width);

#endif
