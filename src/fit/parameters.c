#include "fit/parameters.h"

#include "base/pi.h"
#include "fit/bore_shape.h"
#include "fit/known.h"
#include "fit/parameter_value.h"
#include "fit/unknowns.h"
#include "horn/horn.h"
#include "horn/tube.h"
#include "music/pitch.h"
#include "solve/rest.h"

#include <math.h>
#include <string.h>

/*
 * How far a figure may be off, by where it comes from (one standard
 * deviation). Judgements of ours, chosen to be about twice what a careful
 * person with the object in hand would claim; `horn->fitted` replaces them
 * where earlier readings have told more.
 */
struct prior {
    double measured, catalogue, assumed; /* unstated counts as assumed */
};

static struct prior prior_of(enum hbk_parameter_kind kind)
{
    switch (kind) {
    case HBK_FIT_PITCH: /* cents: pitch standards differ by some 60 */
        return (struct prior){30.0, 50.0, 60.0};
    case HBK_FIT_LENGTH: /* share of the axis: 1 % is 17 cents */
        return (struct prior){0.010, 0.015, 0.025};
    case HBK_FIT_OFFSET: /* cents: 19 was found of ten trombonists */
        return (struct prior){15.0, 15.0, 15.0};
    case HBK_FIT_SLOPE: /* cents an octave: a guess, see SOURCES.md */
        return (struct prior){HBK_FIT_SLOPE_CENTS, HBK_FIT_SLOPE_CENTS,
                              HBK_FIT_SLOPE_CENTS};
    case HBK_FIT_LOOP: /* 5 % of a third loop is 14 cents */
        return (struct prior){0.010, 0.025, 0.050};
    case HBK_FIT_HOLE_RAISE: /* semitones */
        return (struct prior){0.10, 0.15, 0.20};
    case HBK_FIT_HOLE_PLACE: /* m */
        return (struct prior){0.001, 0.002, 0.004};
    case HBK_FIT_HOLE_SIZE: /* chimney and pad hide in it */
        return (struct prior){0.03, 0.05, 0.08};
    case HBK_FIT_VOLUME:
        return (struct prior){0.05, 0.10, 0.20};
    case HBK_FIT_FLARE:
        return (struct prior){0.01, 0.02, 0.04};
    case HBK_FIT_BEND:
        return (struct prior){0.003, 0.006, 0.008};
    case HBK_FIT_STRETCH: /* cents */
        return (struct prior){4.0, 8.0, 10.0};
    case HBK_FIT_CROOK:
        return (struct prior){0.01, 0.02, 0.03};
    case HBK_FIT_WAVE:
    case HBK_FIT_THROAT:
    case HBK_FIT_HOLES_SHIFT:
    case HBK_FIT_HOLES_SCALE:
    case HBK_FIT_HOLES_SIZE:
    case HBK_FIT_CHIMNEYS:
    case HBK_FIT_PADS:
    case HBK_FIT_NAMES_PITCH:
        break; /* fit/unknowns.h has its own */
    }
    return (struct prior){1.0, 1.0, 1.0};
}

static double sd_of(enum hbk_parameter_kind kind,
                    enum hbk_provenance provenance)
{
    const struct prior prior = prior_of(kind);
    switch (provenance) {
    case HBK_MEASURED:
        return prior.measured;
    case HBK_CATALOGUE:
        return prior.catalogue;
    case HBK_ASSUMED:
    case HBK_OF_PATTERN:
    case HBK_UNSTATED:
        break;
    }
    return prior.assumed;
}

static void add(struct hbk_parameters *list, enum hbk_parameter_kind kind,
                size_t index, double sd)
{
    if (list->n < HBK_PARAMETERS_MAX) {
        list->items[list->n++] =
            (struct hbk_parameter){.kind = kind, .index = index, .sd = sd};
    }
}

static void list_hole(struct hbk_parameters *list, size_t k)
{
    const struct hbk_horn *const horn = list->horn;
    const struct hbk_site *const site = &horn->sites[k];
    const enum hbk_provenance holes = hbk_known_hole(horn, k);
    if (horn->model == HBK_MODEL_BORE) {
        add(list, HBK_FIT_HOLE_PLACE, k, sd_of(HBK_FIT_HOLE_PLACE, holes));
        add(list, HBK_FIT_HOLE_SIZE, k, sd_of(HBK_FIT_HOLE_SIZE, holes));
    } else if (!isnan(site->hole.raises)) {
        add(list, HBK_FIT_HOLE_RAISE, k, sd_of(HBK_FIT_HOLE_RAISE, holes));
    } else {
        /* Its length correction, which this model lacks, hides in it. */
        const double semitone_m =
            HBK_SEMITONE_CENTS * HBK_CENT_SHARE * hbk_length_at_rest(horn);
        add(list, HBK_FIT_HOLE_PLACE, k,
            sd_of(HBK_FIT_HOLE_RAISE, holes) * semitone_m);
    }
}

