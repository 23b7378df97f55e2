#include "fit/parameter_value.h"

#include "fit/unknowns.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/tube.h"
#include "music/pitch.h"

#include <math.h>

static struct hbk_parameter_value loop_value(const struct hbk_loop *loop,
                                             double d)
{
    const double value = loop->value * exp(d);
    switch (loop->measure) {
    case HBK_LOOP_METRES:
        return (struct hbk_parameter_value){1000.0 * value, 1000.0 * value,
                                            "mm", 2};
    case HBK_LOOP_SHARE:
        return (struct hbk_parameter_value){100.0 * value, 100.0 * value, "%",
                                            3};
    case HBK_LOOP_CENTS:
        break;
    }
    return (struct hbk_parameter_value){value, value, "cents", 2};
}

static struct hbk_parameter_value pitch_value(const struct hbk_horn *horn,
                                              double d)
{
    if (isnan(horn->length_m)) {
        const double hz = horn->fundamental_hz * hbk_cents_ratio(d);
        return (struct hbk_parameter_value){hz, hz * HBK_CENT_SHARE, "Hz", 4};
    }
    const double mm = 1000.0 * horn->length_m * hbk_cents_ratio(-d);
    return (struct hbk_parameter_value){mm, -mm * HBK_CENT_SHARE, "mm", 2};
}

struct hbk_parameter_value
hbk_parameter_value(const struct hbk_parameters *parameters, size_t i, double d)
{
    const struct hbk_parameter *const p = &parameters->items[i];
    const struct hbk_horn *const horn = parameters->horn;
    const struct hbk_hole *const hole = &horn->sites[p->index].hole;
    double value = 0.0;
    switch (p->kind) {
    case HBK_FIT_PITCH:
        return pitch_value(horn, d);
    case HBK_FIT_LENGTH:
        return (struct hbk_parameter_value){
            1000.0 * (hbk_bore_axis_m(horn) + d), 1000.0, "mm", 2};
    case HBK_FIT_OFFSET:
        return (struct hbk_parameter_value){horn->habit.offset_cents + d, 1.0,
                                            "cents", 2};
    case HBK_FIT_SLOPE:
        return (struct hbk_parameter_value){horn->habit.slope_cents + d, 1.0,
                                            "cents", 2};
    case HBK_FIT_LOOP:
        return loop_value(&horn->sites[p->index].loop, d);
    case HBK_FIT_HOLE_RAISE:
        return (struct hbk_parameter_value){hole->raises + d, 1.0, "semitones",
                                            4};
    case HBK_FIT_HOLE_PLACE:
        return (struct hbk_parameter_value){1000.0 * (hole->from_bell_m + d),
                                            1000.0, "mm", 2};
    case HBK_FIT_HOLE_SIZE:
        value = 1000.0 * hole->diameter_m * exp(d);
        return (struct hbk_parameter_value){value, value, "mm", 3};
    case HBK_FIT_VOLUME:
        value = 1e6 * horn->bore.mouthpiece.volume_m3 * exp(d);
        return (struct hbk_parameter_value){value, value, "ml", 3};
    case HBK_FIT_BEND:
    case HBK_FIT_FLARE:
        return (struct hbk_parameter_value){100.0 * expm1(d), 100.0 * exp(d),
                                            "%", 3};
    case HBK_FIT_STRETCH:
        return (struct hbk_parameter_value){
            horn->partials.stretch_cents[p->index] + d, 1.0, "cents", 2};
    case HBK_FIT_CROOK:
        value = 1000.0 * horn->crooks[p->index].adds_m * exp(d);
        return (struct hbk_parameter_value){value, value, "mm", 2};
    case HBK_FIT_THROAT:
        value = 2000.0 * horn->bore.mouthpiece.throat_radius_m * exp(d);
        return (struct hbk_parameter_value){value, value, "mm", 3};
    case HBK_FIT_HOLES_SHIFT:
        return (struct hbk_parameter_value){1000.0 * d, 1000.0, "mm", 2};
    case HBK_FIT_HOLES_SCALE:
        return (struct hbk_parameter_value){100.0 * d, 100.0, "%", 3};
    case HBK_FIT_WAVE:
    case HBK_FIT_HOLES_SIZE:
    case HBK_FIT_CHIMNEYS:
    case HBK_FIT_PADS:
        return (struct hbk_parameter_value){100.0 * expm1(d), 100.0 * exp(d),
                                            "%", 3};
    case HBK_FIT_NAMES_PITCH:
        value = horn->a4_hz * hbk_cents_ratio(d);
        return (struct hbk_parameter_value){value, value * HBK_CENT_SHARE, "Hz",
                                            2};
    }
    return (struct hbk_parameter_value){0.0, 0.0, "", 0};
}

