#include "horn/hands.h"

#include "base/arena.h"
#include "horn/horn.h"

#include <stdlib.h>

/*
 * Tries the fingers of control after control, depth first. A press has at
 * most ten controls (there are ten fingers), each with few fingers, and a
 * branch ends as soon as it costs no less than the last one that is kept.
 */
struct assigning {
    const struct hbk_horn *horn;
    const struct hbk_finger_prices *prices;
    size_t n;
    size_t controls[HBK_FINGER_COUNT];
    struct hbk_assignment chosen;
    size_t limit, found;
    struct hbk_assignment *best; /* `found` of them, the cheapest first */
};

/* Puts the chosen one behind those that cost as much. */
static void keep_chosen(struct assigning *a, double price)
{
    size_t at = a->found < a->limit ? a->found++ : a->limit - 1;
    for (; at > 0 && a->best[at - 1].price > price; at--) {
        a->best[at] = a->best[at - 1];
    }
    a->best[at] = a->chosen;
    a->best[at].price = price;
}

static void assign_from(struct assigning *a, size_t depth, unsigned taken,
                        double price)
{
    if (a->found == a->limit && price >= a->best[a->limit - 1].price) {
        return; /* equal: the earlier one keeps the usual fingers */
    }
    if (depth == a->n) {
        keep_chosen(a, price);
        return;
    }
    const size_t i = a->controls[depth];
    const struct hbk_control *const control = &a->horn->controls[i];
    for (size_t f = 0; f < control->n_fingers; f++) {
        const enum hbk_finger finger = control->fingers[f];
        if ((taken >> finger & 1U) == 0) {
            a->chosen.finger_of[i] = finger;
            assign_from(a, depth + 1, taken | 1U << finger,
                        price + a->prices->of[finger]);
        }
    }
}

size_t hbk_hands_assign_all(const struct hbk_horn *horn, uint32_t press,
                            const struct hbk_finger_prices *prices,
                            size_t limit, struct hbk_assignment *assignments)
{
    struct assigning a = {
        .horn = horn, .prices = prices, .limit = limit, .best = assignments};
    for (size_t i = 0; i < horn->n_controls; i++) {
        if ((press >> i & 1U) == 0) {
            continue;
        }
        if (a.n == HBK_FINGER_COUNT) {
            return 0;
        }
        a.controls[a.n++] = i;
    }
    assign_from(&a, 0, 0, 0.0);
    return a.found;
}

bool hbk_hands_assign(const struct hbk_horn *horn, uint32_t press,
                      const struct hbk_finger_prices *prices,
                      enum hbk_finger finger_of[HBK_CONTROLS_MAX],
                      double *price)
{
    struct hbk_assignment best;
    if (hbk_hands_assign_all(horn, press, prices, 1, &best) == 0) {
        return false;
    }
    for (size_t i = 0; i < horn->n_controls; i++) {
        if ((press >> i & 1U) != 0) {
            finger_of[i] = best.finger_of[i];
        }
    }
    *price = best.price;
    return true;
}

/*
 * The fingers a press takes can often be chosen in several ways, so every
 * set of fingers that some assignment takes is carried along; it is one set
 * for a horn on which each control has one finger.
 */
struct finger_sets {
    size_t n;
    uint16_t sets[1 << HBK_FINGER_COUNT];
};

static bool contains(const struct finger_sets *list, unsigned set)
{
    for (size_t i = 0; i < list->n; i++) {
        if (list->sets[i] == set) {
            return true;
        }
    }
    return false;
}

static bool extend(const struct finger_sets *from,
                   const struct hbk_control *control, struct finger_sets *to)
{
    to->n = 0;
    for (size_t i = 0; i < from->n; i++) {
        for (size_t f = 0; f < control->n_fingers; f++) {
            const unsigned bit = 1U << control->fingers[f];
            const unsigned set = from->sets[i] | bit;
            if ((from->sets[i] & bit) == 0 && !contains(to, set)) {
                to->sets[to->n++] = (uint16_t)set;
            }
        }
    }
    return to->n > 0;
}

struct enumeration {
    const struct hbk_horn *horn;
    uint32_t usable;
    uint32_t alone; /* controls never pressed with another */
    size_t most;    /* fingers down at once */
    size_t limit;
    size_t n;
    uint32_t *presses;
    size_t capacity;
    struct hbk_arena *arena;
    struct finger_sets sets[HBK_FINGER_COUNT + 1];
};

static void keep(struct enumeration *e, uint32_t press)
{
    HBK_ARENA_GROW(e->arena, e->presses, e->n, e->capacity);
    e->presses[e->n++] = press;
}

/* Presses whose highest control lies below `top`, added to `press`. */
static void enumerate(struct enumeration *e, uint32_t press, size_t top,
                      size_t depth)
{
    if (e->n > e->limit) {
        return;
    }
    keep(e, press);
    if (depth == e->most || (press & e->alone) != 0) {
        return;
    }
    for (size_t i = 0; i < top; i++) {
        const uint32_t bit = UINT32_C(1) << i;
        const bool barred = press != 0 && (e->alone & bit) != 0;
        if ((e->usable & bit) == 0 || barred) {
            continue;
        }
        if (extend(&e->sets[depth], &e->horn->controls[i],
                   &e->sets[depth + 1])) {
            enumerate(e, press | bit, i, depth + 1);
        }
    }
}

static int by_number(const void *a, const void *b)
{
    const uint32_t x = *(const uint32_t *)a;
    const uint32_t y = *(const uint32_t *)b;
    return (x > y) - (x < y);
}

size_t hbk_hands_presses(const struct hbk_horn *horn, uint32_t usable,
                         size_t most, size_t limit, struct hbk_arena *arena,
                         uint32_t **presses)
{
    struct enumeration *const e = HBK_ARENA_ARRAY(arena, struct enumeration, 1);
    e->horn = horn;
    e->usable = usable;
    e->most = most < HBK_FINGER_COUNT ? most : HBK_FINGER_COUNT;
    e->limit = limit;
    e->arena = arena;
    e->sets[0].n = 1; /* no finger taken */
    for (size_t i = 0; i < horn->n_controls; i++) {
        e->alone |= horn->controls[i].alone ? UINT32_C(1) << i : 0;
    }
    enumerate(e, 0, horn->n_controls, 0);
    qsort(e->presses, e->n, sizeof(*e->presses), by_number);
    *presses = e->presses;
    return e->n;
}
