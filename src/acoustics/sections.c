#include "acoustics/sections.h"

#include "base/pi.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double DEFAULT_LIMIT_HZ = 1400.0;
static const double DEFAULT_POINTS_PER_TURN = 14.0;
/* Grid points beyond the limit, for the polynomials and differences. */
enum { BEYOND = 6, GRID_MAX = 8192, ARRAYS = 8 };
/*
 * Bound on the growth of a wave along the column, as a logarithm: times
 * impedances, it must fit a double (whose own bound is 709).
 */
static const double MOST_GROWTH = 600.0;

/* What is being filled in. */
struct making {
    const struct hbk_chain *chain;
    const struct hbk_air *air;
    size_t n;
    struct hbk_site_ports *sites;
    double *ports; /* 14 n for each site */
    double *flows; /* 4 n for each site */
    double *bell;
    double wave_impedance;
};

static double chain_length(const struct hbk_chain *chain)
{
    double length_m = 0.05; /* end corrections */
    for (size_t i = 0; i < chain->n; i++) {
        const struct hbk_element *const element = &chain->elements[i];
        const double flare = element->tube.far_m - element->tube.near_m;
        switch (element->kind) {
        case HBK_ELEMENT_TUBE:
        case HBK_ELEMENT_LOOP:
            length_m += chain->fronts == HBK_FRONTS_PLANE
                            ? element->tube.length_m
                            : hypot(element->tube.length_m,
                                    element->tube.length_m > 0.0 ? flare : 0.0);
            break;
        case HBK_ELEMENT_HOLE:
            length_m += element->hole.chimney_m;
            break;
        case HBK_ELEMENT_CUP:
            break;
        }
    }
    return length_m;
}

static void store(double *arrays, size_t n, size_t start,
                  const struct hbk_twoport *port)
{
    const double *const source[ARRAYS] = {port->ar, port->ai, port->br,
                                          port->bi, port->cr, port->ci,
                                          port->dr, port->di};
    for (size_t k = 0; k < ARRAYS; k++) {
        memcpy(arrays + (k * n) + start, source[k], HBK_LANES * sizeof(double));
    }
}

/* ln of a norm of the two-port, in units of the wave impedance. */
static double growth(const struct hbk_twoport *port, double z0)
{
    double largest = 1.0;
    for (size_t i = 0; i < HBK_LANES; i++) {
        const double a = hypot(port->ar[i], port->ai[i]);
        const double b = hypot(port->br[i], port->bi[i]) / z0;
        const double c = hypot(port->cr[i], port->ci[i]) * z0;
        const double d = hypot(port->dr[i], port->di[i]);
        const double norm = fmax(a + b, c + d);
        if (!isfinite(norm)) {
            return HUGE_VAL;
        }
        largest = fmax(largest, norm);
    }
    return log(largest);
}

/* A site and the tubes before it, both states. Returns the growth. */
static double make_site(const struct making *making, size_t element, size_t k,
                        const struct hbk_band *band, size_t start,
                        const struct hbk_twoport *before)
{
    const size_t n = making->n;
    const struct hbk_site_ports *const site = &making->sites[k];
    double most = 0.0;
    for (size_t state = 0; state < 2; state++) {
        struct hbk_twoport port;
        hbk_chain_element(making->chain, element, band, state == 1, &port);
        if (state == 1 && site->is_hole) {
            double *const flow = making->flows + (4 * n * k);
            memcpy(flow + start, port.cr, sizeof(port.cr));
            memcpy(flow + n + start, port.ci, sizeof(port.ci));
            memcpy(flow + (2 * n) + start, port.dr, sizeof(port.dr));
            memcpy(flow + (3 * n) + start, port.di, sizeof(port.di));
        }
        hbk_twoport_chain(before, &port, &port);
        store(making->ports + (((2 * k) + state) * ARRAYS * n), n, start,
              &port);
        most = fmax(most, growth(&port, making->wave_impedance));
    }
    return most;
}

