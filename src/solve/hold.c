#include "solve/hold.h"

#include "horn/horn.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "solve/ranking.h"
#include "solve/trigger.h"

#include <math.h>

/* Two draws nearer than this do not tell how the others sound. */
static const double least_apart_m = 0.001;

double hbk_hold_price(const struct hbk_horn *horn,
                      const struct hbk_fingering *fingering, double aim_cents,
                      bool is_just)
{
    const double off = round(fingering->cents - aim_cents);
    return (off * off) +
           (horn->partials.avoid[fingering->partial] ? HBK_PRICE_AVOIDED_PARTIAL
                                                     : 0.0) +
           (is_just ? 0.0 : fingering->untaught);
}

/*
 * The same tube with the trigger drawn otherwise, as found for any note; NULL
 * when it serves none.
 */
static const struct hbk_fingering *
drawn_otherwise(const struct hbk_notes *notes, const struct hbk_fingering *f)
{
    const uint32_t home = f->press & ~hbk_triggers(notes->horn);
    const struct hbk_fingering *farthest = NULL;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        for (size_t k = 0; k < note->n; k++) {
            const struct hbk_fingering *const other = &note->fingerings[k];
            if (other->partial == f->partial &&
                (other->press == f->press || other->press == home) &&
                (farthest == NULL ||
                 fabs(other->drawn_m - f->drawn_m) >
                     fabs(farthest->drawn_m - f->drawn_m))) {
                farthest = other;
            }
        }
    }
    return farthest;
}

/*
 * Draws the trigger as far as the aim needs. The wave length grows evenly
 * with the draw, so that two draws tell every other; where only one is known
 * the trigger stays.
 */
static void draw(const struct hbk_notes *notes, const struct hbk_note *note,
                 double aim_cents, struct hbk_fingering *f)
{
    if (!(f->drawn_m > 0.0)) {
        return;
    }
    const struct hbk_fingering *const other = drawn_otherwise(notes, f);
    const double apart = other->drawn_m - f->drawn_m;
    if (fabs(apart) < least_apart_m) {
        return;
    }
    const double want = note->target_hz * hbk_cents_ratio(aim_cents);
    const double slope = ((1.0 / other->hz) - (1.0 / f->hz)) / apart;
    const double drawn =
        fmin(fmax(f->drawn_m + (((1.0 / want) - (1.0 / f->hz)) / slope), 0.0),
             hbk_trigger_throw_m(notes->horn,
                                 f->press | notes->setting.stuck.held_down));
    f->hz = 1.0 / ((1.0 / f->hz) + (slope * (drawn - f->drawn_m)));
    f->cents = hbk_cents(f->hz, note->target_hz);
    f->drawn_m = drawn;
}

struct hbk_note hbk_hold(const struct hbk_notes *notes,
                         const struct hbk_note *note, double aim_cents,
                         bool is_just, struct hbk_arena *arena)
{
    struct hbk_fingering *const held =
        HBK_ARENA_ARRAY(arena, struct hbk_fingering, note->n);
    for (size_t i = 0; i < note->n; i++) {
        struct hbk_fingering f = note->fingerings[i];
        draw(notes, note, aim_cents, &f);
        const double price =
            hbk_hold_price(notes->horn, &f, aim_cents, is_just);
        size_t k = i;
        for (; k > 0 && hbk_hold_price(notes->horn, &held[k - 1], aim_cents,
                                       is_just) > price;
             k--) {
            held[k] = held[k - 1];
        }
        held[k] = f;
    }
    hbk_uses_make(notes, note->written, aim_cents, note->n, held);
    struct hbk_note found = *note;
    found.fingerings = held;
    return found;
}
