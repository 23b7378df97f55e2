#ifndef HBK_EDITION_ASK_H
#define HBK_EDITION_ASK_H

#include "base/text.h"
#include "music/moving.h"

#include <stdbool.h>

/*
 * What may be asked of an edition, by options or by an order, as plain
 * requests. What is not given is NAN for a number, NULL for a word and false
 * for a choice, here as in struct hbk_wishes (solve/setting.h), which says
 * how the horn is set.
 */

/* How a tune is to be performed. */
struct hbk_perform_ask {
    double tempo;       /* quarter notes a minute; else as the tune says */
    double choices;     /* ways shown besides the one taken, of each note and of
                           the whole; else one of each note */
    bool from_sounding; /* the notes of the part are those that sound */
    bool keep;          /* fingerings that stand in the file are honoured */
    bool only_departures;
    bool sounding;            /* notes are also named as they sound */
    struct hbk_moving moving; /* octave and key */
};

/* Octave and key in words (music/moving.h); NULL for what is not given. */
struct hbk_move_words {
    const char *octave, *transpose, *to_key;
};

/*
 * Reads them into `ask`. False with the reason in `why`: "octave takes ...",
 * so that it may follow two dashes.
 */
bool hbk_perform_ask_move(struct hbk_perform_ask *ask,
                          const struct hbk_move_words *words,
                          struct hbk_text *why);

/* Nothing asked. */
struct hbk_perform_ask hbk_perform_ask_none(void);

/* Which notes are to be held together. */
struct hbk_hold_ask {
    const char *notes; /* written, "C5 E5 G5" */
    const char *root;  /* "C5" or "C"; else found from the notes */
    /* What a root is named with, to be told where it is found: an option, or
       NULL, and nothing is said of it. */
    const char *root_by;
};

#endif
