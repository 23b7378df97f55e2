#include "solve/curve.h"

#include "acoustics/walk.h"
#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/bore_chain.h"
#include "solve/bore_column.h"
#include "solve/setting.h"
#include "solve/setup.h"

#include <assert.h>
#include <math.h>

/* As many as a grid of that fineness can hold for a horn that is played. */
enum { MAXIMA_ROOM = 128 };

/* One horn being looked at. */
struct look {
    const struct hbk_horn *horn;
    const struct hbk_curve_ask *ask;
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    struct hbk_chain chain;
    struct hbk_air air;
    struct hbk_curves *curves;
    uint64_t words[HBK_CURVES_MAX];
};

static enum hbk_status refuse(struct look *look, enum hbk_status status,
                              unsigned number, const char *why)
{
    hbk_fault_add(look->faults, (struct hbk_place){.file = look->horn->path},
                  number, "%s", why);
    return status;
}

static enum hbk_status set_up(struct look *look,
                              const struct hbk_setting *setting)
{
    const struct hbk_horn *const horn = look->horn;
    struct hbk_curves *const curves = look->curves;
    struct hbk_setup setup;
    HBK_TRY(hbk_set_up(horn, setting, look->arena, &setup, look->faults));
    curves->about.tuned = setup.tuned;
    double open_m = 0.0;
    HBK_TRY(hbk_bore_open_m(horn, look->arena, &open_m, look->faults));
    HBK_TRY(
        hbk_bore_chain(horn, &setup.rig, open_m, &look->chain, look->faults));
    if (hbk_air_at(setting->temperature_c, &look->air) != HBK_OK) {
        return refuse(look, HBK_ERR_DOMAIN, HBK_H_NO_CURVE,
                      "no law holds for air of that temperature");
    }
    curves->wave_impedance = hbk_chain_wave_impedance(&look->chain, &look->air);
    for (size_t i = 0; i < look->ask->n; i++) {
        const uint32_t press =
            (look->ask->presses[i] | setting->stuck.held_down) &
            ~setting->stuck.held_up;
        look->words[i] = hbk_bore_word(horn, press);
    }
    return HBK_OK;
}

static double level_of(const struct look *look, double height)
{
    return 20.0 * log10(height / look->curves->wave_impedance);
}

static enum hbk_status add_levels(struct look *look, size_t i,
                                  struct hbk_curve *curve)
{
    const size_t n = look->ask->n_points;
    double *const level = HBK_ARENA_ARRAY(look->arena, double, n);
    double *const im = HBK_ARENA_ARRAY(look->arena, double, n);
    if (hbk_chain_impedance(&look->chain, &look->air, look->words[i], n,
                            look->curves->hz, level, im) != HBK_OK) {
        return refuse(look, HBK_ERR_DOMAIN, HBK_H_NO_CURVE,
                      "the impedance of this bore cannot be computed");
    }
    for (size_t k = 0; k < n; k++) {
        level[k] = level_of(look, hypot(level[k], im[k]));
    }
    curve->level_db = level;
    return HBK_OK;
}

static struct hbk_curve_place name_place(const struct look *look, double hz)
{
    const struct hbk_notes *const about = &look->curves->about;
    const double a4_hz = about->tuned.pitch_hz;
    const int sounding =
        (int)lround(HBK_NOTE_A4 + (hbk_cents(hz, a4_hz) / HBK_SEMITONE_CENTS));
    return (struct hbk_curve_place){
        .hz = hz,
        .written = sounding - about->written_c4_sounds + HBK_NOTE_C4,
        .cents = hbk_cents(hz, hbk_note_hz(sounding, a4_hz)),
    };
}

static struct hbk_curve_maximum name_maximum(const struct look *look,
                                             const struct hbk_maximum *m)
{
    return (struct hbk_curve_maximum){
        .partial = m->partial,
        .at = name_place(look, m->hz),
        .heard = name_place(look, m->heard_hz),
        .height = m->height,
        .level_db = level_of(look, m->height),
        .q = m->q,
        .response_db = m->response_db,
    };
}

