#include "acoustics/chain.h"

#include "base/cplx.h"
#include "base/pi.h"

#include <float.h>
#include <math.h>

static struct hbk_element *append(struct hbk_chain *chain,
                                  enum hbk_element_kind kind)
{
    if (chain->n == HBK_CHAIN_ELEMENTS_MAX) {
        chain->overfull = true;
        return NULL;
    }
    HBK_ARENA_GROW(chain->arena, chain->elements, chain->n, chain->room);
    struct hbk_element *const element = &chain->elements[chain->n++];
    *element = (struct hbk_element){.kind = kind};
    return element;
}

void hbk_chain_add_tube(struct hbk_chain *chain, struct hbk_tube tube)
{
    struct hbk_element *const element = append(chain, HBK_ELEMENT_TUBE);
    if (element != NULL) {
        element->tube = tube;
    }
}

void hbk_chain_add_hole(struct hbk_chain *chain, unsigned site,
                        const struct hbk_side_hole *hole)
{
    struct hbk_element *const element = append(chain, HBK_ELEMENT_HOLE);
    if (element != NULL) {
        element->site = site;
        element->hole = *hole;
    }
}

void hbk_chain_add_loop(struct hbk_chain *chain, unsigned site,
                        struct hbk_tube tube)
{
    struct hbk_element *const element = append(chain, HBK_ELEMENT_LOOP);
    if (element != NULL) {
        element->site = site;
        element->tube = tube;
    }
}

void hbk_chain_add_cup(struct hbk_chain *chain, double volume_m3)
{
    struct hbk_element *const element = append(chain, HBK_ELEMENT_CUP);
    if (element != NULL) {
        element->volume_m3 = volume_m3;
    }
}

static const struct hbk_tube *tube_before(const struct hbk_chain *chain,
                                          size_t i)
{
    while (i-- > 0) {
        if (chain->elements[i].kind == HBK_ELEMENT_TUBE) {
            return &chain->elements[i].tube;
        }
    }
    return NULL;
}

static const struct hbk_tube *tube_from(const struct hbk_chain *chain, size_t i)
{
    for (; i < chain->n; i++) {
        if (chain->elements[i].kind == HBK_ELEMENT_TUBE) {
            return &chain->elements[i].tube;
        }
    }
    return NULL;
}

double hbk_chain_bore(const struct hbk_chain *chain, size_t i)
{
    const struct hbk_tube *const before = tube_before(chain, i);
    if (before != NULL) {
        return before->far_m;
    }
    const struct hbk_tube *const after = tube_from(chain, i);
    return after == NULL ? 0.0 : after->near_m;
}

double hbk_chain_rim(const struct hbk_chain *chain)
{
    return hbk_chain_bore(chain, chain->n);
}

double hbk_chain_wave_impedance(const struct hbk_chain *chain,
                                const struct hbk_air *air)
{
    const struct hbk_tube *const first = tube_from(chain, 0);
    const double a = first == NULL ? 1.0 : first->near_m;
    return air->density * air->speed / (HBK_PI * a * a);
}

static bool within(double value, double least, double most)
{
    return value >= least && value <= most; /* false for NaN */
}

static enum hbk_chain_flaw check_tube(const struct hbk_tube *tube,
                                      double least_m)
{
    if (!within(tube->length_m, 0.0, 100.0)) {
        return HBK_CHAIN_BAD_LENGTH;
    }
    if (!within(tube->near_m, least_m, HBK_RADIUS_MOST_M) ||
        !within(tube->far_m, least_m, HBK_RADIUS_MOST_M)) {
        return HBK_CHAIN_BAD_RADIUS;
    }
    return HBK_CHAIN_SOUND;
}

static enum hbk_chain_flaw check_hole(const struct hbk_side_hole *hole,
                                      double bore_m)
{
    if (!within(hole->radius_m, HBK_RADIUS_LEAST_M, HBK_RADIUS_MOST_M) ||
        !within(hole->chimney_m, 0.0, 0.5) || !within(hole->wall_m, 0.0, 0.5)) {
        return HBK_CHAIN_BAD_HOLE;
    }
    /* A hair is allowed, for radii that met through decimal figures. */
    if (bore_m > 0.0 && hole->radius_m > bore_m * (1.0 + 1e-9)) {
        return HBK_CHAIN_HOLE_TOO_WIDE;
    }
    if (!within(hole->pad_radius_m, 0.0, 1.0) ||
        (hole->pad_radius_m > 0.0 && !within(hole->pad_lift_m, 1e-5, 1.0))) {
        return HBK_CHAIN_BAD_PAD;
    }
    return HBK_CHAIN_SOUND;
}

