#ifndef HBK_REPORT_READ_H
#define HBK_REPORT_READ_H

#include "base/json.h"
#include "notes/notes.h"

/*
 * Notes as whoever asked reads them, beside the horn's written ones, which
 * tables and JSON keep: `read`, in English letters, with --reads, and `called`,
 * as his names have it, with --names.
 */
bool hbk_read_asked(const struct hbk_notes *notes);
bool hbk_read_named(const struct hbk_notes *notes);

/* The members of an open object. */
void hbk_read_json(const struct hbk_notes *notes, struct hbk_spelling read,
                   struct hbk_json *json);

/* Names of the columns, each after a comma, and the fields of a row. */
void hbk_read_csv_names(const struct hbk_notes *notes, struct hbk_text *out);
void hbk_read_csv(const struct hbk_notes *notes, struct hbk_spelling read,
                  struct hbk_text *out);

/* What is read for a written note, named as a sharp, as `written` is. */
struct hbk_spelling hbk_read_sharp(const struct hbk_notes *notes, int written);

/* What heads the column of notes in a text: "written", or "read". */
const char *hbk_read_heading(const struct hbk_notes *notes);

#endif
