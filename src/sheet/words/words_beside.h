#ifndef HBK_SHEET_WORDS_WORDS_BESIDE_H
#define HBK_SHEET_WORDS_WORDS_BESIDE_H

#include "notes/beside.h"

/*
 * What a player of one horn must hear who takes up another. Everything is
 * found in the two models, for any pair: what pressing does, what is open, what
 * is the other way round, and what else is new (notes/beside.h has the
 * comparison of fingerings). "Here" is the horn taken up, "the horn you know"
 * the other. Sentences live in the arena.
 */

/* "the cornet in B flat, three pistons": a name within a sentence. */
const char *hbk_beside_called(struct hbk_arena *arena, const char *name);

/*
 * "Coming from the cornet in B flat": the name up to its first comma, or the
 * whole name where the horn taken up is called the same.
 */
const char *hbk_beside_coming(struct hbk_arena *arena,
                              const struct hbk_notes *here,
                              const struct hbk_notes *known);

/*
 * The danger that no player sees coming: valves that look alike and do each
 * other's work. "REVERSED VALVES: valve 1 a semitone, valve 2 a whole tone";
 * "" where it is not so.
 */
const char *hbk_beside_warning(struct hbk_arena *arena,
                               const struct hbk_notes *here,
                               const struct hbk_notes *known);

/* Whether a finger shortens or lengthens the tube: "Keys shorten where ..." */
const char *hbk_beside_pressing(struct hbk_arena *arena,
                                const struct hbk_notes *here,
                                const struct hbk_notes *known);

/* Which notes take no finger, and what is open at rest. */
const char *hbk_beside_rest(struct hbk_arena *arena,
                            const struct hbk_notes *here,
                            const struct hbk_notes *known);

/*
 * What is the other way round: the order of the valves, a valve that raises, a
 * key open at rest, the hands, the same number under another finger. Never "":
 * where nothing is reversed, that is said.
 */
const char *hbk_beside_reversed(struct hbk_arena *arena,
                                const struct hbk_notes *here,
                                const struct hbk_notes *known);

/*
 * What goes beyond that: further or missing keys and valves of a kind that
 * both have, another interval of the same valve, valves used one at a time,
 * triggers, both hands. "" for nothing.
 */
const char *hbk_beside_beyond(struct hbk_arena *arena,
                              const struct hbk_notes *here,
                              const struct hbk_notes *known);

/* What the same written note sounds, and in which clefs they are read. */
const char *hbk_beside_sounds(struct hbk_arena *arena,
                              const struct hbk_notes *here,
                              const struct hbk_notes *known);

/*
 * "Of the 31 written notes that both horns reach, 3 keep their fingering and
 * 28 change.", which keep only the numbers, and what is new or not available.
 */
const char *hbk_beside_summary(struct hbk_arena *arena,
                               const struct hbk_notes *here,
                               const struct hbk_notes *known);

#endif
