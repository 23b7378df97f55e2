#ifndef HBK_LESSON_DEAL_H
#define HBK_LESSON_DEAL_H

#include "lesson/order.h"
#include "lesson/tunes.h"

/*
 * Which tune of a book each lesson has, so that new notes become music.
 *
 * A lesson that brings a note gets a tune which has it, where one fits; a
 * lesson of a movement, and one for which there is none, gets a tune of known
 * notes; or none. All are dealt at once, since a tune is used once and an easy
 * one may be the only one for a late note, so that as many lessons as can be
 * have a tune with their note, and then each one that is about as hard as its
 * place: by the nth lesson that of the nth tune of the book, easiest first. No
 * tune is harder than that by more than HBK_DEAL_RISE points of its
 * difficulty (our own choice, no source). Up to lesson HBK_DEAL_CALM none leaps
 * further than a fifth.
 */
#define HBK_DEAL_RISE 6.0
enum { HBK_DEAL_CALM = 6 };

struct hbk_dealt_tune {
    struct hbk_lesson_tune tune;
    size_t after; /* the lesson, from 1 */
};

struct hbk_dealt {
    size_t n;
    /* Those of lessons, in their order, one each at most; after them what can
       be played when the last was learned, the easiest first. */
    struct hbk_dealt_tune *tunes;
    size_t n_in_lessons;
};

/* n tunes, as of hbk_tune_shelf_make(). The arena owns what is new. */
struct hbk_dealt hbk_tunes_deal(const struct hbk_lessons *lessons,
                                const struct hbk_tune *const tunes[], size_t n,
                                struct hbk_arena *arena);

#endif
