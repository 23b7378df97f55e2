#ifndef HBK_TUNE_MELODY_MARK_STOPS_H
#define HBK_TUNE_MELODY_MARK_STOPS_H

#include "tune/melody/tune.h"

/*
 * The marks of a tune as a writer comes by them: the beginning of each, and
 * the end of those that go on, in the order of their places.
 */

struct hbk_mark_stop {
    const struct hbk_tune_mark *mark;
    struct hbk_tune_spot at;
    bool is_end;     /* of a hairpin or of dashes */
    bool is_after;   /* behind where its event begins */
    unsigned number; /* from 1, of a line among those of its kind that are
                        open at the same time; 0 for what has no length */
};

struct hbk_mark_stops {
    size_t n, next;
    struct hbk_mark_stop *items;
};

/* Whether it goes on: a hairpin, or words with dashes. */
bool hbk_mark_is_line(const struct hbk_tune_mark *mark);

struct hbk_mark_stops hbk_mark_stops_of(const struct hbk_tune *tune,
                                        struct hbk_arena *arena);

/*
 * The next stop in this bar up to where an event begins, or (`is_after`) up to
 * where it ends, which is then behind; NULL when there is none. For all of the
 * bar, HBK_TUNE_NONE as the event.
 */
const struct hbk_mark_stop *hbk_mark_stop(struct hbk_mark_stops *stops,
                                          size_t bar, size_t event,
                                          bool is_after);

#endif
