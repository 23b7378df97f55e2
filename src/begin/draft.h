#ifndef HBK_BEGIN_DRAFT_H
#define HBK_BEGIN_DRAFT_H

#include "begin/pattern.h"
#include "horn/partials.h"
#include "horn/provenance.h"
#include "music/clef.h"

/*
 * The horn file that is to be written, as it stands: what was said, and the
 * rest of the nearest pattern, moved to the horn's key. Texts live in the
 * arena of the answers, lengths are mm. What nobody said yet is the pattern's
 * here, so that a draft also tells what is usual where a question is asked.
 */

struct hbk_draft_key {
    const char *called; /* NULL for none */
    bool is_open;       /* at rest */
    double raises;      /* semitones */
    const char *finger; /* as the file has it */
    size_t opens;       /* number of a lower key whose hole it opens, or 0 */
    bool is_added;      /* the pattern has no such key */
};

struct hbk_draft_valve {
    int lowers;         /* semitones; negative raises */
    const char *length; /* "loop: 12.356 %", "lowers: 200 cents" ... */
    bool is_alone;      /* never pressed with another */
    enum hbk_action action;
    const char *finger;
    enum hbk_provenance provenance; /* of its length */
};

struct hbk_draft_slide {
    const char *name;
    size_t valve; /* its number; 0 for the main tube */
    double travel_mm, stands_out_mm;
    int legs;
};

struct hbk_draft_crook {
    const char *name, *kind;
    double adds_mm;
    int sounds;
};

struct hbk_draft {
    const struct hbk_pattern *pattern;
    const char *name;
    int written_c4_sounds;
    enum hbk_clef clef;
    int tuning_note; /* written */
    double a4_hz, temperature_c;
    int lowest, highest; /* written; equal where the pattern says nothing */
    int fundamental;     /* the note; meant where length_mm is NAN */
    double length_mm;
    struct hbk_partials partials;
    size_t n_keys, n_valves, n_slides, n_crooks;
    struct hbk_draft_key keys[HBK_BEGIN_KEYS_MAX];
    struct hbk_draft_valve valves[HBK_BEGIN_VALVES_MAX];
    const struct hbk_draft_slide *slides;
    const struct hbk_draft_crook *crooks;
    enum hbk_provenance provenance[HBK_PART_COUNT]; /* unstated: not named */
    int moved; /* semitones from the pattern's key to the horn's */
};

#endif
