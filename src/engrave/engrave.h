#ifndef HBK_ENGRAVE_ENGRAVE_H
#define HBK_ENGRAVE_ENGRAVE_H

#include "engrave/glyph.h"
#include "engrave/pens.h"
#include "page/pad.h"
#include "tune/melody/tune.h"

/*
 * A line of music as an engraver sees it. Lengths in staff spaces; x to the
 * right, y upwards from the lowest line of the staff, so that the middle line
 * is at 2. Only sheet/part speaks of millimeters.
 */

/* Grace notes are 60 to 70 % of the usual size (common practice). */
#define HBK_ENG_GRACE 0.65
/* Clefs within a line are three quarters of the usual size. */
#define HBK_ENG_SMALL_CLEF 0.75
/* White before a clef, key or meter within a bar. */
#define HBK_ENG_CHANGE_GAP 0.4

/* From a head to its dots (Gould, Behind Bars, p. 54), and from dot to dot. */
#define HBK_ENG_DOT_GAP 0.5
#define HBK_ENG_NEXT_DOT 0.7
/* How far a flag stands out from its stem. */
#define HBK_ENG_FLAG_REACH 0.95

/* How much a line is best stretched from its ideal distances. */
#define HBK_ENG_LOOSE 1.3

#define HBK_ENG_NONE SIZE_MAX /* no note, no beam */

/* One event. */
struct hbk_eng_note {
    size_t event;
    const struct hbk_tune_event *source;
    double scale;   /* 1, or HBK_ENG_GRACE */
    int pos;        /* half spaces above the lowest line; a rest: 4 */
    bool drawn;     /* false for a rest that only fills a gap */
    uint32_t head;  /* glyph of the head or rest; 0 for a rest that is drawn */
    double width;   /* of the head or rest */
    uint32_t sign;  /* glyph of the accidental, or 0 */
    bool courtesy;  /* the accidental only reminds */
    bool bracketed; /* the accidental is in parentheses */
    unsigned flags; /* or beams */
    bool has_stem, up;
    size_t beam;        /* index into beams, or HBK_ENG_NONE */
    double left, right; /* ink on both sides of the head's left edge, >= 0 */
    double x;           /* of that edge */
    double tip;         /* y of the free end of the stem */
    double label;       /* width of what stands below, fingerings and all */
    /* How far syllables reach on both sides of the head's left edge. */
    double sung_left, sung_right;
    double sung_gap;   /* white wanted before the next syllable; 0: no text */
    const char *says;  /* after the note's name when read out; or NULL */
    size_t marks_from; /* on the page before it was drawn */
    size_t marks;      /* and after it */
    bool fills_bar;    /* a rest alone in its bar */
    size_t n_bars;     /* bars of rest that a rest stands for */
};

/* Notes under one beam. */
struct hbk_eng_beam {
    size_t first, n; /* notes; grace notes between them are not under it */
    unsigned group;  /* of its marks */
    bool up;
    double y0, y1; /* of the middle of the outermost beam at both ends */
    double x0, x1; /* of the outer stems */
};

/* A note or rest with the grace notes before it, or grace notes alone. */
struct hbk_eng_column {
    size_t first, n_graces; /* notes; the main one follows its grace notes */
    bool has_main;
    bool changes;       /* clef, key or meter change before it, in the bar */
    double left, right; /* ink on both sides of its anchor, >= 0 */
    double ideal;       /* from here to the next, at rest */
    double least;
    double x; /* of the anchor: left edge of the main head */
};

/* A bar, a piece of one that is wider than a line, or bars of rest as one. */
struct hbk_eng_bar {
    size_t bar;         /* index into tune->bars */
    size_t last;        /* of several bars of rest the last, else `bar` */
    size_t first, n;    /* columns */
    bool opens, closes; /* holds the beginning, the end of the bar */
    double lead;        /* fixed room before its first column, within a line */
    double tail;        /* fixed room of its bar line, and after it */
    double ideal, least;
    double x, end; /* where it begins; the left edge of its bar line */
};

/* Bars that stand on one line. */
struct hbk_eng_line {
    size_t first, n; /* bars */
    double prefix;   /* clef, key, meter and the gap after them */
    double courtesy; /* room after the last bar line for what changes next */
    double width;    /* of the staff */
    double room;     /* for words: of a full line */
    bool ragged;     /* the last one, too short to be stretched */
};

struct hbk_engraving {
    struct hbk_arena *arena; /* borrowed */
    const struct hbk_tune *tune;
    enum hbk_naming naming;    /* of notes that are read out */
    size_t first_bar, end_bar; /* of the tune */
    bool other_tempo;          /* not the tune's own: no metronome marks */
    bool sung;                 /* with words under the notes */
    size_t n_notes, n_columns, n_bars, n_beams, n_lines;
    struct hbk_eng_note *notes;
    struct hbk_eng_column *columns;
    struct hbk_eng_bar *bars;
    struct hbk_eng_beam *beams;
    struct hbk_eng_line *lines;
    size_t *note_of; /* by event: index into notes, or HBK_ENG_NONE */
    size_t n_long;   /* marks of the tune that have a length, in their order */
    size_t *long_marks;
    double shortest; /* the note value that gets the least distance, wholes */
};

struct hbk_quill;
struct hbk_eng_aside; /* engrave_spots.h */
struct hbk_eng_on_line;

/* A line being drawn; notes first to before end stand on it. */
struct hbk_eng_view {
    struct hbk_engraving *eng;
    const struct hbk_eng_line *line;
    struct hbk_quill *quill;
    size_t first, end;
    size_t n_marks; /* see engrave_spots.h */
    struct hbk_eng_on_line *marks;
    size_t n_asides, room_asides;
    struct hbk_eng_aside *asides;
};

static inline double hbk_eng_y(int pos)
{
    return 0.5 * pos;
}

#endif
