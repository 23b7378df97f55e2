#ifndef HBK_TUNE_ABC_ABC_VOICED_H
#define HBK_TUNE_ABC_ABC_VOICED_H

#include "tune/melody/event.h"
#include "tune/melody/line.h"

/* What the reader of ABC remembers of chords and overlays. */

/* A chord that is being read. */
struct hbk_abc_chord {
    bool is_open;
    size_t at, offset; /* of its [, and byte before which a fingering goes */
    size_t n, room;
    struct hbk_tune_event *notes;
    struct hbk_ratio factor; /* of the length of its first note */
    bool is_joined;
    unsigned slur_starts; /* before the [ */
};

/* Which voice of its bar an event is in, and whether in a chord. */
struct hbk_abc_place_of {
    size_t layer;  /* 0, then one more after each & */
    bool in_chord; /* with the event before it */
};

/* Chords and overlays, until the line is chosen. */
struct hbk_abc_voiced {
    struct hbk_abc_place_of *items; /* by event */
    size_t room;
    bool is_divided;
    size_t layer, layers;               /* at hand; the last of this bar */
    size_t last[HBK_LINE_VOICES_MAX];   /* by layer: its last event */
    size_t before[HBK_LINE_VOICES_MAX]; /* the same of the bar before */
};

#endif
