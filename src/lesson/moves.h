#ifndef HBK_LESSON_MOVES_H
#define HBK_LESSON_MOVES_H

#include "lesson/pupil.h"

/*
 * Moves that a beginner's fingers do not make in passing. Each is a lesson of
 * its own, and no music has it before that lesson, on whatever notes.
 */

/*
 * An awkward move of this price or more (passage/ease.h) is hard: one finger
 * up as another of its hand goes down where ring or little finger is one of
 * them, both thumbs, the right thumb and a finger of its hand, a finger that
 * jumps. Middle and index finger in turn, or the two hands, are not. Our own
 * choice, no source.
 */
#define HBK_MOVE_HARD 300.0

/* Both notes have a fingering. */
bool hbk_move_is_hard(const struct hbk_pupil *pupil, int a, int b);

/*
 * The hard moves that were a lesson, by what is pressed: each is a step of a
 * semitone or two up from some note, so there is room for all that can be.
 */
enum { HBK_MOVES_MOST = 2 * (HBK_NOTE_MAX + 1) };

struct hbk_moves {
    struct hbk_pupil pupil;
    size_t n;
    struct hbk_moves_pair {
        uint32_t from, to;
    } of[HBK_MOVES_MOST];
};

/* Between two notes; nothing happens where it is among them. */
void hbk_moves_add(struct hbk_moves *moves, int a, int b);

/*
 * Whether music may go from one note to the other without a rest between:
 * the move is not hard, or was a lesson. False where a note has no fingering.
 */
bool hbk_moves_allow(const struct hbk_moves *moves, int a, int b);

#endif
