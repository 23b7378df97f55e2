#ifndef HBK_REPORT_MEMBERS_H
#define HBK_REPORT_MEMBERS_H

#include "base/json.h"
#include "notes/notes.h"

/* Members of JSON objects that several reports have alike. */

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
