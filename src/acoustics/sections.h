#ifndef HBK_ACOUSTICS_SECTIONS_H
#define HBK_ACOUSTICS_SECTIONS_H

#include "acoustics/chain.h"

/*
 * A chain made ready for many states: everything between two sites is
 * multiplied once into one two-port for each frequency of a grid, and each
 * site is fused with what lies on its mouthpiece side, in both its states.
 *
 * The grid. Pressure and flow at the mouthpiece are sums of waves delayed by
 * at most the length L of the whole column either way, so between grid points
 * that are c/(s L) apart a wave turns by at most 2 pi/s, and a polynomial
 * through 10 points misses it by less than 2.4e-4 (2 pi/s)^10 of its size. With
 * s = 14, the default, that is 8e-8, or 1e-4 cent at the lowest resonance of a
 * cylinder and less above. An open hole does not disturb this: 1/Zs grows
 * towards frequency 0, but the pressure in front of an open end vanishes there.
 */
struct hbk_site_ports {
    unsigned site; /* the caller's number */
    bool is_hole;
    /*
     * [0] shut or out, [1] open or in: 8 arrays of n, Re a, Im a, Re b ... of
     * the site and the tubes before it.
     */
    double *port[2];
    const double *flow; /* open hole: 4 arrays, Re c, Im c, Re d, Im d of
                           the hole alone, for the flow in front of it */
    double before;      /* integral of dx/S over the tubes before it, 1/m */
    double own;         /* length over area of the hole's air, or the loop */
};

struct hbk_sections {
    size_t n; /* grid points, a multiple of HBK_LANES */
    double step_hz;
    double limit_hz;
    size_t n_sites;
    struct hbk_site_ports *sites; /* from the mouthpiece */
    const double *bell; /* 4 arrays: Re p, Im p, Re U, Im U after the last
                           site, bell and last tubes included */
    double bell_mass;   /* length over area of the same, 1/m */
    double wave_impedance;
    size_t bytes; /* memory taken */
};

/* Zero-initialised gives the defaults. */
struct hbk_sections_options {
    double limit_hz;        /* 0: 1400 */
    double points_per_turn; /* s above, 8 to 64; 0: 14 */
};

/*
 * chain, air   see hbk_chain_check; not needed afterwards
 * arena        owns the arrays
 * sections     result; untouched on failure
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN: the chain is not sound, an option is out
 * of bounds (limit_hz 20 to 10,000), the grid would exceed 8,192 points, or
 * losses would drive numbers out of range.
 */
enum hbk_status hbk_sections_make(const struct hbk_chain *chain,
                                  const struct hbk_air *air,
                                  const struct hbk_sections_options *options,
                                  struct hbk_arena *arena,
                                  struct hbk_sections *sections) HBK_MUST_CHECK;

/*
 * After the length of the loop that is element `i` of the same chain was
 * changed: makes that site anew, and nothing else. The grid stays, so that the
 * loop must not get longer than it was when the sections were made. Whoever
 * walks these sections finds the column as it is now.
 */
void hbk_sections_set_loop(const struct hbk_sections *sections,
                           const struct hbk_chain *chain, size_t i,
                           const struct hbk_air *air);

#endif
