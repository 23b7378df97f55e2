#include "sheet/chart/gamut_plan.h"

#include <math.h>

/* In units of the gamut, mm. */
static const double widest_pitch = 4.3;

void hbk_gamut_choose(struct hbk_arena *arena, const struct hbk_notes *notes,
                      struct hbk_gamut_notes *chosen)
{
    size_t missing = 0;
    for (size_t i = 0; i < notes->n; i++) {
        missing += notes->notes[i].n == 0 ? 1 : 0;
    }
    /* A bar each where at most a third of the scale is missing. */
    const bool name_them = missing * 3 > notes->n;
    size_t *shown = HBK_ARENA_ARRAY(arena, size_t, notes->n);
    int *left_out = HBK_ARENA_ARRAY(arena, int, notes->n);
    *chosen = (struct hbk_gamut_notes){.shown = shown, .left_out = left_out};
    for (size_t i = 0; i < notes->n; i++) {
        if (notes->notes[i].n == 0 && name_them) {
            left_out[chosen->n_left_out++] = notes->notes[i].written;
        } else {
            shown[chosen->n++] = i;
        }
    }
}

size_t hbk_gamut_alternates(const struct hbk_gamut *gamut, size_t limit)
{
    size_t most = 0;
    for (size_t i = 0; i < gamut->n; i++) {
        const size_t n = gamut->notes->notes[gamut->shown[i]].n;
        most = n > most + 1 ? n - 1 : most;
    }
    return most < limit ? most : limit;
}

size_t hbk_gamut_rows(const struct hbk_gamut *gamut)
{
    return (gamut->n + gamut->per_row - 1) / gamut->per_row;
}

double hbk_gamut_bar_width(const struct hbk_gamut *gamut)
{
    return (gamut->width - HBK_GAMUT_CLEF_ROOM * gamut->unit) /
           (double)gamut->per_row;
}

double hbk_gamut_space(const struct hbk_gamut *gamut)
{
    return 1.4 * gamut->unit;
}

double hbk_gamut_pitch(const struct hbk_gamut *gamut)
{
    const double room = hbk_gamut_bar_width(gamut) - 2.0 * gamut->unit;
    const double widest = widest_pitch * gamut->unit;
    return fmin(widest, room / (gamut->hands.width + 1.0));
}
