#include "notes/notes.h"

#include "horn/horn.h"

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

bool hbk_notes_not_to_learn_from(const struct hbk_notes *notes)
{
    const int crook = notes->setting.crook;
    return notes->horn->not_to_learn_from ||
           (crook >= 0 && notes->horn->crooks[crook].not_to_learn_from);
}

bool hbk_notes_stuck(const struct hbk_notes *notes, size_t control)
{
    const struct hbk_stuck *stuck = &notes->setting.stuck;
    return ((stuck->held_down | stuck->held_up) >> control & 1u) != 0;
}
