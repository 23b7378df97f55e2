#ifndef HBK_ACOUSTICS_CHAIN_H
#define HBK_ACOUSTICS_CHAIN_H

#include "acoustics/hole.h"
#include "acoustics/radiation.h"
#include "acoustics/tube.h"

#include "base/arena.h"

#include <stdint.h>

/*
 * An air column: elements in order from the mouthpiece to the bell. Holes
 * and loops are *sites*, numbered by the caller from 0 to 63; bit s of a
 * state word says whether site s is open (hole) or in (loop).
 */
enum hbk_element_kind {
    HBK_ELEMENT_TUBE,
    HBK_ELEMENT_HOLE, /* a site; at the place between its neighbours */
    HBK_ELEMENT_LOOP, /* a site; a tube put in at its place, or nothing */
    HBK_ELEMENT_CUP   /* a closed volume in parallel, as a cup is */
};

struct hbk_element {
    enum hbk_element_kind kind;
    unsigned site;             /* holes and loops */
    struct hbk_tube tube;      /* tubes and loops */
    struct hbk_side_hole hole; /* holes */
    double volume_m3;          /* cups, >= 0 */
};

/*
 * Start with {.arena = ...}: spherical fronts, unflanged bell. `elements`
 * lives in the arena; add with the functions below.
 */
struct hbk_chain {
    struct hbk_arena *arena; /* borrowed */
    struct hbk_element *elements;
    size_t n;
    size_t room;
    bool overfull; /* an element was turned away: the chain is refused */
    enum hbk_fronts fronts;
    size_t n_cup;        /* elements at the mouthpiece end that are a cup, with
                            plane fronts: hbk_chain_find_cup */
    enum hbk_bell bell;  /* at the last radius of the chain */
    bool step_inertance; /* see hbk_tube_step; off by default */
};

enum { HBK_CHAIN_ELEMENTS_MAX = 4096, HBK_CHAIN_SITES_MAX = 64 };

/* These add to the bell end and check nothing: see hbk_chain_check. */
void hbk_chain_add_tube(struct hbk_chain *chain, struct hbk_tube tube);
void hbk_chain_add_hole(struct hbk_chain *chain, unsigned site,
                        const struct hbk_side_hole *hole);
void hbk_chain_add_loop(struct hbk_chain *chain, unsigned site,
                        struct hbk_tube tube);
void hbk_chain_add_cup(struct hbk_chain *chain, double volume_m3);

/* Why a chain is refused. */
enum hbk_chain_flaw {
    HBK_CHAIN_SOUND = 0,
    HBK_CHAIN_EMPTY,         /* no tube in it */
    HBK_CHAIN_TOO_MANY,      /* more than HBK_CHAIN_ELEMENTS_MAX elements */
    HBK_CHAIN_BAD_AIR,       /* constants of the air out of bounds */
    HBK_CHAIN_BAD_LENGTH,    /* negative, not a number, or over 100 m */
    HBK_CHAIN_BAD_RADIUS,    /* not within HBK_RADIUS_LEAST_M .. MOST_M */
    HBK_CHAIN_BAD_CUP,       /* volume negative or over 1 litre */
    HBK_CHAIN_BAD_HOLE,      /* radius, chimney or wall out of bounds */
    HBK_CHAIN_HOLE_TOO_WIDE, /* hole wider than the bore at its place */
    HBK_CHAIN_BAD_PAD,       /* pad without lift, or out of bounds */
    HBK_CHAIN_BAD_SITE,      /* number 64 or more */
    HBK_CHAIN_SITE_TWICE,    /* one number at two places */
    HBK_CHAIN_TOO_LONG,      /* all tubes together over HBK_CHAIN_LONGEST_M */
    HBK_CHAIN_TOO_FINE       /* cones need more than 20,000 slices */
};

/* With losses; without, radii down to 1e-8 m serve the checks. */
#define HBK_RADIUS_LEAST_M 0.0002
#define HBK_RADIUS_MOST_M 2.0
#define HBK_CHAIN_LONGEST_M 60.0

/*
 * Whether the model can take the chain. `where` (may be NULL) receives the
 * index of the offending element, or n when it is none in particular; it is
 * untouched when the chain is sound.
 */
enum hbk_chain_flaw hbk_chain_check(const struct hbk_chain *chain,
                                    const struct hbk_air *air, size_t *where);

/* The radius of the bore where element `i` sits. */
double hbk_chain_bore(const struct hbk_chain *chain, size_t i);

/* The last radius of the chain, at the bell's rim. */
double hbk_chain_rim(const struct hbk_chain *chain);

/* rho c / S at the first radius of the chain, Pa s/m^3. */
double hbk_chain_wave_impedance(const struct hbk_chain *chain,
                                const struct hbk_air *air);

/*
 * The two-port of one element, step inertance included; the state matters to
 * sites only.
 */
void hbk_chain_element(const struct hbk_chain *chain, size_t i,
                       const struct hbk_band *band, bool in_or_open,
                       struct hbk_twoport *out);

/*
 * Input impedance p/U in Pa s/m^3 of the column in one state, evaluated
 * directly at every frequency asked for (for plots and checks; the walk is
 * the way to many states).
 *
 * n         any
 * freq_hz   each within HBK_LOWEST_HZ and HBK_HIGHEST_HZ
 * re, im    results, n values each; untouched on failure; may not overlap
 *           freq_hz. A lossless column met exactly at a resonance gives the
 *           largest finite number instead of infinity.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN (see hbk_chain_check).
 */
enum hbk_status hbk_chain_impedance(const struct hbk_chain *chain,
                                    const struct hbk_air *air, uint64_t word,
                                    size_t n, const double freq_hz[],
                                    double *re, double *im) HBK_MUST_CHECK;

#endif
