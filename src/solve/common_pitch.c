#include "solve/common_pitch.h"

#include "music/pitch.h"
#include "music/standard.h"
#include "solve/setting.h"
#include "solve/setup.h"

#include <math.h>

/* Levels nearer to each other than this are equally good. */
static const double equal_cents = 0.01;

enum hbk_status hbk_pitch_reach(const struct hbk_horn *horn,
                                double temperature_c, struct hbk_stuck stuck,
                                struct hbk_arena *arena,
                                struct hbk_pitch_member *member,
                                struct hbk_faults *faults)
{
    const bool is_stuck = (stuck.held_down | stuck.held_up) != 0;
    struct hbk_pitch_setup *const setups =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_setup, horn->n_crooks + 1);
    size_t n = 0;
    for (int crook = -1; crook < (int)horn->n_crooks; crook++) {
        struct hbk_setting setting = hbk_setting_of(horn);
        setting.temperature_c = temperature_c;
        setting.crook = crook;
        setting.stuck = stuck;
        setting.tune_stuck = is_stuck;
        if (hbk_setting_written_c4(horn, &setting) != horn->written_c4_sounds) {
            continue;
        }
        struct hbk_reach reach;
        HBK_TRY(hbk_reach_of(horn, &setting, arena, &reach, faults));
        setups[n++] = (struct hbk_pitch_setup){.crook = crook,
                                               .lowest_hz = reach.lowest_hz,
                                               .highest_hz = reach.highest_hz,
                                               .cents_per_degree =
                                                   reach.cents_per_degree};
    }
    *member = (struct hbk_pitch_member){
        .horn = horn, .stuck = stuck, .n_setups = n, .setups = setups};
    return HBK_OK;
}

double hbk_pitch_error(const struct hbk_pitch_member *member, double a4_hz)
{
    double best = INFINITY;
    for (size_t i = 0; i < member->n_setups; i++) {
        const struct hbk_pitch_setup *const s = &member->setups[i];
        const double cents =
            a4_hz > s->highest_hz  ? hbk_cents(s->highest_hz, a4_hz)
            : a4_hz < s->lowest_hz ? hbk_cents(s->lowest_hz, a4_hz)
                                   : 0.0;
        best = fabs(cents) < fabs(best) ? cents : best;
    }
    return best;
}

/* How good a pitch is for all. */
struct merit {
    double total, squares;
};

static struct merit merit_of(size_t n, const struct hbk_pitch_member members[],
                             double a4_hz)
{
    struct merit merit = {0};
    for (size_t i = 0; i < n; i++) {
        const double cents = hbk_pitch_error(&members[i], a4_hz);
        merit.total += fabs(cents);
        merit.squares += cents * cents;
    }
    return merit;
}

/* Whether one pitch is better than another, which may lie higher. */
static bool is_better(struct merit a, double a_hz, struct merit b, double b_hz)
{
    if (fabs(a.total - b.total) > equal_cents) {
        return a.total < b.total;
    }
    if (fabs(a.squares - b.squares) > equal_cents) {
        return a.squares < b.squares;
    }
    return a_hz > b_hz;
}

struct hbk_common_pitch
hbk_common_pitch_at(size_t n, const struct hbk_pitch_member members[],
                    double a4_hz)
{
    struct hbk_common_pitch pitch = {.a4_hz = a4_hz,
                                     .total_cents =
                                         merit_of(n, members, a4_hz).total,
                                     .from_hz = 0.0,
                                     .to_hz = INFINITY};
    for (size_t i = 0; i < n; i++) {
        bool fits = false;
        for (size_t k = 0; k < members[i].n_setups && !fits; k++) {
            const struct hbk_pitch_setup *const s = &members[i].setups[k];
            fits = a4_hz >= s->lowest_hz && a4_hz <= s->highest_hz;
            if (fits) {
                pitch.from_hz = fmax(pitch.from_hz, s->lowest_hz);
                pitch.to_hz = fmin(pitch.to_hz, s->highest_hz);
            }
        }
        if (!fits) {
            pitch.from_hz = (double)NAN;
            pitch.to_hz = (double)NAN;
            break;
        }
    }
    return pitch;
}

/* The best pitch that was met. */
struct best {
    size_t n;
    const struct hbk_pitch_member *members;
    struct merit merit;
    double a4_hz;
};

static void try_level(struct best *best, double a4_hz)
{
    const struct merit merit = merit_of(best->n, best->members, a4_hz);
    if (best->a4_hz == 0.0 ||
        is_better(merit, a4_hz, best->merit, best->a4_hz)) {
        best->merit = merit;
        best->a4_hz = a4_hz;
    }
}

struct hbk_common_pitch
hbk_common_pitch_find(size_t n, const struct hbk_pitch_member members[])
{
    static const double grid_hz = 0.5;
    struct best best = {.n = n, .members = members};
    double lowest = INFINITY;
    double highest = 0.0;
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < members[i].n_setups; k++) {
            const struct hbk_pitch_setup *const s = &members[i].setups[k];
            try_level(&best, s->lowest_hz);
            try_level(&best, s->highest_hz);
            lowest = fmin(lowest, s->lowest_hz);
            highest = fmax(highest, s->highest_hz);
        }
    }
    const struct hbk_standard *standards = NULL;
    const size_t n_standards = hbk_standards(&standards);
    for (size_t i = 0; i < n_standards; i++) {
        if (standards[i].a4_hz >= lowest && standards[i].a4_hz <= highest) {
            try_level(&best, standards[i].a4_hz);
        }
    }
    for (double hz = grid_hz * ceil(lowest / grid_hz); hz <= highest;
         hz += grid_hz) {
        try_level(&best, hz);
    }
    return hbk_common_pitch_at(n, members, best.a4_hz);
}

enum hbk_status hbk_pitch_place(const struct hbk_pitch_member *member,
                                double a4_hz, double temperature_c,
                                struct hbk_arena *arena,
                                struct hbk_pitch_place *place,
                                struct hbk_faults *faults)
{
    struct hbk_pitch_place best = {0};
    bool any = false;
    for (size_t i = 0; i < member->n_setups; i++) {
        struct hbk_setting setting = hbk_setting_of(member->horn);
        setting.a4_hz = a4_hz;
        setting.temperature_c = temperature_c;
        setting.crook = member->setups[i].crook;
        setting.stuck = member->stuck;
        setting.tune_stuck =
            (member->stuck.held_down | member->stuck.held_up) != 0;
        struct hbk_setup setup;
        struct hbk_faults told = {0};
        const enum hbk_status status =
            hbk_set_up(member->horn, &setting, arena, &setup, &told);
        if (status != HBK_OK) {
            hbk_faults_hand_on(&told, faults);
            return status;
        }
        const struct hbk_tuned tuned = setup.tuned;
        if (!any || fabs(tuned.after_cents) <
                        fabs(best.tuned.after_cents) - equal_cents) {
            best = (struct hbk_pitch_place){.crook = setting.crook,
                                            .tuned = tuned};
            any = true;
        }
    }
    *place = best;
    return HBK_OK;
}
