#ifndef HBK_REPORT_NOTES_H
#define HBK_REPORT_NOTES_H

#include "base/text.h"
#include "notes/account.h"
#include "notes/held.h"

/*
 * The table of notes as text, as comma-separated values (RFC 4180) and as
 * JSON: every note of the compass, or those that are held. A held note of a
 * chord also says where it should lie and how far off it is.
 */
struct hbk_notes_view {
    const struct hbk_notes *notes;
    bool sounding;
    const struct hbk_held *held;     /* NULL for all notes */
    const struct hbk_account *stuck; /* what is stuck does; NULL for nothing */
    /* Beside another: the horn known, and the rows of hbk_beside_rows(). */
    const struct hbk_notes *known;
    size_t n_rows;
    const struct hbk_note *rows;
    size_t alternates;  /* so many of a note in the text, at most */
    const char *all_by; /* what asks for all of them, "--all"; or NULL */
};

/*
 * Each note with its first fingering alone, "-" for one that is not
 * available.
 */
void hbk_notes_brief(const struct hbk_notes_view *view, struct hbk_text *out);
void hbk_notes_text(const struct hbk_notes_view *view, struct hbk_text *out);
void hbk_notes_csv(const struct hbk_notes_view *view, struct hbk_text *out);
void hbk_notes_json(const struct hbk_notes_view *view, struct hbk_text *out);

#endif
