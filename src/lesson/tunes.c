#include "lesson/tunes.h"

#include "lesson/pupil.h"
#include "tune/melody/transpose.h"

#include <math.h>
#include <stdlib.h>

/* What of a tune counts when it is looked at again and again. */
struct copy {
    const struct hbk_tune *tune;
    size_t n_steps; /* what follows on what without a rest between, once */
    struct step {
        int low, high;
    } * steps;
    bool has[HBK_NOTE_MAX + 1];
    int low, high;
    int leap; /* the widest */
    double difficulty;
    bool is_taken;
};

struct hbk_tune_shelf {
    size_t n;
    struct copy *copies;
};

static bool is_note(const struct hbk_tune_event *event)
{
    return event->kind != HBK_TUNE_REST;
}

/* What a tune is made of, as one look over it finds. */
struct look {
    int low, high;
    int widest;         /* leap, in semitones */
    double over_third;  /* sum over its moves */
    size_t n_notes;     /* written, tied ones once */
    size_t n_moves;     /* from note to note, also over a rest */
    int shortest;       /* value, as event.value has it */
    bool dotted, signs; /* see lesson/tunes.h */
};

static const int major_third = 4;
static const int fourth = 5;

static void look_at(const struct hbk_tune *tune, size_t e, int before,
                    struct look *look)
{
    const struct hbk_tune_event *const event = &tune->events[e];
    const struct hbk_tune_key *const key = hbk_tune_key_at(tune, e);
    look->low = event->note < look->low ? event->note : look->low;
    look->high = event->note > look->high ? event->note : look->high;
    look->shortest =
        event->value > look->shortest ? event->value : look->shortest;
    look->dotted = look->dotted || (event->dots > 0 && event->value >= 2);
    look->signs = look->signs ||
                  event->spelling.alter != key->alter[event->spelling.step];
    if (event->tie_stop) {
        return;
    }
    look->n_notes++;
    if (before >= 0) {
        const int move = abs(event->note - before);
        look->widest = move > look->widest ? move : look->widest;
        look->over_third += move > major_third ? move - major_third : 0;
        look->n_moves++;
    }
}

static struct look look_over(const struct hbk_tune *tune)
{
    struct look look = {.low = HBK_NOTE_MAX, .high = 0};
    int before = -1;
    for (size_t e = 0; e < tune->n_events; e++) {
        if (is_note(&tune->events[e])) {
            look_at(tune, e, before, &look);
            before = tune->events[e].note;
        }
    }
    return look;
}

/* Whether two bars are the same, note by note. */
static bool are_same(const struct hbk_tune *tune, size_t a, size_t b)
{
    const struct hbk_tune_bar *const one = &tune->bars[a];
    const struct hbk_tune_bar *const other = &tune->bars[b];
    bool same = one->count == other->count;
    for (size_t i = 0; same && i < one->count; i++) {
        const struct hbk_tune_event *const x = &tune->events[one->first + i];
        const struct hbk_tune_event *const y = &tune->events[other->first + i];
        same = x->kind == y->kind && (!is_note(x) || x->note == y->note) &&
               hbk_ratio_equal(x->length, y->length);
    }
    return same;
}

/* How many bars are not as one before them. */
static size_t count_bars(const struct hbk_tune *tune)
{
    size_t n = 0;
    for (size_t b = 0; b < tune->n_bars; b++) {
        size_t a = 0;
        while (a < b && !are_same(tune, a, b)) {
            a++;
        }
        n += a == b ? 1 : 0;
    }
    return n;
}

static double over(int semitones, int most)
{
    return semitones > most ? (double)(semitones - most) : 0.0;
}

double hbk_tune_difficulty(const struct hbk_tune *tune)
{
    enum { QUAVER = 3 };
    const struct look look = look_over(tune);
    const struct hbk_tune_meter *const meter = hbk_tune_meter_at(tune, 0);
    const bool in_threes = meter->unit >= 8 && meter->beats % 3 == 0;
    const bool has_pickup =
        tune->n_bars > 0 &&
        hbk_ratio_compare(tune->bars[0].length, hbk_tune_full_bar(meter)) < 0;
    const double moves =
        look.n_moves == 0 ? 0.0 : look.over_third / (double)look.n_moves;
    const double values = look.shortest > QUAVER    ? 5.0
                          : look.shortest == QUAVER ? 2.0
                                                    : 0.0;
    return over(look.high - look.low, major_third) + over(look.widest, fourth) +
           10.0 * moves + values + (look.dotted ? 2.5 : 0.0) +
           (in_threes ? 2.0 : 0.0) + (has_pickup ? 1.0 : 0.0) +
           (look.signs ? 2.0 : 0.0) + (double)count_bars(tune) / 2.0 +
           (double)look.n_notes / 40.0;
}

