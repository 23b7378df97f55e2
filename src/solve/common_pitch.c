#include "solve/common_pitch.h"

#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/search.h"
#include "solve/setting.h"
#include "solve/setup.h"

#include <math.h>

/* Pitches nearer to each other than this are equally good. */
static const double equal_cents = 0.01;

enum hbk_status hbk_pitch_reach(const struct hbk_horn *horn,
                                const struct hbk_setting *setting,
                                struct hbk_arena *arena,
                                struct hbk_pitch_member *member,
                                struct hbk_faults *faults)
{
    struct hbk_pitch_setup *const setups =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_setup, horn->n_crooks + 1);
    size_t n = 0;
    for (int crook = -1; crook < (int)horn->n_crooks; crook++) {
        struct hbk_setting own = *setting;
        own.a4_hz = horn->a4_hz;
        own.crook = crook;
        if (hbk_setting_written_c4(horn, &own) != horn->written_c4_sounds) {
            continue;
        }
        setups[n].crook = crook;
        HBK_TRY(hbk_reach_of(horn, &own, arena, &setups[n].reach, faults));
        n++;
    }
    *member = (struct hbk_pitch_member){
        .horn = horn, .setting = *setting, .n_setups = n, .setups = setups};
    return HBK_OK;
}

/* Cents of a pitch beyond a range; positive below it, 0 within. */
static double beyond(double a4_hz, double lowest_hz, double highest_hz)
{
    return a4_hz > highest_hz  ? hbk_cents(highest_hz, a4_hz)
           : a4_hz < lowest_hz ? hbk_cents(lowest_hz, a4_hz)
                               : 0.0;
}

double hbk_pitch_error(const struct hbk_pitch_member *member, double a4_hz)
{
    double best = INFINITY;
    for (size_t i = 0; i < member->n_setups; i++) {
        const struct hbk_reach *const reach = &member->setups[i].reach;
        const double cents = beyond(a4_hz, reach->lowest_hz, reach->highest_hz);
        best = fabs(cents) < fabs(best) ? cents : best;
    }
    return best;
}

/*
 * Cents by which a setup lies beyond where its slides keep their margin; what
 * it stays off pitch is among them.
 */
static double want_of(const struct hbk_reach *reach, double a4_hz)
{
    return fabs(beyond(a4_hz, reach->kept_lowest_hz, reach->kept_highest_hz));
}

static double least_want(const struct hbk_pitch_member *member, double a4_hz)
{
    double least = INFINITY;
    for (size_t i = 0; i < member->n_setups; i++) {
        least = fmin(least, want_of(&member->setups[i].reach, a4_hz));
    }
    return least;
}

/* How good a pitch is for all. */
struct merit {
    double a4_hz;
    double total, squares; /* cents off */
    double want;           /* of margin */
    double away;           /* from the horns' own pitches */
};

static struct merit merit_of(size_t n, const struct hbk_pitch_member members[],
                             double a4_hz)
{
    struct merit merit = {.a4_hz = a4_hz};
    for (size_t i = 0; i < n; i++) {
        const double cents = hbk_pitch_error(&members[i], a4_hz);
        merit.total += fabs(cents);
        merit.squares += cents * cents;
        merit.want += least_want(&members[i], a4_hz);
        merit.away += fabs(hbk_cents(a4_hz, members[i].horn->a4_hz));
    }
    return merit;
}

