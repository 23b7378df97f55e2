#include "fit/changes.h"

#include "base/text.h"
#include "fit/named.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <string.h>

struct editor {
    const struct hbk_fit *fit;
    const struct hbk_horn *before;
    struct hbk_horn after;
    struct hbk_arena *arena;
    struct hbk_horn_change *items;
    size_t n;
};

/* The number without zeros at its end. */
static const char *number_text(struct hbk_arena *arena, double value,
                               int decimals, const char *unit)
{
    char *const text = hbk_arena_printf(arena, "%.*f", decimals, value);
    size_t length = strlen(text);
    while (strchr(text, '.') != NULL && text[length - 1] == '0') {
        text[--length] = '\0';
    }
    if (text[length - 1] == '.') {
        text[length - 1] = '\0';
    }
    return hbk_arena_printf(arena, "%s%s", strcmp(text, "-0") == 0 ? "0" : text,
                            unit);
}

static struct hbk_horn_change *put(struct editor *e, double value, int decimals,
                                   const char *unit)
{
    struct hbk_horn_change *const change = &e->items[e->n++];
    *change = (struct hbk_horn_change){
        .text = number_text(e->arena, value, decimals, unit)};
    return change;
}

static void put_mm(struct editor *e, size_t k, const char *name, double metres,
                   bool if_there)
{
    struct hbk_horn_change *const change = put(e, 1000.0 * metres, 3, "");
    change->at = e->before->sites[k].origin;
    change->path[0] = name;
    change->if_there = if_there;
}

static void put_loop(struct editor *e, size_t k)
{
    const struct hbk_loop *const loop = &e->after.sites[k].loop;
    struct hbk_horn_change *change = NULL;
    switch (loop->measure) {
    case HBK_LOOP_METRES:
        change = put(e, 1000.0 * loop->value, 3, "");
        break;
    case HBK_LOOP_SHARE:
        change = put(e, 100.0 * loop->value, 4, " %");
        break;
    case HBK_LOOP_CENTS:
        change = put(e, loop->value, 3, " cents");
        break;
    }
    change->at = e->before->sites[k].origin;
}

static void put_stations(struct editor *e)
{
    const struct hbk_bore *const was = &e->before->bore;
    const struct hbk_bore *const is = &e->after.bore;
    for (size_t i = 0; i < was->n_stations; i++) {
        const struct hbk_station *const a = &was->stations[i];
        const struct hbk_station *const b = &is->stations[i];
        const char *const number = hbk_arena_printf(e->arena, "%zu", i);
        if (a->x_m != b->x_m) {
            struct hbk_horn_change *const change =
                put(e, 1000.0 * b->x_m, 3, "");
            change->path[0] = "bore";
            change->path[1] = number;
            change->path[2] = "0";
        }
        if (a->radius_m != b->radius_m) {
            struct hbk_horn_change *const change =
                put(e, 2000.0 * b->radius_m, 4, "");
            change->path[0] = "bore";
            change->path[1] = number;
            change->path[2] = "1";
        }
    }
}

static void put_pitch(struct editor *e)
{
    const bool is_hz = isnan(e->before->length_m);
    struct hbk_horn_change *const change =
        is_hz ? put(e, e->after.fundamental_hz, 5, "")
              : put(e, 1000.0 * e->after.length_m, 3, "");
    change->path[0] = is_hz ? "fundamental" : "length";
}

/* Holes given by 'at' move with the tube even where their place is known. */
static void put_places(struct editor *e)
{
    for (size_t k = 0; k < e->before->n_sites; k++) {
        const struct hbk_site *const was = &e->before->sites[k];
        const struct hbk_site *const is = &e->after.sites[k];
        if (was->kind != HBK_HOLE) {
            continue;
        }
        if (was->hole.from_bell_m != is->hole.from_bell_m) {
            put_mm(e, k, "from_bell", is->hole.from_bell_m, true);
        }
        const double at_m = isnan(e->after.length_m)
                                ? is->at_m
                                : e->after.length_m - is->hole.from_bell_m;
        if (was->at_m != at_m && !isnan(at_m)) {
            put_mm(e, k, "at", at_m, true);
        }
    }
}

