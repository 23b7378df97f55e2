#ifndef HBK_PASSAGE_CANDIDATES_H
#define HBK_PASSAGE_CANDIDATES_H

#include "music/pitch.h"
#include "notes/notes.h"
#include "passage/move.h"

/*
 * The fingerings a written note may have in a passage, and what lies between
 * those of two notes. Worked out once for each note and pair of notes that a
 * tune has.
 */

/* As ranked, the idle ones behind; more are not looked at. */
enum { HBK_CANDIDATES_MAX = 24 };

struct hbk_candidates {
    const struct hbk_note *note;
    size_t n; /* 0: out of reach */
    const struct hbk_fingering *of[HBK_CANDIDATES_MAX];
    struct hbk_grips grips[HBK_CANDIDATES_MAX];
};

/*
 * What the hands need from candidate x of one note to y of another: as
 * hbk_move_choose(), less where fingers cross without a wrong note.
 */
double hbk_candidates_move_s(const struct hbk_keywork *keywork,
                             const struct hbk_candidates *from, size_t x,
                             const struct hbk_candidates *to, size_t y);

struct hbk_repertoire {
    const struct hbk_notes *notes; /* borrowed, as is the keywork */
    const struct hbk_keywork *keywork;
    struct hbk_arena *arena;
    struct hbk_candidates *of[HBK_NOTE_MAX + 1];
    const double *between[HBK_NOTE_MAX + 1][HBK_NOTE_MAX + 1];
};

/* The candidates of a written note 0 to HBK_NOTE_MAX; never NULL. */
const struct hbk_candidates *
hbk_repertoire_of(struct hbk_repertoire *repertoire, int written);

/*
 * The least time of the hands from each candidate of one note to each of
 * another: [from * n + to], n of the second.
 */
const double *hbk_repertoire_between(struct hbk_repertoire *repertoire,
                                     int from, int to);

#endif
