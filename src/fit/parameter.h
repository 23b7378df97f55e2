#ifndef HBK_FIT_PARAMETER_H
#define HBK_FIT_PARAMETER_H

#include "horn/partials.h"
#include "horn/site.h"

#include <stdbool.h>

struct hbk_horn;

/*
 * What is uncertain about a horn: the numbers of its file that readings may
 * correct. Each is a deviation d from the file, which is expected to be 0
 * with the standard deviation `sd`; d has the unit in which errors of that
 * kind are even, so that one horn is as likely to be short as long.
 */
enum hbk_parameter_kind {
    HBK_FIT_PITCH,      /* length model: cents by which the tube is sharp */
    HBK_FIT_LENGTH,     /* bore model: m more tube at the receiver */
    HBK_FIT_OFFSET,     /* bore model: cents of the player's offset */
    HBK_FIT_SLOPE,      /* cents an octave of the player (horn/habit.h) */
    HBK_FIT_LOOP,       /* natural logarithm of a loop's length */
    HBK_FIT_HOLE_RAISE, /* length model: semitones more */
    HBK_FIT_HOLE_PLACE, /* m further from the bell */
    HBK_FIT_HOLE_SIZE,  /* bore model: logarithm of the effective diameter */
    HBK_FIT_VOLUME,     /* bore model: logarithm of the cup's volume */
    HBK_FIT_FLARE,      /* bore model: logarithm of the bore's width half
                           way down its bell half; the ends keep theirs */
    HBK_FIT_BEND,       /* bore model: logarithm of its width at a crest
                           (fit/bore_shape.h) */
    HBK_FIT_STRETCH,    /* length model: cents of one partial */
    HBK_FIT_CROOK,      /* logarithm of the tube a crook adds */
    /* What is unknown of an old horn, by fit/unknowns.h. */
    HBK_FIT_WAVE,        /* logarithm of the bore's width at the crest */
    HBK_FIT_THROAT,      /* logarithm of the throat's width */
    HBK_FIT_HOLES_SHIFT, /* m further from the bell, all holes */
    HBK_FIT_HOLES_SCALE, /* share further from the bell, all holes */
    HBK_FIT_HOLES_SIZE,  /* logarithm of the width of all holes */
    HBK_FIT_CHIMNEYS,    /* logarithm of the height of all chimneys */
    HBK_FIT_PADS,        /* logarithm of the lift of all pads */
    HBK_FIT_NAMES_PITCH  /* cents by which the names are meant sharper */
};

struct hbk_parameter {
    enum hbk_parameter_kind kind;
    size_t index; /* site, partial, crook or wave */
    double sd;    /* prior standard deviation of d, > 0 */
};

enum { HBK_PARAMETERS_MAX = 2 * HBK_SITES_MAX + HBK_PARTIALS_MAX + 64 };

/* Whether it is of who plays the horn and not of the horn. */
bool hbk_parameter_is_players(const struct hbk_parameter *parameter);

struct hbk_parameters {
    const struct hbk_horn *horn; /* as the file has it; borrowed */
    size_t n;                    /* at most HBK_PARAMETERS_MAX */
    struct hbk_parameter items[HBK_PARAMETERS_MAX];
};

#endif
