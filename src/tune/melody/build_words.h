#ifndef HBK_TUNE_MELODY_BUILD_WORDS_H
#define HBK_TUNE_MELODY_BUILD_WORDS_H

#include "tune/melody/marks.h"

/* What words are about where only the words tell. */

/* Dynamics, a jump, how fast, or else how to play: DYNAMIC, JUMP, ... */
enum hbk_tune_mark_kind hbk_build_kind_of_words(const char *words);
/* Whether it is nothing but letters of dynamics, as "mf" or "sfz". */
bool hbk_build_is_dynamic(const char *words);

#endif
