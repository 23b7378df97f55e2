#include "solve/bore_chain.h"

#include "acoustics/profile.h"
#include "base/messages.h"
#include "horn/horn.h"
#include "horn/tube.h"

#include <math.h>
#include <stdlib.h>

double hbk_bore_hole_m(const struct hbk_horn *horn, const struct hbk_site *site)
{
    return isnan(site->at_m) ? hbk_bore_axis_m(horn) - site->hole.from_bell_m
                             : site->at_m;
}

/* Where the horn's own bore begins: behind the shank of its mouthpiece. */
static double start_m(const struct hbk_horn *horn, const struct hbk_rig *rig)
{
    return horn->bore.stations[0].x_m + hbk_rig_mouthpiece(horn, rig)->enters_m;
}

static double receiver_m(const struct hbk_horn *horn, const struct hbk_rig *rig)
{
    return hbk_rig_mouthpiece(horn, rig)->given
               ? start_m(horn, rig)
               : fmin(HBK_MOUTHPIECE_REACH_M, 0.5 * hbk_bore_axis_m(horn));
}

/* The radius of the bare bore at x; at a step, that of the mouthpiece side. */
static double radius_at(const struct hbk_bore *bore, double x_m)
{
    for (size_t i = 1; i < bore->n_stations; i++) {
        const struct hbk_station *const a = &bore->stations[i - 1];
        const struct hbk_station *const b = &bore->stations[i];
        if (x_m <= b->x_m && b->x_m > a->x_m) {
            const double t = fmax(x_m - a->x_m, 0.0) / (b->x_m - a->x_m);
            return a->radius_m + (t * (b->radius_m - a->radius_m));
        }
    }
    return bore->stations[bore->n_stations - 1].radius_m;
}

/* Something that sits at a place of the axis: a site, or tube put in. */
struct insert {
    double x_m;
    size_t order; /* keeps what shares a place in the file's order */
    const struct hbk_site *site;
    unsigned number; /* of the site */
    bool slides;     /* tube put in that is a site, as a loop */
    double length_m; /* of tube put in */
    double radius_m; /* NAN: the bore of the place */
};

struct inserts {
    size_t n;
    struct insert *items;
};

static int by_place(const void *a, const void *b)
{
    const struct insert *const x = a;
    const struct insert *const y = b;
    if (x->x_m != y->x_m) {
        return x->x_m < y->x_m ? -1 : 1;
    }
    return (x->order > y->order) - (x->order < y->order);
}

static void put(struct inserts *list, struct insert item)
{
    item.order = list->n;
    list->items[list->n++] = item;
}

static void put_tube(struct inserts *list, double x_m, double length_m,
                     double diameter_m)
{
    if (length_m > 0.0) {
        put(list, (struct insert){.x_m = x_m,
                                  .length_m = length_m,
                                  .radius_m = 0.5 * diameter_m});
    }
}

/* Where a main slide lies on the axis. */
static double slide_place_m(const struct hbk_horn *horn,
                            const struct hbk_rig *rig, size_t slide)
{
    const double at_m = horn->slides[slide].at_m;
    return isnan(at_m) ? receiver_m(horn, rig) : at_m;
}

static void put_slide(struct inserts *list, const struct hbk_horn *horn,
                      const struct hbk_rig *rig, size_t slide)
{
    put(list,
        (struct insert){.x_m = slide_place_m(horn, rig, slide),
                        .number = (unsigned)(horn->n_sites + slide),
                        .slides = true,
                        .length_m = hbk_slide_added_m(horn, rig, slide),
                        .radius_m = 0.5 * horn->slides[slide].diameter_m});
}

/* Crook, bits and slides, from the mouthpiece on. */
static void put_rig(struct inserts *list, const struct hbk_horn *horn,
                    const struct hbk_rig *rig, uint32_t sliding)
{
    const double receiver = receiver_m(horn, rig);
    const double as_bore = (double)NAN;
    if (rig->crook >= 0) {
        const struct hbk_crook *const crook = &horn->crooks[rig->crook];
        put_tube(list, isnan(crook->at_m) ? receiver : crook->at_m,
                 crook->adds_m, crook->diameter_m);
    }
    for (size_t b = 0; b < horn->n_bits; b++) {
        if ((rig->bits >> b & 1U) != 0) {
            put_tube(list, receiver, horn->bits[b].adds_m, as_bore);
        }
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        if ((sliding >> s & 1U) != 0) {
            put_slide(list, horn, rig, s);
        } else if (horn->slides[s].valve < 0) {
            put_tube(list, slide_place_m(horn, rig, s),
                     hbk_slide_added_m(horn, rig, s),
                     horn->slides[s].diameter_m);
        }
    }
}

static void put_sites(struct inserts *list, const struct hbk_horn *horn,
                      const struct hbk_rig *rig)
{
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        const double x_m = site->kind == HBK_HOLE ? hbk_bore_hole_m(horn, site)
                           : isnan(site->at_m)    ? receiver_m(horn, rig)
                                                  : site->at_m;
        put(list,
            (struct insert){.x_m = x_m, .site = site, .number = (unsigned)k});
    }
}

