#ifndef HBK_ENGRAVE_ENGRAVE_SPOTS_H
#define HBK_ENGRAVE_ENGRAVE_SPOTS_H

#include "engrave/engrave.h"

/* Where the marks of a tune stand on a line. */
struct hbk_eng_spot {
    double x;      /* of the moment: the left edge of its head, or between */
    size_t note;   /* at which it is read out, or HBK_ENG_NONE */
    size_t bar;    /* of eng->bars */
    bool at_start; /* of its bar */
    bool at_end;   /* of its bar: x is the bar line's */
};

/* Whether a spot lies on the line; then where. */
bool hbk_eng_find_spot(const struct hbk_eng_view *view,
                       const struct hbk_tune_spot *spot,
                       struct hbk_eng_spot *found);

/* What a mark with a length has of the line, if it has anything of it. */
struct hbk_eng_span {
    double x0, x1;
    bool begins, ends; /* on this line */
    struct hbk_eng_spot from, to;
};

/* A mark that begins on a line or goes on there. */
struct hbk_eng_on_line {
    const struct hbk_tune_mark *mark;
    struct hbk_eng_span span;
};

/* Which marks of the tune have a length; before any line is drawn. */
void hbk_eng_find_long_marks(struct hbk_engraving *eng);
/* Fills in the marks of a line, in their order. */
void hbk_eng_find_marks(struct hbk_eng_view *view);

/* Where the music begins on the line, and where its last bar line stands. */
double hbk_eng_line_start(const struct hbk_eng_view *view);
double hbk_eng_line_end(const struct hbk_eng_view *view);

/* When something is read out at a note. */
enum hbk_eng_turn {
    HBK_ENG_LEADS, /* before all else: tempos, letters, signs of the way */
    HBK_ENG_BEFORE,
    HBK_ENG_AFTER /* and after what stands below it */
};

/* Marks on the page, begin to before end, that are read out at a note. */
struct hbk_eng_aside {
    size_t note;
    enum hbk_eng_turn turn;
    size_t begin, end;
};

/*
 * What is drawn from `begin` (marks on the page) on is read out at a spot, not
 * at the end of the line; after its note if it stands at the end of a bar.
 */
void hbk_eng_read_at(struct hbk_eng_view *view, const struct hbk_eng_spot *spot,
                     enum hbk_eng_turn turn, size_t begin);
/* How many marks are on the page. */
size_t hbk_eng_marks_now(const struct hbk_eng_view *view);

#endif
