#ifndef HBK_REPORT_MEMBERS_H
#define HBK_REPORT_MEMBERS_H

#include "base/json.h"
#include "notes/notes.h"
#include "tune/melody/line.h"

/* Members of JSON objects that several reports have alike. */

/* "line": which one of a divided part was read, and of how many chords. */
void hbk_report_json_line(const struct hbk_tune_line *line,
                          struct hbk_json *json);

/*
 * "fitted_shape": how many names of keys the shape of the bore and its holes
 * was fitted to, and how near they come; null where it was not.
 */
void hbk_report_json_shape(const struct hbk_horn *horn, struct hbk_json *json);

/* "player": the habit of the player of the horn's file. */
void hbk_report_json_player(const struct hbk_horn *horn, struct hbk_json *json);

/*
 * How every JSON output begins: opens the outermost object and says its
 * format, as "hornbook-fit/1". hbk_report_json_end() closes it.
 */
struct hbk_json hbk_report_json_begin(const char *format, struct hbk_text *out);
void hbk_report_json_end(struct hbk_json *json);

/* The public fields of a fingering, into the object that is open. */
void hbk_notes_json_fields(const struct hbk_notes *notes,
                           const struct hbk_fingering *f,
                           struct hbk_json *json);

/*
 * How the horn stands, into the object that is open: a4_hz asked for, pitch_hz
 * it has, left_cents from the one to the other, temperature_c, room_c (null
 * when it was not said), crook (null for none), player (where it is as he or
 * she plays it), valve_slides.
 */
void hbk_notes_json_setting(const struct hbk_notes *notes,
                            struct hbk_json *json);

/* Which horn, what written C4 sounds on it, and how it stands: the above. */
void hbk_notes_json_horn(const struct hbk_notes *notes, struct hbk_json *json);

#endif
