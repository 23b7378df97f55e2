#include "edition/place_tell.h"

#include "base/messages.h"
#include "sheet/words/words.h"

#include <stdio.h>

/* "this horn in B♭", or "each horn". */
static const char *horn_words(const struct hbk_notes *notes,
                              char words[HBK_NAME_SIZE + 20])
{
    char key[HBK_NAME_SIZE];
    if (notes == NULL) {
        return "each horn";
    }
    (void)snprintf(words, HBK_NAME_SIZE + 20, "this horn in %s",
                   hbk_spelling_called(hbk_horn_key(notes->written_c4_sounds),
                                       notes->notation.naming, HBK_UNICODE,
                                       key));
    return words;
}

static const char *clef_words(char sign)
{
    return sign == 'F' ? "bass" : "tenor or alto";
}

void hbk_place_tell(const struct hbk_place_asker *asker,
                    const struct hbk_placing *placing,
                    const struct hbk_tune *tune, struct hbk_faults *faults)
{
    const struct hbk_notes *const notes = asker->notes;
    const bool moves = notes == NULL ||
                       notes->written_c4_sounds != HBK_NOTE_C4 ||
                       notes->notation.shift != 0;
    char words[HBK_NAME_SIZE + 20];
    if (tune->file == NULL) {
        return;
    }
    if (placing->taken == HBK_TAKEN_WRITTEN && moves) {
        hbk_fault_warn(faults, asker->place, HBK_H_TAKEN_AS_WRITTEN,
                       "%sthe part states no transposition; its notes are "
                       "taken as written for %s. If they are those that sound, "
                       "%s",
                       asker->whom, horn_words(notes, words), asker->remedy);
    } else if (placing->by_clef && moves) {
        hbk_fault_warn(faults, asker->place, HBK_H_TAKEN_BY_CLEF,
                       "%sthe part is in the %s clef and states no "
                       "transposition; its notes are taken as those that sound",
                       asker->whom, clef_words(tune->clefs[0].sign));
    }
}