static void list_steps(struct copy *copy, struct hbk_arena *arena)
{
    const struct hbk_tune *const tune = copy->tune;
    copy->steps = HBK_ARENA_ARRAY(arena, struct step, tune->n_events);
    for (size_t e = 1; e < tune->n_events; e++) {
        const struct hbk_tune_event *const from = &tune->events[e - 1];
        const struct hbk_tune_event *const to = &tune->events[e];
        if (!is_note(from) || !is_note(to) || from->note == to->note) {
            continue;
        }
        const int low = from->note < to->note ? from->note : to->note;
        const struct step step = {low, from->note + to->note - low};
        size_t i = 0;
        while (i < copy->n_steps && (copy->steps[i].low != step.low ||
                                     copy->steps[i].high != step.high)) {
            i++;
        }
        copy->steps[i] = step;
        copy->n_steps += i == copy->n_steps ? 1 : 0;
    }
}

struct hbk_tune_shelf *hbk_tune_shelf_make(const struct hbk_tune *const tunes[],
                                           size_t n, struct hbk_arena *arena)
{
    struct hbk_tune_shelf *const shelf =
        HBK_ARENA_ARRAY(arena, struct hbk_tune_shelf, 1);
    shelf->n = n;
    shelf->copies = HBK_ARENA_ARRAY(arena, struct copy, n);
    for (size_t i = 0; i < n; i++) {
        struct copy *const copy = &shelf->copies[i];
        const struct look look = look_over(tunes[i]);
        copy->tune = tunes[i];
        copy->low = look.low;
        copy->high = look.high;
        copy->leap = look.widest;
        copy->difficulty = hbk_tune_difficulty(tunes[i]);
        copy->is_taken = look.n_notes == 0; /* nothing to play */
        list_steps(copy, arena);
        for (size_t e = 0; e < tunes[i]->n_events; e++) {
            if (is_note(&tunes[i]->events[e])) {
                copy->has[tunes[i]->events[e].note] = true;
            }
        }
    }
    return shelf;
}

double hbk_tune_shelf_difficulty(const struct hbk_tune_shelf *shelf,
                                 size_t which)
{
    return shelf->copies[which].difficulty;
}

static bool is_known(const bool known[HBK_NOTE_MAX + 1], int note)
{
    return note >= 0 && note <= HBK_NOTE_MAX && known[note];
}

/* Whether all notes are known once they are moved by `semitones`. */
static bool fits(const struct copy *copy, const bool known[HBK_NOTE_MAX + 1],
                 int semitones)
{
    for (int note = copy->low; note <= copy->high; note++) {
        if (copy->has[note] && !is_known(known, note + semitones)) {
            return false;
        }
    }
    return true;
}

/* Whether fingers may make all of its moves once it is moved. */
static bool can_go(const struct copy *copy, const struct hbk_moves *moves,
                   int semitones)
{
    bool can = true;
    for (size_t i = 0; can && moves != NULL && i < copy->n_steps; i++) {
        can = hbk_moves_allow(moves, copy->steps[i].low + semitones,
                              copy->steps[i].high + semitones);
    }
    return can;
}

static bool has_new(const struct copy *copy, const struct hbk_tune_wish *wish,
                    int semitones)
{
    for (size_t i = 0; i < wish->n_new; i++) {
        const int note = wish->added[i] - semitones;
        if (note >= copy->low && note <= copy->high && copy->has[note]) {
            return true;
        }
    }
    return false;
}

/* Signs of the key for the pupil once it is moved; sharps are positive. */
static int signs_after(const struct copy *copy, int moved)
{
    /* 7 places up the line of fifths a semitone; from 5 flats to 6 sharps. */
    const int place = copy->tune->keys[0].fifths + 7 * moved + 5;
    return (place % 12 + 12) % 12 - 5;
}

/* Whether its notes are written as they were taught, once it is moved. */
static bool reads_as_taught(const struct copy *copy,
                            const struct hbk_tune_wish *wish, int moved)
{
    const int semitones = wish->home - HBK_NOTE_C4 + moved;
    const int signs = signs_after(copy, moved);
    const int fifths = hbk_pupil_fifths(wish->home, signs);
    bool same = true;
    for (int note = copy->low; same && note <= copy->high; note++) {
        const int written = note + semitones;
        same =
            !copy->has[note] || wish->alters == NULL ||
            hbk_spelling_in_key(written, fifths).alter == wish->alters[written];
    }
    return same;
}

