#include "passage/candidates.h"

#include "base/arena.h"
#include "passage/move_times.h"

static void add(const struct hbk_repertoire *repertoire,
                struct hbk_candidates *list,
                const struct hbk_fingering *fingering)
{
    if (list->n < HBK_CANDIDATES_MAX &&
        hbk_grips_make(repertoire->keywork, fingering->press,
                       &list->grips[list->n])) {
        list->of[list->n++] = fingering;
    }
}

const struct hbk_candidates *
hbk_repertoire_of(struct hbk_repertoire *repertoire, int written)
{
    if (repertoire->of[written] != NULL) {
        return repertoire->of[written];
    }
    struct hbk_candidates *const list =
        HBK_ARENA_ARRAY(repertoire->arena, struct hbk_candidates, 1);
    list->note = hbk_notes_find(repertoire->notes, written);
    const size_t n = list->note == NULL ? 0 : list->note->n;
    for (size_t i = 0; i < n; i++) {
        add(repertoire, list, &list->note->fingerings[i]);
    }
    for (size_t i = 0; n > 0 && i < list->note->n_idle; i++) {
        add(repertoire, list, &list->note->idle[i]);
    }
    repertoire->of[written] = list;
    return list;
}

/* Whether a note also sounds, on the same partial, with that press. */
static bool sounds_with(const struct hbk_candidates *list, size_t candidate,
                        uint32_t press)
{
    for (size_t i = 0; i < list->n; i++) {
        if (list->of[i]->press == press &&
            list->of[i]->partial == list->of[candidate]->partial) {
            return true;
        }
    }
    return false;
}

double hbk_candidates_move_s(const struct hbk_keywork *keywork,
                             const struct hbk_candidates *from, size_t x,
                             const struct hbk_candidates *to, size_t y)
{
    const struct hbk_move move =
        hbk_move_choose(keywork, &from->grips[x], &to->grips[y]).move;
    const double crossing_s = hbk_move_crossing_s(&move);
    const uint32_t both = from->of[x]->press | to->of[y]->press;
    const bool safe = crossing_s > 0.0 &&
                      (sounds_with(from, x, both) || sounds_with(to, y, both));
    return move.least_s - (safe ? (1.0 - HBK_MOVE_SAFE) * crossing_s : 0.0);
}

const double *hbk_repertoire_between(struct hbk_repertoire *repertoire,
                                     int from, int to)
{
    const double **const slot = &repertoire->between[from][to];
    if (*slot != NULL) {
        return *slot;
    }
    const struct hbk_candidates *const a = hbk_repertoire_of(repertoire, from);
    const struct hbk_candidates *const b = hbk_repertoire_of(repertoire, to);
    double *const hands_s =
        HBK_ARENA_ARRAY(repertoire->arena, double, (a->n * b->n) + 1);
    for (size_t x = 0; x < a->n; x++) {
        for (size_t y = 0; y < b->n; y++) {
            hands_s[(x * b->n) + y] =
                hbk_candidates_move_s(repertoire->keywork, a, x, b, y);
        }
    }
    *slot = hands_s;
    return hands_s;
}
