#ifndef HBK_REPORT_NOTES_H
#define HBK_REPORT_NOTES_H

#include "base/json.h"
#include "base/text.h"
#include "edition/held.h"
#include "notes/account.h"

/*
 * The table of notes as text, as comma-separated values (RFC 4180) and as
 * JSON: every note of the compass, or those of --hold. A held note of a chord
 * also says where it should lie and how far off it is.
 */
struct hbk_notes_view {
    const struct hbk_notes *notes;
    bool sounding;
    const struct hbk_held *held;     /* NULL for all notes */
    const struct hbk_account *stuck; /* what is stuck does; NULL for nothing */
    /* With --beside: the horn known, and the rows of hbk_beside_rows(). */
    const struct hbk_notes *known;
    size_t n_rows;
    const struct hbk_note *rows;
};

void hbk_notes_text(const struct hbk_notes_view *view, struct hbk_text *out);
void hbk_notes_csv(const struct hbk_notes_view *view, struct hbk_text *out);
void hbk_notes_json(const struct hbk_notes_view *view, struct hbk_text *out);

/* The public fields of a fingering, into the object that is open. */
void hbk_notes_json_fields(const struct hbk_notes *notes,
                           const struct hbk_fingering *f,
                           struct hbk_json *json);

/*
 * How the horn stands, into the object that is open: a4_hz asked for, pitch_hz
 * it has, left_cents from the one to the other, temperature_c, room_c (null
 * when it was not said), crook (null for none), valve_slides.
 */
void hbk_notes_json_setting(const struct hbk_notes *notes,
                            struct hbk_json *json);

#endif
