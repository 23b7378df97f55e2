#include "solve/taught.h"

#include "base/arena.h"
#include "horn/called.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/column.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

enum {
    OCTAVE = 12,
    VALVES_MAX = 8, /* more are no horn anybody is taught */
    EIGHTH = 8      /* partial */
};

/* A partial further off its semitone than this has no note. */
static const double off_semitones = 0.25;

/* No fingering is taught of this note. */
static const unsigned untaught = UINT_MAX;

static uint32_t bit(size_t control)
{
    return UINT32_C(1) << control;
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(size_t n, double values[])
{
    qsort(values, n, sizeof(values[0]), by_size);
    return 0.5 * (values[(n - 1) / 2] + values[n / 2]);
}

/*
 * Semitones from the same partials of one press to those of another, in the
 * middle of those used; NAN where they have none in common.
 */
static double semitones_between(const struct hbk_horn *horn,
                                const struct hbk_peak from[],
                                const struct hbk_peak to[])
{
    double steps[HBK_PARTIALS_MAX];
    size_t n = 0;
    for (unsigned p = horn->partials.lowest; p <= horn->partials.highest; p++) {
        if (from[p].hz > 0.0 && to[p].hz > 0.0) {
            steps[n++] = hbk_cents(to[p].hz, from[p].hz) / HBK_SEMITONE_CENTS;
        }
    }
    return n > 0 ? median(n, steps) : (double)NAN;
}

static void sort_controls(struct hbk_taught_rule *rule)
{
    for (size_t i = 0; i < rule->horn->n_controls; i++) {
        const enum hbk_control_kind kind = rule->horn->controls[i].kind;
        rule->keys |= kind == HBK_KEY ? bit(i) : 0;
        rule->valves |= kind == HBK_VALVE ? bit(i) : 0;
        rule->triggers |= kind == HBK_TRIGGER ? bit(i) : 0;
    }
}

/*
 * Which keys count together: shutting one that stands open does nothing while
 * another above it is open. Keys are numbered from the bell.
 */
static void find_company(struct hbk_taught_rule *rule)
{
    uint32_t above = 0;
    for (size_t i = rule->horn->n_controls; i-- > 0;) {
        rule->with[i] = bit(i);
        if ((rule->keys & bit(i)) != 0 && rule->horn->controls[i].stands_open) {
            above |= bit(i);
            rule->with[i] = above;
        }
    }
}

/* The note that each open partial gives as the horn is set up. */
static enum hbk_status find_open_notes(struct hbk_taught_rule *rule,
                                       const struct hbk_rig *rig, double c4_hz,
                                       struct hbk_faults *faults)
{
    static const uint32_t rest = 0;
    const struct hbk_partials *const partials = &rule->horn->partials;
    struct hbk_peak row[HBK_PEAK_STRIDE];
    HBK_TRY(hbk_column_peaks(rule->horn, rig, 1, &rest, row, faults));
    double bottoms[HBK_PARTIALS_MAX];
    size_t n = 0;
    for (unsigned p = partials->lowest; p <= partials->highest; p++) {
        if (row[p].hz > 0.0) {
            bottoms[n++] = HBK_NOTE_C4 +
                           (hbk_cents(row[p].hz, c4_hz) / HBK_SEMITONE_CENTS) -
                           (OCTAVE * log2(p));
        }
    }
    const int bottom = n > 0 ? (int)lround(median(n, bottoms)) : 0;
    for (unsigned p = 0; p <= HBK_PARTIALS_MAX; p++) {
        const double up = p > 0 ? OCTAVE * log2(p) : 0.0;
        const bool is_note = n > 0 && p >= partials->lowest &&
                             p <= partials->highest &&
                             fabs(up - round(up)) < off_semitones;
        rule->open[p] = is_note ? bottom + (int)lround(up) : -1;
    }
    return HBK_OK;
}

/* Semitones a key raises by, from its name; 0 when that tells nothing. */
static int raise_of_name(const struct hbk_taught_rule *rule, size_t control)
{
    const int name = hbk_called_note(rule->horn, control);
    unsigned p = 0;
    while (p < HBK_PARTIALS_MAX && rule->open[p] < 0) {
        p++;
    }
    if (name < 0 || rule->open[p] < 0) {
        return 0;
    }
    const int bottom = rule->open[p] - (int)lround(OCTAVE * log2(p));
    const int up = (((name - bottom) % OCTAVE) + OCTAVE) % OCTAVE;
    return rule->horn->controls[control].stands_open && up > 0 ? up - OCTAVE
                                                               : up;
}

/* What a key does, from its name and what it is known to raise by. */
static int raise_of_key(const struct hbk_taught_rule *rule, size_t control,
                        double semitones)
{
    const int name = raise_of_name(rule, control);
    if (isnan(semitones)) {
        return name;
    }
    const int raise = (int)lround(semitones);
    return name != 0 && abs(name - raise) <= 1 ? name : raise;
}

/*
 * What each control does at the horn's own pitch, without a crook, slides as
 * they stand.
 */
static enum hbk_status find_effects(struct hbk_taught_rule *rule,
                                    struct hbk_arena *arena,
                                    struct hbk_faults *faults)
{
    const struct hbk_horn *const horn = rule->horn;
    /* How far a hole of a bored horn raises is what its name may not tell. */
    const uint32_t asked = horn->model == HBK_MODEL_BORE
                               ? rule->valves
                               : rule->valves | rule->keys;
    uint32_t presses[HBK_CONTROLS_MAX + 1] = {0};
    size_t row_of[HBK_CONTROLS_MAX] = {0};
    size_t n = 1;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if ((asked & bit(i)) != 0) {
            row_of[i] = n;
            presses[n++] = rule->with[i];
        }
    }
    struct hbk_peak *const rows =
        HBK_ARENA_ARRAY(arena, struct hbk_peak, n * HBK_PEAK_STRIDE);
    const struct hbk_rig own = {.temperature_c = horn->temperature_c,
                                .crook = -1};
    HBK_TRY(hbk_column_peaks(horn, &own, n, presses, rows, faults));
    for (size_t i = 0; i < horn->n_controls; i++) {
        const double semitones =
            row_of[i] == 0
                ? (double)NAN
                : semitones_between(horn, rows,
                                    &rows[row_of[i] * HBK_PEAK_STRIDE]);
        if ((rule->keys & bit(i)) != 0) {
            rule->raises[i] = raise_of_key(rule, i, semitones);
        } else if (!isnan(semitones)) {
            rule->raises[i] = (int)lround(semitones);
        }
        const bool tells = rule->raises[i] != 0;
        rule->unsaid |= tells ? 0 : bit(i) & (rule->keys | rule->valves);
    }
    return HBK_OK;
}

