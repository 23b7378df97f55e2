#include "sheet/words/words_player.h"

#include "base/text.h"
#include "horn/horn.h"

#include <math.h>

/* "25 cents sharper", "1 cent flatter". */
static const char *cents_words(struct hbk_arena *arena, double cents)
{
    const double size = fabs(round(cents));
    return hbk_arena_printf(arena, "%.0f cent%s %s", size,
                            size == 1.0 ? "" : "s",
                            cents > 0.0 ? "sharper" : "flatter");
}

const char *hbk_words_player(struct hbk_arena *arena,
                             const struct hbk_horn *horn)
{
    const struct hbk_habit *const habit = &horn->habit;
    if (habit->offset_cents == 0.0 && habit->slope_cents == 0.0) {
        return "The horn's file says nothing of its player, so this is the "
               "horn itself.";
    }
    const bool is_off = round(habit->offset_cents) != 0.0;
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(
        &text,
        "As its player plays it: %s the horn on the tuning "
        "note",
        is_off ? hbk_arena_printf(arena, "%s than",
                                  cents_words(arena, habit->offset_cents))
               : "like");
    if (round(habit->slope_cents) != 0.0) {
        hbk_text_addf(&text, ", and %s with every octave above it",
                      cents_words(arena, habit->slope_cents));
    }
    hbk_text_add(&text, ".");
    return hbk_text_string(&text);
}
