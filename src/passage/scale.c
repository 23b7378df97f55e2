#include "passage/scale.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What all keys are judged with. */
struct judge {
    struct hbk_keywork keywork;
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
        stage->able[i] =
            hbk_grips_make(&judge->keywork, stage->note->fingerings[i].press,
                           &stage->grips[i]);
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
                move_of(&judge->keywork, &before->grips[k], &stage->grips[i]);
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
        if (hbk_scale_degree(scale, note->written) < HBK_DEGREES) {
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
        tonics += hbk_scale_degree(scale, run[i].written) == 0 ? 1 : 0;
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

static const char *why_awkward(const struct judge *judge,
                               const struct hbk_scale_note notes[2])
{
    char words[HBK_MOVE_WORDS_SIZE];
    hbk_presses_words(&judge->keywork, notes[0].taken->press,
                      notes[1].taken->press, HBK_SCALE_AWKWARD, words);
    return hbk_arena_copy(judge->arena, words, strlen(words));
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
            !hbk_grips_make(&judge->keywork, scale->notes[i].taken->press,
                            &low) ||
            !hbk_grips_make(&judge->keywork, scale->notes[i + 1].taken->press,
                            &high)) {
            continue;
        }
        struct hbk_scale_move move = move_of(&judge->keywork, &low, &high);
        move.from = i;
        sum += hbk_scale_move_price(&move);
        scale->n_moves++;
        if ((move.reasons & HBK_SCALE_AWKWARD) != 0) {
            move.why = why_awkward(judge, &scale->notes[i]);
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

const struct hbk_scales *hbk_scales_of(const struct hbk_notes *notes,
                                       struct hbk_arena *arena)
{
    struct judge judge = {.notes = notes, .arena = arena};
    hbk_keywork_make(notes->horn, &notes->fingers, &judge.keywork);
    struct hbk_scales *const scales =
        HBK_ARENA_ARRAY(arena, struct hbk_scales, 1);
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
    return scales;
}
