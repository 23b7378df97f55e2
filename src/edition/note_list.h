#ifndef HBK_EDITION_NOTE_LIST_H
#define HBK_EDITION_NOTE_LIST_H

#include "base/text.h"
#include "music/pitch.h"
#include "notes/notes.h"

enum { HBK_NOTE_LIST_MAX = 32 };

/* Written notes that a user names, in their order. */
struct hbk_note_list {
    size_t n;
    int notes[HBK_NOTE_LIST_MAX];
    struct hbk_spelling spelled[HBK_NOTE_LIST_MAX];
};

/*
 * Reads "E5 G5": names of written notes of the horn's compass, with blanks or
 * commas between them.
 *
 * why   receives what would be right, to follow the name of what is at fault
 */
bool hbk_note_list_read(const char *text, const struct hbk_notes *notes,
                        struct hbk_note_list *list, struct hbk_text *why);

#endif
