#include "passage/scale.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * Degrees as steps along the line of fifths, on which F is -1, C 0, G 1; a
 * minor tonic stands three beyond the major one of the same signature.
 */
static const int major_fifths[HBK_DEGREES] = {0, 2, 4, -1, 1, 3, 5};
static const int minor_fifths[HBK_DEGREES] = {0, 2, -3, -1, 1, -4, 5};
enum { MINOR_BEYOND = 3, FIFTH = 7, OCTAVE = 12, STEPS = 7 };

static int floor_of(int value, int by)
{
    const int rest = value % by;
    return value / by - (rest < 0 ? 1 : 0);
}

/* The note that many fifths from C, in octave 4. */
static struct hbk_spelling on_line(int fifths)
{
    /* A fifth is four steps; from F the line sharpens every seven. */
    const int steps = fifths * 4;
    return (struct hbk_spelling){.step = steps - STEPS * floor_of(steps, STEPS),
                                 .alter = floor_of(fifths + 1, STEPS),
                                 .octave = 4};
}

static int degree_fifths(const struct hbk_scale *scale, size_t degree)
{
    return scale->minor ? scale->signature + MINOR_BEYOND + minor_fifths[degree]
                        : scale->signature + major_fifths[degree];
}

struct hbk_spelling hbk_scale_tonic(const struct hbk_scale *scale)
{
    return on_line(degree_fifths(scale, 0));
}

/* The degree a note is of, or HBK_DEGREES. */
static size_t degree_of(const struct hbk_scale *scale, int written)
{
    size_t degree = 0;
    while (degree < HBK_DEGREES &&
           (written - FIFTH * degree_fifths(scale, degree)) % OCTAVE != 0) {
        degree++;
    }
    return degree;
}

struct hbk_spelling hbk_scale_spelling(const struct hbk_scale *scale,
                                       int written)
{
    const size_t degree = degree_of(scale, written);
    struct hbk_spelling spelling =
        on_line(degree_fifths(scale, degree % HBK_DEGREES));
    spelling.octave += (written - hbk_spelling_note(spelling)) / OCTAVE;
    return spelling;
}

char *hbk_scale_tonics(const struct hbk_scale *scale,
                       enum hbk_accidentals style, char name[HBK_KEY_NAME_SIZE])
{
    char tonic[HBK_NAME_SIZE];
    hbk_spelling_letter(hbk_scale_tonic(scale), style, tonic);
    const int n = snprintf(name, HBK_KEY_NAME_SIZE, "%s", tonic);
    if (scale->signature == -HBK_FLATS_MOST) {
        /* Twelve fifths on, the same note has its name in sharps. */
        const struct hbk_spelling other =
            on_line(degree_fifths(scale, 0) + OCTAVE);
        (void)snprintf(name + n, HBK_KEY_NAME_SIZE - (size_t)n, "/%s",
                       hbk_spelling_letter(other, style, tonic));
    }
    return name;
}

char *hbk_scale_name(const struct hbk_scale *scale, enum hbk_accidentals style,
                     char name[HBK_KEY_NAME_SIZE])
{
    const size_t n = strlen(hbk_scale_tonics(scale, style, name));
    (void)snprintf(name + n, HBK_KEY_NAME_SIZE - n, " %s",
                   scale->minor ? "minor" : "major");
    return name;
}

/* What all keys are judged with. */
struct judge {
    const struct hbk_keywork *keywork;
    const struct hbk_notes *notes;
    struct hbk_arena *arena;
};

/* A step of the search: a note with its fingerings as grips. */
struct stage {
    const struct hbk_note *note;
    struct hbk_grips *grips;
    bool *able;
    double *cost; /* of the cheapest way that ends here */
    size_t *from; /* the fingering before on that way */
};

