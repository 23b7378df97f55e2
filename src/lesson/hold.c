#include "lesson/hold.h"

#include "base/arena.h"

#include <stdlib.h>

enum { STEP = 2 };

static bool is_to_tell(const struct hbk_plan *plan, int written, int other)
{
    const int pair[] = {written, other};
    return other >= plan->pupil.low && other <= plan->pupil.high &&
           other != written && plan->taught[other] > 0 &&
           abs(hbk_plan_key(plan, pair, 2)) <= HBK_PLAN_KEY_MOST &&
           !hbk_moves_have(&plan->told, written, other);
}

void hbk_holds_find(struct hbk_plan *plan, int key,
                    struct hbk_lesson_note *added, struct hbk_arena *arena)
{
    const struct hbk_pupil *const pupil = &plan->pupil;
    const int fifths = hbk_pupil_fifths(pupil->home, key);
    for (int other = added->written - STEP; other <= added->written + STEP;
         other++) {
        if (!is_to_tell(plan, added->written, other)) {
            continue;
        }
        const int low = other < added->written ? other : added->written;
        const int high = other + added->written - low;
        const struct hbk_way way = hbk_way_find(pupil, low, high);
        if (!way.is_told) {
            continue;
        }
        const struct hbk_spelling as = hbk_spelling_in_key(other, fifths);
        const bool up = way.low == hbk_pupil_fingering(pupil, low);
        struct hbk_lesson_hold *const hold = &added->holds[added->n_holds++];
        *hold = (struct hbk_lesson_hold){
            .from = up ? low : high,
            .to = up ? high : low,
            .fingering = up ? way.high : way.low,
            .words =
                hbk_way_words(pupil, &way, low == other ? as : added->spelling,
                              low == other ? added->spelling : as, arena)};
        added->why = hbk_arena_printf(arena, "%s %s", added->why, hold->words);
        hbk_moves_add(&plan->told, low, high);
    }
}
