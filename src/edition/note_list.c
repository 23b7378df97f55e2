#include "edition/note_list.h"

#include <stdio.h>
#include <string.h>

bool hbk_note_list_read(const char *text, const struct hbk_notes *notes,
                        struct hbk_note_list *list, struct hbk_text *why)
{
    list->n = 0;
    const char *at = text + strspn(text, " ,");
    while (*at != '\0') {
        char name[HBK_NAME_SIZE];
        const size_t length = strcspn(at, " ,");
        (void)snprintf(name, sizeof(name), "%.*s",
                       (int)(length < sizeof(name) ? length : 0), at);
        int note = 0;
        struct hbk_spelling spelling;
        if (!hbk_spelling_parse(name, &spelling) ||
            !hbk_note_parse(name, &note)) {
            hbk_text_addf(why,
                          "'%.*s' is not a written note; write notes like E5 "
                          "or Bb4",
                          (int)length, at);
            return false;
        }
        if (hbk_notes_find(notes, note) == NULL) {
            hbk_text_addf(why, "%s is outside the compass of this horn", name);
            return false;
        }
        if (list->n == HBK_NOTE_LIST_MAX) {
            hbk_text_addf(why, "names more than %d notes", HBK_NOTE_LIST_MAX);
            return false;
        }
        list->spelled[list->n] = spelling;
        list->notes[list->n++] = note;
        at += length;
        at += strspn(at, " ,");
    }
    hbk_text_add(why, list->n > 0 ? "" : "names no note");
    return list->n > 0;
}
