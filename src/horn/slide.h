#ifndef HBK_HORN_SLIDE_H
#define HBK_HORN_SLIDE_H

#include "horn/provenance.h"

#include <stdbool.h>

/*
 * What is put into the tube, or drawn, before playing. Lengths in metres.
 */

/* A tube that goes in at the receiver, or a slide that is pulled for a key. */
struct hbk_crook {
    const char *name;
    const char *kind; /* "crook", "shank", "slide" */
    double adds_m;
    double at_m;            /* NAN: at the receiver */
    double diameter_m;      /* NAN: the bore there */
    const char *remark;     /* printed where it is in; or NULL */
    bool not_to_learn_from; /* a chart with it would mislead a borrower */
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

/* A tuning bit. */
struct hbk_bit {
    double adds_m;
};

#endif