static void put_throat(struct editor *e)
{
    const struct hbk_mouthpiece *const piece = &e->after.bore.mouthpiece;
    struct hbk_horn_change *change =
        put(e, 2000.0 * piece->throat_radius_m, 3, "");
    change->path[0] = "mouthpiece";
    change->path[1] = "throat";
    change->path[2] = "1";
    for (size_t i = 0; i < piece->n_backbore; i++) {
        if (piece->backbore[i].radius_m !=
            e->before->bore.mouthpiece.backbore[i].radius_m) {
            change = put(e, 2000.0 * piece->backbore[i].radius_m, 3, "");
            change->path[0] = "mouthpiece";
            change->path[1] = "backbore";
            change->path[2] = hbk_arena_printf(e->arena, "%zu", i);
            change->path[3] = "1";
        }
    }
}

/* What one of all holes has become. */
static void put_hole(struct editor *e, size_t k, enum hbk_parameter_kind kind)
{
    const struct hbk_hole *const was = &e->before->sites[k].hole;
    const struct hbk_hole *const is = &e->after.sites[k].hole;
    if (kind == HBK_FIT_HOLES_SIZE && is->diameter_m != was->diameter_m) {
        put_mm(e, k, "diameter", is->diameter_m, false);
        put_mm(e, k, "pad_diameter", is->pad_diameter_m, true);
    }
    if (kind == HBK_FIT_CHIMNEYS && is->chimney_m > 0.0) {
        put_mm(e, k, "chimney", is->chimney_m, false);
    }
    if (kind == HBK_FIT_PADS && is->pad_lift_m > 0.0) {
        put_mm(e, k, "pad_lift", is->pad_lift_m, false);
    }
}

/* What the names of keys tell beside the bore and the places of holes. */
static void put_named(struct editor *e, enum hbk_parameter_kind kind)
{
    if (kind == HBK_FIT_THROAT) {
        put_throat(e);
    } else if (kind != HBK_FIT_NAMES_PITCH) {
        for (size_t k = 0; k < e->before->n_sites; k++) {
            if (e->before->sites[k].kind == HBK_HOLE) {
                put_hole(e, k, kind);
            }
        }
    } else if (e->fit->report.names.n == e->fit->report.n) {
        /* With a tuner's readings the pitch is where they were taken. */
        struct hbk_horn_change *const change =
            put(e, hbk_named_a4_hz(e->fit), 1, "");
        change->path[0] = "tuning";
        change->path[1] = "a4";
    }
}

