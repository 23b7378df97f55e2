#include "solve/bore_column.h"

#include "acoustics/walk.h"
#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/bore_chain.h"

#include <math.h>

enum {
    /* Side maxima behind open holes take places too. */
    MAXIMA_MAX = HBK_PARTIALS_MAX + 16,
    PRESSES_WORTH_A_THREAD = 512,
    STATES_AT_ONCE = 4096
};

double hbk_bore_limit_hz(const struct hbk_horn *horn)
{
    /* Some 4 semitones above the top note, for a horn that is sharp. */
    static const double headroom = 1.25;
    /* For a bound any air will do; one for all keeps the grid what it is. */
    const double speed_m_s = 345.0;
    const double axis_m = hbk_bore_axis_m(horn);
    double limit = (horn->partials.highest + 1.0) * speed_m_s / (2.0 * axis_m);
    if (horn->has_compass) {
        const int sounding =
            horn->highest + horn->written_c4_sounds - HBK_NOTE_C4;
        limit = hbk_note_hz(sounding, horn->a4_hz);
    }
    return fmin(fmax(headroom * limit, 200.0), 5000.0);
}

/* Everything one walk needs, for a horn set up in one way. */
struct column {
    struct hbk_chain chain;
    struct hbk_air air;
    struct hbk_sections sections;
};

static enum hbk_status make_column(const struct hbk_horn *horn,
                                   const struct hbk_rig *rig, double open_m,
                                   uint32_t sliding, struct hbk_arena *arena,
                                   struct column *column,
                                   struct hbk_faults *faults)
{
    *column = (struct column){.chain = {.arena = arena}};
    HBK_TRY(hbk_bore_chain_sliding(horn, rig, open_m, sliding, &column->chain,
                                   faults));
    HBK_TRY(hbk_air_at(rig->temperature_c, &column->air));
    const struct hbk_sections_options options = {.limit_hz =
                                                     hbk_bore_limit_hz(horn)};
    const enum hbk_status status = hbk_sections_make(
        &column->chain, &column->air, &options, arena, &column->sections);
    if (status != HBK_OK) {
        hbk_fault_add(faults, (struct hbk_place){.file = horn->path},
                      HBK_H_NO_SECTIONS,
                      "this bore cannot be computed up to %.0f Hz, which its "
                      "highest note asks for: the tube is too long for that, "
                      "or its holes are too many; check length, holes and "
                      "compass",
                      options.limit_hz);
    }
    return status;
}

/* Puts a maximum that lost its number beside the one that has it. */
static void fill_other(const struct hbk_maximum *maximum,
                       double heights[HBK_CLAIMANTS_MAX - 1],
                       struct hbk_peak *peak)
{
    struct hbk_claimant new = {maximum->heard_hz, maximum->hz,
                               maximum->response_db};
    double height = maximum->height;
    for (size_t k = 0; k < HBK_CLAIMANTS_MAX - 1; k++) {
        const struct hbk_claimant old = peak->others[k];
        const double old_height = heights[k];
        if (old.hz > 0.0 && old_height >= height) {
            continue;
        }
        peak->others[k] = new;
        heights[k] = height;
        new = old;
        height = old_height;
    }
}

static void fill_row(size_t n, const struct hbk_maximum maxima[],
                     struct hbk_peak *row)
{
    double heights[HBK_PEAK_STRIDE][HBK_CLAIMANTS_MAX - 1] = {{0.0}};
    for (size_t p = 0; p < HBK_PEAK_STRIDE; p++) {
        row[p] = (struct hbk_peak){0};
    }
    for (size_t i = 0; i < n; i++) {
        const unsigned p = maxima[i].claim;
        if (p < 1 || p > HBK_PARTIALS_MAX) {
            continue;
        }
        if (maxima[i].partial == p) {
            row[p].hz = maxima[i].heard_hz;
            row[p].maximum_hz = maxima[i].hz;
            row[p].response_db = maxima[i].response_db;
        } else {
            fill_other(&maxima[i], heights[p], &row[p]);
        }
    }
}