/* Whether one pitch is better than another; the weightiest first. */
static bool is_better(const struct merit *a, const struct merit *b)
{
    const double gains[] = {b->total - a->total, b->squares - a->squares,
                            b->want - a->want, b->away - a->away};
    for (size_t i = 0; i < sizeof(gains) / sizeof(gains[0]); i++) {
        if (fabs(gains[i]) > equal_cents) {
            return gains[i] > 0.0;
        }
    }
    return a->a4_hz > b->a4_hz;
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
    const struct hbk_standard *standards = NULL;
    const size_t n_standards = hbk_standards(&standards);
    for (size_t i = 0; i < n_standards; i++) {
        if (standards[i].a4_hz == a4_hz) {
            pitch.named = &standards[i];
        }
    }
    for (size_t i = 0; i < n; i++) {
        bool fits = false;
        for (size_t k = 0; k < members[i].n_setups && !fits; k++) {
            const struct hbk_reach *const reach = &members[i].setups[k].reach;
            fits = a4_hz >= reach->lowest_hz && a4_hz <= reach->highest_hz;
            if (fits) {
                pitch.from_hz = fmax(pitch.from_hz, reach->lowest_hz);
                pitch.to_hz = fmin(pitch.to_hz, reach->highest_hz);
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
    struct merit merit; /* a4_hz is 0 before the first */
};

static void try_pitch(struct best *best, double a4_hz)
{
    const struct merit merit = merit_of(best->n, best->members, a4_hz);
    if (best->merit.a4_hz == 0.0 || is_better(&merit, &best->merit)) {
        best->merit = merit;
    }
}

/* What another pitch than the best costs the horn that it costs most. */
static double dearest(const struct best *best, double a4_hz)
{
    double most = 0.0;
    for (size_t i = 0; i < best->n; i++) {
        const struct hbk_pitch_member *const member = &best->members[i];
        most = fmax(most, least_want(member, a4_hz) -
                              least_want(member, best->merit.a4_hz));
    }
    return most;
}

/* A named pitch that costs next to nothing; else the best one. */
static double prefer_named(const struct best *best)
{
    const struct hbk_standard *standards = NULL;
    const size_t n = hbk_standards(&standards);
    double a4_hz = best->merit.a4_hz;
    double away = INFINITY;
    for (size_t i = 0; i < n; i++) {
        const struct merit merit =
            merit_of(best->n, best->members, standards[i].a4_hz);
        if (dearest(best, standards[i].a4_hz) <= HBK_PITCH_NAMED_CENTS &&
            merit.away <= away + equal_cents) {
            a4_hz = standards[i].a4_hz;
            away = merit.away;
        }
    }
    return a4_hz;
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
            const struct hbk_reach *const reach = &members[i].setups[k].reach;
            try_pitch(&best, reach->lowest_hz);
            try_pitch(&best, reach->highest_hz);
            try_pitch(&best, reach->kept_lowest_hz);
            try_pitch(&best, reach->kept_highest_hz);
            lowest = fmin(lowest, reach->lowest_hz);
            highest = fmax(highest, reach->highest_hz);
        }
        try_pitch(&best, members[i].horn->a4_hz);
    }
    for (double hz = grid_hz * ceil(lowest / grid_hz); hz <= highest;
         hz += grid_hz) {
        try_pitch(&best, hz);
    }
    return hbk_common_pitch_at(n, members, prefer_named(&best));
}

/* What gives the tuning note now that something is stuck. */
static enum hbk_status find_press_now(const struct hbk_pitch_member *member,
                                      const struct hbk_setting *setting,
                                      const struct hbk_setup *setup,
                                      struct hbk_arena *arena,
                                      struct hbk_pitch_place *place,
                                      struct hbk_faults *faults)
{
    const struct hbk_stuck *const stuck = &setting->stuck;
    const uint32_t press = setup->tuned.press;
    place->press_now = press;
    place->partial_now = setup->tuned.partial;
    place->cents_now = setup->tuned.after_cents;
    if ((press & stuck->held_up) == 0 && (stuck->held_down & ~press) == 0) {
        return HBK_OK;
    }
    struct hbk_notes notes;
    HBK_TRY(
        hbk_solve_as_set(member->horn, setting, setup, arena, &notes, faults));
    const struct hbk_note *const note =
        hbk_notes_find(&notes, setup->tuned.note);
    place->partial_now = 0;
    if (note != NULL && note->n > 0) {
        place->press_now = note->fingerings[0].press;
        place->partial_now = note->fingerings[0].partial;
        place->cents_now = note->fingerings[0].cents;
    }
    return HBK_OK;
}

enum hbk_status hbk_pitch_place(const struct hbk_pitch_member *member,
                                double a4_hz, struct hbk_arena *arena,
                                struct hbk_pitch_place *place,
                                struct hbk_faults *faults)
{
    struct hbk_pitch_place best = {0};
    struct hbk_setup best_setup = {0};
    struct hbk_setting setting = member->setting;
    setting.a4_hz = a4_hz;
    for (size_t i = 0; i < member->n_setups; i++) {
        const struct hbk_reach *const reach = &member->setups[i].reach;
        struct hbk_setup setup;
        struct hbk_faults told = {0};
        setting.crook = member->setups[i].crook;
        const enum hbk_status status =
            hbk_set_up(member->horn, &setting, arena, &setup, &told);
        if (status != HBK_OK) {
            hbk_faults_hand_on(&told, faults);
            return status;
        }
        const double gain =
            fabs(best.tuned.after_cents) - fabs(setup.tuned.after_cents);
        if (i == 0 || gain > equal_cents ||
            (gain > -equal_cents &&
             want_of(reach, a4_hz) <
                 want_of(&best.reach, a4_hz) - equal_cents)) {
            best = (struct hbk_pitch_place){
                .crook = setting.crook, .reach = *reach, .tuned = setup.tuned};
            best_setup = setup;
        }
    }
    setting.crook = best.crook;
    HBK_TRY(
        find_press_now(member, &setting, &best_setup, arena, &best, faults));
    *place = best;
    return HBK_OK;
}
