#ifndef HBK_TESTS_PULLED_H
#define HBK_TESTS_PULLED_H

#include "support/fitting.h"

#include "fit/parameter_value.h"

/*
 * A shipped horn read just as its file has it, but with one loop or hole
 * off by so much: by a slide that was pulled, or a pad that opens less.
 */
enum { PULLED_READ = 20, PULLED_EACH = 4 };

static inline bool pulled_is_asked(const struct fitting *f,
                                   const struct hbk_fingering *fingering)
{
    for (size_t i = 0; i < f->n_asked; i++) {
        if (f->asked[i].press == fingering->press &&
            f->asked[i].partial == fingering->partial) {
            return true;
        }
    }
    return false;
}

static inline void pulled_ask(struct fitting *f, const struct hbk_note *note,
                              const struct hbk_fingering *fingering)
{
    char label[HBK_LABEL_SIZE];
    const struct hbk_horn *const horn = &f->base.horn;
    if (f->n_asked >= FITTING_MOST || pulled_is_asked(f, fingering)) {
        return;
    }
    hbk_horn_press_label(horn, fingering->press, label);
    f->label[f->n_asked] = hbk_arena_printf(&f->base.arena, "%s", label);
    f->asked[f->n_asked] = (struct hbk_sounding){
        .press = fingering->press,
        .partial = fingering->partial,
        .reference_hz =
            hbk_note_hz(note->written + horn->written_c4_sounds - HBK_NOTE_C4,
                        horn->a4_hz)};
    f->items[f->n_asked].note = note->written;
    f->n_asked++;
}

/* Whether that fingering has the loop in, or the hole not at rest. */
static inline bool pulled_moves(const struct fitting *f, size_t site,
                                uint32_t press)
{
    const struct hbk_site *const at = &f->base.horn.sites[site];
    return hbk_site_state(at, press) != at->at_rest;
}

/*
 * Some twenty notes over the compass on their first fingerings, all that are
 * open, and of each loop or key PULLED_EACH at least where there are so many.
 */
static inline void pulled_ask_all(struct fitting *f)
{
    const struct hbk_notes *const notes = &f->base.notes;
    const struct hbk_horn *const horn = &f->base.horn;
    const size_t step = 1 + (notes->n / PULLED_READ);
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        if (note->n > 0 && (i % step == 0 || note->fingerings[0].press == 0)) {
            pulled_ask(f, note, &note->fingerings[0]);
        }
    }
    for (size_t k = 0; k < horn->n_sites; k++) {
        size_t has = 0;
        for (size_t i = 0; i < f->n_asked; i++) {
            has += pulled_moves(f, k, f->asked[i].press) ? 1 : 0;
        }
        for (size_t at = 0; at < 6; at++) {
            for (size_t i = 0; i < notes->n && has < PULLED_EACH; i++) {
                const size_t before = f->n_asked;
                if (at < notes->notes[i].n &&
                    pulled_moves(f, k, notes->notes[i].fingerings[at].press)) {
                    pulled_ask(f, &notes->notes[i],
                               &notes->notes[i].fingerings[at]);
                }
                has += f->n_asked - before;
            }
        }
    }
    fitting_set_up(f);
}

/*
 * Value p so much more that the note it moves most is off by `cents`: flat for
 * a loop that is put in, and for one that is in at rest all others, flat.
 */
static inline void pulled_build(struct fitting *f, size_t p, double cents)
{
    const struct hbk_site *const site =
        &f->base.horn.sites[f->parameters.items[p].index];
    const bool is_in = site->kind == HBK_LOOP && site->at_rest;
    const double want = is_in ? cents : -cents;
    double none[HBK_PARAMETERS_MAX] = {0};
    double d[HBK_PARAMETERS_MAX] = {0};
    double as_is[2 * FITTING_MOST];
    fitting_follow(f, none, as_is);
    d[p] = 0.1 * f->parameters.items[p].sd;
    for (int turn = 0; turn < 4; turn++) {
        double most = 0.0;
        fitting_follow(f, d, f->true_cents);
        for (size_t i = 0; i < f->n_asked; i++) {
            const double off = f->true_cents[i] - as_is[i];
            most = fabs(off) > fabs(most) ? off : most;
        }
        assert_true(most != 0.0);
        /* Cents go as the loop does, and not as its logarithm. */
        d[p] = f->parameters.items[p].kind == HBK_FIT_LOOP
                   ? log1p(expm1(d[p]) * want / most)
                   : d[p] * want / most;
    }
    fitting_follow(f, d, f->true_cents);
    for (size_t i = 0; i < f->n_asked && is_in; i++) {
        f->true_cents[i] -= cents;
    }
}

#endif
