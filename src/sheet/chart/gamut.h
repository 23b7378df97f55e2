#ifndef HBK_SHEET_CHART_GAMUT_H
#define HBK_SHEET_CHART_GAMUT_H

#include "base/arena.h"
#include "notes/notes.h"

/* The scale of a horn, low to high, as every chart shows it. */

/* The notes worth a place on a chart, in the arena; see `left_out`. */
struct hbk_gamut_notes {
    size_t n;
    const size_t *shown;
    /*
     * Notes of the compass without any fingering: shown as such where they
     * are few, or (then counted here) named in a sentence where the horn
     * gives only some notes of the scale.
     */
    size_t n_left_out;
    const int *left_out;
};

void hbk_gamut_choose(struct hbk_arena *arena, const struct hbk_notes *notes,
                      struct hbk_gamut_notes *chosen);

/* "1-3"; of a horn without keys or valves the partial. In the arena. */
const char *hbk_gamut_label(struct hbk_arena *arena,
                            const struct hbk_notes *notes,
                            const struct hbk_fingering *fingering);

#endif
