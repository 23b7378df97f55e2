#ifndef HBK_TUNE_MELODY_EVENT_H
#define HBK_TUNE_MELODY_EVENT_H

#include "base/fault.h"
#include "music/pitch.h"
#include "tune/melody/ratio.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * The notes and rests of a line of music, and what stands at each. Times are
 * as in tune/melody/tune.h.
 */

#define HBK_TUNE_NONE SIZE_MAX /* no event, no tuplet */

enum hbk_tune_kind { HBK_TUNE_NOTE, HBK_TUNE_GRACE, HBK_TUNE_REST };

enum hbk_tune_beam {
    HBK_TUNE_BEAM_NONE,
    HBK_TUNE_BEAM_BEGIN,
    HBK_TUNE_BEAM_CONTINUE,
    HBK_TUNE_BEAM_END
};

/* Whether an accidental stands before the note in the source, and which. */
enum hbk_tune_accidental {
    HBK_TUNE_NOT_PRINTED,
    HBK_TUNE_PRINTED,
    HBK_TUNE_CAUTIONARY, /* a reminder, often in parentheses */
    HBK_TUNE_EDITORIAL   /* not in the source that the editor worked from */
};

/* Bits of hbk_tune_event.articulation. */
enum {
    HBK_TUNE_STACCATO = 1,
    HBK_TUNE_STACCATISSIMO = 2,
    HBK_TUNE_TENUTO = 4,
    HBK_TUNE_ACCENT = 8,
    HBK_TUNE_MARCATO = 16,
    HBK_TUNE_FERMATA = 32,
    HBK_TUNE_TRILL = 64,
    HBK_TUNE_BREATH = 128, /* a breath mark after the note */
    HBK_TUNE_TURN = 256,
    HBK_TUNE_INVERTED_TURN = 512,
    HBK_TUNE_MORDENT = 1024,       /* with a stroke: by the note below */
    HBK_TUNE_UPPER_MORDENT = 2048, /* without: by the note above */
    HBK_TUNE_ROLL = 4096,          /* the ~ of ABC, or another ornament */
    HBK_TUNE_ORNAMENT = 256 | 512 | 1024 | 2048 | 4096,
    HBK_TUNE_SIGN_SHARP = 8192, /* above the trill or ornament */
    HBK_TUNE_SIGN_FLAT = 16384,
    HBK_TUNE_SIGN_NATURAL = 32768,
    HBK_TUNE_SIGN_DOUBLE_SHARP = 65536,
    HBK_TUNE_SIGN_DOUBLE_FLAT = 131072,
    HBK_TUNE_TRILL_SIGN = 8192 | 16384 | 32768 | 65536 | 131072,
    HBK_TUNE_CAESURA = 262144 /* two strokes after the note: all break off */
};

enum { HBK_TUNE_NO_VALUE = 99 };

/* A written note, grace note or rest. */
struct hbk_tune_event {
    enum hbk_tune_kind kind;
    struct hbk_spelling spelling; /* of a note or grace note, as written */
    int note;                     /* its number; 0 to 127 */
    struct hbk_ratio onset;       /* in the written tune, from its beginning */
    struct hbk_ratio length;      /* as it sounds in its tuplet; grace: 0 */
    size_t bar;                   /* index into tune->bars */

    bool tie_start;        /* tied to the next note */
    bool tie_stop;         /* tied from the note before */
    size_t head;           /* first written piece of the tied note, or itself */
    struct hbk_ratio held; /* of the head: length of all pieces together */
    size_t main;           /* of a grace note: the event it ornaments */
    bool slash;            /* of a grace note: drawn with a stroke */

    unsigned slur_starts; /* how many slurs begin on this note */
    unsigned slur_stops;
    unsigned articulation; /* HBK_TUNE_STACCATO and so on */
    enum hbk_tune_accidental accidental;
    /*
     * The note as drawn: 0 whole, 1 half, 2 quarter, 3 eighth, ... -1 double
     * whole; HBK_TUNE_NO_VALUE when no notes together show this length.
     */
    int value;
    unsigned dots;
    size_t tuplet;           /* index into tune->tuplets, or HBK_TUNE_NONE */
    enum hbk_tune_beam beam; /* of the outermost beam, as in the source */
    bool whole_bar;          /* a rest that stands for its whole bar */
    bool hidden;             /* a rest that is not drawn */

    const char *fingering; /* already in the file at this note, or NULL */
    struct hbk_place place;
    size_t offset; /* ABC: byte of the file before which a fingering goes */
};

struct hbk_tune_tuplet {
    size_t first, count;     /* the events it spans, grace notes among them */
    unsigned actual, normal; /* 3 in the time of 2 */
    /*
     * A tuplet that holds others is kept as pieces one after the other, each
     * with what its notes are in the end: 3 in 2, 15 in 8, 3 in 2.
     */
    unsigned nest;  /* the same for its pieces, from 1; 0 for all others */
    unsigned outer; /* of a piece: the number over all of them */
    unsigned inner; /* of a piece that is a tuplet of its own: its number */
};

#endif
