#ifndef HBK_LESSON_WAY_H
#define HBK_LESSON_WAY_H

#include "lesson/pupil.h"

/*
 * How a pupil goes from one note to another: by the first fingerings of both,
 * or so that one finger moves and all others stay where they are.
 *
 * By their first fingerings, where that is not awkward (passage/ease.h), and
 * wherever it is no step. Of an awkward step one of the two notes keeps its
 * first fingering and the other takes one of those with which the step is an
 * easy trill (passage/trill.h), if it is in tune, needs no more care, and goes
 * against nothing that players of such a horn are taught. Key 2 stays down as
 * key 3 is added, since the hole nearest the mouthpiece sets the pitch; but E4
 * of a cornet remains 1-2 after D4.
 */
struct hbk_way {
    const struct hbk_fingering *low, *high; /* borrowed from the notes */
    bool is_held; /* one of them is not the first fingering of its note */
    /* Held, and by the first fingerings it would be hard: a pupil is told. */
    bool is_told;
    struct hbk_ease_move move; /* between these */
};

/*
 * An awkward move of this price or more (passage/ease.h) is hard: one finger
 * up as another of its hand goes down where ring or little finger is one of
 * them, both thumbs, the right thumb and a finger of its hand, a finger that
 * jumps. Middle and index finger in turn, or the two hands, are not. Our own
 * choice, no source.
 */
#define HBK_MOVE_HARD 300.0
bool hbk_way_is_hard(const struct hbk_ease_move *move);

/*
 * A note that stays within this is in tune for a way, and one that is no
 * further off than by its first fingering; the cents that lips correct
 * without a thought.
 */
#define HBK_WAY_CENTS HBK_EASE_LIP_CENTS

/* low below high; both have a fingering. */
struct hbk_way hbk_way_find(const struct hbk_pupil *pupil, int low, int high);

/*
 * "From C♯4 to D4 leave key 2 down and add key 3 (2-3)." of one that is held,
 * and what that costs in tuning; in the arena. Both notes as they are written.
 */
const char *hbk_way_words(const struct hbk_pupil *pupil,
                          const struct hbk_way *way, struct hbk_spelling low,
                          struct hbk_spelling high, struct hbk_arena *arena);

#endif
