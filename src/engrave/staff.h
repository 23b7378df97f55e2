#ifndef HBK_ENGRAVE_STAFF_H
#define HBK_ENGRAVE_STAFF_H

#include "music/clef.h"
#include "music/pitch.h"
#include "page/pad.h"

#include <stdint.h>

/*
 * A staff of five lines. Weights of lines in staff spaces are those common
 * in engraving and published with the SMuFL standard layout: staff line
 * 0.13, ledger line 0.16, ledger line longer than the head by 0.4 each side.
 */
struct hbk_staff {
    enum hbk_clef clef;
    double x;      /* left end of the lines */
    double bottom; /* y of the lowest line */
    double width;
    double space;           /* between two lines, mm */
    enum hbk_naming naming; /* of heads that are read out */
};

/* How far a clef reaches above the top and below the bottom line, spaces. */
void hbk_clef_reach(enum hbk_clef clef, double *above, double *below);

double hbk_staff_y(const struct hbk_staff *staff, int step);

/* The lines, in a group of their own; the clef in another. */
void hbk_staff_lines(struct hbk_pad *pad, const struct hbk_staff *staff);
void hbk_staff_clef(struct hbk_pad *pad, const struct hbk_staff *staff);

/*
 * The lines of a staff on which notes have stems and cells have borders: in
 * HBK_GROUP_STAFF, so that all but words may cross them.
 */
void hbk_staff_open_lines(struct hbk_pad *pad, const struct hbk_staff *staff);

/*
 * The ledger lines of a head at that staff step, if it needs any. x and width
 * are the head's, mm; beside its accidental they are kept short.
 */
void hbk_staff_ledgers(struct hbk_pad *pad, const struct hbk_staff *staff,
                       double x, double width, bool has_sign, int step);

/* The glyph of a spelling's accidental; 0 for a natural. */
uint32_t hbk_spelling_accidental(struct hbk_spelling spelling);

enum { HBK_HEADS_MAX = 2 };

/* Spellings of one note, drawn side by side: sharp first, then flat. */
struct hbk_heads {
    size_t n;
    struct hbk_spelling spelling[HBK_HEADS_MAX];
};

/* One head for a natural, two for a black note. */
struct hbk_heads hbk_heads_of(int note);

/* Width of the heads with their accidentals, mm. */
double hbk_heads_width(const struct hbk_heads *heads, double space);
/* How far they reach above the top and below the bottom line, >= 0, spaces. */
void hbk_heads_reach(enum hbk_clef clef, const struct hbk_heads *heads,
                     double *above, double *below);

/*
 * Draws them as whole notes with accidentals and ledger lines, centred on
 * `centre`. Each head reads as its name ("F♯4") when the text is extracted.
 */
void hbk_heads_draw(struct hbk_pad *pad, const struct hbk_staff *staff,
                    double centre, const struct hbk_heads *heads);

#endif
