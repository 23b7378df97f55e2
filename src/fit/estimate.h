#ifndef HBK_FIT_ESTIMATE_H
#define HBK_FIT_ESTIMATE_H

#include "fit/parameters.h"
#include "horn/stuck.h"
#include "notes/fitted.h"

/*
 * What the column models leave out, as cents of one note: the length model
 * knows no hole corrections and no bends; the bore model no player. Ours.
 */
#define HBK_FIT_MODEL_LENGTH_CENTS 2.0
#define HBK_FIT_MODEL_BORE_CENTS 3.0

/* A fitted horn: its parameters and how surely they are known. */
struct hbk_fit {
    struct hbk_parameters parameters;
    /*
     * Of each parameter, what its file says; its own sd is wider where the
     * value was let go (fit/let_go.h).
     */
    double *prior_sd;
    double *d;   /* parameters.n deviations */
    double sum;  /* that was made least */
    double *cov; /* their covariance in units of the prior sd, n x n */
    struct hbk_stuck stuck; /* in all readings alike */
    struct hbk_fit_report report;
};

#endif
