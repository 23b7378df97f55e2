#ifndef HBK_SHEET_CHART_STRIP_H
#define HBK_SHEET_CHART_STRIP_H

#include "engrave/staff.h"
#include "notes/notes.h"
#include "sheet/block/cells.h"

/*
 * A row of a chart in ruled cells: of every note its names, its place on the
 * staff, the figure of its first fingering and the hands (sheet/block/cells.h),
 * with the map of the hands at the left. Half-tones are tinted.
 */

/* Sizes, mm; letters by the height of their em. */
struct hbk_strip_look {
    double unit;       /* of lines: 1 on A4 */
    double air;        /* of white, likewise */
    double name, half; /* of naturals; of half-tones, at most */
    double sound;      /* what sounds, finger names and L R at their largest */
    double figure, letter, word;
    double finger; /* name of a finger */
    double space;  /* of the staff */
    double label;  /* width of the column at the left */
    double cell;   /* width of a note */
    double row;    /* height of a finger's row */
    double disc;   /* radius of a disc at most */
    /*
     * Both spellings of a half-tone side by side; else the sharp alone stands
     * on the staff and the names are stacked.
     */
    bool pairs;
};

/* Which fingerings are underlined beside a horn that the player knows. */
enum hbk_strip_mark {
    HBK_MARK_NONE,  /* all or none differ, or there is no such horn */
    HBK_MARK_OTHER, /* those that differ */
    HBK_MARK_SAME   /* those that stay, where they are the fewer */
};

struct hbk_strip {
    const struct hbk_notes *notes; /* borrowed */
    const struct hbk_notes *beside;
    enum hbk_strip_mark mark;
    struct hbk_cells cells;
    struct hbk_strip_look look;
    bool sounding; /* print what each note sounds */
    bool joined;   /* figures without hyphens: 123 */
    bool bare;     /* a slide's mm alone, the word at the left of the row */
};

/* Notes of one row: indices into notes->notes. */
struct hbk_strip_run {
    size_t n;
    const size_t *shown;
};

/* Which of the shown notes are to be underlined. */
enum hbk_strip_mark hbk_strip_mark_of(const struct hbk_notes *notes,
                                      const struct hbk_notes *beside,
                                      const struct hbk_strip_run *all);

/* Height of a row of notes. */
double hbk_strip_height(const struct hbk_strip *strip,
                        const struct hbk_strip_run *run);
/* Width of the widest heads with their ledger lines, in staff spaces. */
double hbk_strip_heads(const struct hbk_strip *strip,
                       const struct hbk_strip_run *run);
/* The figure of a note: its controls, its partial, or a dash. */
const char *hbk_strip_figure(const struct hbk_strip *strip,
                             struct hbk_arena *arena,
                             const struct hbk_note *note);

/* From the top of the row, mm; base lines of text. */
struct hbk_levels {
    double name, lower; /* the same where names are not stacked */
    double sound;
    double bottom; /* the lowest line of the staff */
    double figure;
    double letter; /* L and R */
    double grid;   /* top of the hands; 0 without */
    double word;   /* what the lips do; 0 for none */
    double slide;  /* how far a trigger pulls its slide; 0 for none */
    double end;
};

/* Height of figures, of the em. */
#define HBK_STRIP_TALL 0.72
/* Lines above and below a row, mm at unit 1. */
#define HBK_STRIP_EDGE_PEN 0.50
/* Radius of the ring about an unreliable figure, of its em. */
#define HBK_STRIP_RING 0.50

struct hbk_levels hbk_strip_levels(const struct hbk_strip *strip,
                                   const struct hbk_strip_run *run);
/* The right end of a row that begins at x. */
double hbk_strip_end(const struct hbk_strip *strip,
                     const struct hbk_strip_run *run, double x);

/* Note i of a row; the note that its player reads for it. */
const struct hbk_note *hbk_strip_note(const struct hbk_strip *strip,
                                      const struct hbk_strip_run *run,
                                      size_t i);
int hbk_strip_read(const struct hbk_strip *strip, const struct hbk_note *note);
struct hbk_heads hbk_strip_heads_of(const struct hbk_strip *strip, int read);

/* Whether its first fingering is unreliable; and no disc can say so. */
bool hbk_strip_doubtful(const struct hbk_note *note);
bool hbk_strip_ringed(const struct hbk_note *note);
/* "lip up", "lip down" or "". */
const char *hbk_strip_lip(const struct hbk_note *note);
/* "slide 20", or "20" where strip->bare; "" without a trigger. */
const char *hbk_strip_slide(const struct hbk_strip *strip,
                            struct hbk_arena *arena,
                            const struct hbk_note *note);

#endif
