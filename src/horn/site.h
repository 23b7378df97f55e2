#ifndef HBK_HORN_SITE_H
#define HBK_HORN_SITE_H

#include "base/fault.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* A place of the tube that the controls change. */
enum { HBK_SITES_MAX = 64, HBK_TERMS_MAX = 4 };

enum hbk_site_kind {
    HBK_HOLE, /* a side hole, open or shut */
    HBK_LOOP  /* a loop of tubing, in or out */
};

/* What stands round the outer end of a hole. */
enum hbk_flange {
    HBK_FLANGE_AUTO,     /* cylinder for a low chimney, unflanged for a tall */
    HBK_FLANGE_CYLINDER, /* the tube's own wall */
    HBK_FLANGE_NONE,     /* thin chimney standing off the tube */
    HBK_FLANGE_WIDE      /* a flange much larger than the hole */
};

/* Lengths in metres; NAN where the file says nothing. */
struct hbk_hole {
    double from_bell_m; /* centre, along the axis from the bell rim */
    double raises;      /* semitones, as the `length` model takes them */
    double diameter_m;
    double chimney_m; /* from the bore-wall line to the rim */
    double wall_m;
    double pad_diameter_m;
    double pad_lift_m;
    enum hbk_flange flange;
};

/* How the length of a loop is given. */
enum hbk_loop_measure {
    HBK_LOOP_METRES, /* value = tube added, m */
    HBK_LOOP_SHARE,  /* value = share of the open length, 0.0600 for 6 % */
    HBK_LOOP_CENTS   /* value = cents by which it alone lowers the open horn */
};

struct hbk_loop {
    enum hbk_loop_measure measure;
    double value;
    double diameter_m;     /* NAN when not given */
    double end_diameter_m; /* NAN for a cylindrical loop */
    /*
     * Drawn by a trigger: any length from 0 up to its own while playing.
     */
    bool is_drawn;
    int legs; /* of that slide: tube = legs * travel of the hand */
};

struct hbk_site {
    enum hbk_site_kind kind;
    bool at_rest; /* hole: open at rest; loop: in at rest */
    double at_m;  /* from the mouthpiece rim along the axis; NAN unknown */
    /*
     * The site leaves its rest state when every control of at least one term
     * is pressed (any of, all of).
     */
    size_t n_terms;
    uint32_t terms[HBK_TERMS_MAX];
    struct hbk_hole hole; /* kind HBK_HOLE */
    struct hbk_loop loop; /* kind HBK_LOOP */
    /*
     * Where the file says it: the mapping that describes the hole, or the
     * number that is the length of the loop. Line 0 for none.
     */
    struct hbk_place origin;
};

/* Whether the hole is open, or the loop in, while `pressed` is held. */
bool hbk_site_state(const struct hbk_site *site, uint32_t pressed);

#endif
