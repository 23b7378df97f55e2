#ifndef HBK_FIT_SCATTER_H
#define HBK_FIT_SCATTER_H

#include "fit/squares.h"

/*
 * How many times as far as they state readings scatter.
 *
 * Each reading is taken to be off by t times its sd, with t the same for all
 * and unknown. Before anything is read ln t is 0 with a standard deviation of
 * HBK_FIT_SCATTER_PRIOR: what is stated is believed, but not blindly. What the
 * readings say of t is their density, normal with the covariance t^2 S + J P J'
 * of readings and of all that is uncertain of the horn, linear about the fit.
 *
 * Source: the evidence of a linear model, any textbook of Bayesian statistics
 * (from memory).
 */
#define HBK_FIT_SCATTER_PRIOR 1.0

/*
 * The root of the mean of t^2, given the used readings of a fit whose sd is
 * `taken` times what they state; > 0. Names of keys are no readings. There must
 * be a used one: of none it is what the prior says.
 */
double hbk_fit_scatter(const struct hbk_squares *fit, double taken);

#endif
