#ifndef HBK_LESSON_FIRST_H
#define HBK_LESSON_FIRST_H

#include "notes/notes.h"
#include "passage/move.h"

/*
 * The first five notes a beginner learns on a horn: a run of five by step
 * (do re mi fa sol) near the middle of his range.
 *
 * Taken is the run of the least price, in squared cents as everything here:
 * what the first fingerings cost a beginner (hbk_lesson_note_price()), the
 * moves between neighbours (passage/ease.h), and what it costs to lie away
 * from where first books begin, which is C4 to G4 of a horn that is written
 * with its open note as C. Runs in the keys of C, F and G are looked at; other
 * keys only where the horn has none of these, then runs of four notes, of
 * three.
 */
enum { HBK_FIRST_MOST = 5, HBK_FIRST_LEAST = 3 };

struct hbk_first {
    size_t n; /* 5, or fewer where the horn has no more; 0: none at all */
    int notes[HBK_FIRST_MOST];                     /* written, upwards */
    struct hbk_spelling spellings[HBK_FIRST_MOST]; /* as they are written */
    const struct hbk_fingering *fingerings[HBK_FIRST_MOST]; /* of the chart */
    int tonic;       /* written; the lowest of them */
    const char *why; /* one or two sentences; of no notes, why there are none */
};

/*
 * The written note that is to the horn what C4 is to one in the treble clef:
 * that of the second partial of the open horn. A horn in another clef, which
 * is written as it sounds, has its own.
 */
int hbk_lesson_home(const struct hbk_notes *notes);

/*
 * What a note costs a beginner by its first fingering, in squared cents: what
 * it is out of tune beyond what lips correct without a thought, its fingers,
 * and how it responds. INFINITY for a note out of reach.
 */
double hbk_lesson_note_price(const struct hbk_notes *notes, int written);

/*
 * low, high   written notes, the range of the pupil
 *
 * The arena owns the words; fingerings are borrowed from the notes.
 */
struct hbk_first hbk_first_find(const struct hbk_notes *notes,
                                const struct hbk_keywork *keywork, int low,
                                int high, struct hbk_arena *arena);

#endif