static enum hbk_status add_maxima(struct look *look, struct hbk_curve curves[])
{
    const size_t n = look->ask->n;
    /* No lower than for the notes, whose response counts multiples too. */
    const double notes_hz = hbk_bore_limit_hz(look->horn);
    const struct hbk_sections_options options = {
        .limit_hz = fmax(look->ask->to_hz, notes_hz)};
    struct hbk_sections sections;
    struct hbk_maximum *const maxima =
        HBK_ARENA_ARRAY(look->arena, struct hbk_maximum, n * MAXIMA_ROOM);
    size_t counts[HBK_CURVES_MAX] = {0};
    enum hbk_status status = hbk_sections_make(
        &look->chain, &look->air, &options, look->arena, &sections);
    if (status == HBK_OK) {
        const struct hbk_walk_options walk_options = {.states_max = n,
                                                      .ear_limit_hz = notes_hz};

        status =
            hbk_walk_run(hbk_walk_make(&sections, &walk_options, look->arena),
                         n, look->words, MAXIMA_ROOM, maxima, counts);
    }
    if (status != HBK_OK) {
        return refuse(look, status, HBK_H_NO_CURVE,
                      "the tube is too long to follow its resonances up to "
                      "that frequency; ask for a lower one");
    }
    for (size_t i = 0; i < n; i++) {
        struct hbk_curve_maximum *const named = HBK_ARENA_ARRAY(
            look->arena, struct hbk_curve_maximum, counts[i] + 1);
        size_t kept = 0;
        for (size_t k = 0; k < counts[i]; k++) {
            const struct hbk_maximum *const m = &maxima[i * MAXIMA_ROOM + k];
            if (m->hz <= look->ask->to_hz) {
                named[kept++] = name_maximum(look, m);
            }
        }
        curves[i].maxima = named;
        curves[i].n_maxima = kept;
    }
    return HBK_OK;
}

static const double *make_grid(const struct hbk_curve_ask *ask,
                               struct hbk_arena *arena)
{
    double *const hz = HBK_ARENA_ARRAY(arena, double, ask->n_points);
    for (size_t k = 0; k < ask->n_points; k++) {
        hz[k] = ask->to_hz * (double)(k + 1) / (double)ask->n_points;
    }
    return hz;
}

enum hbk_status hbk_curves_compute(const struct hbk_horn *horn,
                                   const struct hbk_setting *setting,
                                   const struct hbk_curve_ask *ask,
                                   struct hbk_arena *arena,
                                   struct hbk_curves *curves,
                                   struct hbk_faults *faults)
{
    assert(ask->n >= 1 && ask->n <= HBK_CURVES_MAX);
    struct hbk_curves found = {
        .about = {.horn = horn,
                  .setting = *setting,
                  .written_c4_sounds = hbk_setting_written_c4(horn, setting),
                  .notation = hbk_notation_own(horn->clef)},
        .to_hz = ask->to_hz,
        .n_points = ask->n_points,
        .hz = make_grid(ask, arena),
        .n = ask->n,
    };
    struct look look = {.horn = horn,
                        .ask = ask,
                        .arena = arena,
                        .faults = faults,
                        .chain = {.arena = arena},
                        .curves = &found};
    if (horn->model != HBK_MODEL_BORE) {
        return refuse(&look, HBK_ERR_NO_RESULT, HBK_H_NO_BORE,
                      "this horn is described by its length only; a bore is "
                      "needed");
    }
    HBK_TRY(set_up(&look, setting));
    struct hbk_curve *const all =
        HBK_ARENA_ARRAY(arena, struct hbk_curve, ask->n);
    for (size_t i = 0; i < ask->n; i++) {
        all[i].press = ask->presses[i];
        HBK_TRY(add_levels(&look, i, &all[i]));
    }
    HBK_TRY(add_maxima(&look, all));
    found.curves = all;
    *curves = found;
    return HBK_OK;
}
