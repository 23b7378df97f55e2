#ifndef HBK_SHEET_CHART_CHART_WORDS_H
#define HBK_SHEET_CHART_CHART_WORDS_H

#include "notes/notes.h"
#include "page/paper.h"
#include "sheet/chart/gamut.h"
#include "sheet/chart/strip.h"

/* What stand chart and card say in their heads and feet. */
struct hbk_chart_words {
    const char *title;   /* whole */
    const char *name;    /* up to its first comma */
    const char *line;    /* rest of the name, for whom, what written C sounds */
    const char *legend;  /* signs in use, and what was not measured */
    const char *known;   /* how the horn is set and works; sources */
    const char *remarks; /* the file's; "" without */
    const char *care;    /* the cautions in few words */
};

/*
 * chosen  the notes shown, and those left out
 * mark    which figures are underlined, of options->beside
 *
 * Everything lives in the arena.
 */
struct hbk_chart_words hbk_chart_words(struct hbk_arena *arena,
                                       const struct hbk_notes *notes,
                                       const struct hbk_sheet_options *options,
                                       const struct hbk_gamut_notes *chosen,
                                       enum hbk_strip_mark mark);

#endif
