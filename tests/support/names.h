#ifndef HBK_TESTS_NAMES_H
#define HBK_TESTS_NAMES_H

#include "support/solved.h"

#include "fit/named.h"
#include "fit/names.h"
#include "solve/column.h"
#include "solve/setup.h"

#include <stdlib.h>

/*
 * Measured horns whose keys have names that a museum recorded; the first as its
 * file was before it was fitted to them. The names are facts from outside; what
 * the files assume was chosen with them in view, as far as
 * instruments/SOURCES.md says.
 */
static const char *const named_horns[] = {
    "tests/data/unfitted/keyed-bugle-c-6-munich.yaml",
    "ophicleide-b-flat-11-museum",
    "ophicleide-c-11-museum",
    "ophicleide-c-9-museum",
    "keyed-trumpet-f-museum",
};
/* So many of them, the first, are shipped as they were fitted. */
enum { NAMED_FITTED = 1 };
enum { NAMED_HORNS = sizeof(named_horns) / sizeof(named_horns[0]) };

enum { NAMES_MOST = 64 };

struct named {
    struct solved s;
    struct hbk_readings taken; /* the names of its keys, nothing else */
};

static inline void named_open(struct named *n, const char *horn)
{
    solved_read(&n->s, horn);
    assert_int_equal(
        hbk_names_take(&n->s.horn, NULL, &n->s.arena, &n->taken, &n->s.faults),
        HBK_OK);
    assert_true(n->taken.n <= NAMES_MOST);
}

static inline void named_close(struct named *n)
{
    solved_close(&n->s);
}

/* What the names sound on a horn that is tuned, cents; NAN for mute. */
static inline void named_sound(struct named *n, const struct hbk_horn *horn,
                               double cents[])
{
    struct hbk_setup setup;
    const struct hbk_setting setting = hbk_setting_of(horn);
    uint32_t presses[NAMES_MOST];
    struct hbk_peak *const rows = HBK_ARENA_ARRAY(&n->s.arena, struct hbk_peak,
                                                  NAMES_MOST * HBK_PEAK_STRIDE);
    assert_int_equal(
        hbk_set_up(horn, &setting, &n->s.arena, &setup, &n->s.faults), HBK_OK);
    for (size_t i = 0; i < n->taken.n; i++) {
        assert_true(hbk_horn_press_parse(horn, n->taken.readings[i].fingering,
                                         &presses[i]));
    }
    assert_int_equal(hbk_column_peaks(horn, &setup.rig, n->taken.n, presses,
                                      rows, &n->s.faults),
                     HBK_OK);
    for (size_t i = 0; i < n->taken.n; i++) {
        const struct hbk_reading *const name = &n->taken.readings[i];
        const double hz = rows[(i * HBK_PEAK_STRIDE) + name->partial].hz;
        const double note_hz =
            hbk_note_hz(name->note + horn->written_c4_sounds - HBK_NOTE_C4,
                        setup.tuned.pitch_hz);
        cents[i] = hz > 0.0 ? hbk_cents(hz, note_hz) : (double)NAN;
    }
}

/* The horn that a fit to names found, at its pitch. */
static inline struct hbk_horn named_fitted(struct named *n,
                                           const struct hbk_fit *fit)
{
    struct hbk_horn horn;
    assert_true(
        hbk_parameters_apply(&fit->parameters, fit->d, &n->s.arena, &horn));
    horn.a4_hz = hbk_named_a4_hz(fit);
    return horn;
}

/*
 * Of how many names i = from, from + 2 ... the fingering leads its note when
 * leaving what is taught is charged nothing.
 */
static inline size_t named_leading(struct named *n, const struct hbk_horn *horn,
                                   size_t from)
{
    struct hbk_notes notes;
    const struct hbk_setting setting = hbk_setting_of(horn);
    size_t leading = 0;
    assert_int_equal(
        hbk_solve(horn, &setting, &n->s.arena, &notes, &n->s.faults), HBK_OK);
    for (size_t i = from; i < n->taken.n; i += 2) {
        const struct hbk_reading *const name = &n->taken.readings[i];
        const struct hbk_note *const note = hbk_notes_find(&notes, name->note);
        const struct hbk_fingering *best = NULL;
        for (size_t k = 0; note != NULL && k < note->n; k++) {
            const struct hbk_fingering *const f = &note->fingerings[k];
            if (best == NULL ||
                f->cost - f->untaught < best->cost - best->untaught) {
                best = f;
            }
        }
        uint32_t press = 0;
        assert_true(hbk_horn_press_parse(horn, name->fingering, &press));
        leading += best != NULL && best->press == press &&
                           best->partial == name->partial
                       ? 1
                       : 0;
    }
    return leading;
}

/* Errors of the names that were not followed, before and after. */
struct held_out {
    size_t n, nearer, further; /* by a cent and more */
    size_t leading_before, leading_after;
    double before[NAMES_MOST], after[NAMES_MOST];
};

static inline void held_out_half(struct named *n, size_t odd,
                                 struct held_out *out)
{
    struct hbk_reading items[NAMES_MOST];
    struct hbk_readings half = n->taken;
    struct hbk_fit fit;
    double before[NAMES_MOST];
    double after[NAMES_MOST];
    half.n = 0;
    half.readings = items;
    for (size_t i = odd; i < n->taken.n; i += 2) {
        items[half.n++] = n->taken.readings[i];
    }
    assert_int_equal(
        hbk_fit_taken(&n->s.horn, &half, &n->s.arena, &fit, &n->s.faults),
        HBK_OK);
    const struct hbk_horn fitted = named_fitted(n, &fit);
    named_sound(n, &n->s.horn, before);
    named_sound(n, &fitted, after);
    out->leading_before += named_leading(n, &n->s.horn, 1 - odd);
    out->leading_after += named_leading(n, &fitted, 1 - odd);
    for (size_t i = 1 - odd; i < n->taken.n; i += 2) {
        if (isfinite(before[i]) && isfinite(after[i])) {
            out->before[out->n] = fabs(before[i]);
            out->after[out->n] = fabs(after[i]);
            out->nearer += out->after[out->n] < out->before[out->n] - 1.0;
            out->further += out->after[out->n] > out->before[out->n] + 1.0;
            out->n++;
        }
    }
}

/* Fitted to every other name and judged by the rest, both ways round. */
static inline struct held_out held_out_of(struct named *n)
{
    struct held_out out = {0};
    held_out_half(n, 0, &out);
    held_out_half(n, 1, &out);
    return out;
}

static inline int names_by_size(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

static inline double names_median(size_t n, const double values[])
{
    double sorted[NAMES_MOST];
    memcpy(sorted, values, n * sizeof(*sorted));
    qsort(sorted, n, sizeof(*sorted), names_by_size);
    return 0.5 * (sorted[(n - 1) / 2] + sorted[n / 2]);
}

static inline double names_mean(size_t n, const double values[])
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += values[i] / (double)n;
    }
    return sum;
}

#endif