static void put_parameter(struct editor *e, const struct hbk_parameter *p)
{
    const struct hbk_hole *const hole = &e->after.sites[p->index].hole;
    struct hbk_horn_change *change = NULL;
    switch (p->kind) {
    case HBK_FIT_PITCH:
        put_pitch(e);
        break;
    case HBK_FIT_LENGTH:
    case HBK_FIT_FLARE:
    case HBK_FIT_BEND:
    case HBK_FIT_HOLE_PLACE:
        break; /* all stations and places are looked through at the end */
    case HBK_FIT_OFFSET:
        change = put(e, e->after.habit.offset_cents, 3, "");
        change->path[0] = "player";
        change->path[1] = "offset";
        break;
    case HBK_FIT_SLOPE:
        change = put(e, e->after.habit.slope_cents, 3, "");
        change->path[0] = "player";
        change->path[1] = "slope";
        break;
    case HBK_FIT_LOOP:
        put_loop(e, p->index);
        break;
    case HBK_FIT_HOLE_RAISE:
        change = put(e, hole->raises, 4, "");
        change->at = e->before->sites[p->index].origin;
        change->path[0] = "raises";
        break;
    case HBK_FIT_HOLE_SIZE:
        put_mm(e, p->index, "diameter", hole->diameter_m, false);
        put_mm(e, p->index, "pad_diameter", hole->pad_diameter_m, true);
        break;
    case HBK_FIT_VOLUME:
        change = put(e, 1e6 * e->after.bore.mouthpiece.volume_m3, 4, "");
        change->path[0] = "mouthpiece";
        change->path[1] = "volume";
        break;
    case HBK_FIT_STRETCH:
        change = put(e, e->after.partials.stretch_cents[p->index], 3, "");
        change->path[0] = "partials";
        change->path[1] = "stretch";
        change->path[2] = hbk_arena_printf(e->arena, "%zu", p->index);
        break;
    case HBK_FIT_CROOK:
        change = put(e, 1000.0 * e->after.crooks[p->index].adds_m, 3, "");
        change->path[0] = "crooks";
        change->path[1] = hbk_arena_printf(e->arena, "crook=%s",
                                           e->after.crooks[p->index].name);
        change->path[2] = "adds";
        break;
    case HBK_FIT_WAVE:
    case HBK_FIT_HOLES_SHIFT:
    case HBK_FIT_HOLES_SCALE:
        break; /* at the end, likewise */
    case HBK_FIT_THROAT:
    case HBK_FIT_HOLES_SIZE:
    case HBK_FIT_CHIMNEYS:
    case HBK_FIT_PADS:
    case HBK_FIT_NAMES_PITCH:
        put_named(e, p->kind);
        break;
    }
}

static bool is_told(const struct hbk_fit *fit, size_t p)
{
    return fit->report.values[p].n_readings > 0 && fit->d[p] != 0.0;
}

/*
 * A horn that was read at another pitch than its file says, and lies nearer
 * to that, is from now on tuned there: else it would be a quarter tone or
 * more from every note it is asked for.
 */
static void put_a4(struct editor *e)
{
    const struct hbk_fit_report *const report = &e->fit->report;
    double heard = 0.0;
    double a4_hz = (double)NAN;
    for (size_t i = 0; i < report->n; i++) {
        const struct hbk_fit_reading *const item = &report->items[i];
        if (item->state == HBK_FIT_USED) {
            heard += item->reading->cents / (double)report->n_used;
            if (item->reading->a4_hz != a4_hz && !isnan(a4_hz)) {
                return; /* at several pitches: no one is meant */
            }
            a4_hz = item->reading->a4_hz;
        }
    }
    const double from_file = heard + hbk_cents(a4_hz, e->before->a4_hz);
    if (fabs(from_file) > 50.0 && fabs(heard) < fabs(from_file)) {
        struct hbk_horn_change *const change = put(e, a4_hz, 2, "");
        change->path[0] = "tuning";
        change->path[1] = "a4";
    }
}

static void list_values(struct editor *e, struct hbk_fitted *fitted)
{
    const struct hbk_fit_report *const report = &e->fit->report;
    const struct hbk_fitted *const earlier = &e->before->fitted;
    struct hbk_fitted_value *const values = HBK_ARENA_ARRAY(
        e->arena, struct hbk_fitted_value, report->n_values + earlier->n + 1);
    size_t n = 0;
    for (size_t p = 0; p < report->n_values; p++) {
        const struct hbk_fit_value *const value = &report->values[p];
        if (is_told(e->fit, p)) {
            values[n++] =
                (struct hbk_fitted_value){.what = value->what,
                                          .was = value->before,
                                          .is = value->after,
                                          .uncertainty = value->after_sd,
                                          .unit = value->unit,
                                          .n_readings = value->n_readings};
        }
    }
    const size_t n_new = n;
    for (size_t i = 0; i < earlier->n; i++) {
        bool is_told_anew = false;
        for (size_t k = 0; k < n_new; k++) {
            is_told_anew = is_told_anew ||
                           strcmp(values[k].what, earlier->values[i].what) == 0;
        }
        if (!is_told_anew) {
            values[n++] = earlier->values[i];
        }
    }
    fitted->n = n;
    fitted->values = values;
}

