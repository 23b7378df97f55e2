#ifndef HBK_TUNE_BOOK_H
#define HBK_TUNE_BOOK_H

#include "tune/melody/document.h"

/* All tunes of a file, in its order. */

/* Zero-initialise; owns its tunes until hbk_tune_book_finish(). */
struct hbk_tune_book {
    struct hbk_arena arena;
    size_t n;
    struct hbk_tune_document *documents;
    const struct hbk_tune **tunes; /* one for each of them */
};

/*
 * Reads a book of tunes in ABC; any other file of music is a book of one.
 * What is said about a tune is kept (tune.about).
 *
 * path   borrowed; must outlive the book
 *
 * Returns HBK_OK (perhaps with warnings), or HBK_ERR_INPUT with the reasons
 * added to `faults`, for one tune that cannot be read too. The book must be
 * finished in either case.
 */
enum hbk_status hbk_tune_book_read(const char *path, struct hbk_tune_book *book,
                                   struct hbk_faults *faults) HBK_MUST_CHECK;

void hbk_tune_book_finish(struct hbk_tune_book *book);

#endif
