#include "solve/doubts_slides.h"

#include "base/fault.h"
#include "base/messages.h"
#include "horn/horn.h"
#include "horn/slide_name.h"
#include "notes/slides.h"

/* Less leaves no play when the margin is kept at both ends. */
static const double least_travel_m = 2.0 * HBK_SLIDE_MARGIN_M;

/*
 * A bore that opens faster is a bell: the cones of bugles and ophicleides open
 * by 0.03 to 0.1 mm in each mm.
 */
static const double bell_flare = 0.25;

/* A travel of a few mm, which is in cm what slides have. */
static void doubt_travel(const struct hbk_horn *horn,
                         const struct hbk_slide *slide,
                         struct hbk_faults *faults)
{
    if (slide->valve < 0 && slide->travel_m < least_travel_m) {
        const double mm = slide->travel_m * 1000.0;
        hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_TRAVEL_UNIT,
                       "slide %s: %g mm of travel is very little for a main "
                       "slide; if it was measured in cm, write %g",
                       slide->name, mm, 10.0 * mm);
    }
}

/* How many loops a valve works, alone or with others. */
static size_t loops_of(const struct hbk_horn *horn, int valve)
{
    size_t n = 0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        uint32_t works = 0;
        for (size_t t = 0; t < site->n_terms; t++) {
            works |= site->terms[t];
        }
        n += site->kind == HBK_LOOP && !site->loop.is_drawn &&
                     (works >> valve & 1U) != 0
                 ? 1
                 : 0;
    }
    return n;
}

/* Whether one of two was told to be another valve's by its name. */
static bool doubt_name(const struct hbk_horn *horn,
                       const struct hbk_slide *slide,
                       const struct hbk_slide *other, struct hbk_faults *faults)
{
    const int named = hbk_slide_named_valve(horn, slide->name);
    if (named < 0 || named == slide->valve) {
        return false;
    }
    hbk_fault_warn(
        faults, hbk_whole_file(horn->path), HBK_H_SLIDES_OF_ONE_VALVE,
        "slides %s and %s are both said to be valve %s's; if %s is "
        "that of valve %s, write 'valve: %s'",
        slide->name, other->name, horn->controls[slide->valve].name,
        slide->name, horn->controls[named].name, horn->controls[named].name);
    return true;
}

static void doubt_two(const struct hbk_horn *horn,
                      const struct hbk_slide *slide,
                      const struct hbk_slide *other, struct hbk_faults *faults)
{
    if (doubt_name(horn, slide, other, faults) ||
        doubt_name(horn, other, slide, faults) ||
        loops_of(horn, slide->valve) > 1 ||
        (hbk_slide_named_valve(horn, slide->name) >= 0 &&
         hbk_slide_named_valve(horn, other->name) >= 0)) {
        return;
    }
    const char *const valve = horn->controls[slide->valve].name;
    hbk_fault_warn(faults, hbk_whole_file(horn->path),
                   HBK_H_SLIDES_OF_ONE_VALVE,
                   "slides %s and %s are both said to be valve %s's, which has "
                   "one loop; check their 'valve', or if both are in that "
                   "loop, call them '%s upper' and '%s lower'",
                   slide->name, other->name, valve, valve, valve);
}

/* mm of diameter in each mm of tube at a place of a bore. */
static double flare_at(const struct hbk_bore *bore, double at_m)
{
    for (size_t i = 1; i < bore->n_stations; i++) {
        const struct hbk_station *const a = &bore->stations[i - 1];
        const struct hbk_station *const b = &bore->stations[i];
        if (at_m < b->x_m && b->x_m > a->x_m) {
            return 2.0 * (b->radius_m - a->radius_m) / (b->x_m - a->x_m);
        }
    }
    return 0.0;
}

/* What is pulled for pitch or key, where only the bell can be. */
static void doubt_place(const struct hbk_horn *horn, const char *kind,
                        const char *name, double at_m,
                        struct hbk_faults *faults)
{
    const double flare = flare_at(&horn->bore, at_m);
    if (horn->model == HBK_MODEL_BORE && flare > bell_flare) {
        hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_SLIDE_IN_BELL,
                       "%s %s: at %g mm the bore opens by %.2g mm in 10 mm, as "
                       "a bell does, and a slide needs straight tube to be "
                       "pulled; 'at' counts from the mouthpiece rim, so check "
                       "it",
                       kind, name, 1000.0 * at_m, 10.0 * flare);
    }
}

void hbk_doubt_slides(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        doubt_travel(horn, slide, faults);
        if (slide->valve < 0) {
            doubt_place(horn, "slide", slide->name, slide->at_m, faults);
        }
        for (size_t k = 0; k < s; k++) {
            if (horn->slides[s].valve >= 0 &&
                horn->slides[k].valve == horn->slides[s].valve) {
                doubt_two(horn, &horn->slides[k], &horn->slides[s], faults);
                break;
            }
        }
    }
    for (size_t c = 0; c < horn->n_crooks; c++) {
        const struct hbk_crook *const crook = &horn->crooks[c];
        doubt_place(horn, "crook", crook->name, crook->at_m, faults);
    }
}
