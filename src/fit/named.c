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

/* The names, held against wrong ones. */
static enum hbk_status judge(const struct hbk_horn *horn,
                             const struct hbk_readings *taken,
                             struct hbk_arena *arena, struct hbk_fit *fit,
                             const char **doubt, struct hbk_faults *faults)
{
    struct hbk_faults *const told =
        HBK_ARENA_ARRAY(arena, struct hbk_faults, 1);
    const enum hbk_status status = hbk_fit_horn(horn, taken, arena, fit, told);
    struct hbk_fit_names *const names = &fit->report.names;
    if (status != HBK_OK && !is_doubtful(told)) {
        hbk_faults_hand_on(told, faults);
        return status;
    }
    names->sum = fit->sum;
    HBK_TRY(sum_moved(horn, taken, 1, &names->sum_higher));
    HBK_TRY(sum_moved(horn, taken, -1, &names->sum_lower));
    *doubt = doubt_of(names, status == HBK_OK, arena);
    if (*doubt == NULL) {
        hbk_faults_hand_on(told, faults);
    }
    return HBK_OK;
}

enum hbk_status hbk_fit_named(const struct hbk_horn *horn,
                              const struct hbk_readings *read,
                              struct hbk_arena *arena, struct hbk_fit *fit,
                              struct hbk_faults *faults)
{
    struct hbk_readings *const taken =
        HBK_ARENA_ARRAY(arena, struct hbk_readings, 1);
    const char *doubt = NULL;
    HBK_TRY(hbk_names_take(horn, read, arena, taken, faults));
    HBK_TRY(judge(horn, taken, arena, fit, &doubt, faults));
    if (doubt == NULL) {
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
