#ifndef HBK_SHEET_PRIMER_PRIMER_COMPOSE_H
#define HBK_SHEET_PRIMER_PRIMER_COMPOSE_H

#include "music/clef.h"
#include "tune/melody/build.h"

/* Exercises as tunes in 4/4: notes one after the other, bars by themselves. */

struct hbk_composer {
    struct hbk_build build;
    struct hbk_faults faults;
    int fifths; /* of the key that holds */
    int filled; /* eighths of the bar that is open */
};

/* What stands at a note, as bits. */
enum hbk_composed {
    HBK_COMPOSED_SLUR = 1 << 0, /* begins */
    HBK_COMPOSED_UNSLUR = 1 << 1,
    HBK_COMPOSED_TRILL = 1 << 2
};

/* Begins a tune without a key, in the arena. */
void hbk_compose_begin(struct hbk_composer *composer, enum hbk_clef clef,
                       struct hbk_arena *arena);
/* From the next bar on; with a double bar line where one stands before it. */
void hbk_compose_key(struct hbk_composer *composer, int fifths,
                     const char *mode);
/* A note of so many eighths that fits its bar. */
void hbk_compose_note(struct hbk_composer *composer,
                      struct hbk_spelling spelling, int eighths, unsigned what);
/* Ends the bar; what is left of it is a rest. A double bar line if asked. */
void hbk_compose_bar(struct hbk_composer *composer, bool is_double);
/* NULL where nothing was written. */
const struct hbk_tune *hbk_compose_end(struct hbk_composer *composer);

#endif
