#ifndef HBK_FIT_PREDICT_H
#define HBK_FIT_PREDICT_H

#include "fit/bind.h"
#include "fit/parameters.h"

/*
 * What a horn with changed parameters would sound: cents of any number of
 * resonances, and their derivatives.
 */

/* One resonance asked for. */
struct hbk_sounding {
    uint32_t press;
    size_t rig;
    unsigned partial;
    unsigned claimant;   /* of its number (solve/peak.h); 0 the highest */
    double reference_hz; /* cents count from here */
    bool is_name;        /* from there at the pitch the names are meant at */
};

struct hbk_soundings {
    size_t n;
    const struct hbk_sounding *items; /* borrowed */
    size_t n_rigs;
    const struct hbk_rig *rigs; /* borrowed */
    /* Each press of each rig once. */
    size_t n_columns;
    const uint32_t *presses; /* n_columns, those of a rig together */
    const size_t *first;     /* n_rigs + 1: where the presses of a rig begin */
    const size_t *column;    /* n: which press is that of item i */
};

/* Sorts out the presses; `soundings` has n, items and rigs on entry. */
void hbk_soundings_prepare(struct hbk_soundings *soundings,
                           struct hbk_arena *arena);

/*
 * cents[n] of the soundings with the deviations d; NAN where the partial does
 * not show. Returns HBK_ERR_DOMAIN when the changed horn cannot be computed;
 * cents are then undefined.
 *
 * near   cents at which each is expected, so that the same resonance is
 *        followed as d changes (hbk_peak_follow). NULL, or NAN for one of
 *        them: the claimant that the sounding names.
 */
enum hbk_status hbk_predict(const struct hbk_parameters *parameters,
                            const double d[],
                            const struct hbk_soundings *soundings,
                            const double near[], double cents[]) HBK_MUST_CHECK;

/*
 * The same, and lift[n]: by how many cents each is heard above the maximum of
 * the impedance that it belongs to; NAN where there is none.
 */
enum hbk_status hbk_predict_lift(const struct hbk_parameters *parameters,
                                 const double d[],
                                 const struct hbk_soundings *soundings,
                                 const double near[], double cents[],
                                 double lift[]) HBK_MUST_CHECK;

/*
 * The cents of the maxima with that lift held: what is heard may move by tens
 * of cents with a hair of tube (acoustics/ear.h), which nothing that goes by
 * slopes can follow; the maxima move smoothly. `near`, which is not NULL, as
 * before with the lift in it.
 */
enum hbk_status hbk_predict_held(const struct hbk_parameters *parameters,
                                 const double d[],
                                 const struct hbk_soundings *soundings,
                                 const double near[], const double lift[],
                                 double cents[]) HBK_MUST_CHECK;

/*
 * slopes[i * parameters->n + k]: cents of sounding i per prior standard
 * deviation of parameter k, by central differences of a quarter of it; where
 * what is heard moves much further, those of its maximum. The bore model is
 * good to 0.05 cent, so slopes are good to 0.2 cent; those of the length model
 * to rounding and the third derivative, below 0.01 cent. `near` as above, at d
 * itself.
 */
enum hbk_status hbk_predict_slopes(const struct hbk_parameters *parameters,
                                   const double d[],
                                   const struct hbk_soundings *soundings,
                                   const double near[],
                                   double slopes[]) HBK_MUST_CHECK;

#endif