static void list_sites(struct hbk_parameters *list)
{
    const struct hbk_horn *const horn = list->horn;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_HOLE) {
            list_hole(list, k);
        } else if (!site->loop.is_drawn) {
            add(list, HBK_FIT_LOOP, k,
                sd_of(HBK_FIT_LOOP, hbk_known_site(horn, k, HBK_PART_VALVES)));
        }
    }
}

static void list_tube(struct hbk_parameters *list)
{
    const struct hbk_horn *const horn = list->horn;
    const double axis_m = hbk_bore_axis_m(horn);
    add(list, HBK_FIT_LENGTH, 0,
        axis_m * sd_of(HBK_FIT_LENGTH, horn->provenance[HBK_PART_BORE]));
    add(list, HBK_FIT_OFFSET, 0, sd_of(HBK_FIT_OFFSET, HBK_ASSUMED));
}

static void list_bore(struct hbk_parameters *list)
{
    const struct hbk_horn *const horn = list->horn;
    const enum hbk_provenance *const from = horn->provenance;
    list_tube(list);
    add(list, HBK_FIT_FLARE, 0, sd_of(HBK_FIT_FLARE, from[HBK_PART_BORE]));
    for (size_t wave = 0; wave < hbk_bore_waves(horn); wave++) {
        add(list, HBK_FIT_BEND, wave, sd_of(HBK_FIT_BEND, from[HBK_PART_BORE]));
    }
    if (horn->bore.mouthpiece.given) {
        add(list, HBK_FIT_VOLUME, 0,
            sd_of(HBK_FIT_VOLUME, from[HBK_PART_MOUTHPIECE]));
    }
}

bool hbk_parameter_is_players(const struct hbk_parameter *parameter)
{
    return parameter->kind == HBK_FIT_OFFSET ||
           parameter->kind == HBK_FIT_SLOPE;
}

/*
 * Lips, tuners and days differ: what an earlier fit said of overall pitch is
 * never believed more closely than a sixth of what is usual.
 */
static double least_sd(const struct hbk_parameter *p)
{
    const bool is_overall = p->kind == HBK_FIT_PITCH ||
                            p->kind == HBK_FIT_LENGTH ||
                            hbk_parameter_is_players(p);
    return is_overall ? p->sd / 6.0 : 0.0;
}

/* An earlier fit knows better than the usual priors. */
static void recall(struct hbk_parameters *list)
{
    const struct hbk_fitted *const fitted = &list->horn->fitted;
    struct hbk_arena scratch = {0};
    for (size_t i = 0; i < list->n && fitted->n > 0; i++) {
        struct hbk_parameter *const p = &list->items[i];
        const char *const words = hbk_parameter_words(list, i, &scratch);
        const double per_d = fabs(hbk_parameter_value(list, i, 0.0).per_d);
        for (size_t k = 0; k < fitted->n; k++) {
            if (strcmp(fitted->values[k].what, words) == 0) {
                const double sd = fitted->values[k].uncertainty / per_d;
                p->sd = fmin(p->sd, fmax(sd, least_sd(p)));
            }
        }
    }
    hbk_arena_finish(&scratch);
}

static void list_crooks(struct hbk_parameters *list)
{
    const struct hbk_horn *const horn = list->horn;
    for (size_t c = 0; c < horn->n_crooks && c < 32; c++) {
        if (horn->crooks[c].adds_m > 0.0) {
            add(list, HBK_FIT_CROOK, c,
                sd_of(HBK_FIT_CROOK, horn->crooks[c].provenance));
        }
    }
}

static void list_all(struct hbk_parameters *parameters)
{
    const struct hbk_horn *const horn = parameters->horn;
    const enum hbk_provenance *const from = horn->provenance;
    if (horn->model == HBK_MODEL_BORE) {
        list_bore(parameters);
    } else {
        add(parameters, HBK_FIT_PITCH, 0,
            sd_of(HBK_FIT_PITCH, from[HBK_PART_LENGTH]));
        for (size_t p = horn->partials.lowest; p <= horn->partials.highest;
             p++) {
            add(parameters, HBK_FIT_STRETCH, p,
                sd_of(HBK_FIT_STRETCH, from[HBK_PART_PARTIALS]));
        }
    }
    list_sites(parameters);
    list_crooks(parameters);
    add(parameters, HBK_FIT_SLOPE, 0, sd_of(HBK_FIT_SLOPE, HBK_ASSUMED));
}