static enum hbk_chain_flaw check_element(const struct hbk_chain *chain,
                                         size_t i, const struct hbk_air *air,
                                         uint64_t *sites)
{
    const struct hbk_element *const element = &chain->elements[i];
    const double least_m = air->lossless ? 1e-8 : HBK_RADIUS_LEAST_M;
    if (element->kind == HBK_ELEMENT_CUP) {
        return within(element->volume_m3, 0.0, 1e-3) ? HBK_CHAIN_SOUND
                                                     : HBK_CHAIN_BAD_CUP;
    }
    if (element->kind == HBK_ELEMENT_TUBE) {
        return check_tube(&element->tube, least_m);
    }
    if (element->site >= HBK_CHAIN_SITES_MAX) {
        return HBK_CHAIN_BAD_SITE;
    }
    const uint64_t bit = (uint64_t)1 << element->site;
    if ((*sites & bit) != 0) {
        return HBK_CHAIN_SITE_TWICE;
    }
    *sites |= bit;
    return element->kind == HBK_ELEMENT_LOOP
               ? check_tube(&element->tube, least_m)
               : check_hole(&element->hole, hbk_chain_bore(chain, i));
}

static enum hbk_chain_flaw check_whole(const struct hbk_chain *chain)
{
    double length_m = 0.0;
    size_t slices = 0;
    bool any = false;
    for (size_t i = 0; i < chain->n; i++) {
        const struct hbk_element *const element = &chain->elements[i];
        if (element->kind == HBK_ELEMENT_TUBE ||
            element->kind == HBK_ELEMENT_LOOP) {
            length_m += element->tube.length_m;
            slices += hbk_tube_slices(&element->tube);
        }
        any = any || element->kind == HBK_ELEMENT_TUBE;
    }
    if (!any) {
        return HBK_CHAIN_EMPTY;
    }
    if (length_m > HBK_CHAIN_LONGEST_M) {
        return HBK_CHAIN_TOO_LONG;
    }
    return slices > 20000 ? HBK_CHAIN_TOO_FINE : HBK_CHAIN_SOUND;
}

enum hbk_chain_flaw hbk_chain_check(const struct hbk_chain *chain,
                                    const struct hbk_air *air, size_t *where)
{
    size_t place = chain->n;
    enum hbk_chain_flaw flaw = HBK_CHAIN_SOUND;
    if (chain->overfull) {
        flaw = HBK_CHAIN_TOO_MANY;
    } else if (!hbk_air_is_sound(air)) {
        flaw = HBK_CHAIN_BAD_AIR;
    }
    uint64_t sites = 0;
    for (size_t i = 0; flaw == HBK_CHAIN_SOUND && i < chain->n; i++) {
        flaw = check_element(chain, i, air, &sites);
        place = flaw == HBK_CHAIN_SOUND ? chain->n : i;
    }
    if (flaw == HBK_CHAIN_SOUND) {
        flaw = check_whole(chain);
    }
    if (flaw != HBK_CHAIN_SOUND && where != NULL) {
        *where = place;
    }
    return flaw;
}

/*
 * Spherical fronts are a picture of a wave that widens towards the bell. In a
 * cup, which narrows steeply, they would add slant length and area of caps to
 * its volume, which is what it acts by; plane slices keep the volume.
 */
static enum hbk_fronts fronts_at(const struct hbk_chain *chain, size_t i)
{
    return i < chain->n_cup ? HBK_FRONTS_PLANE : chain->fronts;
}

static void tube_element(const struct hbk_chain *chain, size_t i,
                         const struct hbk_band *band, struct hbk_twoport *out)
{
    const struct hbk_tube *const tube = &chain->elements[i].tube;
    hbk_tube_twoport(band, tube, fronts_at(chain, i), out);
    const struct hbk_tube *const before = tube_before(chain, i);
    if (chain->step_inertance && before != NULL) {
        struct hbk_twoport step;
        hbk_tube_step(band, before->far_m, tube->near_m, &step);
        hbk_twoport_chain(&step, out, out);
    }
}