/* Whether two valves of `basic` lower by so much between them. */
static bool two_lower_by(const struct hbk_taught_rule *rule, uint32_t basic,
                         int semitones)
{
    for (size_t a = 0; a < rule->horn->n_controls; a++) {
        for (size_t b = 0; b < a; b++) {
            if ((basic & bit(a)) != 0 && (basic & bit(b)) != 0 &&
                -rule->raises[a] - rule->raises[b] == semitones) {
                return true;
            }
        }
    }
    return false;
}

static void find_stand_ins(struct hbk_taught_rule *rule)
{
    enum { FARTHEST = 36 }; /* semitones of a valve */
    uint32_t basic = 0;
    for (int semitones = 1; semitones <= FARTHEST; semitones++) {
        uint32_t these = 0;
        for (size_t i = 0; i < rule->horn->n_controls; i++) {
            const bool is_it =
                (rule->valves & bit(i)) != 0 && rule->raises[i] == -semitones;
            these |= is_it ? bit(i) : 0;
        }
        if (two_lower_by(rule, basic, semitones)) {
            rule->stand_ins |= these;
        } else {
            basic |= these;
        }
    }
}

/* Whether no two valves of the horn are ever pressed together. */
static bool are_independent(const struct hbk_taught_rule *rule)
{
    for (size_t i = 0; i < rule->horn->n_controls; i++) {
        if ((rule->valves & bit(i)) != 0 && !rule->horn->controls[i].alone) {
            return false;
        }
    }
    return rule->valves != 0;
}

static void find_shortest(struct hbk_taught_rule *rule)
{
    for (size_t i = 0; are_independent(rule) && i < rule->horn->n_controls;
         i++) {
        if ((rule->valves & bit(i)) != 0 && rule->raises[i] > rule->shortest) {
            rule->shortest = rule->raises[i];
        }
    }
}

/* Whether the controls of a press may be pressed together. */
static bool may_go_together(const struct hbk_horn *horn, uint32_t press)
{
    for (size_t i = 0; i < horn->n_controls && __builtin_popcount(press) > 1;
         i++) {
        if ((press & bit(i)) != 0 && horn->controls[i].alone) {
            return false;
        }
    }
    return true;
}

/* One thing that may be taught: the note, and how late it is thought of. */
struct lesson {
    int written; /* -1 for none */
    unsigned rank;
};

static const struct lesson no_lesson = {.written = -1};

static bool is_avoided(const struct hbk_taught_rule *rule, unsigned partial)
{
    return rule->horn->partials.avoid[partial];
}

