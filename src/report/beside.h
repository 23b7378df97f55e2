#ifndef HBK_REPORT_BESIDE_H
#define HBK_REPORT_BESIDE_H

#include "base/json.h"
#include "notes/beside.h"

/* What the table of notes says beside another horn, note by note. */

/* What changes as a whole, in a few lines for a player. */
void hbk_beside_text_head(const struct hbk_notes *here,
                          const struct hbk_notes *known, struct hbk_text *out);

/*
 * Two columns of a row: what is known, and a mark where the fingers have to
 * learn something else. The header of both with `written` below 0.
 */
void hbk_beside_text_cells(const struct hbk_notes *here,
                           const struct hbk_notes *known, int written,
                           struct hbk_text *out);

/* The names of the cells that hbk_beside_csv() adds to a row. */
#define HBK_BESIDE_CSV_NAMES                                                   \
    ",beside_label,beside_partial,beside_hz,beside_cents,changed,change"
void hbk_beside_csv(const struct hbk_notes *here, const struct hbk_notes *known,
                    int written, struct hbk_text *out);

/*
 * Into the open object of a note: `beside`, the first choice on the horn
 * known, or null; `changed`, whether the hands have to learn; `change`, what:
 * none, finger (the same numbers under other fingers), fingering, new (out of
 * reach on the horn known) or lost (out of reach here).
 */
void hbk_beside_json(const struct hbk_notes *here,
                     const struct hbk_notes *known, int written,
                     struct hbk_json *json);

/*
 * The same where the notes are new ones to learn: `known`, the label of the
 * first choice on the horn known, or null; `change` as above.
 */
void hbk_beside_json_brief(const struct hbk_notes *here,
                           const struct hbk_notes *known, int written,
                           struct hbk_json *json);

/*
 * `knows`, an object with what changes as a whole: the horn known, and the
 * sentences of hbk_beside_text_head(), each under a name of its own; null for
 * a warning or what goes beyond, where there is none.
 */
void hbk_beside_json_head(const struct hbk_notes *here,
                          const struct hbk_notes *known, struct hbk_json *json);

#endif