static void loop_element(const struct hbk_chain *chain, size_t i,
                         const struct hbk_band *band, struct hbk_twoport *out)
{
    const struct hbk_tube *const tube = &chain->elements[i].tube;
    hbk_tube_twoport(band, tube, fronts_at(chain, i), out);
    if (chain->step_inertance && tube->length_m > 0.0) {
        const double bore_m = hbk_chain_bore(chain, i);
        struct hbk_twoport step;
        hbk_tube_step(band, bore_m, tube->near_m, &step);
        hbk_twoport_chain(&step, out, out);
        hbk_tube_step(band, tube->far_m, bore_m, &step);
        hbk_twoport_chain(out, &step, out);
    }
}

void hbk_chain_element(const struct hbk_chain *chain, size_t i,
                       const struct hbk_band *band, bool in_or_open,
                       struct hbk_twoport *out)
{
    const struct hbk_element *const element = &chain->elements[i];
    switch (element->kind) {
    case HBK_ELEMENT_TUBE:
        tube_element(chain, i, band, out);
        return;
    case HBK_ELEMENT_HOLE:
        hbk_hole_twoport(band, &element->hole, hbk_chain_bore(chain, i),
                         in_or_open, out);
        return;
    case HBK_ELEMENT_LOOP:
        if (in_or_open) {
            loop_element(chain, i, band, out);
            return;
        }
        break;
    case HBK_ELEMENT_CUP:
        break;
    }
    hbk_twoport_identity(out);
    if (element->kind == HBK_ELEMENT_CUP) {
        const struct hbk_air *const air = band->air;
        const double bulk = air->density * air->speed * air->speed;
        for (size_t k = 0; k < HBK_LANES; k++) {
            out->ci[k] = band->omega[k] * element->volume_m3 / bulk;
        }
    }
}

static void band_impedance(const struct hbk_chain *chain,
                           const struct hbk_band *band, uint64_t word,
                           struct hbk_wave *wave)
{
    hbk_radiation_load(band, chain->bell, hbk_chain_rim(chain), 0.0, wave);
    for (size_t i = chain->n; i-- > 0;) {
        const bool state = ((word >> chain->elements[i].site) & 1) != 0;
        struct hbk_twoport port;
        hbk_chain_element(chain, i, band, state, &port);
        hbk_twoport_carry(&port, wave, wave);
        /* Only p/U matters: a common factor keeps both in range. */
        for (size_t k = 0; k < HBK_LANES; k++) {
            const double size =
                fabs(wave->ur[k]) + fabs(wave->ui[k]) +
                (1e-7 * (fabs(wave->pr[k]) + fabs(wave->pi[k])));
            const double scale = size > 0.0 ? 1.0 / size : 1.0;
            wave->pr[k] *= scale;
            wave->pi[k] *= scale;
            wave->ur[k] *= scale;
            wave->ui[k] *= scale;
        }
    }
}

static double finite(double value)
{
    return fmin(fmax(value, -DBL_MAX), DBL_MAX);
}

enum hbk_status hbk_chain_impedance(const struct hbk_chain *chain,
                                    const struct hbk_air *air, uint64_t word,
                                    size_t n, const double freq_hz[],
                                    double *re, double *im)
{
    if (hbk_chain_check(chain, air, NULL) != HBK_CHAIN_SOUND) {
        return HBK_ERR_DOMAIN;
    }
    for (size_t i = 0; i < n; i++) {
        if (!within(freq_hz[i], HBK_LOWEST_HZ, HBK_HIGHEST_HZ)) {
            return HBK_ERR_DOMAIN;
        }
    }
    for (size_t start = 0; start < n; start += HBK_LANES) {
        const size_t count = n - start < HBK_LANES ? n - start : HBK_LANES;
        struct hbk_band band;
        struct hbk_wave wave;
        hbk_band_set(&band, air, count, freq_hz + start);
        band_impedance(chain, &band, word, &wave);
        for (size_t k = 0; k < count; k++) {
            const double square =
                (wave.ur[k] * wave.ur[k]) + (wave.ui[k] * wave.ui[k]);
            const double scale = 1.0 / fmax(square, DBL_MIN);
            re[start + k] = finite(scale * ((wave.pr[k] * wave.ur[k]) +
                                            (wave.pi[k] * wave.ui[k])));
            im[start + k] = finite(scale * ((wave.pi[k] * wave.ur[k]) -
                                            (wave.pr[k] * wave.ui[k])));
        }
    }
    return HBK_OK;
}
