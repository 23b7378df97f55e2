#include "fit/slips.h"

#include "fit/goodness.h"
#include "fit/scatter.h"

#include <math.h>

/* Readings come back when the fit without them explains them so well. */
static const double back_within = 3.0;

/* So often readings may come back. */
enum { SCATTER_TURNS = 4 };

/*
 * The reading that fits the others worst; names are none, they count for less
 * the further they are off; n when all fit.
 */
static size_t worst(const struct hbk_fitter *f)
{
    size_t at = f->bound.n;
    double most = HBK_FIT_SLIP;
    for (size_t i = 0; i < f->bound.n; i++) {
        const double off =
            fabs(hbk_fitter_alone(f, i)) / hbk_fitter_alone_sd(f, i);
        if (f->is_used[i] && !hbk_fitter_is_name(f, i) && off > most) {
            most = off;
            at = i;
        }
    }
    return at;
}

/* Readings set aside that the others explain after all; how many came. */
static size_t take_back(struct hbk_fitter *f)
{
    size_t n = 0;
    for (size_t i = 0; i < f->bound.n; i++) {
        if (!f->is_used[i] && f->bound.items[i].state == HBK_BOUND &&
            fabs(hbk_fitter_alone(f, i)) <
                back_within * hbk_fitter_alone_sd(f, i)) {
            f->is_used[i] = true;
            n++;
        }
    }
    return n;
}

enum hbk_status hbk_fitter_leave_out_slips(struct hbk_fitter *f)
{
    const size_t most = f->bound.n / 3;
    size_t set_aside = 0;
    bool has_taken_back = false;
    HBK_TRY(hbk_squares_solve(&f->squares));
    for (;;) {
        const size_t at = worst(f);
        if (at < f->bound.n && set_aside < most) {
            f->is_used[at] = false;
            set_aside++;
        } else if (has_taken_back || take_back(f) == 0) {
            f->is_doubtful = at < f->bound.n;
            return HBK_OK;
        } else {
            has_taken_back = true;
        }
        HBK_TRY(hbk_squares_solve(&f->squares));
    }
}

double hbk_fitter_misfit(const struct hbk_fitter *f, double *freedom)
{
    double sum = 0.0;
    *freedom = 0.0;
    for (size_t i = 0; i < f->bound.n; i++) {
        if (f->is_used[i] && !hbk_fitter_is_name(f, i)) {
            const double rest = f->heard[i] - f->squares.predicted[i];
            sum += rest * rest / (f->sd[i] * f->sd[i]);
            *freedom += 1.0 - f->squares.leverage[i];
        }
    }
    return sum;
}

/* See HBK_FIT_SCATTER_CHANCE. */
static bool is_scattered(const struct hbk_fitter *f)
{
    double freedom = 0.0;
    const double sum = hbk_fitter_misfit(f, &freedom);
    return freedom >= 1.0 && hbk_chi_square_tail(sum, (size_t)lround(freedom)) <
                                 HBK_FIT_SCATTER_CHANCE;
}

enum hbk_status hbk_fitter_follow_scatter(struct hbk_fitter *f)
{
    f->fit->report.scatter = 1.0;
    f->fit->report.is_scattered = is_scattered(f);
    if (!hbk_fitter_has_readings(f)) {
        return HBK_OK;
    }
    for (int i = 0; i < SCATTER_TURNS; i++) {
        const double was = f->fit->report.scatter;
        const double by = hbk_fit_scatter(&f->squares, was) / was;
        f->fit->report.scatter *= by;
        for (size_t k = 0; k < f->bound.n; k++) {
            f->sd[k] *= hbk_fitter_is_name(f, k) ? 1.0 : by;
        }
        HBK_TRY(hbk_squares_solve(&f->squares));
        if (take_back(f) == 0) {
            return HBK_OK;
        }
        HBK_TRY(hbk_squares_solve(&f->squares));
    }
    return HBK_OK;
}
