#include "solve/doubts_controls.h"

#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"
#include "horn/horn.h"
#include "horn/tube.h"
#include "music/pitch.h"
#include "solve/rest.h"

#include <math.h>
#include <string.h>

/* Slips in keys and valves. */

/* Less than a valve of any use does; the least difference between two. */
static const double idle_cents = 40.0;
static const double alike_cents = 10.0;
/* More than a valve lowers by, and the share of the tube that takes. */
static const double most_cents = 900.0;
static const double most_share = 50.0;
static const double alike_semitones = 0.1;

/* The uppermost key of an ophicleide raises by an octave. */
static const double most_semitones = 14.0;

/* What tells where the hole of a key is: higher is nearer to the player. */
static double key_place(const struct hbk_horn *horn, size_t key, bool by_raise)
{
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_HOLE && site->terms[0] == UINT32_C(1) << key) {
            return by_raise ? site->hole.raises : site->hole.from_bell_m;
        }
    }
    return NAN;
}

/* Pairs of keys whose numbers and places run the same or opposite ways. */
static void count_pairs(const struct hbk_horn *horn, bool by_raise,
                        size_t *alike, size_t *opposite)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        for (size_t k = 0; k < i; k++) {
            long a = 0;
            long b = 0;
            const double step =
                key_place(horn, i, by_raise) - key_place(horn, k, by_raise);
            if (horn->controls[i].kind != HBK_KEY ||
                horn->controls[k].kind != HBK_KEY || isnan(step) ||
                step == 0.0 ||
                !hbk_number_parse_whole(horn->controls[i].name, 1, 99, &a) ||
                !hbk_number_parse_whole(horn->controls[k].name, 1, 99, &b)) {
                continue;
            }
            if ((a > b) == (step > 0.0)) {
                ++*alike;
            } else {
                ++*opposite;
            }
        }
    }
}

static void doubt_key_numbers(const struct hbk_horn *horn,
                              struct hbk_faults *faults)
{
    enum { FEW = 3, TIMES = 4 };
    size_t alike = 0;
    size_t opposite = 0;
    count_pairs(horn, true, &alike, &opposite);
    const bool by_raise = alike + opposite > 0;
    if (!by_raise) {
        count_pairs(horn, false, &alike, &opposite);
    }
    if (opposite >= FEW && opposite > TIMES * alike) {
        hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_KEYS_BACKWARDS,
                       "keys: their numbers and %s run opposite ways; keys "
                       "are numbered from the bell, and the first raises least",
                       by_raise ? "what they raise by"
                                : "the distances of their holes from the bell");
    }
}

/*
 * Keys that raise alike. A second one for the same note is common; three are
 * not, and with no open key the first of two may be that.
 */
static void doubt_alike_keys(const struct hbk_horn *horn,
                             struct hbk_faults *faults)
{
    enum { MANY = 3 };
    bool any_open = false;
    for (size_t i = 0; i < horn->n_controls; i++) {
        any_open = any_open || horn->controls[i].stands_open;
    }
    for (size_t i = 0; i < horn->n_controls; i++) {
        const double raises = key_place(horn, i, true);
        size_t n = 0; /* keys that raise so */
        size_t other = i;
        for (size_t k = i; k < horn->n_controls; k++) {
            if (fabs(key_place(horn, k, true) - raises) < alike_semitones) {
                n++;
                other = k > i && other == i ? k : other;
            }
        }
        const char *const plural = raises == 1.0 ? "" : "s";
        if (n >= MANY) {
            hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_KEYS_ALIKE,
                           "%zu keys raise by %g semitone%s; 'raises' counts "
                           "from the horn with nothing pressed, so the next "
                           "key raises more",
                           n, raises, plural);
            return;
        }
        if (n > 1 && !any_open && strcmp(horn->controls[i].name, "1") == 0) {
            hbk_fault_warn(
                faults, hbk_whole_file(horn->path), HBK_H_KEYS_ALIKE,
                "keys 1 and %s both raise by %g semitone%s, and no key is open "
                "at rest; if key 1 is, write 'rest: open' and 'raises: -%g'",
                horn->controls[other].name, raises, plural, raises);
            return;
        }
    }
}

/* Cents that a valve alone lowers or raises by, from its own loops. */
static double valve_cents(const struct hbk_horn *horn, size_t valve,
                          const struct hbk_site **loop)
{
    const double rest_m = hbk_axis_at_rest(horn);
    double tube_m = rest_m;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_LOOP && !site->loop.is_drawn &&
            site->n_terms == 1 && site->terms[0] == UINT32_C(1) << valve) {
            tube_m +=
                (site->at_rest ? -1.0 : 1.0) * hbk_loop_length(site, rest_m);
            *loop = site;
        }
    }
    return fabs(hbk_cents(tube_m, rest_m));
}