/* "key 3", "valves 1-2"; a second hole of one key says so. */
static const char *site_words(const struct hbk_horn *horn, size_t k,
                              struct hbk_arena *arena)
{
    const struct hbk_site *const site = &horn->sites[k];
    const struct hbk_control *const control =
        &horn->controls[__builtin_ctz(site->terms[0])];
    char words[64];
    char label[HBK_LABEL_SIZE];
    if ((site->terms[0] & (site->terms[0] - 1)) != 0) {
        return hbk_arena_printf(
            arena, "%s together",
            hbk_horn_press_label(horn, site->terms[0], label));
    }
    size_t before = 0;
    for (size_t i = 0; i < k; i++) {
        before += horn->sites[i].kind == site->kind &&
                          horn->sites[i].terms[0] == site->terms[0]
                      ? 1
                      : 0;
    }
    hbk_control_words(control, words, sizeof(words));
    return before == 0
               ? hbk_arena_printf(arena, "%s", words)
               : hbk_arena_printf(arena, "%s (number %zu)", words, before + 1);
}

static const char *wave_words(size_t index, struct hbk_arena *arena)
{
    const size_t stretch = index / HBK_UNKNOWN_PER_STRETCH;
    const size_t wave = index % HBK_UNKNOWN_PER_STRETCH;
    return stretch == 0 ? hbk_arena_printf(arena, "bore, wave %zu", wave)
                        : hbk_arena_printf(arena, "bore, stretch %zu, wave %zu",
                                           stretch + 1, wave);
}

const char *hbk_parameter_words(const struct hbk_parameters *parameters,
                                size_t i, struct hbk_arena *arena)
{
    const struct hbk_parameter *const p = &parameters->items[i];
    const struct hbk_horn *const horn = parameters->horn;
    switch (p->kind) {
    case HBK_FIT_PITCH:
        return isnan(horn->length_m) ? "fundamental" : "length";
    case HBK_FIT_LENGTH:
        return "length of the tube";
    case HBK_FIT_OFFSET:
        return "player's offset";
    case HBK_FIT_SLOPE:
        return "player's slope an octave";
    case HBK_FIT_LOOP:
        return hbk_arena_printf(arena, "loop of %s",
                                site_words(horn, p->index, arena));
    case HBK_FIT_HOLE_RAISE:
        return hbk_arena_printf(arena, "step of %s",
                                site_words(horn, p->index, arena));
    case HBK_FIT_HOLE_PLACE:
        return hbk_arena_printf(arena, "place of %s",
                                site_words(horn, p->index, arena));
    case HBK_FIT_HOLE_SIZE:
        return hbk_arena_printf(arena, "hole of %s",
                                site_words(horn, p->index, arena));
    case HBK_FIT_VOLUME:
        return "cup of the mouthpiece";
    case HBK_FIT_FLARE:
        return "flare of the bell half";
    case HBK_FIT_BEND:
        return hbk_arena_printf(arena, "shape of the bore, wave %zu",
                                p->index + 1);
    case HBK_FIT_STRETCH:
        return hbk_arena_printf(arena, "partial %zu", p->index);
    case HBK_FIT_CROOK:
        return hbk_arena_printf(arena, "crook %s", horn->crooks[p->index].name);
    case HBK_FIT_WAVE:
        return wave_words(p->index, arena);
    case HBK_FIT_THROAT:
        return "throat of the mouthpiece";
    case HBK_FIT_HOLES_SHIFT:
        return "place of all holes";
    case HBK_FIT_HOLES_SCALE:
        return "spread of all holes";
    case HBK_FIT_HOLES_SIZE:
        return "width of all holes";
    case HBK_FIT_CHIMNEYS:
        return "height of all chimneys";
    case HBK_FIT_PADS:
        return "lift of all pads";
    case HBK_FIT_NAMES_PITCH:
        return "pitch the keys mean";
    }
    return "";
}