/* INFINITY where it must not be moved so far. */
static double cost_of_move(const struct copy *copy, int moved, bool for_new)
{
    const int signs = abs(signs_after(copy, moved));
    const double far = fabs((double)moved) / 12.0;
    const double sign = for_new ? HBK_TUNE_NEW_KEY_COST : HBK_TUNE_FAR_KEY_COST;
    if (moved % 12 == 0) {
        return HBK_TUNE_OCTAVE_COST * far;
    }
    if (signs > HBK_TUNE_SIGNS_MOST) {
        return INFINITY;
    }
    return HBK_TUNE_KEY_COST + HBK_TUNE_OCTAVE_COST * far +
           (signs > 1 ? sign * (double)(signs - 1) : 0.0);
}

static bool is_better(const struct hbk_tune_place *place,
                      const struct hbk_tune_place *best)
{
    return place->has_new == best->has_new ? place->cost < best->cost
                                           : place->has_new;
}

bool hbk_tune_shelf_place(const struct hbk_tune_shelf *shelf, size_t which,
                          const struct hbk_tune_wish *wish,
                          struct hbk_tune_place *place)
{
    const struct copy *const copy = &shelf->copies[which];
    const int to_home = wish->home - HBK_NOTE_C4;
    struct hbk_tune_place best = {.cost = INFINITY};
    bool known[HBK_NOTE_MAX + 1] = {false};
    for (size_t i = 0; i < wish->n_known; i++) {
        known[wish->known[i]] = true;
    }
    if (copy->is_taken ||
        (wish->leap_most > 0 && copy->leap > wish->leap_most)) {
        return false;
    }
    for (int moved = -HBK_TUNE_MOVE_MOST; moved <= HBK_TUNE_MOVE_MOST;
         moved++) {
        const int semitones = to_home + moved;
        if (!fits(copy, known, semitones)) {
            continue;
        }
        const bool is_new = has_new(copy, wish, semitones);
        const struct hbk_tune_place here = {moved, is_new,
                                            cost_of_move(copy, moved, is_new)};
        if (is_better(&here, &best) && !isinf(here.cost) &&
            reads_as_taught(copy, wish, moved) &&
            can_go(copy, wish->moves, semitones)) {
            best = here;
        }
    }
    if (isinf(best.cost)) {
        return false;
    }
    *place = best;
    return true;
}

bool hbk_tune_shelf_hand_out(struct hbk_tune_shelf *shelf, size_t which,
                             const struct hbk_tune_wish *wish,
                             const struct hbk_tune_place *place,
                             struct hbk_arena *arena,
                             struct hbk_lesson_tune *out)
{
    struct copy *const copy = &shelf->copies[which];
    const int semitones = wish->home - HBK_NOTE_C4 + place->moved;
    struct hbk_tune moved = *copy->tune;
    if (semitones != 0 &&
        hbk_tune_transposed(copy->tune, semitones, arena, &moved) != HBK_OK) {
        return false;
    }
    /* Another tune and not the same transposed. */
    moved.transpose = copy->tune->transpose;
    moved.n_clefs = 1;
    moved.clefs = HBK_ARENA_ARRAY(arena, struct hbk_tune_clef, 1);
    moved.clefs[0] = hbk_tune_clef_of(wish->clef);
    copy->is_taken = true;
    *out = (struct hbk_lesson_tune){.tune = moved,
                                    .which = which,
                                    .moved = place->moved,
                                    .has_new = place->has_new,
                                    .difficulty = copy->difficulty};
    return true;
}

bool hbk_tune_shelf_take(struct hbk_tune_shelf *shelf,
                         const struct hbk_tune_wish *wish,
                         struct hbk_arena *arena, struct hbk_lesson_tune *out)
{
    struct hbk_tune_wish any = *wish;
    struct hbk_tune_place best = {0};
    double least = INFINITY;
    size_t which = 0;
    any.n_new = 0;
    for (size_t i = 0; i < shelf->n; i++) {
        struct hbk_tune_place place;
        if (hbk_tune_shelf_place(shelf, i, &any, &place) &&
            shelf->copies[i].difficulty + place.cost < least) {
            least = shelf->copies[i].difficulty + place.cost;
            best = place;
            which = i;
        }
    }
    return !isinf(least) &&
           hbk_tune_shelf_hand_out(shelf, which, wish, &best, arena, out);
}
