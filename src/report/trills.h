#ifndef HBK_REPORT_TRILLS_H
#define HBK_REPORT_TRILLS_H

#include "base/text.h"
#include "notes/trills.h"

/* The trills of a horn, to the semitone and to the whole tone above each note.
 */
struct hbk_trills_view {
    const struct hbk_notes *notes;
    const struct hbk_trills *trills; /* of these notes */
    bool sounding;                   /* text: also what the notes sound */
};

/*
 * For people: a line a trill with both fingerings, whether it is easy, and what
 * the player does, in 80 columns.
 */
void hbk_trills_text(const struct hbk_trills_view *view, struct hbk_text *out);
/* One row a trill, those that cannot be played as well; names in ASCII. */
void hbk_trills_csv(const struct hbk_trills_view *view, struct hbk_text *out);
/* "format": "hornbook-trills/1"; names are only ever added. */
void hbk_trills_json(const struct hbk_trills_view *view, struct hbk_text *out);

#endif
