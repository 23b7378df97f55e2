#include "fit/named.h"

#include "base/messages.h"
#include "fit/names.h"
#include "fit/unknowns.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>

/* The least sum with all notes of shut keys moved. */
static enum hbk_status sum_moved(const struct hbk_horn *horn,
                                 const struct hbk_readings *taken,
                                 int semitones, double *sum)
{
    struct hbk_arena scratch = {0};
    struct hbk_faults unsaid = {0};
    struct hbk_fit fit;
    const struct hbk_readings moved =
        hbk_names_moved(horn, taken, semitones, &scratch);
    const enum hbk_status status =
        hbk_fit_horn(horn, &moved, &scratch, &fit, &unsaid);
    *sum = fit.sum;
    hbk_arena_finish(&scratch);
    /* That most of them fit no note is what is asked. */
    return status == HBK_ERR_INPUT ? HBK_OK : status;
}

/* Why the names are not followed; in the rest of a sentence. */
static const char *doubt_of(const struct hbk_fit_names *names, bool is_fitted,
                            struct hbk_arena *arena)
{
    const bool is_lower = names->sum_lower < names->sum_higher;
    const double wrong = fmin(names->sum_lower, names->sum_higher);
    if (!is_fitted) {
        return "more than a third of the notes that its keys are called belong "
               "to no note of this horn";
    }
    if (names->sum + HBK_NAMES_MARGIN <= wrong) {
        return NULL;
    }
    return hbk_arena_printf(
        arena,
        "the names of its keys fit this horn no better than the same a "
        "semitone %s (sum of squares %.0f against %.0f)",
        is_lower ? "lower" : "higher", names->sum, wrong);
}

/* Whether nothing was fitted because most of it fits nothing. */
static bool is_doubtful(const struct hbk_faults *told)
{
    bool found = false;
    for (size_t i = 0; i < told->count; i++) {
        const unsigned number = told->items[i].number;
        found =
            found || number == HBK_H_MANY_SLIPS || number == HBK_H_NO_READING;
    }
    return found;
}

/* The names, held against wrong ones; `doubt` is NULL where there is none. */
static enum hbk_status judge(const struct hbk_horn *horn,
                             const struct hbk_readings *taken,
                             struct hbk_arena *arena,
                             struct hbk_fit_names *names, const char **doubt,
                             struct hbk_faults *faults)
{
    struct hbk_faults told = {0};
    struct hbk_fit fit;
    const enum hbk_status status =
        hbk_fit_horn(horn, taken, arena, &fit, &told);
    if (status != HBK_OK && !is_doubtful(&told)) {
        hbk_faults_hand_on(&told, faults);
        return status;
    }
    *names = (struct hbk_fit_names){.sum = fit.sum};
    HBK_TRY(sum_moved(horn, taken, 1, &names->sum_higher));
    HBK_TRY(sum_moved(horn, taken, -1, &names->sum_lower));
    *doubt = doubt_of(names, status == HBK_OK, arena);
    return HBK_OK;
}

/* How far the names lie from what all the others say; cents, rms. */
static double scatter_of(const struct hbk_fit_report *report)
{
    double sum = 0.0;
    for (size_t i = 0; i < report->n; i++) {
        const struct hbk_fit_reading *const item = &report->items[i];
        if (item->reading->is_name && item->state == HBK_FIT_USED) {
            sum += item->alone_cents * item->alone_cents;
        }
    }
    return sqrt(sum / fmax((double)report->names.n_used, 1.0));
}

enum hbk_status hbk_fit_taken(const struct hbk_horn *horn,
                              const struct hbk_readings *taken,
                              struct hbk_arena *arena, struct hbk_fit *fit,
                              struct hbk_faults *faults)
{
    struct hbk_faults unsaid = {0};
    struct hbk_readings *const again =
        HBK_ARENA_ARRAY(arena, struct hbk_readings, 1);
    if (hbk_fit_horn(horn, taken, arena, fit, &unsaid) != HBK_OK) {
        return hbk_fit_horn(horn, taken, arena, fit, faults);
    }
    const double cents = fmax(scatter_of(&fit->report), HBK_NAMES_CENTS);
    struct hbk_reading *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_reading, taken->n + 1);
    for (size_t i = 0; i < taken->n; i++) {
        items[i] = taken->readings[i];
        items[i].uncertainty_cents =
            items[i].is_name ? cents : items[i].uncertainty_cents;
    }
    *again = *taken;
    again->readings = items;
    return hbk_fit_horn(horn, again, arena, fit, faults);
}

enum hbk_status hbk_fit_named(const struct hbk_horn *horn,
                              const struct hbk_readings *read,
                              struct hbk_arena *arena, struct hbk_fit *fit,
                              struct hbk_faults *faults)
{
    struct hbk_readings *const taken =
        HBK_ARENA_ARRAY(arena, struct hbk_readings, 1);
    struct hbk_fit_names sums;
    const char *doubt = NULL;
    HBK_TRY(hbk_names_take(horn, read, arena, taken, faults));
    HBK_TRY(judge(horn, taken, arena, &sums, &doubt, faults));
    if (doubt == NULL) {
        HBK_TRY(hbk_fit_taken(horn, taken, arena, fit, faults));
        fit->report.names.sum = sums.sum;
        fit->report.names.sum_higher = sums.sum_higher;
        fit->report.names.sum_lower = sums.sum_lower;
        return HBK_OK;
    }
    const struct hbk_place file = hbk_whole_file(horn->path);
    if (read == NULL) {
        hbk_fault_add(faults, file, HBK_H_KEY_NAMES_DOUBTFUL,
                      "%s; it is left as it is", doubt);
        return HBK_ERR_NO_RESULT;
    }
    hbk_fault_warn(faults, file, HBK_H_KEY_NAMES_DOUBTFUL,
                   "%s; only the readings are followed", doubt);
    return hbk_fit_horn(horn, read, arena, fit, faults);
}

double hbk_named_a4_hz(const struct hbk_fit *fit)
{
    const struct hbk_fit_report *const report = &fit->report;
    double cents = hbk_unknowns_pitch(&fit->parameters, fit->d);
    for (size_t i = 0; i < report->n; i++) {
        const struct hbk_fit_reading *const item = &report->items[i];
        if (item->reading->is_name && item->state == HBK_FIT_USED &&
            item->written == report->horn->tuning_note) {
            cents += item->after_cents;
        }
    }
    return report->horn->a4_hz * hbk_cents_ratio(cents);
}