static struct hbk_side_hole side_hole(const struct hbk_hole *hole)
{
    static const enum hbk_rim rims[] = {[HBK_FLANGE_AUTO] = HBK_RIM_AUTO,
                                        [HBK_FLANGE_CYLINDER] =
                                            HBK_RIM_CYLINDER,
                                        [HBK_FLANGE_NONE] = HBK_RIM_THIN,
                                        [HBK_FLANGE_WIDE] = HBK_RIM_WIDE};
    const bool has_pad = !isnan(hole->pad_lift_m);
    return (struct hbk_side_hole){
        .radius_m = 0.5 * hole->diameter_m,
        .chimney_m =
            isnan(hole->chimney_m) ? HBK_CHIMNEY_USUAL_M : hole->chimney_m,
        .wall_m = isnan(hole->wall_m) ? 0.0 : hole->wall_m,
        /* A pad whose size is not given covers its hole with a little over. */
        .pad_radius_m = !has_pad ? 0.0
                        : isnan(hole->pad_diameter_m)
                            ? 0.6 * hole->diameter_m
                            : 0.5 * hole->pad_diameter_m,
        .pad_lift_m = has_pad ? hole->pad_lift_m : 0.0,
        .rim = rims[hole->flange],
    };
}

/* A valve's own slide, drawn, lengthens the loops that the valve brings in. */
static double slide_of_loop(const struct hbk_horn *horn,
                            const struct hbk_rig *rig,
                            const struct hbk_site *site)
{
    double length = 0.0;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const int valve = horn->slides[s].valve;
        if (valve >= 0 && site->n_terms == 1 &&
            site->terms[0] == UINT32_C(1) << valve) {
            length += hbk_slide_added_m(horn, rig, s);
        }
    }
    return length;
}

static void add_insert(struct hbk_chain *chain, const struct hbk_horn *horn,
                       const struct hbk_rig *rig, double open_m,
                       const struct insert *insert)
{
    const double bore_m = radius_at(&horn->bore, insert->x_m);
    if (insert->site == NULL) {
        const double radius =
            isnan(insert->radius_m) ? bore_m : insert->radius_m;
        const struct hbk_tube tube = {
            .length_m = insert->length_m, .near_m = radius, .far_m = radius};
        if (insert->slides) {
            hbk_chain_add_loop(chain, insert->number, tube);
        } else {
            hbk_chain_add_tube(chain, tube);
        }
        return;
    }
    if (insert->site->kind == HBK_HOLE) {
        const struct hbk_side_hole hole = side_hole(&insert->site->hole);
        hbk_chain_add_hole(chain, insert->number, &hole);
        return;
    }
    const struct hbk_loop *const loop = &insert->site->loop;
    const double near_m =
        isnan(loop->diameter_m) ? bore_m : 0.5 * loop->diameter_m;
    hbk_chain_add_loop(
        chain, insert->number,
        (struct hbk_tube){.length_m = hbk_loop_length(insert->site, open_m) +
                                      slide_of_loop(horn, rig, insert->site),
                          .near_m = near_m,
                          .far_m = isnan(loop->end_diameter_m)
                                       ? near_m
                                       : 0.5 * loop->end_diameter_m});
}

/*
 * Tube between two places of the axis that is gone: a slide pushed in from
 * where it stands takes its tube away behind its place. The cone on either
 * side of the cut is kept, so that the bore stays without a step.
 */
static double tube_gone_m(const struct hbk_horn *horn,
                          const struct hbk_rig *rig, double from_m, double to_m)
{
    double gone = 0.0;
    for (size_t s = 0; s < horn->n_slides; s++) {
        const double added =
            horn->slides[s].valve < 0 ? hbk_slide_added_m(horn, rig, s) : 0.0;
        const double at_m = slide_place_m(horn, rig, s);
        if (added < 0.0) {
            gone += fmax(fmin(to_m, at_m - added) - fmax(from_m, at_m), 0.0);
        }
    }
    return gone;
}

/* The bore with everything in its place. */
static void add_bore(struct hbk_chain *chain, const struct hbk_horn *horn,
                     const struct hbk_rig *rig, double open_m,
                     const struct inserts *list)
{
    const struct hbk_bore *const bore = &horn->bore;
    double x_m = start_m(horn, rig);
    double r_m = radius_at(bore, x_m);
    size_t next = 0;
    for (size_t i = 0; i < bore->n_stations; i++) {
        const struct hbk_station *const to = &bore->stations[i];
        for (;;) {
            const bool has_insert =
                next < list->n && list->items[next].x_m <= to->x_m;
            const double end_m =
                fmax(has_insert ? list->items[next].x_m : to->x_m, x_m);
            const double end_r = has_insert || end_m > to->x_m
                                     ? radius_at(bore, end_m)
                                     : to->radius_m;
            const double gone = tube_gone_m(horn, rig, x_m, end_m);
            if (end_m - x_m - gone > 0.0) {
                hbk_chain_add_tube(
                    chain, (struct hbk_tube){.length_m = end_m - x_m - gone,
                                             .near_m = r_m,
                                             .far_m = end_r});
            }
            x_m = end_m;
            r_m = end_r;
            if (!has_insert) {
                break;
            }
            add_insert(chain, horn, rig, open_m, &list->items[next++]);
        }
    }
}

