#ifndef HBK_ENGRAVE_ENGRAVE_PITCH_H
#define HBK_ENGRAVE_ENGRAVE_PITCH_H

#include "engrave/engrave.h"

/* Where notes and signs stand. */

/* Staff step (see hbk_spelling_staff_step) of the lowest line of a clef. */
int hbk_eng_bottom_step(const struct hbk_tune_clef *clef);

/* One sign of a key signature. */
struct hbk_eng_sign {
    uint32_t glyph;
    int pos;
};

enum { HBK_ENG_SIGNS_MAX = 14 };

/*
 * The signature of a key, in its usual order and places; where `before` is
 * given and the key has no signs, the naturals that cancel it. Returns how
 * many signs.
 */
size_t hbk_eng_signature(const struct hbk_tune_key *key,
                         const struct hbk_tune_key *before,
                         const struct hbk_tune_clef *clef,
                         struct hbk_eng_sign signs[HBK_ENG_SIGNS_MAX]);

/*
 * Sets `sign` and `courtesy` of every note: what key and bar demand, and
 * reminders, each once: at the first note on a line or space that the bar
 * before left altered, and where the bar altered the same note of another
 * octave. A chromatic run needs no reminders of the bar before, unless the
 * source has them. Those that the source calls reminders stand in parentheses,
 * as do those that it calls an editor's.
 * A tied note needs none.
 */
void hbk_eng_accidentals(struct hbk_engraving *eng);

#endif
