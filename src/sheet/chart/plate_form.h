#ifndef HBK_SHEET_CHART_PLATE_FORM_H
#define HBK_SHEET_CHART_PLATE_FORM_H

#include "horn/horn.h"
#include "page/pad.h"
#include "sheet/block/instrument.h"
#include "sheet/chart/gamut.h"

/* What a plate shows and where; for the plate_* files. Lengths in mm. */

/* At unit 1, mm. */
#define HBK_PLATE_FRAME 6.5   /* outer rule, from the edge of the paper */
#define HBK_PLATE_MARGIN 12.0 /* of what stands inside */
#define HBK_PLATE_NUMBERS 6.0 /* for the numbers repeated at the right */

enum { HBK_PLATE_OTHERS_MAX = 3, HBK_PLATE_SYSTEMS_MAX = 4 };

/* A note of the scale. */
struct hbk_plate_column {
    const struct hbk_note *note;
    int read;        /* the note as the player reads it */
    bool is_half;    /* a half-tone: a narrower name, a tinted column */
    bool is_c;       /* begins an octave */
    double x, width; /* left edge */
    bool is_marked;  /* differs from (or agrees with) the horn beside */
};

/* A row of the table: a control; rows of one hand follow each other. */
struct hbk_plate_row {
    size_t control;
    bool is_left;
    bool ends_group; /* the next is of the other hand, or of another kind */
};

/* Columns that stand on one staff, with a table of their own. */
struct hbk_plate_system {
    size_t first, n;
    double staff_above, staff_below; /* ink beyond the five lines, spaces */
};

struct hbk_plate {
    struct hbk_pad pad;
    const struct hbk_notes *notes;
    const struct hbk_sheet_options *options;
    struct hbk_paper_size paper;
    double s;             /* unit: 1 on A4 */
    const char *name;     /* of the horn, up to its first comma */
    const char *below;    /* the rest of it, and what written C sounds */
    struct hbk_lines set; /* pitch, slides, for whom */

    size_t n;
    struct hbk_plate_column *columns;
    size_t n_rows;
    struct hbk_plate_row rows[HBK_CONTROLS_MAX];
    const char *beyond; /* what it cannot play, as a sentence; or "" */
    bool marks_same;    /* the marked columns are those that agree */

    double label;      /* width of what stands before the first column */
    double unit_width; /* of a column of a natural */
    bool pairs;        /* both names of a half-tone side by side, both heads */
    bool has_lip, has_slide;
    size_t n_systems;
    struct hbk_plate_system systems[HBK_PLATE_SYSTEMS_MAX];

    size_t others; /* lines of other fingerings */
    double row_height;
    double space; /* of the staff */
    struct hbk_instrument instrument;
    double air; /* above the names of each system */
    struct hbk_lines legend, known, care;
    double known_share; /* of the width of the foot, for what is known */
    size_t with_tube;   /* systems on the page of the instrument; each other on
                           a page of its own */
    bool known_apart;   /* what is known stands after the chart */

    /* The wall's chart: every other fingering, with its cents. */
    bool is_every;
    bool overleaf;     /* they stand on further pages */
    size_t every_line; /* lines that they take */
};

/* A line of other fingerings, at unit 1, mm. */
double hbk_plate_other_step(const struct hbk_plate *plate);

/* Heights of the parts of a system, top to bottom. */
double hbk_plate_names_height(const struct hbk_plate *plate);
double hbk_plate_staff_height(const struct hbk_plate *plate,
                              const struct hbk_plate_system *system);
double hbk_plate_figure_height(const struct hbk_plate *plate);
double hbk_plate_below_height(const struct hbk_plate *plate);
double hbk_plate_foot_height(const struct hbk_plate *plate);

/* The fingering of place k (0: the first choice) that the plate shows. */
const struct hbk_fingering *
hbk_plate_other(const struct hbk_plate *plate,
                const struct hbk_plate_column *column, size_t k);

/* Centre of a column. */
double hbk_plate_centre(const struct hbk_plate_column *column);

/* The number as it is printed: "1-3", or "13" where that alone fits. */
struct hbk_style hbk_plate_fit(const struct hbk_pad *pad,
                               struct hbk_style style, double width,
                               double least, const char **text);

#endif
