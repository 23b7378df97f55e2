#include "passage/scale.h"

#include "base/arena.h"
#include "passage/move_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What all keys are judged with. */
struct judge {
    struct hbk_keywork keywork;
    const struct hbk_notes *notes;
    const struct hbk_learned *learned; /* by written note; NULL: all */
    struct hbk_arena *arena;
};

/* How many fingerings of a note may be taken, and one of them. */
static size_t n_choices(const struct judge *judge, const struct hbk_note *note)
{
    return judge->learned == NULL ? note->n : judge->learned[note->written].n;
}

static const struct hbk_fingering *choice(const struct judge *judge,
                                          const struct hbk_note *note, size_t i)
{
    return judge->learned == NULL ? &note->fingerings[i]
                                  : judge->learned[note->written].of[i];
}

/* A step of the search: a note with its fingerings as grips. */
struct stage {
    const struct hbk_note *note;
    size_t n; /* of those that may be taken */
    struct hbk_grips *grips;
    bool *able;
    double *cost; /* of the cheapest way that ends here */
    size_t *from; /* the fingering before on that way */
};

static void set_stage(const struct judge *judge, struct stage *stage)
{
    const size_t n = stage->n;
    stage->grips = HBK_ARENA_ARRAY(judge->arena, struct hbk_grips, n);
    stage->able = HBK_ARENA_ARRAY(judge->arena, bool, n);
    stage->cost = HBK_ARENA_ARRAY(judge->arena, double, n);
    stage->from = HBK_ARENA_ARRAY(judge->arena, size_t, n);
    for (size_t i = 0; i < n; i++) {
        stage->able[i] = hbk_grips_make(&judge->keywork,
                                        choice(judge, stage->note, i)->press,
                                        &stage->grips[i]);
        stage->cost[i] = INFINITY;
    }
}

static void step(const struct judge *judge, const struct stage *before,
                 struct stage *stage)
{
    for (size_t i = 0; i < stage->n; i++) {
        for (size_t k = 0; stage->able[i] && k < before->n; k++) {
            if (!before->able[k]) {
                continue;
            }
            const struct hbk_ease_move move =
                hbk_ease_between(&judge->keywork, &before->grips[k],
                                 &stage->grips[i], HBK_SCALE_S);
            const double cost = before->cost[k] +
                                choice(judge, stage->note, i)->cost +
                                hbk_ease_move_price(&move);
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
    for (size_t i = 1; i < stage->n; i++) {
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
        stages[i].n = n_choices(judge, stages[i].note);
        set_stage(judge, &stages[i]);
        if (i > 0) {
            step(judge, &stages[i - 1], &stages[i]);
            continue;
        }
        for (size_t k = 0; k < stages[0].n; k++) {
            stages[0].cost[k] = stages[0].able[k]
                                    ? choice(judge, stages[0].note, k)->cost
                                    : (double)INFINITY;
        }
    }
    size_t pick = cheapest(&stages[n - 1]);
    for (size_t i = n; i-- > 0;) {
        run[i].taken = choice(judge, stages[i].note, pick);
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
            const bool is_reached = n_choices(judge, note) > 0;
            list[scale->n++] = (struct hbk_scale_note){
                note->written, is_reached ? &note->fingerings[0] : NULL};
            scale->n_reached += is_reached ? 1 : 0;
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
                      notes[1].taken->press, HBK_EASE_AWKWARD, words);
    return hbk_arena_copy(judge->arena, words, strlen(words));
}

/* Looks at the moves between neighbours on the way that was found. */
static void judge_moves(const struct judge *judge, struct hbk_scale *scale,
                        struct hbk_ease *ease)
{
    struct hbk_scale_move *const awkward =
        HBK_ARENA_ARRAY(judge->arena, struct hbk_scale_move, scale->n);
    size_t n = 0;
    for (size_t i = 0; i + 1 < scale->n; i++) {
        const struct hbk_scale_note *const notes = &scale->notes[i];
        struct hbk_grips low;
        struct hbk_grips high;
        if (notes[0].taken == NULL || notes[1].taken == NULL ||
            !hbk_grips_make(&judge->keywork, notes[0].taken->press, &low) ||
            !hbk_grips_make(&judge->keywork, notes[1].taken->press, &high)) {
            continue;
        }
        const struct hbk_ease_move move =
            hbk_ease_between(&judge->keywork, &low, &high, HBK_SCALE_S);
        hbk_ease_add_move(ease, &move);
        if ((move.reasons & HBK_EASE_AWKWARD) != 0) {
            awkward[n++] = (struct hbk_scale_move){i, move.reasons, move.need_s,
                                                   why_awkward(judge, notes)};
        }
    }
    qsort(awkward, n, sizeof(*awkward), slower_first);
    scale->awkward = awkward;
    scale->n_moves = ease->n_moves;
    scale->n_awkward = ease->n_awkward;
}

/* Looks at the first choices, as the chart has them. */
static void judge_notes(const struct judge *judge, struct hbk_scale *scale,
                        struct hbk_ease *ease)
{
    for (size_t i = 0; i < scale->n; i++) {
        const struct hbk_note *const note =
            hbk_notes_find(judge->notes, scale->notes[i].written);
        if (n_choices(judge, note) > 0) {
            hbk_ease_add_note(ease, &note->fingerings[0], 1.0, i);
        }
    }
    scale->rms_cents = hbk_ease_rms_cents(ease);
    scale->worst_cents = ease->n_notes > 0 ? ease->worst_cents : (double)NAN;
    scale->worst = ease->n_notes > 0 ? scale->notes[ease->worst].written : 0;
    scale->care_share = hbk_ease_care_share(ease);
}

static void judge_key(const struct judge *judge, struct hbk_scale *scale)
{
    struct hbk_scale_note *const list = list_notes(judge, scale);
    struct hbk_ease ease = {0};
    scale->notes = list;
    search_runs(judge, scale, list);
    judge_notes(judge, scale, &ease);
    judge_moves(judge, scale, &ease);
    const double missing =
        HBK_PRICE_MISSING * (double)(scale->n - scale->n_reached);
    scale->price = scale->n == 0 ? HBK_PRICE_MISSING
                                 : (ease.beyond + missing) / (double)scale->n +
                                       hbk_ease_mean_price(&ease);
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

const struct hbk_scales *hbk_scales_learned(const struct hbk_notes *notes,
                                            const struct hbk_learned learned[],
                                            struct hbk_arena *arena)
{
    struct judge judge = {.notes = notes, .learned = learned, .arena = arena};
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

const struct hbk_scales *hbk_scales_of(const struct hbk_notes *notes,
                                       struct hbk_arena *arena)
{
    return hbk_scales_learned(notes, NULL, arena);
}
