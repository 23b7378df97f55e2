#include "fit/fitter.h"

#include "horn/horn.h"

#include <math.h>

double hbk_fitter_model_cents(const struct hbk_horn *horn)
{
    return horn->model == HBK_MODEL_BORE ? HBK_FIT_MODEL_BORE_CENTS
                                         : HBK_FIT_MODEL_LENGTH_CENTS;
}

bool hbk_fitter_has_readings(const struct hbk_fitter *f)
{
    bool has = false;
    for (size_t i = 0; i < f->bound.n; i++) {
        has = has || (f->is_used[i] && !hbk_fitter_is_name(f, i));
    }
    return has;
}

double hbk_fitter_alone(const struct hbk_fitter *f, size_t i)
{
    const double rest = f->heard[i] - f->squares.predicted[i];
    return f->is_used[i] ? rest / (1.0 - f->squares.leverage[i]) : rest;
}

double hbk_fitter_alone_sd(const struct hbk_fitter *f, size_t i)
{
    const size_t k = f->fit->parameters.n;
    if (f->is_used[i]) {
        return f->sd[i] / sqrt(1.0 - f->squares.leverage[i]);
    }
    const double variance =
        hbk_squares_variance(k, &f->squares.slopes[i * k], f->squares.cov);
    return sqrt((f->sd[i] * f->sd[i]) + variance);
}

bool hbk_fitter_is_name(const struct hbk_fitter *f, size_t i)
{
    return f->bound.items[i].reading->is_name;
}
