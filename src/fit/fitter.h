#ifndef HBK_FIT_FITTER_H
#define HBK_FIT_FITTER_H

#include "base/fault.h"
#include "fit/bind.h"
#include "fit/estimate.h"
#include "fit/squares.h"

/*
 * A fit at work, handed from fit/fit.c to the parts of it: slips, values let
 * go, and what is reported. Nobody else looks in here.
 */
struct hbk_fitter {
    const struct hbk_horn *horn;
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    struct hbk_fit *fit;
    struct hbk_bound_readings bound;
    struct hbk_sounding *asked; /* bound.n, those of soundings */
    struct hbk_soundings soundings;
    struct hbk_squares squares;
    double *heard, *sd, *before, *bend;
    bool *is_used;
    size_t n_used;
    size_t n_names;   /* readings that are names of keys */
    bool is_doubtful; /* more than a third are not explained */
};

/* How far the column model of a horn is trusted, cents. */
double hbk_fitter_model_cents(const struct hbk_horn *horn);

/* Whether a reading is the name of a key. */
bool hbk_fitter_is_name(const struct hbk_fitter *f, size_t i);

/* Whether any reading of a tuner is followed, no name. */
bool hbk_fitter_has_readings(const struct hbk_fitter *f);

/*
 * What was heard less what the fit to the others says, and how far that may be
 * off by chance.
 */
double hbk_fitter_alone(const struct hbk_fitter *f, size_t i);
double hbk_fitter_alone_sd(const struct hbk_fitter *f, size_t i);

#endif
