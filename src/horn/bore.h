#ifndef HBK_HORN_BORE_H
#define HBK_HORN_BORE_H

#include "horn/provenance.h"

#include <stdbool.h>
#include <stddef.h>

/* The tube as its walls stand. Lengths in metres. */

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
    double enters_m; /* how much of the bore its shank takes up, >= 0 */
};

/* One that can be put in for the horn's own. */
struct hbk_other_mouthpiece {
    const char *name;
    struct hbk_mouthpiece piece;
    enum hbk_provenance provenance;
};

/* A stretch of the axis. */
struct hbk_stretch {
    double from_m, to_m; /* from the mouthpiece rim; from < to */
};

enum hbk_wavefront { HBK_SPHERICAL, HBK_PLANE };

struct hbk_bore {
    size_t n_stations; /* at least 2; x strictly rising, or a step of radius */
    const struct hbk_station *stations;
    /*
     * Between whose ends nobody recorded the bore, in their order; the ends
     * are recorded. None: as the provenance of the bore says of all of it.
     */
    size_t n_assumed;
    const struct hbk_stretch *assumed;
    struct hbk_mouthpiece mouthpiece;
    enum hbk_wavefront wavefront;
    bool bell_flanged;
    bool step_inertance;
};

#endif
