#ifndef HBK_SHEET_PART_PART_WORDS_H
#define HBK_SHEET_PART_PART_WORDS_H

#include "sheet/part/part_fingers.h"

/* The words of a part: what stands above its music and below it. */
struct hbk_part_text {
    const char *title;
    /* Beside and below it; "" for none. */
    const char *subtitle, *lyricist, *composer, *arranger, *rights;
    const char *part; /* whose part of the piece; "" for none */
    const char *horn; /* for which horn; "" for none */
    size_t n_stanzas; /* below the music; see hbk_part_stanzas() */
    const char *const *stanzas;
    const struct hbk_part_words *words;
    const struct hbk_fingers *fingers;
    struct hbk_fingers_used used; /* in the music, for the legend */
    double unit;                  /* 1 for text of 8.5 pt */
    double width;
};

/*
 * The head of the first page: part and page, title, composer, heading; draws
 * unless `draw` is false. `page` is "page 1 of 3". Returns its height.
 */
double hbk_part_head(struct hbk_pad *pad, const struct hbk_part_text *text,
                     const char *page, bool draw, double x, double y);
/* Of every other page, likewise: piece, part, horn and page. */
double hbk_part_running_head(struct hbk_pad *pad,
                             const struct hbk_part_text *text, const char *page,
                             bool draw, double x, double y);
/*
 * Lines of words, parted by "", as stanzas of so many lines that each finds
 * room on a page; in the arena.
 */
const char *const *hbk_part_stanzas(struct hbk_arena *arena, size_t n_lines,
                                    const char *const *lines, size_t *n);

/* What is said of an excerpt above its first line, likewise. */
double hbk_part_excerpt_head(struct hbk_pad *pad,
                             const struct hbk_part_text *text,
                             const struct hbk_part_excerpt *excerpt, bool draw,
                             double x, double y);
/*
 * What stands below the music is made of blocks, none of which is parted:
 * stanzas, notes not available, hard places, the legend, who holds the rights.
 */
size_t hbk_part_foot_blocks(const struct hbk_part_text *text);
/* One of them, likewise; its height has the white above it. */
double hbk_part_foot_block(struct hbk_pad *pad,
                           const struct hbk_part_text *text, size_t block,
                           bool draw, double x, double y);

#endif
