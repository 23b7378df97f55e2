#ifndef HBK_PASSAGE_MOVE_WORDS_H
#define HBK_PASSAGE_MOVE_WORDS_H

#include "passage/move.h"

/* A move told to a player. */

enum { HBK_MOVE_WORDS_SIZE = 240 };

/*
 * The reasons that are in `which` in words, the weightiest first: "the left
 * index jumps from key 6 to key 7; 3 fingers move at once". Without any, what
 * moves: "the right index presses valve 1", and the key that stays open
 * beneath, if that is in `which`; "" when nothing does. UTF-8.
 */
char *hbk_move_words(const struct hbk_keywork *keywork,
                     const struct hbk_grip *from, const struct hbk_grip *to,
                     unsigned which, char words[HBK_MOVE_WORDS_SIZE]);

/* The same of the move that hbk_move_choose() takes. */
char *hbk_passing_words(const struct hbk_keywork *keywork,
                        const struct hbk_grips *from,
                        const struct hbk_grips *to, unsigned which,
                        char words[HBK_MOVE_WORDS_SIZE]);

/* And of two presses; "" when the hands cannot make one of them. */
char *hbk_presses_words(const struct hbk_keywork *keywork, uint32_t from,
                        uint32_t to, unsigned which,
                        char words[HBK_MOVE_WORDS_SIZE]);

#endif
