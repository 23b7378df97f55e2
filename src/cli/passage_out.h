#ifndef HBK_CLI_PASSAGE_OUT_H
#define HBK_CLI_PASSAGE_OUT_H

#include "base/text.h"
#include "passage/passage.h"

/* A passage as it is to be shown. Borrows everything. */
struct hbk_passage_view {
    const struct hbk_notes *notes;
    const struct hbk_keywork *keywork;
    const struct hbk_tune *tune; /* as this horn reads it */
    const struct hbk_passage *passage;
    double quarters;   /* the tempo asked for; 0 for the tune's own */
    int moved;         /* semitones by which the part was moved */
    size_t first, end; /* bars shown: [first, end) */
    size_t others;     /* other choices shown for each note */
    bool other_ways;   /* also show the next best ways as a whole */
    bool only_departures;
};

/* Whether the event is to be shown: its bar and what is asked for. */
bool hbk_passage_shows(const struct hbk_passage_view *view, size_t event);

/* Bar by bar, one line a note. */
void hbk_passage_text(const struct hbk_passage_view *view,
                      struct hbk_text *out);

/* The same for other programs. */
void hbk_passage_json(const struct hbk_passage_view *view,
                      struct hbk_text *out);

#endif
