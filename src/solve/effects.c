#include "solve/effects.h"

#include "acoustics/air.h"
#include "horn/horn.h"
#include "horn/tube.h"
#include "music/pitch.h"
#include "solve/rest.h"

#include <math.h>

/* The fingering of a press on a partial, anywhere on the horn, or NULL. */
static const struct hbk_fingering *find(const struct hbk_notes *notes,
                                        uint32_t press, unsigned partial)
{
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *note = &notes->notes[i];
        for (size_t k = 0; k < note->n; k++) {
            const struct hbk_fingering *f = &note->fingerings[k];
            if (f->press == press && f->partial == partial &&
                f->drawn_m == 0.0) {
                return f;
            }
        }
    }
    return NULL;
}

/* Tube that `press` adds to the horn at rest, as a share of its length. */
static double share_added(const struct hbk_horn *horn, uint32_t press,
                          double open_m)
{
    double sum = 0.0;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *site = &horn->sites[i];
        const bool in = hbk_site_state(site, press);
        if (site->kind == HBK_LOOP && !site->loop.is_drawn &&
            in != site->at_rest) {
            sum += (in ? 1.0 : -1.0) * hbk_loop_length(site, open_m) / open_m;
        }
    }
    return sum;
}

/*
 * Half the wave of the horn at rest, m, from what sounds with the stuck
 * controls as they are: their tubing is taken off again. The speed of sound
 * matters only to loops in metres.
 */
static double open_length(const struct hbk_notes *notes)
{
    const double speed = hbk_speed_of_sound(notes->setting.temperature_c);
    double sum = 0.0;
    int found = 0;
    for (unsigned p = 2; p <= HBK_PARTIALS_MAX; p++) {
        const struct hbk_fingering *rest = find(notes, 0, p);
        if (rest != NULL) {
            sum += 0.5 * speed * p / rest->hz;
            found++;
        }
    }
    double open_m = sum / found;
    const double stuck_m = open_m;
    /* Shares and metres mixed: a few rounds settle it. */
    for (int round = 0; found > 0 && round < 8; round++) {
        open_m = stuck_m /
                 (1.0 + share_added(notes->horn, notes->setting.stuck.held_down,
                                    open_m));
    }
    return found == 0 ? (double)NAN : open_m;
}

/* Cents by which the file says the control alone moves the horn, or NAN. */
static double effect_on_file(const struct hbk_notes *notes, size_t control)
{
    const struct hbk_horn *horn = notes->horn;
    const uint32_t press = UINT32_C(1) << control;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *site = &horn->sites[i];
        if (site->kind == HBK_HOLE && site->n_terms == 1 &&
            site->terms[0] == press) {
            return horn->controls[control].stands_open
                       ? (double)NAN
                       : HBK_SEMITONE_CENTS * site->hole.raises;
        }
    }
    const double added = share_added(horn, press, notes->open_m);
    return added == 0.0 ? (double)NAN : -hbk_cents(1.0 + added, 1.0);
}

static double effect_of(const struct hbk_notes *notes, size_t control)
{
    const uint32_t press = UINT32_C(1) << control;
    const struct hbk_stuck *const stuck = &notes->setting.stuck;
    /* What is stuck at rest leaves the others what they are. */
    if (stuck->held_down != 0 || (stuck->held_up & press) != 0) {
        return effect_on_file(notes, control);
    }
    double sum = 0.0;
    int found = 0;
    for (unsigned p = 1; p <= HBK_PARTIALS_MAX; p++) {
        const struct hbk_fingering *rest = find(notes, 0, p);
        const struct hbk_fingering *moved = find(notes, press, p);
        if (rest != NULL && moved != NULL) {
            sum += hbk_cents(moved->hz, rest->hz);
            found++;
        }
    }
    return found == 0 ? (double)NAN : sum / found;
}

void hbk_effects_make(struct hbk_notes *notes, struct hbk_arena *arena)
{
    const size_t n = notes->horn->n_controls;
    double *const effects = HBK_ARENA_ARRAY(arena, double, n + 1);
    notes->rest_m = hbk_axis_at_rest(notes->horn);
    notes->open_m = open_length(notes);
    for (size_t i = 0; i < n; i++) {
        effects[i] = effect_of(notes, i);
    }
    notes->effect_cents = effects;
}
