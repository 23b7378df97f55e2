#ifndef HBK_TUNE_MELODY_LINE_H
#define HBK_TUNE_MELODY_LINE_H

#include "base/arena.h"
#include "tune/melody/ratio.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * Which line a horn plays of a part with chords and several voices. Lines
 * count from the top, as players of divided parts do: first through the
 * chords of the upper voice, then through those of the next. Whoever counts
 * further than there are notes plays the lowest.
 */

enum {
    HBK_TUNE_LINE_BOTTOM = -1,
    HBK_LINE_VOICES_MAX = 32 /* in one bar */
};

/* The line that was read, and how often it was one of several. */
struct hbk_tune_line {
    int number; /* 1 the top, 2 the one below, ...; HBK_TUNE_LINE_BOTTOM */
    size_t chords, bars; /* chords in it, and bars in which another voice has
                            notes as well or alone */
    size_t staves;       /* with notes, of which it is on one; 0 if unknown */
    size_t most;         /* lines in the bar that has the most; 0 if unknown */
};

/* "top", "bottom", or a number from 1 to 9; false for anything else. */
bool hbk_line_parse(const char *text, int *number);
/* "top", "bottom" or "2". */
const char *hbk_line_word(struct hbk_arena *arena, int number);
/*
 * "the top line of chords", "line 2 from the top of several voices": what of a
 * divided part the tune is; "" where it has one line only.
 */
const char *hbk_line_words(struct hbk_arena *arena,
                           const struct hbk_tune_line *line);

/* A note, chord or rest of a bar that may have several voices. */
struct hbk_line_item {
    size_t voice;                   /* of this bar; 0 is the uppermost */
    struct hbk_ratio onset, length; /* in the bar; no length for grace notes */
    bool is_grace;                  /* belongs to what its voice plays next */
    bool is_tuplet;                 /* cannot be cut short */
    bool is_written; /* false for a rest that is not printed: the voice has
                        nothing of its own there */
    size_t notes;    /* at once, 0 for a rest */

    bool is_read; /* result: belongs to the line */
    size_t note;  /* result: which of the notes, 0 the highest */
};

/*
 * Picks what belongs to a line in one bar. It follows one voice, rests and
 * all. Where that voice has nothing of its own, neither notes nor printed
 * rests, it plays what the nearest voice plays, those above before those
 * below: that is how music for two on a staff is written where both have the
 * same. A note taken over so lasts until its own voice goes on (`length` is
 * then shortened).
 *
 * items   of each voice in the order of time
 */
void hbk_line_pick(int number, struct hbk_line_item *items, size_t n,
                   struct hbk_tune_line *line);

#endif