static void add_mouthpiece(struct hbk_chain *chain,
                           const struct hbk_mouthpiece *m)
{
    if (!m->given) {
        return;
    }
    struct hbk_profile_point *const backbore = HBK_ARENA_ARRAY(
        chain->arena, struct hbk_profile_point, m->n_backbore + 1);
    for (size_t i = 0; i < m->n_backbore; i++) {
        backbore[i] = (struct hbk_profile_point){m->backbore[i].x_m,
                                                 m->backbore[i].radius_m};
    }
    const struct hbk_mouthpiece_bore bore = {
        .volume_m3 = m->volume_m3,
        .throat_length_m = m->throat_length_m,
        .throat_radius_m = m->throat_radius_m,
        .n_backbore = m->n_backbore,
        .backbore = backbore,
    };
    hbk_chain_add_mouthpiece(chain, &bore);
}

static const char *flaw_words(enum hbk_chain_flaw flaw)
{
    switch (flaw) {
    case HBK_CHAIN_SOUND:
    case HBK_CHAIN_EMPTY:
        return "the bore has no length";
    case HBK_CHAIN_TOO_MANY:
        return "the bore has more stations than a lathe has cuts; leave out "
               "those on a straight line";
    case HBK_CHAIN_BAD_AIR:
        return "no law holds for air of that temperature";
    case HBK_CHAIN_BAD_LENGTH:
        return "a piece of tube has no sensible length";
    case HBK_CHAIN_BAD_RADIUS:
        return "the bore is narrower than 0.4 mm or wider than 4 m somewhere";
    case HBK_CHAIN_BAD_CUP:
        return "the cup of the mouthpiece holds nothing, or over a litre";
    case HBK_CHAIN_BAD_HOLE:
        return "a key hole has no sensible size";
    case HBK_CHAIN_HOLE_TOO_WIDE:
        return "a key hole is wider than the tube it is cut in";
    case HBK_CHAIN_BAD_PAD:
        return "a pad needs a size and a lift";
    case HBK_CHAIN_BAD_SITE:
    case HBK_CHAIN_SITE_TWICE:
        return "a hole or loop is counted twice";
    case HBK_CHAIN_TOO_LONG:
        return "the tube is longer than 60 m";
    case HBK_CHAIN_TOO_FINE:
        return "the bore flares so much that it cannot be sliced finely "
               "enough";
    }
    return "the bore cannot be computed";
}

enum hbk_status hbk_bore_chain(const struct hbk_horn *horn,
                               const struct hbk_rig *rig, double open_m,
                               struct hbk_chain *chain,
                               struct hbk_faults *faults)
{
    return hbk_bore_chain_sliding(horn, rig, open_m, 0, chain, faults);
}

enum hbk_status hbk_bore_chain_sliding(const struct hbk_horn *horn,
                                       const struct hbk_rig *rig, double open_m,
                                       uint32_t sliding,
                                       struct hbk_chain *chain,
                                       struct hbk_faults *faults)
{
    chain->fronts = horn->bore.wavefront == HBK_PLANE ? HBK_FRONTS_PLANE
                                                      : HBK_FRONTS_SPHERICAL;
    chain->bell =
        horn->bore.bell_flanged ? HBK_BELL_FLANGED : HBK_BELL_UNFLANGED;
    chain->step_inertance = horn->bore.step_inertance;
    struct inserts list = {
        .items =
            HBK_ARENA_ARRAY(chain->arena, struct insert,
                            horn->n_sites + horn->n_slides + horn->n_bits + 2)};
    put_rig(&list, horn, rig, sliding);
    put_sites(&list, horn, rig);
    qsort(list.items, list.n, sizeof(*list.items), by_place);
    add_mouthpiece(chain, hbk_rig_mouthpiece(horn, rig));
    add_bore(chain, horn, rig, open_m, &list);
    hbk_chain_find_cup(chain);
    struct hbk_air air;
    enum hbk_chain_flaw flaw = HBK_CHAIN_BAD_AIR;
    if (hbk_air_at(rig->temperature_c, &air) == HBK_OK) {
        flaw = hbk_chain_check(chain, &air, NULL);
    }
    if (flaw != HBK_CHAIN_SOUND) {
        hbk_fault_add(faults, (struct hbk_place){.file = horn->path},
                      HBK_H_BORE_REFUSED, "%s", flaw_words(flaw));
        return HBK_ERR_DOMAIN;
    }
    return HBK_OK;
}

uint64_t hbk_bore_word(const struct hbk_horn *horn, uint32_t press)
{
    uint64_t word = 0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        word |= (uint64_t)hbk_site_state(&horn->sites[k], press) << k;
    }
    return word;
}
