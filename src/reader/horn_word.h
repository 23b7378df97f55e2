#ifndef HBK_READER_HORN_WORD_H
#define HBK_READER_HORN_WORD_H

#include "base/fault.h"

struct hbk_arena;
struct hbk_horn;

/*
 * Reads the horn that a user names: by path, or the shipped one of that name.
 *
 * arena   receives the path of a shipped horn
 * horn    finish it in either case
 */
enum hbk_status hbk_horn_read_word(const char *word, struct hbk_arena *arena,
                                   struct hbk_horn *horn,
                                   struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
