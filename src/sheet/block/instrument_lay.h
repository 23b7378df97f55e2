#ifndef HBK_SHEET_BLOCK_INSTRUMENT_LAY_H
#define HBK_SHEET_BLOCK_INSTRUMENT_LAY_H

#include "horn/horn.h"
#include "notes/notes.h"
#include "page/pad.h"

/*
 * The instrument drawn straight, mouthpiece left and bell right, as the plates
 * of the old tutors have it: lengths along the tube to scale, widths not. Each
 * key stands on its hole, lifted where it is open at rest; each valve has its
 * loop hanging below, its length to scale. A ring over each bears its number,
 * above it the finger, above that a brace for each run of one hand.
 */
struct hbk_instrument {
    const struct hbk_notes *notes;
    double unit;   /* 1 on A4 */
    double growth; /* heights over those at growth 1: 1 to 1.34 */
    double x;      /* of the receiver; the mouthpiece reaches left of it */
    double width;  /* from there to the rim of the bell, mm */
    bool is_bare;  /* without what valves do, and what is open or in at rest:
                      the page says it */
};

/* What the mouthpiece takes left of x, at unit 1, mm. */
#define HBK_INSTRUMENT_MOUTHPIECE 11.0

/* Whether a hole stands where its semitones put it, not where it was found. */
bool hbk_instrument_by_rule(const struct hbk_horn *horn);
/* Whether some loop hangs at a place that the file does not say. */
bool hbk_instrument_unplaced(const struct hbk_horn *horn);

/* Where the parts of it stand, for the instrument_* files. */

/* At unit 1, mm; those of heights also grow. */
#define HBK_INSTRUMENT_BELL 11.0 /* half height of the bell */
#define HBK_INSTRUMENT_THROAT 1.25
#define HBK_INSTRUMENT_TOUCH 13.6 /* centres of the rings above the axis */
#define HBK_INSTRUMENT_RING 2.9   /* radius of a ring */
#define HBK_INSTRUMENT_CASE_WIDTH 8.4
#define HBK_INSTRUMENT_CASE 6.2 /* half height of a valve's case */
#define HBK_INSTRUMENT_LEG 13.5 /* longest leg of a loop */

/* One control, on the tube and where the finger touches it. */
struct hbk_instrument_part {
    size_t control;
    const struct hbk_site *site; /* the hole or loop it works; NULL for none */
    double x;                    /* of the hole, case or slide */
    double touch;                /* of the ring */
};

struct hbk_instrument_layout {
    const struct hbk_instrument *instrument;
    double u, g; /* mm: of lengths and text, of heights */
    size_t n;    /* as the horn's controls */
    struct hbk_instrument_part parts[HBK_CONTROLS_MAX]; /* left to right */
    double ring;  /* radius of the rings, mm */
    double scale; /* mm of paper to the metre */
};

void hbk_instrument_lay(const struct hbk_instrument *instrument,
                        struct hbk_instrument_layout *layout);

/* Half the width of the drawn tube at a share of its length, mm. */
double hbk_instrument_half(const struct hbk_instrument_layout *layout,
                           double share);

/* The share of the tube at x. */
double hbk_instrument_share(const struct hbk_instrument_layout *layout,
                            double x);

/* The valve whose slide a trigger draws; NULL for the main one. */
const struct hbk_instrument_part *
hbk_instrument_drawn(const struct hbk_instrument_layout *layout,
                     const struct hbk_instrument_part *trigger);

/* How the loop of a valve is folded: bows side by side. */
struct hbk_bows {
    size_t n;
    double leg;   /* mm from the case down to the bend */
    double width; /* of one bow, between the middles of its legs */
};

struct hbk_bows hbk_instrument_bows(const struct hbk_instrument_layout *layout,
                                    const struct hbk_site *site);

/* The tube with bell, mouthpiece and slides. */
void hbk_instrument_body(struct hbk_pad *pad,
                         const struct hbk_instrument_layout *layout,
                         double axis);
/* A key with its hole, and a valve with its loop, up to the ring. */
void hbk_instrument_key(struct hbk_pad *pad,
                        const struct hbk_instrument_layout *layout,
                        const struct hbk_instrument_part *part, double axis);
void hbk_instrument_valve(struct hbk_pad *pad,
                          const struct hbk_instrument_layout *layout,
                          const struct hbk_instrument_part *part, double axis);
/* A trigger: its lever to the strokes of its slide. */
void hbk_instrument_trigger(struct hbk_pad *pad,
                            const struct hbk_instrument_layout *layout,
                            const struct hbk_instrument_part *part,
                            double axis);

#endif
