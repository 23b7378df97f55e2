#include "fit/unknowns.h"

#include "base/pi.h"
#include "fit/known.h"
#include "horn/horn.h"
#include "horn/tube.h"

#include <math.h>

/*
 * Standard deviations. Judgements of ours, tried by the benchmark `names`; see
 * SOURCES.md.
 */
static const double wave_sd = 0.08; /* of the first; the nth an nth of it */
static const double cup_sd = 0.30, throat_sd = 0.06;
static const double shift_sd_m = 0.020;
static const double scale_sd = 0.03;
static const double size_sd = 0.04;
static const double chimney_sd = 0.40, chimney_measured_sd = 0.10;
static const double pad_sd = 0.30, pad_measured_sd = 0.10;
/* Cents. What a player adds to the horn, some 20, hides in a recorded pitch. */
static const double pitch_sd = 40.0, pitch_recorded_sd = 20.0;

static bool is_known(enum hbk_provenance provenance)
{
    return provenance == HBK_MEASURED || provenance == HBK_CATALOGUE;
}

size_t hbk_unknowns_stretches(const struct hbk_horn *horn,
                              struct hbk_arena *arena,
                              const struct hbk_stretch **stretches)
{
    const struct hbk_bore *const bore = &horn->bore;
    *stretches = bore->assumed;
    if (horn->model != HBK_MODEL_BORE || bore->n_assumed > 0 ||
        is_known(horn->provenance[HBK_PART_BORE])) {
        return horn->model == HBK_MODEL_BORE ? bore->n_assumed : 0;
    }
    struct hbk_stretch *const whole =
        HBK_ARENA_ARRAY(arena, struct hbk_stretch, 1);
    *whole = (struct hbk_stretch){
        .from_m = bore->mouthpiece.given ? bore->mouthpiece.enters_m
                                         : fmin(HBK_MOUTHPIECE_REACH_M,
                                                0.5 * hbk_bore_axis_m(horn)),
        .to_m = hbk_bore_axis_m(horn)};
    *stretches = whole;
    return 1;
}

static void add(struct hbk_parameters *list, enum hbk_parameter_kind kind,
                size_t index, double sd)
{
    if (list->n < HBK_PARAMETERS_MAX) {
        list->items[list->n++] =
            (struct hbk_parameter){.kind = kind, .index = index, .sd = sd};
    }
}

/* No more waves than there are stations to carry them. */
static size_t waves_of(const struct hbk_bore *bore,
                       const struct hbk_stretch *stretch)
{
    size_t within = 0;
    for (size_t i = 0; i < bore->n_stations; i++) {
        const double x_m = bore->stations[i].x_m;
        within += x_m > stretch->from_m && x_m < stretch->to_m ? 1 : 0;
    }
    return within < HBK_UNKNOWN_WAVES ? within : HBK_UNKNOWN_WAVES;
}

static void list_waves(struct hbk_parameters *list)
{
    struct hbk_arena scratch = {0};
    const struct hbk_stretch *stretches = NULL;
    const size_t n = hbk_unknowns_stretches(list->horn, &scratch, &stretches);
    for (size_t i = 0; i < n; i++) {
        const size_t waves = waves_of(&list->horn->bore, &stretches[i]);
        for (size_t k = 1; k <= waves; k++) {
            add(list, HBK_FIT_WAVE, (i * HBK_UNKNOWN_PER_STRETCH) + k,
                wave_sd / (double)k);
        }
    }
    hbk_arena_finish(&scratch);
}

/* Whether its record has the place and the width of a hole. */
static bool is_recorded(const struct hbk_horn *horn, size_t site)
{
    return is_known(hbk_known_hole(horn, site));
}

static void list_holes(struct hbk_parameters *list)
{
    const struct hbk_horn *const horn = list->horn;
    bool has_free = false;
    bool has_chimney = false;
    bool has_pad = false;
    bool is_measured = true;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_hole *const hole = &horn->sites[k].hole;
        if (horn->sites[k].kind == HBK_HOLE) {
            has_free = has_free || !is_recorded(horn, k);
            has_chimney = has_chimney || hole->chimney_m > 0.0;
            has_pad = has_pad || hole->pad_lift_m > 0.0;
            is_measured =
                is_measured && hbk_known_hole(horn, k) == HBK_MEASURED;
        }
    }
    if (has_free) {
        add(list, HBK_FIT_HOLES_SHIFT, 0, shift_sd_m);
        add(list, HBK_FIT_HOLES_SCALE, 0, scale_sd);
        add(list, HBK_FIT_HOLES_SIZE, 0, size_sd);
    }
    if (has_chimney) {
        add(list, HBK_FIT_CHIMNEYS, 0,
            is_measured ? chimney_measured_sd : chimney_sd);
    }
    if (has_pad) {
        add(list, HBK_FIT_PADS, 0, is_measured ? pad_measured_sd : pad_sd);
    }
}