void hbk_parameters_list(const struct hbk_horn *horn,
                         struct hbk_parameters *parameters)
{
    *parameters = (struct hbk_parameters){.horn = horn};
    list_all(parameters);
    recall(parameters);
}

/*
 * Single holes are moved by a tuner only: what the names of one half of the
 * notes say of a hole by itself is not borne out by the other half.
 */
void hbk_parameters_list_named(const struct hbk_horn *horn, bool is_read,
                               struct hbk_parameters *parameters)
{
    *parameters = (struct hbk_parameters){.horn = horn};
    if (is_read) {
        list_tube(parameters);
        list_sites(parameters);
        list_crooks(parameters);
        add(parameters, HBK_FIT_SLOPE, 0, sd_of(HBK_FIT_SLOPE, HBK_ASSUMED));
    }
    hbk_unknowns_list(parameters);
    recall(parameters);
}

/* The horn whose parts that can change are its own. */
static struct hbk_horn own_copy(const struct hbk_horn *horn,
                                struct hbk_arena *arena,
                                struct hbk_station **stations,
                                struct hbk_slide **slides,
                                struct hbk_crook **crooks)
{
    struct hbk_horn copy = *horn;
    *stations =
        HBK_ARENA_ARRAY(arena, struct hbk_station, horn->bore.n_stations + 1);
    *slides = HBK_ARENA_ARRAY(arena, struct hbk_slide, horn->n_slides + 1);
    *crooks = HBK_ARENA_ARRAY(arena, struct hbk_crook, horn->n_crooks + 1);
    for (size_t i = 0; i < horn->bore.n_stations; i++) {
        (*stations)[i] = horn->bore.stations[i];
    }
    for (size_t i = 0; i < horn->n_slides; i++) {
        (*slides)[i] = horn->slides[i];
    }
    for (size_t i = 0; i < horn->n_crooks; i++) {
        (*crooks)[i] = horn->crooks[i];
    }
    copy.bore.stations = *stations;
    copy.slides = *slides;
    copy.crooks = *crooks;
    return copy;
}

/* The end of the longest piece of bore from one place on; 0 for none. */
static size_t longest_piece(const struct hbk_bore *bore, double from_m,
                            double start_max_m, double end_max_m)
{
    size_t best = 0;
    double longest = 0.0;
    for (size_t i = 1; i < bore->n_stations; i++) {
        const double start_m = bore->stations[i - 1].x_m;
        const double end_m = bore->stations[i].x_m;
        if (start_m >= from_m && start_m <= start_max_m && end_m <= end_max_m &&
            end_m - start_m > longest) {
            longest = end_m - start_m;
            best = i;
        }
    }
    return best;
}

/*
 * The first station that moves when tube is put in: the end of the longest
 * piece of bore between the mouthpiece and the middle of the horn, so that
 * there is enough to take away as well.
 */
static size_t first_to_move(const struct hbk_horn *horn)
{
    const double axis_m = hbk_bore_axis_m(horn);
    const double from_m = horn->bore.mouthpiece.given
                              ? 0.0
                              : fmin(HBK_MOUTHPIECE_REACH_M, 0.5 * axis_m);
    const size_t best =
        longest_piece(&horn->bore, from_m, axis_m, 0.5 * axis_m);
    return best > 0 ? best
                    : longest_piece(&horn->bore, 0.0, 0.5 * axis_m, axis_m);
}

double hbk_parameters_insert_m(const struct hbk_horn *horn)
{
    return horn->model == HBK_MODEL_BORE
               ? horn->bore.stations[first_to_move(horn) - 1].x_m
               : 0.0;
}