/* Walks the presses in lots, so that the workspace stays small. */
static enum hbk_status walk(const struct hbk_horn *horn,
                            const struct column *column, size_t n,
                            const uint32_t presses[], struct hbk_arena *arena,
                            struct hbk_peak *peaks)
{
    const size_t lot = n < STATES_AT_ONCE ? n : STATES_AT_ONCE;
    const struct hbk_walk_options options = {
        .states_max = lot, .threads = n >= PRESSES_WORTH_A_THREAD ? 2 : 1};
    struct hbk_walk *const walk =
        hbk_walk_make(&column->sections, &options, arena);
    uint64_t *const words = HBK_ARENA_ARRAY(arena, uint64_t, lot);
    size_t *const counts = HBK_ARENA_ARRAY(arena, size_t, lot);
    struct hbk_maximum *const maxima =
        HBK_ARENA_ARRAY(arena, struct hbk_maximum, lot * MAXIMA_MAX);
    for (size_t first = 0; first < n; first += lot) {
        const size_t here = n - first < lot ? n - first : lot;
        for (size_t i = 0; i < here; i++) {
            words[i] = hbk_bore_word(horn, presses[first + i]);
        }
        HBK_TRY(hbk_walk_run(walk, here, words, MAXIMA_MAX, maxima, counts));
        for (size_t i = 0; i < here; i++) {
            fill_row(counts[i], &maxima[i * MAXIMA_MAX],
                     &peaks[(first + i) * HBK_PEAK_STRIDE]);
        }
    }
    return HBK_OK;
}

static bool has_relative_loop(const struct hbk_horn *horn)
{
    for (size_t k = 0; k < horn->n_sites; k++) {
        if (horn->sites[k].kind == HBK_LOOP &&
            horn->sites[k].loop.measure != HBK_LOOP_METRES) {
            return true;
        }
    }
    return false;
}

enum hbk_status hbk_bore_open_m(const struct hbk_horn *horn,
                                struct hbk_arena *arena, double *open_m,
                                struct hbk_faults *faults)
{
    const double axis_m = hbk_bore_axis_m(horn);
    if (!has_relative_loop(horn)) {
        *open_m = axis_m;
        return HBK_OK;
    }
    const struct hbk_rig home = {.temperature_c = horn->temperature_c,
                                 .crook = -1};
    struct column column;
    HBK_TRY(make_column(horn, &home, axis_m, 0, arena, &column, faults));
    struct hbk_peak row[HBK_PEAK_STRIDE];
    const uint32_t rest = 0;
    HBK_TRY(walk(horn, &column, 1, &rest, arena, row));
    const double target = hbk_note_hz(
        horn->tuning_note + horn->written_c4_sounds - HBK_NOTE_C4, horn->a4_hz);
    double nearest = INFINITY;
    double length_m = axis_m;
    for (unsigned p = 1; p <= HBK_PARTIALS_MAX; p++) {
        const double cents = row[p].hz > 0.0
                                 ? fabs(hbk_cents(row[p].hz, target))
                                 : (double)INFINITY;
        if (cents < nearest) {
            nearest = cents;
            length_m = p * column.air.speed / (2.0 * row[p].hz);
        }
    }
    *open_m = length_m;
    return HBK_OK;
}

enum hbk_status hbk_bore_peaks(const struct hbk_horn *horn,
                               const struct hbk_rig *rig, size_t n,
                               const uint32_t presses[], struct hbk_peak *peaks,
                               struct hbk_faults *faults)
{
    struct hbk_arena scratch = {0};
    struct column column;
    double open_m = 0.0;
    enum hbk_status status = hbk_bore_open_m(horn, &scratch, &open_m, faults);
    if (status == HBK_OK) {
        status = make_column(horn, rig, open_m, 0, &scratch, &column, faults);
    }
    if (status == HBK_OK) {
        status = walk(horn, &column, n, presses, &scratch, peaks);
    }
    hbk_arena_finish(&scratch);
    return status;
}