void hbk_unknowns_list(struct hbk_parameters *parameters)
{
    const struct hbk_horn *const horn = parameters->horn;
    const enum hbk_provenance *const from = horn->provenance;
    list_waves(parameters);
    if (horn->bore.mouthpiece.given && !is_known(from[HBK_PART_MOUTHPIECE])) {
        add(parameters, HBK_FIT_VOLUME, 0, cup_sd);
        add(parameters, HBK_FIT_THROAT, 0, throat_sd);
    }
    list_holes(parameters);
    add(parameters, HBK_FIT_NAMES_PITCH, 0,
        is_known(from[HBK_PART_TUNING]) ? pitch_recorded_sd : pitch_sd);
}

double hbk_unknowns_pitch(const struct hbk_parameters *parameters,
                          const double d[])
{
    double cents = 0.0;
    for (size_t i = 0; i < parameters->n; i++) {
        cents += parameters->items[i].kind == HBK_FIT_NAMES_PITCH ? d[i] : 0.0;
    }
    return cents;
}

/* Stations keep their wave where tube is put in before them. */
static void wave(const struct hbk_horn *horn, size_t index, double d,
                 struct hbk_arena *arena, struct hbk_station *stations)
{
    const struct hbk_stretch *stretches = NULL;
    (void)hbk_unknowns_stretches(horn, arena, &stretches);
    const struct hbk_stretch *const stretch =
        &stretches[index / HBK_UNKNOWN_PER_STRETCH];
    const double order = (double)(index % HBK_UNKNOWN_PER_STRETCH);
    for (size_t i = 0; i < horn->bore.n_stations; i++) {
        const double u = (horn->bore.stations[i].x_m - stretch->from_m) /
                         (stretch->to_m - stretch->from_m);
        if (u > 0.0 && u < 1.0) {
            stations[i].radius_m *= exp(d * sin(HBK_PI * order * u));
        }
    }
}

static void widen_throat(double d, struct hbk_arena *arena,
                         struct hbk_mouthpiece *piece)
{
    struct hbk_station *const backbore =
        HBK_ARENA_ARRAY(arena, struct hbk_station, piece->n_backbore + 1);
    const double end_m = piece->n_backbore == 0
                             ? 0.0
                             : piece->backbore[piece->n_backbore - 1].x_m;
    for (size_t i = 0; i < piece->n_backbore; i++) {
        backbore[i] = piece->backbore[i];
        backbore[i].radius_m *= exp(d * (1.0 - (backbore[i].x_m / end_m)));
    }
    piece->throat_radius_m *= exp(d);
    piece->backbore = backbore;
}

static bool move_hole(struct hbk_site *site, double by_m)
{
    site->hole.from_bell_m += by_m;
    site->at_m -= by_m;
    return site->hole.from_bell_m > 0.0 && !(site->at_m <= 0.0);
}

static bool change_hole(enum hbk_parameter_kind kind, double d,
                        struct hbk_site *site)
{
    struct hbk_hole *const hole = &site->hole;
    if (kind == HBK_FIT_HOLES_SHIFT) {
        return move_hole(site, d);
    }
    if (kind == HBK_FIT_HOLES_SCALE) {
        return move_hole(site, d * hole->from_bell_m);
    }
    if (kind == HBK_FIT_HOLES_SIZE) {
        hole->diameter_m *= exp(d);
        /* A pad that is given goes on covering its hole. */
        hole->pad_diameter_m *= exp(fmax(d, 0.0));
    } else if (kind == HBK_FIT_CHIMNEYS) {
        hole->chimney_m *= exp(d);
    } else if (kind == HBK_FIT_PADS) {
        hole->pad_lift_m *= exp(d);
    }
    return true;
}

/* Chimneys and pads of all holes; else of those that are not recorded. */
static bool change_holes(enum hbk_parameter_kind kind, double d,
                         struct hbk_horn *changed)
{
    const bool is_all = kind == HBK_FIT_CHIMNEYS || kind == HBK_FIT_PADS;
    bool is_horn = true;
    for (size_t k = 0; k < changed->n_sites; k++) {
        if (changed->sites[k].kind == HBK_HOLE &&
            (is_all || !is_recorded(changed, k))) {
            is_horn = change_hole(kind, d, &changed->sites[k]) && is_horn;
        }
    }
    return is_horn;
}

bool hbk_unknowns_apply(const struct hbk_horn *horn,
                        const struct hbk_parameter *parameter, double d,
                        struct hbk_arena *arena, struct hbk_station *stations,
                        struct hbk_horn *changed)
{
    if (parameter->kind == HBK_FIT_WAVE) {
        wave(horn, parameter->index, d, arena, stations);
        return true;
    }
    if (parameter->kind == HBK_FIT_THROAT) {
        widen_throat(d, arena, &changed->bore.mouthpiece);
        return true;
    }
    return change_holes(parameter->kind, d, changed);
}