static bool lengthen(struct hbk_horn *horn, struct hbk_station *stations,
                     struct hbk_slide *slides, struct hbk_crook *crooks,
                     double by_m)
{
    const size_t first = first_to_move(horn);
    const double from_m = stations[first - 1].x_m;
    for (size_t i = first; i < horn->bore.n_stations; i++) {
        stations[i].x_m += by_m;
    }
    for (size_t k = 0; k < horn->n_sites; k++) {
        struct hbk_site *const site = &horn->sites[k];
        if (site->at_m > from_m) {
            site->at_m += by_m;
        } else {
            site->hole.from_bell_m += by_m; /* the bell moved away from it */
        }
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        slides[s].at_m += slides[s].at_m > from_m ? by_m : 0.0;
    }
    for (size_t c = 0; c < horn->n_crooks; c++) {
        crooks[c].at_m += crooks[c].at_m > from_m ? by_m : 0.0;
    }
    return stations[first].x_m > from_m;
}

/* Wider in the bell half, most in its middle; smooth, and 0 at both ends. */
static void flare(const struct hbk_horn *horn, struct hbk_station *stations,
                  double by)
{
    const double end_m = stations[horn->bore.n_stations - 1].x_m;
    for (size_t i = 0; i < horn->bore.n_stations; i++) {
        const double u = (2.0 * stations[i].x_m / end_m) - 1.0;
        if (u > 0.0) {
            const double bump = sin(HBK_PI * u);
            stations[i].radius_m *= exp(by * bump * bump);
        }
    }
}

static bool change_hole(struct hbk_site *site, enum hbk_parameter_kind kind,
                        double d)
{
    struct hbk_hole *const hole = &site->hole;
    if (kind == HBK_FIT_HOLE_SIZE) {
        hole->diameter_m *= exp(d);
        /* A pad that is given goes on covering its hole. */
        hole->pad_diameter_m *= exp(fmax(d, 0.0));
        return true;
    }
    if (kind == HBK_FIT_HOLE_PLACE) {
        hole->from_bell_m += d;
        site->at_m -= d;
        return hole->from_bell_m > 0.0 && !(site->at_m <= 0.0);
    }
    const double before = hole->raises;
    hole->raises += d;
    return hole->raises * before > 0.0;
}

bool hbk_parameters_apply(const struct hbk_parameters *parameters,
                          const double d[], struct hbk_arena *arena,
                          struct hbk_horn *changed)
{
    struct hbk_station *stations = NULL;
    struct hbk_slide *slides = NULL;
    struct hbk_crook *crooks = NULL;
    *changed = own_copy(parameters->horn, arena, &stations, &slides, &crooks);
    bool is_horn = true;
    for (size_t i = 0; i < parameters->n; i++) {
        const size_t at = parameters->items[i].index;
        switch (parameters->items[i].kind) {
        case HBK_FIT_PITCH:
            changed->length_m *= hbk_cents_ratio(-d[i]);
            changed->fundamental_hz *= hbk_cents_ratio(d[i]);
            break;
        case HBK_FIT_LENGTH:
            is_horn =
                lengthen(changed, stations, slides, crooks, d[i]) && is_horn;
            break;
        case HBK_FIT_OFFSET:
            changed->habit.offset_cents += d[i];
            break;
        case HBK_FIT_SLOPE:
            changed->habit.slope_cents += d[i];
            break;
        case HBK_FIT_LOOP:
            changed->sites[at].loop.value *= exp(d[i]);
            break;
        case HBK_FIT_HOLE_RAISE:
        case HBK_FIT_HOLE_PLACE:
        case HBK_FIT_HOLE_SIZE:
            is_horn = change_hole(&changed->sites[at],
                                  parameters->items[i].kind, d[i]) &&
                      is_horn;
            break;
        case HBK_FIT_VOLUME:
            changed->bore.mouthpiece.volume_m3 *= exp(d[i]);
            break;
        case HBK_FIT_FLARE:
            flare(changed, stations, d[i]);
            break;
        case HBK_FIT_BEND:
            hbk_bore_wave(changed, stations, at, d[i]);
            break;
        case HBK_FIT_STRETCH:
            changed->partials.stretch_cents[at] += d[i];
            break;
        case HBK_FIT_CROOK:
            crooks[at].adds_m *= exp(d[i]);
            break;
        case HBK_FIT_WAVE:
        case HBK_FIT_THROAT:
        case HBK_FIT_HOLES_SHIFT:
        case HBK_FIT_HOLES_SCALE:
        case HBK_FIT_HOLES_SIZE:
        case HBK_FIT_CHIMNEYS:
        case HBK_FIT_PADS:
        case HBK_FIT_NAMES_PITCH:
            is_horn =
                hbk_unknowns_apply(parameters->horn, &parameters->items[i],
                                   d[i], arena, stations, changed) &&
                is_horn;
            break;
        }
    }
    return is_horn;
}
