#include "passage/candidates.h"

static void add(const struct hbk_repertoire *repertoire,
                struct hbk_candidates *list,
                const struct hbk_fingering *fingering)
{
    if (list->n < HBK_CANDIDATES_MAX &&
        hbk_grip_make(repertoire->keywork, fingering->press,
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
                hbk_move_between(repertoire->keywork, &a->grips[x],
                                 &b->grips[y])
                    .least_s;
        }
    }
    *slot = hands_s;
    return hands_s;
}
