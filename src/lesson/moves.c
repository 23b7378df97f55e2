#include "lesson/moves.h"

#include <assert.h>

bool hbk_move_is_hard(const struct hbk_pupil *pupil, int a, int b)
{
    const struct hbk_way way =
        hbk_way_find(pupil, a < b ? a : b, a < b ? b : a);
    return hbk_way_is_hard(&way.move);
}

static bool was_lesson(const struct hbk_moves *moves, uint32_t a, uint32_t b)
{
    for (size_t i = 0; i < moves->n; i++) {
        const struct hbk_moves_pair *const pair = &moves->of[i];
        if ((pair->from == a && pair->to == b) ||
            (pair->from == b && pair->to == a)) {
            return true;
        }
    }
    return false;
}

void hbk_moves_add(struct hbk_moves *moves, int a, int b)
{
    const uint32_t from = hbk_pupil_fingering(&moves->pupil, a)->press;
    const uint32_t to = hbk_pupil_fingering(&moves->pupil, b)->press;
    if (!was_lesson(moves, from, to)) {
        assert(moves->n < HBK_MOVES_MOST);
        moves->of[moves->n++] = (struct hbk_moves_pair){from, to};
    }
}

bool hbk_moves_allow(const struct hbk_moves *moves, int a, int b)
{
    const struct hbk_fingering *const from =
        hbk_pupil_fingering(&moves->pupil, a);
    const struct hbk_fingering *const to =
        hbk_pupil_fingering(&moves->pupil, b);
    return from != NULL && to != NULL &&
           (from->press == to->press ||
            !hbk_move_is_hard(&moves->pupil, a, b) ||
            was_lesson(moves, from->press, to->press));
}

bool hbk_moves_have(const struct hbk_moves *moves, int a, int b)
{
    return was_lesson(moves, hbk_pupil_fingering(&moves->pupil, a)->press,
                      hbk_pupil_fingering(&moves->pupil, b)->press);
}
