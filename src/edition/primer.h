#ifndef HBK_EDITION_PRIMER_H
#define HBK_EDITION_PRIMER_H

#include "base/fault.h"
#include "sheet/primer/primer.h"
#include "tune/book.h"

/* What stands in the primer of one horn, for its command and for orders. */
struct hbk_primer_wish {
    const struct hbk_notes *notes; /* borrowed */
    const struct hbk_notes *known; /* borrowed; NULL for none */
    int low, high; /* written notes to keep to; both 0 for the usual range */
};

/* Zero-initialise; finish it in either case, before its arena. */
struct hbk_primer_made {
    struct hbk_primer primer;
    struct hbk_tune_book book;
};

/*
 * Finds the lessons, the tunes that fit them, scales, trills and the readings
 * that would tell most. The arena owns what is found, but for the book.
 *
 * Returns HBK_OK, or HBK_ERR_INPUT with the reason in `faults` when the tunes
 * that come with the program cannot be read.
 */
enum hbk_status hbk_primer_make(const struct hbk_primer_wish *wish,
                                struct hbk_arena *arena,
                                struct hbk_primer_made *made,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

void hbk_primer_finish(struct hbk_primer_made *made);

#endif
