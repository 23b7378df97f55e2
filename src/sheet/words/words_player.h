#ifndef HBK_SHEET_WORDS_WORDS_PLAYER_H
#define HBK_SHEET_WORDS_WORDS_PLAYER_H

struct hbk_arena;
struct hbk_horn;

/*
 * How its player sounds a horn, beside the horn itself (horn/habit.h), for
 * whatever tells of it as it is played: "As its player plays it: 25 cents
 * sharper than the horn on the tuning note, and 8 cents sharper with every
 * octave above it.", or that its file says nothing of a player. In whole
 * cents; what is none of them is not said. The sentence lives in the arena.
 */
const char *hbk_words_player(struct hbk_arena *arena,
                             const struct hbk_horn *horn);

#endif