static void set_stage(const struct judge *judge, struct stage *stage)
{
    const size_t n = stage->note->n;
    stage->grips = HBK_ARENA_ARRAY(judge->arena, struct hbk_grips, n);
    stage->able = HBK_ARENA_ARRAY(judge->arena, bool, n);
    stage->cost = HBK_ARENA_ARRAY(judge->arena, double, n);
    stage->from = HBK_ARENA_ARRAY(judge->arena, size_t, n);
    for (size_t i = 0; i < n; i++) {
        stage->able[i] = hbk_grips_make(
            judge->keywork, stage->note->fingerings[i].press, &stage->grips[i]);
        stage->cost[i] = INFINITY;
    }
}

/* Up and down between two presses, with the same fingers. */
static struct hbk_scale_move move_of(const struct hbk_keywork *keywork,
                                     const struct hbk_grips *low,
                                     const struct hbk_grips *high)
{
    const struct hbk_passing passing = hbk_move_choose(keywork, low, high);
    const struct hbk_move up = passing.move;
    const struct hbk_move down =
        hbk_move_between(keywork, passing.to, passing.from);
    return (struct hbk_scale_move){.reasons = up.reasons | down.reasons,
                                   .least_s = fmax(up.least_s, down.least_s)};
}

double hbk_scale_move_price(const struct hbk_scale_move *move)
{
    const unsigned reasons = move->reasons;
    const double time = hbk_pressed_price(move->least_s, HBK_SCALE_S);
    if ((reasons & HBK_SCALE_AWKWARD) == 0) {
        return time;
    }
    const double times =
        ((reasons & HBK_MOVE_HANDS) != 0 ? HBK_SCALE_HANDS : 1.0) +
        ((reasons & HBK_MOVE_WEAK) != 0 ? HBK_SCALE_WEAK : 0.0) +
        ((reasons & HBK_MOVE_THUMBS) != 0 ? HBK_SCALE_THUMBS : 0.0) +
        ((reasons & HBK_MOVE_UNSTEADY) != 0 ? HBK_SCALE_UNSTEADY : 0.0) +
        ((reasons & (HBK_MOVE_JUMPS | HBK_MOVE_SWAPS)) != 0 ? HBK_SCALE_JUMP
                                                            : 0.0);
    return time + HBK_PRICE_AWKWARD * times;
}

static void step(const struct judge *judge, const struct stage *before,
                 struct stage *stage)
{
    for (size_t i = 0; i < stage->note->n; i++) {
        for (size_t k = 0; stage->able[i] && k < before->note->n; k++) {
            if (!before->able[k]) {
                continue;
            }
            const struct hbk_scale_move move =
                move_of(judge->keywork, &before->grips[k], &stage->grips[i]);
            const double cost = before->cost[k] +
                                stage->note->fingerings[i].cost +
                                hbk_scale_move_price(&move);
            if (cost < stage->cost[i]) {
                stage->cost[i] = cost;
                stage->from[i] = k;
            }
        }
    }
}

static size_t cheapest(const struct stage *stage)
{
    size_t best = 0;
    for (size_t i = 1; i < stage->note->n; i++) {
        best = stage->cost[i] < stage->cost[best] ? i : best;
    }
    return best;
}

/* Takes the cheapest way through n notes without a gap. */
static void search_run(const struct judge *judge, struct hbk_scale_note *run,
                       size_t n)
{
    struct stage *const stages = HBK_ARENA_ARRAY(judge->arena, struct stage, n);
    for (size_t i = 0; i < n; i++) {
        stages[i].note = hbk_notes_find(judge->notes, run[i].written);
        set_stage(judge, &stages[i]);
        if (i > 0) {
            step(judge, &stages[i - 1], &stages[i]);
            continue;
        }
        for (size_t k = 0; k < stages[0].note->n; k++) {
            stages[0].cost[k] = stages[0].able[k]
                                    ? stages[0].note->fingerings[k].cost
                                    : (double)INFINITY;
        }
    }
    size_t pick = cheapest(&stages[n - 1]);
    for (size_t i = n; i-- > 0;) {
        run[i].taken = &stages[i].note->fingerings[pick];
        pick = stages[i].from[pick];
    }
}

