#ifndef HBK_HORN_HORN_H
#define HBK_HORN_HORN_H

#include "base/arena.h"
#include "horn/bore.h"
#include "horn/control.h"
#include "horn/fitted.h"
#include "horn/habit.h"
#include "horn/partials.h"
#include "horn/provenance.h"
#include "horn/site.h"
#include "horn/slide.h"
#include "horn/stuck.h"
#include "music/clef.h"

/*
 * What an instrument is. Lengths in metres, frequencies in Hz, temperatures
 * in degrees Celsius, notes as in music/pitch.h. A horn read from a file is
 * sound: every invariant named here holds.
 */

/* Which column model answers for the horn. */
enum hbk_model {
    HBK_MODEL_LENGTH, /* an effective half-wave length and nothing else */
    HBK_MODEL_BORE    /* the stations of the bore */
};

struct hbk_horn {
    struct hbk_arena arena; /* owns every string and array below */
    const char *path;       /* as given by the user */
    const char *id;         /* file name without folder and ending */
    const char *name;
    const char *source;
    size_t n_remarks;
    const char *const *remarks; /* printed on the chart */
    enum hbk_provenance provenance[HBK_PART_COUNT];
    bool not_to_learn_from; /* its chart would mislead who borrows the horn */

    int written_c4_sounds; /* sounding note of written C4, no crook */
    enum hbk_clef clef;
    int tuning_note;       /* written */
    bool has_tuning_press; /* else it is looked for: see solve/tuning.h */
    uint32_t tuning_press;
    double a4_hz;
    double temperature_c;
    bool has_compass;
    int lowest, highest; /* written; valid when has_compass */

    enum hbk_model model;
    /*
     * Length model: exactly one of the two is a number, the other NAN. Both
     * describe the horn at rest, slides in, no crook; the fundamental at
     * a4_hz and temperature_c.
     */
    double length_m; /* effective half-wave length */
    double fundamental_hz;
    struct hbk_bore bore; /* bore model */
    size_t n_mouthpieces; /* that can be put in for the one of the bore */
    const struct hbk_other_mouthpiece *mouthpieces;
    struct hbk_habit habit; /* of who plays it; not of the metal */
    struct hbk_partials partials;

    size_t n_controls;
    struct hbk_control controls[HBK_CONTROLS_MAX];
    size_t n_sites; /* in the order of the file */
    struct hbk_site sites[HBK_SITES_MAX];
    size_t n_crooks;
    const struct hbk_crook *crooks;
    size_t n_slides;
    const struct hbk_slide *slides;
    size_t n_bits;
    const struct hbk_bit *bits;
    struct hbk_fitted fitted;
    struct hbk_stuck stuck; /* what is broken, as the file says */
};

/* Empty horn with every optional number NAN and the usual partials;
 * horn/about.h ends it. */
void hbk_horn_init(struct hbk_horn *horn);

#endif
