#include "sheet/chart/gamut.h"

#include "horn/about.h"
#include "horn/press.h"

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

const char *hbk_gamut_label(struct hbk_arena *arena,
                            const struct hbk_notes *notes,
                            const struct hbk_fingering *fingering)
{
    if (hbk_horn_n_controls(notes->horn) == 0) {
        return hbk_arena_printf(arena, "%u", fingering->partial);
    }
    char label[HBK_LABEL_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_horn_press_label(notes->horn, fingering->press, label));
}
