#ifndef HBK_EDITION_PLACE_TELL_H
#define HBK_EDITION_PLACE_TELL_H

#include "base/fault.h"
#include "notes/notes.h"
#include "passage/placing.h"

/* For whom a part was taken one way or the other, and what may be said. */
struct hbk_place_asker {
    struct hbk_place place;        /* what is doubted */
    const char *whom;              /* "Ada: ", or "" */
    const char *remedy;            /* "say --from-sounding" */
    const struct hbk_notes *notes; /* of the horn; NULL for each of several */
};

/*
 * Warns where a part that states no transposition was taken one way and might
 * be meant the other: as written for a horn that transposes, or, for its clef,
 * as the notes that sound. Nothing of a run that was typed.
 */
void hbk_place_tell(const struct hbk_place_asker *asker,
                    const struct hbk_placing *placing,
                    const struct hbk_tune *tune, struct hbk_faults *faults);

#endif