/* The notes of the scale within the compass; all in reach are taken. */
static struct hbk_scale_note *list_notes(const struct judge *judge,
                                         struct hbk_scale *scale)
{
    struct hbk_scale_note *const list =
        HBK_ARENA_ARRAY(judge->arena, struct hbk_scale_note, judge->notes->n);
    for (size_t i = 0; i < judge->notes->n; i++) {
        const struct hbk_note *const note = &judge->notes->notes[i];
        if (degree_of(scale, note->written) < HBK_DEGREES) {
            list[scale->n++] = (struct hbk_scale_note){
                note->written, note->n > 0 ? &note->fingerings[0] : NULL};
            scale->n_reached += note->n > 0 ? 1 : 0;
        }
    }
    return list;
}

static unsigned octaves_in(const struct hbk_scale *scale,
                           const struct hbk_scale_note *run, size_t n)
{
    unsigned tonics = 0;
    for (size_t i = 0; i < n; i++) {
        tonics += degree_of(scale, run[i].written) == 0 ? 1 : 0;
    }
    return tonics == 0 ? 0 : tonics - 1;
}

static void search_runs(const struct judge *judge, struct hbk_scale *scale,
                        struct hbk_scale_note *list)
{
    for (size_t i = 0; i < scale->n;) {
        size_t n = 0;
        while (i + n < scale->n && list[i + n].taken != NULL) {
            n++;
        }
        if (n == 0) {
            i++;
            continue;
        }
        search_run(judge, &list[i], n);
        const unsigned octaves = octaves_in(scale, &list[i], n);
        scale->octaves = octaves > scale->octaves ? octaves : scale->octaves;
        if (n > scale->n_run) {
            scale->run = i;
            scale->n_run = n;
        }
        i += n;
    }
}

static int slower_first(const void *a, const void *b)
{
    const struct hbk_scale_move *const first = a;
    const struct hbk_scale_move *const second = b;
    if (first->least_s != second->least_s) {
        return first->least_s > second->least_s ? -1 : 1;
    }
    return first->from < second->from ? -1 : first->from > second->from;
}

/* Counts and prices the moves; returns the mean of their prices. */
static double judge_moves(const struct judge *judge, struct hbk_scale *scale)
{
    struct hbk_scale_move *const awkward =
        HBK_ARENA_ARRAY(judge->arena, struct hbk_scale_move, scale->n);
    double sum = 0.0;
    for (size_t i = 0; i + 1 < scale->n; i++) {
        struct hbk_grips low;
        struct hbk_grips high;
        if (scale->notes[i].taken == NULL ||
            scale->notes[i + 1].taken == NULL ||
            !hbk_grips_make(judge->keywork, scale->notes[i].taken->press,
                            &low) ||
            !hbk_grips_make(judge->keywork, scale->notes[i + 1].taken->press,
                            &high)) {
            continue;
        }
        struct hbk_scale_move move = move_of(judge->keywork, &low, &high);
        move.from = i;
        sum += hbk_scale_move_price(&move);
        scale->n_moves++;
        if ((move.reasons & HBK_SCALE_AWKWARD) != 0) {
            awkward[scale->n_awkward++] = move;
        }
    }
    qsort(awkward, scale->n_awkward, sizeof(*awkward), slower_first);
    scale->awkward = awkward;
    return scale->n_moves == 0 ? 0.0 : sum / (double)scale->n_moves;
}

/* Deviations of the first choices; returns the sum of what they cost. */
static double judge_tuning(const struct judge *judge, struct hbk_scale *scale)
{
    double sum = 0.0;
    double squares = 0.0;
    scale->rms_cents = (double)NAN;
    scale->worst_cents = (double)NAN;
    for (size_t i = 0; i < scale->n; i++) {
        const struct hbk_note *const note =
            hbk_notes_find(judge->notes, scale->notes[i].written);
        if (note->n == 0) {
            continue;
        }
        const double cents = note->fingerings[0].cents;
        const double beyond = fmax(fabs(cents) - HBK_SCALE_LIP_CENTS, 0.0);
        squares += cents * cents;
        sum += beyond * beyond;
        if (!(fabs(cents) <= fabs(scale->worst_cents))) {
            scale->worst_cents = cents;
            scale->worst = note->written;
        }
    }
    if (scale->n_reached > 0) {
        scale->rms_cents = sqrt(squares / (double)scale->n_reached);
    }
    return sum;
}

