/*
 * Figures, not checks: what the recorded names of keys tell of the shape of
 * every measured horn that has them. Fitted to every other name, judged by the
 * rest; and to all, to all with every key that is shut at rest a semitone
 * higher, and lower. Then names beside the readings of a tuner.
 */
#include "support/named_read.h"
#include "support/names.h"

enum { READ_HORNS = 40 };

static void tell(const char *path)
{
    static struct named n;
    struct hbk_fit fit;
    double before[NAMES_MOST];
    double after[NAMES_MOST];
    named_open(&n, path);
    const enum hbk_status status =
        hbk_fit_named(&n.s.horn, NULL, &n.s.arena, &fit, &n.s.faults);
    const struct hbk_fit_names *const names = &fit.report.names;
    printf("%s, %zu names: sum %.1f, a semitone higher %.1f, lower %.1f%s\n",
           n.s.horn.id, n.taken.n, names->sum, names->sum_higher,
           names->sum_lower, status == HBK_OK ? "" : ": not followed");
    const struct hbk_horn fitted = named_fitted(&n, &fit);
    named_sound(&n, &n.s.horn, before);
    named_sound(&n, &fitted, after);
    for (size_t i = 0; i < n.taken.n; i++) {
        before[i] = fabs(before[i]);
        after[i] = fabs(after[i]);
    }
    printf("  all followed: median %.1f -> %.1f, mean %.1f -> %.1f\n",
           names_median(n.taken.n, before), names_median(n.taken.n, after),
           names_mean(n.taken.n, before), names_mean(n.taken.n, after));
    const struct held_out out = held_out_of(&n);
    printf("  held out: median %.1f -> %.1f, mean %.1f -> %.1f, nearer %zu, "
           "further %zu of %zu; leading %zu -> %zu\n",
           names_median(out.n, out.before), names_median(out.n, out.after),
           names_mean(out.n, out.before), names_mean(out.n, out.after),
           out.nearer, out.further, out.n, out.leading_before,
           out.leading_after);
    for (size_t p = 0; p < fit.report.n_values; p++) {
        const struct hbk_fit_value *const value = &fit.report.values[p];
        printf("  %s %.*f -> %.*f %s (%+.1f)\n", value->what, value->decimals,
               value->before, value->decimals, value->after, value->unit,
               value->moved);
    }
    named_close(&n);
}

static void tell_read(struct named_read_truth truth, bool has_names)
{
    const struct named_read found =
        named_read_run(7000, READ_HORNS, truth, has_names);
    printf("%d of %s, bore off by waves of %.0f %%, readings%s: notes not read "
           "off by %.1f cents, stated %.1f, held %.0f %%\n",
           READ_HORNS, truth.around, 100.0 * truth.wave,
           has_names ? " and names" : " alone", found.off, found.stated,
           100.0 * (double)found.n_within / (double)found.n);
}

int main(void)
{
    static const struct named_read_truth truths[] = {
        {"tests/data/unfitted/keyed-bugle-c-6-munich.yaml", 0.0},
        {"tests/data/unfitted/keyed-bugle-c-6-munich.yaml", 0.03},
        {"tests/data/unfitted/keyed-bugle-c-6-munich.yaml", 0.06},
        {"keyed-bugle-c-6-munich", 0.03}};
    for (size_t i = 0; i < NAMED_HORNS; i++) {
        tell(named_horns[i]);
    }
    for (size_t i = 0; i < sizeof(truths) / sizeof(truths[0]); i++) {
        tell_read(truths[i], false);
        tell_read(truths[i], true);
    }
    return 0;
}