static const char *source_of(const struct hbk_readings *readings,
                             struct hbk_arena *arena)
{
    if (readings->source == NULL && readings->mouthpiece == NULL) {
        return NULL;
    }
    return hbk_arena_printf(
        arena, "%s%s%s",
        readings->source == NULL ? "Mouthpiece: " : readings->source,
        readings->source == NULL || readings->mouthpiece == NULL
            ? ""
            : "; mouthpiece: ",
        readings->mouthpiece == NULL ? "" : readings->mouthpiece);
}

/* Whether an earlier fit left a remark that begins so and speaks of that. */
static bool was_fitted(const struct hbk_horn *horn, const char *begin,
                       const char *to)
{
    bool was = false;
    for (size_t i = 0; i < horn->n_remarks; i++) {
        const char *const remark = horn->remarks[i];
        was = was || (strncmp(remark, begin, strlen(begin)) == 0 &&
                      strstr(remark, to) != NULL);
    }
    return was;
}

/* One error for the whole file, whatever earlier fits said. */
static const char *remark_of(const struct hbk_fit_report *report,
                             struct hbk_arena *arena)
{
    const struct hbk_horn *const horn = report->horn;
    const double cents = fmax(round(report->unread_cents), 1.0);
    const char *const good_to =
        hbk_arena_printf(arena, "%.0f cent%s", cents, cents == 1.0 ? "" : "s");
    if (report->names.n == report->n && report->n > 0) {
        return hbk_arena_printf(
            arena,
            HBK_SHAPED_REMARK "a note is within some %s of what its key is "
                              "called.%s",
            good_to,
            was_fitted(horn, HBK_FITTED_REMARK, "")
                ? " It was fitted to readings of a tuner before."
                : "");
    }
    const size_t n = report->n_used - report->names.n_used;
    const bool was_shaped = horn->fitted.n_names > 0 ||
                            was_fitted(horn, HBK_SHAPED_REMARK, "") ||
                            was_fitted(horn, HBK_FITTED_REMARK, "key names");
    return hbk_arena_printf(arena,
                            HBK_FITTED_REMARK
                            "%zu reading%s of a tuner%s; a note that was not "
                            "read is good to some %s.",
                            n, n == 1 ? "" : "s",
                            report->names.n > 0 ? " and to the key names"
                            : was_shaped ? ", after its shape to the key names"
                                         : "",
                            good_to);
}

void hbk_fit_edit(const struct hbk_fit *fit, struct hbk_arena *arena,
                  struct hbk_fit_edition *edition)
{
    const struct hbk_fit_report *const report = &fit->report;
    struct editor e = {.fit = fit, .before = report->horn, .arena = arena};
    e.items = HBK_ARENA_ARRAY(
        arena, struct hbk_horn_change,
        2 * (report->n_values + e.before->bore.n_stations) +
            (6 * e.before->n_sites) + e.before->bore.mouthpiece.n_backbore + 1);
    /* What the last step of the fit computed is a horn. */
    (void)hbk_parameters_apply(&fit->parameters, fit->d, arena, &e.after);
    double inserted_m = 0.0;
    for (size_t p = 0; p < fit->parameters.n; p++) {
        if (is_told(fit, p)) {
            put_parameter(&e, &fit->parameters.items[p]);
        }
        inserted_m +=
            fit->parameters.items[p].kind == HBK_FIT_LENGTH ? fit->d[p] : 0.0;
    }
    put_a4(&e);
    put_stations(&e);
    put_places(&e);
    *edition = (struct hbk_fit_edition){
        .changes = {.n = e.n,
                    .items = e.items,
                    .inserted_at_m = hbk_parameters_insert_m(e.before),
                    .inserted_m = inserted_m},
        .fitted = {.n_names = report->names.n_used,
                   .n_readings = report->n_used - report->names.n_used,
                   .n_set_aside = report->n - report->n_used,
                   .left_out_cents = report->unread_cents,
                   .source = source_of(report->readings, arena)},
        .remark = remark_of(report, arena),
    };
    list_values(&e, &edition->fitted);
}
