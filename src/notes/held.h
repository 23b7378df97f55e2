#ifndef HBK_NOTES_HELD_H
#define HBK_NOTES_HELD_H

#include "music/chord.h"
#include "notes/notes.h"

/* A note that is held, its fingerings in the order of solve/hold.h. */
struct hbk_held_note {
    struct hbk_note note;
    const char *degree; /* "third"; NULL where no chord was found */
    double aim_cents;   /* where it should lie, from equal temperament */
};

/* Notes held together and the chord they were found to be. */
struct hbk_held {
    size_t n;
    const struct hbk_held_note *notes;
    bool is_just; /* to the chord; else by equal temperament */
    struct hbk_chord chord;
    const char *root;     /* as it was written: "C5", or "C" */
    bool root_given;      /* it was said, not found */
    size_t n_other_roots; /* notes that could be the root as well */
    int other_roots[HBK_CHORD_READINGS];
    const char *words;       /* what was understood, for a section leader */
    const char *other_words; /* of the other roots; "" for none */
};

#endif
