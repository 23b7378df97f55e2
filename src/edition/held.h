#ifndef HBK_EDITION_HELD_H
#define HBK_EDITION_HELD_H

#include "base/json.h"
#include "cli/cli.h"
#include "music/chord.h"

/* One note of --hold, its fingerings in the order of solve/hold.h. */
struct hbk_held_note {
    struct hbk_note note;
    const char *degree; /* "third"; NULL where no chord was found */
    double aim_cents;   /* where it should lie, from equal temperament */
};

/* The notes of --hold and the chord they were found to be. */
struct hbk_held {
    size_t n;
    const struct hbk_held_note *notes;
    bool is_just; /* to the chord; else by equal temperament */
    struct hbk_chord chord;
    const char *root;     /* as it was written: "C5", or "C" */
    bool root_given;      /* by --root */
    size_t n_other_roots; /* notes that could be the root as well */
    int other_roots[HBK_CHORD_READINGS];
    const char *words;       /* what was understood, for a section leader */
    const char *other_words; /* of the other roots; "" for none */
};

/*
 * Reads --hold and --root, and orders the fingerings. Everything lives in the
 * arena. HBK_EXIT_DONE or HBK_EXIT_USAGE with the reason printed.
 */
int hbk_held_read(const struct hbk_options *options,
                  const struct hbk_notes *notes, struct hbk_arena *arena,
                  struct hbk_held *held);

/* The member "chord" of an object. */
void hbk_held_json(const struct hbk_held *held, struct hbk_json *json);

#endif