/* One band of the grid, mouthpiece to bell. Returns the growth. */
static double make_band(const struct making *making,
                        const struct hbk_band *band, size_t start)
{
    const struct hbk_chain *const chain = making->chain;
    struct hbk_twoport so_far;
    hbk_twoport_identity(&so_far);
    double most = 0.0;
    size_t k = 0;
    for (size_t i = 0; i < chain->n; i++) {
        const enum hbk_element_kind kind = chain->elements[i].kind;
        if (kind == HBK_ELEMENT_HOLE || kind == HBK_ELEMENT_LOOP) {
            most += make_site(making, i, k, band, start, &so_far);
            hbk_twoport_identity(&so_far);
            k++;
        } else {
            struct hbk_twoport port;
            hbk_chain_element(chain, i, band, false, &port);
            hbk_twoport_chain(&so_far, &port, &so_far);
        }
    }
    most += growth(&so_far, making->wave_impedance);
    struct hbk_wave wave;
    hbk_radiation_load(band, chain->bell, hbk_chain_rim(chain), 0.0, &wave);
    hbk_twoport_carry(&so_far, &wave, &wave);
    const double *const source[4] = {wave.pr, wave.pi, wave.ur, wave.ui};
    for (size_t a = 0; a < 4; a++) {
        memcpy(making->bell + (a * making->n) + start, source[a],
               sizeof(wave.pr));
    }
    return most;
}

/* Sites in order, and the masses that decide where the column ends. */
static double list_sites(struct making *making)
{
    const struct hbk_chain *const chain = making->chain;
    double mass = 0.0;
    size_t k = 0;
    for (size_t i = 0; i < chain->n; i++) {
        const struct hbk_element *const element = &chain->elements[i];
        if (element->kind == HBK_ELEMENT_TUBE) {
            mass += hbk_tube_inertance(&element->tube);
        } else if (element->kind != HBK_ELEMENT_CUP) {
            const bool is_hole = element->kind == HBK_ELEMENT_HOLE;
            making->sites[k] = (struct hbk_site_ports){
                .site = element->site,
                .is_hole = is_hole,
                .port = {making->ports + (2 * k * ARRAYS * making->n),
                         making->ports + (((2 * k) + 1) * ARRAYS * making->n)},
                .flow = making->flows + (4 * k * making->n),
                .before = mass,
                .own = is_hole ? hbk_hole_inertance(&element->hole,
                                                    hbk_chain_bore(chain, i))
                               : hbk_tube_inertance(&element->tube),
            };
            mass = 0.0;
            k++;
        }
    }
    const double rim = hbk_chain_rim(chain);
    return mass + (hbk_radiation_low_length(chain->bell) / (HBK_PI * rim));
}

static size_t count_sites(const struct hbk_chain *chain)
{
    size_t count = 0;
    for (size_t i = 0; i < chain->n; i++) {
        const enum hbk_element_kind kind = chain->elements[i].kind;
        count += kind == HBK_ELEMENT_HOLE || kind == HBK_ELEMENT_LOOP ? 1 : 0;
    }
    return count;
}

/* Step and size of the grid; 0 points when it cannot be. */
static size_t plan_grid(const struct hbk_chain *chain,
                        const struct hbk_air *air, double limit_hz,
                        double points_per_turn, double *step_hz)
{
    *step_hz = air->speed / (points_per_turn * chain_length(chain));
    *step_hz = fmin(*step_hz, limit_hz / 16.0);
    const double points = ceil(limit_hz / *step_hz) + BEYOND;
    if (!(points <= (double)GRID_MAX)) {
        return 0;
    }
    const size_t bands = ((size_t)points + HBK_LANES - 1) / HBK_LANES;
    return bands * HBK_LANES;
}

