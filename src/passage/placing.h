#ifndef HBK_PASSAGE_PLACING_H
#define HBK_PASSAGE_PLACING_H

#include "tune/melody/transpose.h"

/* Where a part is put for a horn: how its notes are taken, octave and key. */

enum hbk_taken {
    HBK_TAKEN_WRITTEN,  /* as written for the horn: the part says nothing */
    HBK_TAKEN_SOUNDING, /* as they sound: so it was asked for, so the score
                           says, or so the clef tells */
    HBK_TAKEN_STATED    /* by the transposition that the part states */
};

/* "written", "sounding" or "stated". */
const char *hbk_taken_name(enum hbk_taken taken);

/* What was found of one place. */
struct hbk_place_found {
    struct hbk_tune_key key; /* of the beginning, as the player reads it */
    size_t n_out;            /* written notes out of reach */
    double price;            /* squared cents, less is easier; NAN where nothing
                                was looked for: edition/place.h */
};

/* Semitones are positive upwards. */
struct hbk_placing {
    enum hbk_taken taken;
    bool by_clef;  /* the notes sound as written for their clef alone */
    int for_horn;  /* from the notes of the part to those of the horn that
                      sound as they are meant */
    int octaves;   /* beside that, so that it sounds elsewhere, */
    int semitones; /* and in another key */
    bool rekeyed;  /* whether the key has another name than it would have */
    bool octave_looked_for, key_looked_for;
    int reach; /* how far a key was looked for */
    /*
     * In its own key: where it is written, or where a key is looked for in its
     * best octave; and where it is put.
     */
    struct hbk_place_found stays, found;
    struct hbk_tune_move read; /* from the part to what the player reads */
};

/* By how much the part sounds higher than it says. */
int hbk_placing_asked(const struct hbk_placing *placing);
/* By how much its notes are moved, for the horn and as asked. */
int hbk_placing_moved(const struct hbk_placing *placing);

#endif
