#ifndef HBK_LESSON_MOVES_H
#define HBK_LESSON_MOVES_H

#include "lesson/way.h"

/*
 * Moves that a beginner's fingers do not make in passing, even the easiest way
 * (lesson/way.h). Each is a lesson of its own, and no music has it before that
 * lesson, on whatever notes. Where a finger may stay down and one other moves,
 * nothing is hard: the lesson of the note that brings the step says how.
 */

/* By the one measure of ease, of the easiest way. Both have a fingering. */
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

/* Whether the presses of both notes are among them; both have a fingering. */
bool hbk_moves_have(const struct hbk_moves *moves, int a, int b);

#endif
