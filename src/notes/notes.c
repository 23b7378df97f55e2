#include "notes/notes.h"

const struct hbk_note *hbk_notes_find(const struct hbk_notes *notes,
                                      int written)
{
    if (written < notes->lowest || written > notes->highest) {
        return NULL;
    }
    return &notes->notes[written - notes->lowest];
}

bool hbk_notes_extreme(const struct hbk_notes *notes, int written)
{
    const int sixth = (int)notes->n / 6;
    return written < notes->lowest + sixth || written > notes->highest - sixth;
}

bool hbk_notes_stuck(const struct hbk_notes *notes, size_t control)
{
    const struct hbk_stuck *stuck = &notes->setting.stuck;
    return ((stuck->held_down | stuck->held_up) >> control & 1u) != 0;
}