enum hbk_status hbk_sections_make(const struct hbk_chain *chain,
                                  const struct hbk_air *air,
                                  const struct hbk_sections_options *options,
                                  struct hbk_arena *arena,
                                  struct hbk_sections *sections)
{
    const double limit_hz =
        options->limit_hz == 0.0 ? DEFAULT_LIMIT_HZ : options->limit_hz;
    const double points_per_turn = options->points_per_turn == 0.0
                                       ? DEFAULT_POINTS_PER_TURN
                                       : options->points_per_turn;
    if (hbk_chain_check(chain, air, NULL) != HBK_CHAIN_SOUND ||
        !(limit_hz >= 20.0 && limit_hz <= 10000.0) ||
        !(points_per_turn >= 8.0 && points_per_turn <= 64.0)) {
        return HBK_ERR_DOMAIN;
    }
    double step_hz = 0.0;
    const size_t n = plan_grid(chain, air, limit_hz, points_per_turn, &step_hz);
    if (n == 0) {
        return HBK_ERR_DOMAIN;
    }
    const size_t n_sites = count_sites(chain);
    const size_t doubles = (n * n_sites * 20) + (4 * n);
    double *const memory = HBK_ARENA_ARRAY(arena, double, doubles);
    struct making making = {
        .chain = chain,
        .air = air,
        .n = n,
        .sites = HBK_ARENA_ARRAY(arena, struct hbk_site_ports, n_sites + 1),
        .bell = memory,
        .ports = memory + (4 * n),
        .flows = memory + (4 * n) + (16 * n * n_sites),
        .wave_impedance = hbk_chain_wave_impedance(chain, air),
    };
    const double bell_mass = list_sites(&making);
    for (size_t start = 0; start < n; start += HBK_LANES) {
        double hz[HBK_LANES];
        for (size_t i = 0; i < HBK_LANES; i++) {
            hz[i] = step_hz * (double)(start + i + 1);
        }
        struct hbk_band band;
        hbk_band_set(&band, air, HBK_LANES, hz);
        if (!(make_band(&making, &band, start) <= MOST_GROWTH)) {
            return HBK_ERR_DOMAIN;
        }
    }
    *sections = (struct hbk_sections){
        .n = n,
        .step_hz = step_hz,
        .limit_hz = limit_hz,
        .n_sites = n_sites,
        .sites = making.sites,
        .bell = making.bell,
        .bell_mass = bell_mass,
        .wave_impedance = making.wave_impedance,
        .bytes = (doubles * sizeof(double)) +
                 (n_sites * sizeof(struct hbk_site_ports)),
    };
    return HBK_OK;
}

static void fetch(const double *arrays, size_t n, size_t start,
                  struct hbk_twoport *port)
{
    double *const target[ARRAYS] = {port->ar, port->ai, port->br, port->bi,
                                    port->cr, port->ci, port->dr, port->di};
    for (size_t k = 0; k < ARRAYS; k++) {
        memcpy(target[k], arrays + (k * n) + start, HBK_LANES * sizeof(double));
    }
}

void hbk_sections_set_loop(const struct hbk_sections *sections,
                           const struct hbk_chain *chain, size_t i,
                           const struct hbk_air *air)
{
    const struct hbk_element *const element = &chain->elements[i];
    size_t k = 0;
    while (k < sections->n_sites && sections->sites[k].site != element->site) {
        k++;
    }
    assert(element->kind == HBK_ELEMENT_LOOP && k < sections->n_sites);
    struct hbk_site_ports *const site = &sections->sites[k];
    const size_t n = sections->n;
    for (size_t start = 0; start < n; start += HBK_LANES) {
        double hz[HBK_LANES];
        for (size_t lane = 0; lane < HBK_LANES; lane++) {
            hz[lane] = sections->step_hz * (double)(start + lane + 1);
        }
        struct hbk_band band;
        struct hbk_twoport before; /* with the loop out there is only that */
        struct hbk_twoport port;
        hbk_band_set(&band, air, HBK_LANES, hz);
        fetch(site->port[0], n, start, &before);
        hbk_chain_element(chain, i, &band, true, &port);
        hbk_twoport_chain(&before, &port, &port);
        store(site->port[1], n, start, &port);
    }
    site->own = hbk_tube_inertance(&element->tube);
}