/* What may have been meant by a loop that does next to nothing. */
static void add_advice(const struct hbk_horn *horn, const struct hbk_loop *loop,
                       struct hbk_text *text)
{
    const double value =
        loop->measure == HBK_LOOP_METRES ? loop->value * 1000.0 : loop->value;
    const double rest_mm = hbk_axis_at_rest(horn) * 1000.0;
    const double as_cm = hbk_cents(rest_mm + (10.0 * value), rest_mm);
    const bool in_cm = as_cm > idle_cents && as_cm < most_cents;
    if (loop->measure == HBK_LOOP_METRES && value < most_share) {
        hbk_text_addf(text, "if the loop is a share of the tube, write '%g %%'",
                      value);
        if (in_cm) {
            hbk_text_addf(text, "; if it was measured in cm, %g", 10.0 * value);
        }
    } else if (loop->measure == HBK_LOOP_METRES && in_cm) {
        hbk_text_addf(text, "if it was measured in cm, write %g", 10.0 * value);
    } else if (loop->measure == HBK_LOOP_CENTS && value <= 12.0) {
        hbk_text_addf(text, "cents are wanted, as in %g for %g semitone%s",
                      value * HBK_SEMITONE_CENTS, value,
                      value == 1.0 ? "" : "s");
    } else if (loop->measure == HBK_LOOP_SHARE) {
        hbk_text_add(text, "a tone takes about 12 % of the tube");
    } else {
        hbk_text_add(text, "check its loop");
    }
}

static void doubt_idle_valve(const struct hbk_horn *horn, size_t valve,
                             struct hbk_faults *faults)
{
    const struct hbk_site *loop = NULL;
    const double cents = valve_cents(horn, valve, &loop);
    struct hbk_arena scratch = {0};
    struct hbk_text advice = {.arena = &scratch};
    if (loop == NULL || cents >= idle_cents) {
        return;
    }
    add_advice(horn, &loop->loop, &advice);
    hbk_fault_warn(
        faults, loop->origin, HBK_H_VALVE_IDLE,
        "valve %s %s by %.0f cents only; %s", horn->controls[valve].name,
        loop->at_rest ? "raises" : "lowers", cents, hbk_text_string(&advice));
    hbk_arena_finish(&scratch);
}

static void doubt_strong_valve(const struct hbk_horn *horn, size_t valve,
                               struct hbk_faults *faults)
{
    const struct hbk_site *loop = NULL;
    const double cents = valve_cents(horn, valve, &loop);
    if (loop != NULL && cents > most_cents) {
        hbk_fault_warn(faults, loop->origin, HBK_H_DOES_TOO_MUCH,
                       "valve %s %s by %.0f cents, more than valves do; check "
                       "its loop",
                       horn->controls[valve].name,
                       loop->at_rest ? "raises" : "lowers", cents);
    }
}

static void doubt_two_valves(const struct hbk_horn *horn, size_t first,
                             size_t second, struct hbk_faults *faults)
{
    const struct hbk_control *const a = &horn->controls[first];
    const struct hbk_control *const b = &horn->controls[second];
    const struct hbk_site *loop = NULL;
    const struct hbk_site *other = NULL;
    const double cents = valve_cents(horn, first, &loop);
    const double cents_too = valve_cents(horn, second, &other);
    if (loop != NULL && other != NULL && loop->at_rest == other->at_rest &&
        cents >= idle_cents && fabs(cents - cents_too) < alike_cents) {
        hbk_fault_warn(faults, other->origin, HBK_H_VALVES_ALIKE,
                       "valves %s and %s both %s by %.0f cents; check their "
                       "loops",
                       a->name, b->name, loop->at_rest ? "raise" : "lower",
                       cents_too);
    }
    if (a->n_fingers == 1 && b->n_fingers == 1 &&
        a->fingers[0] == b->fingers[0] && !a->alone && !b->alone) {
        hbk_fault_warn(
            faults, other == NULL ? hbk_whole_file(horn->path) : other->origin,
            HBK_H_VALVES_ONE_FINGER,
            "valves %s and %s are both worked by the %s, so they "
            "are never down together; check their fingers",
            a->name, b->name, hbk_finger_words(a->fingers[0]));
    }
}

void hbk_doubt_valves(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind != HBK_VALVE) {
            continue;
        }
        doubt_idle_valve(horn, i, faults);
        doubt_strong_valve(horn, i, faults);
        for (size_t k = 0; k < i; k++) {
            if (horn->controls[k].kind == HBK_VALVE) {
                doubt_two_valves(horn, k, i, faults);
            }
        }
    }
}

static void doubt_strong_keys(const struct hbk_horn *horn,
                              struct hbk_faults *faults)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        const double raises = key_place(horn, i, true);
        if (fabs(raises) > most_semitones) {
            hbk_fault_warn(faults, hbk_whole_file(horn->path),
                           HBK_H_DOES_TOO_MUCH,
                           "key %s %s by %g semitones, more than keys do; "
                           "check what it raises by",
                           horn->controls[i].name,
                           raises > 0.0 ? "raises" : "lowers", fabs(raises));
        }
    }
}

void hbk_doubt_keys(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    doubt_key_numbers(horn, faults);
    doubt_strong_keys(horn, faults);
    doubt_alike_keys(horn, faults);
}
