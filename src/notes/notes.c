#include "notes/notes.h"

const struct hbk_note *hbk_notes_find(const struct hbk_notes *notes,
                                      int written)
{
    if (written < notes->lowest || written > notes->highest) {
        return NULL;
    }
    return &notes->notes[written - notes->lowest];
}
