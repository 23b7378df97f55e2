#ifndef HBK_NOTES_BESIDE_H
#define HBK_NOTES_BESIDE_H

#include "notes/notes.h"

/*
 * What becomes of a fingering that the hands know when another horn is taken
 * up. First choices are compared. Controls are compared by kind and number,
 * valve 1 with valve 1, and by the fingers that work them: the same number
 * under another finger is no fingering that the hands know.
 */

/*
 * The written note of the horn known that a player reads where he reads
 * `written` of the one taken up: the same, unless the two are read otherwise
 * than they are written.
 */
int hbk_beside_written(const struct hbk_notes *here,
                       const struct hbk_notes *known, int written);

/* What the horn known plays it with, as its first choice; NULL for nothing. */
const struct hbk_fingering *hbk_beside_known(const struct hbk_notes *here,
                                             const struct hbk_notes *known,
                                             int written);

/* What becomes of a written note of the horn taken up. */
enum hbk_beside_note {
    HBK_BESIDE_NEITHER, /* out of reach on both */
    HBK_BESIDE_SAME,    /* the first choices press the same, same fingers */
    HBK_BESIDE_FINGER,  /* the same numbers, but not with the same fingers */
    HBK_BESIDE_OTHER,   /* other numbers */
    HBK_BESIDE_NEW,     /* only the horn taken up reaches it */
    HBK_BESIDE_LOST     /* only the horn known reaches it */
};

enum hbk_beside_note hbk_beside_note(const struct hbk_notes *here,
                                     const struct hbk_notes *known,
                                     int written);

/*
 * A row for every written note of the compass of the horn taken up, and for
 * those besides that only the horn known reaches: out of reach here.
 *
 * Returns `n` rows, which borrow from `here`; in the arena.
 */
const struct hbk_note *hbk_beside_rows(const struct hbk_notes *here,
                                       const struct hbk_notes *known,
                                       struct hbk_arena *arena, size_t *n);

#endif