struct hbk_bore_slider {
    struct hbk_arena arena; /* which this lives in, too */
    const struct hbk_horn *horn;
    uint32_t sliding;
    uint64_t word;
    struct column column;
    struct hbk_walk *walk;
};

/* Everything with the slides drawn as far as they go: the grid is for that. */
static enum hbk_status make_slider(const struct hbk_rig *rig,
                                   struct hbk_bore_slider *slider,
                                   struct hbk_faults *faults)
{
    const struct hbk_horn *const horn = slider->horn;
    struct hbk_arena *const arena = &slider->arena;
    double *const draw_m = HBK_ARENA_ARRAY(arena, double, horn->n_slides + 1);
    for (size_t s = 0; s < horn->n_slides; s++) {
        draw_m[s] = (slider->sliding >> s & 1U) != 0 ? horn->slides[s].travel_m
                    : rig->draw_m == NULL ? horn->slides[s].stands_out_m
                                          : rig->draw_m[s];
    }
    struct hbk_rig out = *rig;
    out.draw_m = draw_m;
    double open_m = 0.0;
    HBK_TRY(hbk_bore_open_m(horn, arena, &open_m, faults));
    HBK_TRY(make_column(horn, &out, open_m, slider->sliding, arena,
                        &slider->column, faults));
    const struct hbk_walk_options options = {.states_max = 1};
    slider->walk = hbk_walk_make(&slider->column.sections, &options, arena);
    return HBK_OK;
}

enum hbk_status hbk_bore_slider_make(const struct hbk_horn *horn,
                                     const struct hbk_rig *rig, uint32_t press,
                                     uint32_t sliding,
                                     struct hbk_bore_slider **slider,
                                     struct hbk_faults *faults)
{
    *slider = NULL;
    if (horn->n_sites + horn->n_slides > HBK_CHAIN_SITES_MAX) {
        return HBK_OK;
    }
    struct hbk_arena arena = {0};
    struct hbk_bore_slider *const made =
        HBK_ARENA_ARRAY(&arena, struct hbk_bore_slider, 1);
    made->arena = arena;
    made->horn = horn;
    made->sliding = sliding;
    made->word = hbk_bore_word(horn, press) | (uint64_t)sliding
                                                  << horn->n_sites;
    const enum hbk_status status = make_slider(rig, made, faults);
    if (status != HBK_OK) {
        hbk_bore_slider_finish(made);
        return status;
    }
    *slider = made;
    return HBK_OK;
}

void hbk_bore_slider_finish(struct hbk_bore_slider *slider)
{
    if (slider != NULL) {
        struct hbk_arena arena = slider->arena;
        hbk_arena_finish(&arena);
    }
}

bool hbk_bore_slider_row(struct hbk_bore_slider *slider, const double draw_m[],
                         struct hbk_peak row[HBK_PEAK_STRIDE])
{
    const struct hbk_horn *const horn = slider->horn;
    struct column *const column = &slider->column;
    const struct hbk_rig rig = {.draw_m = draw_m};
    for (size_t s = 0; s < horn->n_slides; s++) {
        if ((slider->sliding >> s & 1U) != 0 &&
            hbk_slide_added_m(horn, &rig, s) < 0.0) {
            return false;
        }
    }
    for (size_t i = 0; i < column->chain.n; i++) {
        struct hbk_element *const element = &column->chain.elements[i];
        if (element->kind == HBK_ELEMENT_LOOP &&
            element->site >= horn->n_sites) {
            element->tube.length_m =
                hbk_slide_added_m(horn, &rig, element->site - horn->n_sites);
            hbk_sections_set_loop(&column->sections, &column->chain, i,
                                  &column->air);
        }
    }
    struct hbk_maximum maxima[MAXIMA_MAX];
    size_t count = 0;
    if (hbk_walk_run(slider->walk, 1, &slider->word, MAXIMA_MAX, maxima,
                     &count) != HBK_OK) {
        return false;
    }
    fill_row(count, maxima, row);
    return true;
}
