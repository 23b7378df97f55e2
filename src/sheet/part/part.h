#ifndef HBK_SHEET_PART_PART_H
#define HBK_SHEET_PART_PART_H

#include "music/pitch.h"
#include "page/paper.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What is given for a part to play from, beside its tune. */

/* A further fingering under a note. */
struct hbk_part_press {
    const char *label; /* NULL: the horn does not have this trill */
    uint32_t press;
};

enum { HBK_PART_OTHERS_MAX = 9 };

/* What stands under one event. Zero for nothing. */
struct hbk_part_fingering {
    const char *label; /* "1-2", "0"; NULL where there is no fingering */
    uint32_t press;    /* the same as bits over the horn's controls */
    bool shown;        /* whether it stands on the part */
    bool departure;    /* another than the usual one: marked */
    bool hard;         /* cannot be reached at the tempo: marked */
    bool unreachable;  /* the horn does not play the note: a cross */
    const struct hbk_part_press *trill; /* of its upper note; NULL: no trill */
    size_t n_others; /* other choices, HBK_PART_OTHERS_MAX at most */
    const struct hbk_part_press *others; /* the best first */
};

/* Bars that stand on a sheet of their own accord, with what is said of them. */
struct hbk_part_excerpt {
    size_t first_bar, n_bars; /* index into the bars of the tune, 1 or more */
    const char *heading;      /* "Bars 8 and 9, letter B" */
    size_t n_lines;
    const char *const *lines; /* below it */
};

/* Excerpts in place of the whole: what is to be practised. */
struct hbk_part_excerpts {
    size_t n; /* may be 0: a sheet of words alone */
    const struct hbk_part_excerpt *items;
};

/* What is said in words; whole strings, without trailing full stop. */
struct hbk_part_words {
    const char *whom;        /* for whom the part is; NULL for nobody */
    const char *heading;     /* under the title: for which horn, at what tempo
                                and pitch; NULL for nothing */
    const char *moved;       /* "moved up a tone for this horn", or NULL */
    const char *said;        /* what the sheet is about, or NULL */
    const char *out;         /* notes out of reach and their bars, or NULL */
    size_t n_hard;           /* hard places, listed at the end */
    const char *const *hard; /* "bar 12: the left index jumps ..." */
};

/* Zero-initialise for the whole tune on A4, fingered in numbers. */
struct hbk_part_options {
    enum hbk_paper paper;
    const char *title; /* in place of the tune's; NULL for that */
    size_t first_bar;  /* index of the first bar to be drawn */
    size_t n_bars;     /* how many; 0 for all that follow */
    const struct hbk_part_excerpts *excerpts; /* in place of these; or NULL */
    double staff_mm;      /* height of the staff, 4 to 9 mm; 0 for the usual of
                             the paper: 7 mm, 6 mm on A5, 5 mm on A6 */
    bool other_tempo;     /* not the tune's: its metronome marks are left out */
    bool circles;         /* fingers as circles in place of numbers */
    bool sounding;        /* also the name of the note that sounds */
    int sounds_higher_by; /* with `sounding`: semitones, sounding minus
                             written */
    enum hbk_naming naming; /* of that note, and of notes read out */
    uint32_t stuck;         /* controls that cannot move, as bits: crossed */
};

#endif
