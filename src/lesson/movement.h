#ifndef HBK_LESSON_MOVEMENT_H
#define HBK_LESSON_MOVEMENT_H

#include "lesson/plan.h"

/* Lessons without a new note: a movement of lip or fingers between known ones.
 */
enum { HBK_MOVEMENT_PAIRS = 3 };

struct hbk_movement {
    enum hbk_lesson_kind kind;
    int from, to; /* written: the first pair, the ends of the chord */
    int key;      /* for the pupil, as of hbk_plan_key() */
    size_t n_pairs;
    struct hbk_slur_pair
        pairs[HBK_MOVEMENT_PAIRS]; /* of slurs, easiest first */
    int chord[HBK_STUDY_CHORD];
    const char *why;
};

/*
 * SLUR   pairs with the same fingers on partials next to each other, a fifth at
 *        most
 * CHORD  do mi sol do of the pupil's C, F or G
 * MOVE   the easiest of the hard steps (lesson/moves.h) between known notes
 *        that was not a lesson yet, or a skip of up to a fourth that has the
 *        keys of a step for which a finger stays down, where none may
 * CALL   the lowest and highest known note of a horn that has open notes only,
 *        three or more
 *
 * False when there is none.
 */
bool hbk_movement_find(const struct hbk_plan *plan, enum hbk_lesson_kind kind,
                       struct hbk_movement *movement, struct hbk_arena *arena);

/*
 * The hard step that the lesson of a new note takes along: where C major has
 * not the note, and no step of the key to or from it may be made yet, for by
 * step is how it is to be played. False where there is one, or no hard one
 * either.
 *
 * key   in which the note is taught, as of hbk_plan_key()
 */
bool hbk_movement_along(const struct hbk_plan *plan, int key, int written,
                        struct hbk_movement *movement, struct hbk_arena *arena);

/* `wish` as of any lesson; what the movement needs is added. */
struct hbk_study hbk_movement_study(const struct hbk_movement *movement,
                                    const struct hbk_study_wish *wish,
                                    struct hbk_arena *arena);

#endif