static void judge_key(const struct judge *judge, struct hbk_scale *scale)
{
    struct hbk_scale_note *const list = list_notes(judge, scale);
    scale->notes = list;
    search_runs(judge, scale, list);
    const double deviations = judge_tuning(judge, scale);
    const double missing =
        HBK_PRICE_MISSING * (double)(scale->n - scale->n_reached);
    const double moves = judge_moves(judge, scale);
    scale->price = scale->n == 0
                       ? HBK_PRICE_MISSING
                       : (deviations + missing) / (double)scale->n + moves;
}

static bool comes_before(const struct hbk_scale *a, const struct hbk_scale *b)
{
    if ((a->octaves > 0) != (b->octaves > 0)) {
        return a->octaves > 0;
    }
    if (a->price != b->price) {
        return a->price < b->price;
    }
    if (abs(a->signature) != abs(b->signature)) {
        return abs(a->signature) < abs(b->signature);
    }
    if (a->minor != b->minor) {
        return !a->minor;
    }
    return a->signature < b->signature;
}

static void put_in_order(struct hbk_scales *scales)
{
    for (size_t i = 0; i < HBK_KEYS; i++) {
        size_t at = i;
        while (at > 0 && comes_before(&scales->keys[i],
                                      &scales->keys[scales->order[at - 1]])) {
            scales->order[at] = scales->order[at - 1];
            at--;
        }
        scales->order[at] = i;
    }
}

static void give_places(struct hbk_scales *scales)
{
    unsigned n_in_mode[2] = {0, 0};
    const struct hbk_scale *before[2] = {NULL, NULL};
    const struct hbk_scale *last = NULL;
    for (size_t i = 0; i < HBK_KEYS; i++) {
        struct hbk_scale *const key = &scales->keys[scales->order[i]];
        if (key->octaves == 0) {
            break;
        }
        const size_t mode = key->minor ? 1 : 0;
        const struct hbk_scale *const twin = before[mode];
        scales->n_placed++;
        n_in_mode[mode]++;
        key->place = last != NULL && last->price == key->price
                         ? last->place
                         : (unsigned)scales->n_placed;
        key->place_in_mode = twin != NULL && twin->price == key->price
                                 ? twin->place_in_mode
                                 : n_in_mode[mode];
        last = key;
        before[mode] = key;
    }
}

/* Says how the keys of a mode lie, once they have their order and places. */
static void say_how_they_lie(struct hbk_scales *scales, bool minor)
{
    struct hbk_scale *in_mode[HBK_KEYS];
    size_t n = 0;
    for (size_t i = 0; i < HBK_KEYS; i++) {
        struct hbk_scale *const key = &scales->keys[scales->order[i]];
        key->lies = key->place == 0 ? HBK_LIES_NOT : key->lies;
        if (key->minor == minor && key->place > 0) {
            in_mode[n++] = key;
        }
    }
    const size_t half = (n + 1) / 2;
    const size_t well = half < HBK_SCALES_WELL ? half : HBK_SCALES_WELL;
    for (size_t i = 0; i < n; i++) {
        in_mode[i]->lies = i < well                    ? HBK_LIES_WELL
                           : i + HBK_SCALES_BADLY >= n ? HBK_LIES_BADLY
                                                       : HBK_LIES_BETWEEN;
    }
}

void hbk_scales_of(const struct hbk_keywork *keywork,
                   const struct hbk_notes *notes, struct hbk_arena *arena,
                   struct hbk_scales *scales)
{
    const struct judge judge = {keywork, notes, arena};
    scales->n_placed = 0;
    for (size_t i = 0; i < HBK_KEYS; i++) {
        scales->keys[i] = (struct hbk_scale){
            .signature = (int)(i / 2) - HBK_FLATS_MOST, .minor = i % 2 == 1};
        judge_key(&judge, &scales->keys[i]);
    }
    put_in_order(scales);
    give_places(scales);
    say_how_they_lie(scales, false);
    say_how_they_lie(scales, true);
}