static struct lesson of_valves(const struct hbk_taught_rule *rule,
                               uint32_t press, unsigned partial)
{
    int moved = 0;
    int worked = 0;
    for (size_t i = 0; i < rule->horn->n_controls; i++) {
        if ((press & bit(i)) != 0) {
            moved += rule->raises[i];
            worked += abs(rule->raises[i]);
        }
    }
    if (is_avoided(rule, partial) || (partial > EIGHTH && partial % 2 != 0)) {
        return no_lesson;
    }
    const unsigned tube =
        (unsigned)(are_independent(rule) ? rule->shortest - moved : worked);
    const unsigned stand_ins =
        (unsigned)__builtin_popcount(press & rule->stand_ins);
    const unsigned valves = (unsigned)__builtin_popcount(press);
    return (struct lesson){
        .written = rule->open[partial] + moved,
        .rank =
            (((tube * VALVES_MAX * 2) + stand_ins) * VALVES_MAX * 2) + valves,
    };
}

static struct lesson of_keys(const struct hbk_taught_rule *rule, uint32_t press,
                             unsigned partial)
{
    const uint32_t keys = press & rule->keys;
    const uint32_t valve = press & rule->valves;
    int moved = 0;
    bool is_one = keys == 0;
    for (size_t i = 0; i < rule->horn->n_controls; i++) {
        if ((valve & bit(i)) != 0) {
            moved += rule->raises[i];
        } else if ((keys & bit(i)) != 0 && keys == rule->with[i]) {
            moved += rule->raises[i];
            is_one = true;
        }
    }
    if (!is_one || (valve != 0 && is_avoided(rule, partial))) {
        return no_lesson;
    }
    return (struct lesson){.written = rule->open[partial] + moved,
                           .rank = keys != 0 && valve != 0 ? 1 : 0};
}

/* What a press on a partial is taught for, whatever else gives the note. */
static struct lesson lesson_of(const struct hbk_taught_rule *rule,
                               uint32_t press, unsigned partial)
{
    if (rule->open[partial] < 0 || (press & rule->unsaid) != 0 ||
        !may_go_together(rule->horn, press)) {
        return no_lesson;
    }
    if (rule->keys != 0 && __builtin_popcount(rule->valves) < 2) {
        return of_keys(rule, press, partial);
    }
    return (press & rule->keys) != 0 ? no_lesson
                                     : of_valves(rule, press, partial);
}

static void learn(struct hbk_taught_rule *rule, uint32_t press)
{
    for (unsigned p = 1; p <= HBK_PARTIALS_MAX; p++) {
        const struct lesson lesson = lesson_of(rule, press, p);
        if (lesson.written >= 0 && lesson.written <= HBK_NOTE_MAX &&
            lesson.rank < rule->least[lesson.written]) {
            rule->least[lesson.written] = lesson.rank;
        }
    }
}

/* Every set of valves, with no key and with each. */
static void learn_all(struct hbk_taught_rule *rule)
{
    if (__builtin_popcount(rule->valves) > VALVES_MAX) {
        rule->unsaid = rule->keys | rule->valves;
        return;
    }
    uint32_t valves = 0;
    do {
        learn(rule, valves);
        for (size_t i = 0; i < rule->horn->n_controls; i++) {
            if ((rule->keys & bit(i)) != 0) {
                learn(rule, valves | rule->with[i]);
            }
        }
        /* The next set within the mask. */
        valves = (valves - rule->valves) & rule->valves;
    } while (valves != 0);
}

enum hbk_status hbk_taught_make(const struct hbk_horn *horn,
                                const struct hbk_rig *rig,
                                const struct hbk_stuck *stuck, double c4_hz,
                                struct hbk_arena *arena,
                                struct hbk_faults *faults,
                                struct hbk_taught_rule *rule)
{
    *rule =
        (struct hbk_taught_rule){.horn = horn, .held_down = stuck->held_down};
    for (size_t i = 0; i <= HBK_NOTE_MAX; i++) {
        rule->least[i] = untaught;
    }
    sort_controls(rule);
    find_company(rule);
    HBK_TRY(find_open_notes(rule, rig, c4_hz, faults));
    HBK_TRY(find_effects(rule, arena, faults));
    find_stand_ins(rule);
    find_shortest(rule);
    learn_all(rule);
    return HBK_OK;
}

static bool is_first(const struct hbk_taught_rule *rule, uint32_t press,
                     unsigned partial, int written)
{
    const struct lesson lesson = lesson_of(rule, press, partial);
    return lesson.written == written && lesson.rank == rule->least[written];
}

enum hbk_taught hbk_taught_is(const struct hbk_taught_rule *rule,
                              uint32_t press, unsigned partial, int written)
{
    const uint32_t fingers = press & ~rule->triggers;
    const uint32_t down = (press | rule->held_down) & ~rule->triggers;
    if (is_first(rule, down, partial, written) ||
        is_first(rule, fingers, partial, written)) {
        return HBK_TAUGHT_YES;
    }
    return (down & rule->unsaid) != 0 ? HBK_TAUGHT_UNSAID : HBK_TAUGHT_NO;
}
