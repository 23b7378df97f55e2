#ifndef HBK_PASSAGE_VIEW_H
#define HBK_PASSAGE_VIEW_H

#include "passage/passage.h"
#include "passage/placing.h"

/* A passage as it is to be shown. Borrows everything. */
struct hbk_passage_view {
    const struct hbk_notes *notes;
    const struct hbk_keywork *keywork;
    const struct hbk_tune *tune;    /* as it is read (notes->notation) */
    const struct hbk_tune *written; /* as this horn is written */
    const struct hbk_passage *passage;
    double quarters;            /* the tempo asked for; NAN: the tune's own */
    struct hbk_placing placing; /* where the part was put */
    size_t first, end;          /* bars shown: [first, end) */
    size_t others;              /* other choices shown for each note */
    bool other_ways;            /* also show the next best ways as a whole */
    bool only_departures;
    const bool *practised; /* by bar: none but these; NULL: all of them */
    bool sounding;         /* also name the notes as they sound */
};

/* Whether the event stands in one of the bars shown. */
bool hbk_passage_in_bars(const struct hbk_passage_view *view, size_t event);

/* Whether the event is to be shown: its bar and what is asked for. */
bool hbk_passage_shows(const struct hbk_passage_view *view, size_t event);

/* Whether the event is a note that no fingering plays. */
bool hbk_passage_is_out(const struct hbk_passage *passage, size_t event);

/* How many written notes of the bars shown are what. */
struct hbk_passage_counts {
    size_t notes; /* that the horn has */
    size_t departures, hard;
    size_t out; /* of reach */
};

struct hbk_passage_counts
hbk_passage_count(const struct hbk_passage_view *view);

/* Whether a way differs from all cheaper ones in the bars shown. */
bool hbk_passage_is_new_way(const struct hbk_passage_view *view, size_t way);

#endif
