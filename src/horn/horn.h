#ifndef HBK_HORN_HORN_H
#define HBK_HORN_HORN_H

#include "base/arena.h"
#include "horn/control.h"
#include "horn/site.h"
#include "music/pitch.h"

/*
 * What an instrument is. Lengths in metres, frequencies in Hz, temperatures
 * in degrees Celsius, notes as in music/pitch.h. A horn read from a file is
 * sound: every invariant named here holds.
 */

enum hbk_clef { HBK_TREBLE, HBK_BASS, HBK_ALTO, HBK_TENOR };

/* Which column model answers for the horn. */
enum hbk_model {
    HBK_MODEL_LENGTH, /* an effective half-wave length and nothing else */
    HBK_MODEL_BORE    /* the stations of the bore */
};

struct hbk_station {
    double x_m;      /* from the mouthpiece rim (receiver with a mouthpiece) */
    double radius_m; /* > 0 */
};

/* Cup, throat and backbore in place of stations; all zero when not given. */
struct hbk_mouthpiece {
    bool given;
    double volume_m3;
    double throat_length_m, throat_radius_m;
    size_t n_backbore;
    const struct hbk_station *backbore; /* x from the end of the throat */
};

enum hbk_wavefront { HBK_SPHERICAL, HBK_PLANE };

struct hbk_bore {
    size_t n_stations; /* at least 2; x strictly rising, or a step of radius */
    const struct hbk_station *stations;
    struct hbk_mouthpiece mouthpiece;
    enum hbk_wavefront wavefront;
    bool bell_flanged;
    bool step_inertance;
};

/* A tube that goes in at the receiver. */
struct hbk_crook {
    const char *name;
    const char *kind; /* "crook", "shank" */
    double adds_m;
    double diameter_m; /* NAN: as the receiver */
    bool has_written_c4;
    int written_c4_sounds; /* with this crook; else the horn's, lowered */
    enum hbk_provenance provenance;
};

/* A slide, shank or tuning bit set before playing. */
struct hbk_slide {
    const char *name;
    double travel_m; /* as the hand draws it */
    /*
     * How far it stands out where the lengths and shares of the file hold,
     * 0 to travel_m, so that it can also be pushed in from there.
     */
    double stands_out_m;
    int legs;          /* tube added = legs * draw: 1 shank, 2 U-slide */
    double at_m;       /* NAN: at the receiver */
    double diameter_m; /* NAN: the bore there */
    int valve; /* index of the control whose loop it lengthens; -1 main */
};

enum { HBK_SLIDES_MAX = 16 };

/*
 * What cannot move. Controls are masks over the horn's controls, slides a
 * mask over its slides.
 */
struct hbk_stuck {
    uint32_t held_down; /* in their pressed state */
    uint32_t held_up;   /* in their rest state */
    uint32_t slides;
    double slide_out_m[HBK_SLIDES_MAX]; /* of a stuck slide, from home */
};

struct hbk_bit {
    double adds_m;
};

enum { HBK_PARTIALS_MAX = 16 };

/*
 * Which resonances a player uses. Where the file does not say, the highest
 * follows the compass: the lowest of those not to be avoided, 8 at least, that
 * reaches its top on the horn at rest. `stretch_cents[p]` is the measured
 * deviation of partial p from p times the fundamental (length model only).
 */
struct hbk_partials {
    unsigned lowest, highest; /* 1 to HBK_PARTIALS_MAX */
    bool avoid[HBK_PARTIALS_MAX + 1];
    double stretch_cents[HBK_PARTIALS_MAX + 1];
};

/* Parts of a file whose provenance can be stated as a whole. */
enum hbk_part {
    HBK_PART_LENGTH,
    HBK_PART_BORE,
    HBK_PART_MOUTHPIECE,
    HBK_PART_KEYS,
    HBK_PART_HOLES,
    HBK_PART_VALVES,
    HBK_PART_SLIDES,
    HBK_PART_CROOKS,
    HBK_PART_FINGERS,
    HBK_PART_TUNING,
    HBK_PART_PARTIALS,
    HBK_PART_COUNT
};

/* "length", "bore", ... as the file spells them. */
const char *hbk_part_name(enum hbk_part part);

/* A number of the file that was fitted to readings of a tuner. */
struct hbk_fitted_value {
    const char *what;   /* "loop of valve 1" */
    double was, is;     /* before and after, in the unit */
    double uncertainty; /* one standard deviation, > 0 */
    const char *unit;
    size_t n_readings; /* that bear on it */
};

struct hbk_fitted {
    size_t n_readings; /* followed; 0 when the horn was never fitted */
    size_t n_set_aside;
    double left_out_cents; /* leave-one-out error */
    const char *source;    /* or NULL */
    size_t n;
    const struct hbk_fitted_value *values;
};

struct hbk_horn {
    struct hbk_arena arena; /* owns every string and array below */
    const char *path;       /* as given by the user */
    const char *id;         /* file name without folder and ending */
    const char *name;
    const char *source;
    size_t n_remarks;
    const char *const *remarks; /* printed on the chart */
    enum hbk_provenance provenance[HBK_PART_COUNT];

    int written_c4_sounds; /* sounding note of written C4, no crook */
    enum hbk_clef clef;
    int tuning_note;       /* written */
    bool has_tuning_press; /* else it is looked for: see solve/tuning.h */
    uint32_t tuning_press;
    double a4_hz;
    double temperature_c;
    bool has_compass;
    int lowest, highest; /* written; valid when has_compass */

    enum hbk_model model;
    /*
     * Length model: exactly one of the two is a number, the other NAN. Both
     * describe the horn at rest, slides in, no crook; the fundamental at
     * a4_hz and temperature_c.
     */
    double length_m; /* effective half-wave length */
    double fundamental_hz;
    struct hbk_bore bore; /* bore model */
    double player_offset_cents;
    struct hbk_partials partials;

    size_t n_controls;
    struct hbk_control controls[HBK_CONTROLS_MAX];
    size_t n_sites; /* in the order of the file; see hbk_horn_sort_sites */
    struct hbk_site sites[HBK_SITES_MAX];
    size_t n_crooks;
    const struct hbk_crook *crooks;
    size_t n_slides;
    const struct hbk_slide *slides;
    size_t n_bits;
    const struct hbk_bit *bits;
    struct hbk_fitted fitted;
    struct hbk_stuck stuck; /* what is broken, as the file says */
};

/* Empty horn with every optional number NAN and the usual partials. */
void hbk_horn_init(struct hbk_horn *horn);
/* Releases the arena. A zeroed horn is fine. */
void hbk_horn_finish(struct hbk_horn *horn);

/* Index of the control of that kind and name, or -1. */
int hbk_horn_find_control(const struct hbk_horn *horn,
                          enum hbk_control_kind kind, const char *name);

bool hbk_horn_has_kind(const struct hbk_horn *horn, enum hbk_control_kind kind);

/*
 * The name of control `i` within a press: its number, with k or v before it
 * where the horn has both keys and valves. Returns `label`.
 */
char *hbk_horn_control_label(const struct hbk_horn *horn, size_t i, char *label,
                             size_t size);

enum { HBK_LABEL_SIZE = 128 };

/* "0", "1-3", "k2-v1": the controls of a press, in the order of the file. */
char *hbk_horn_press_label(const struct hbk_horn *horn, uint32_t press,
                           char label[HBK_LABEL_SIZE]);

/*
 * The press that such a label names; controls in any order, "0" for none.
 * Returns false if it names a control the horn has not.
 */
bool hbk_horn_press_parse(const struct hbk_horn *horn, const char *label,
                          uint32_t *press);

#endif
