#ifndef HBK_LESSON_FIRST_H
#define HBK_LESSON_FIRST_H

#include "lesson/pupil.h"

/*
 * The first five notes a beginner learns on a horn: a run of five by step
 * (do re mi fa sol) near the middle of his range.
 *
 * Taken is the run of the least price, in squared cents as everything here:
 * what the first fingerings cost a beginner (hbk_pupil_note_price()), the
 * moves between neighbors (passage/ease.h), and what it costs to lie away
 * from where first books begin, which is C4 to G4 of a horn that is written
 * with its open note as C. Runs in the keys of C, F and G up to D5 are looked
 * at: do re mi fa sol; where the horn has none, five other notes of the scale,
 * then four, then three. Only then what lies higher or in other keys.
 *
 * A horn without three notes by step, as a duty bugle is, has no scale. Its
 * first notes are the open ones of the octave from the pupil's C4: partials 2,
 * 3 and 4.
 */
enum { HBK_FIRST_MOST = 5, HBK_FIRST_LEAST = 3 };

struct hbk_first {
    size_t n;     /* 5, or fewer where the horn has no more; 0: none at all */
    bool is_open; /* open notes, not by step; 2 or more */
    int notes[HBK_FIRST_MOST];                     /* written, upwards */
    struct hbk_spelling spellings[HBK_FIRST_MOST]; /* as they are written */
    const struct hbk_fingering *fingerings[HBK_FIRST_MOST]; /* of the chart */
    int key;         /* they are of: its sharps for the pupil, flats negative */
    const char *why; /* one or two sentences; of no notes, why there are none */
};

/* The arena owns the words; fingerings are borrowed from the notes. */
struct hbk_first hbk_first_find(const struct hbk_pupil *pupil,
                                struct hbk_arena *arena);

#endif
