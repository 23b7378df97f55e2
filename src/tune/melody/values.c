#include "tune/melody/build.h"

#include "base/messages.h"
/*
 * How the lengths are written: each as one note, or as several that are tied,
 * and those that no plain note shows in tuplets.
 */

enum { ACTUAL_MAX = 99, PIECES_MAX = 8 };

/* The tuplet in which a length may be written; 1 and 1 for none. */
struct modification {
    unsigned actual, normal;
};

struct pieces {
    size_t n;
    struct hbk_ratio lengths[PIECES_MAX];
};

/* By the odd part of its denominator: thirds go 3 in the time of 2. */
static bool own_modification(struct hbk_ratio length, struct modification *own)
{
    int64_t odd = length.den;
    while (odd % 2 == 0) {
        odd /= 2;
    }
    if (odd > ACTUAL_MAX) {
        return false;
    }
    *own = (struct modification){(unsigned)odd, 1};
    while (2 * own->normal < own->actual) {
        own->normal *= 2;
    }
    return true;
}

static bool is_shown(struct hbk_ratio length, struct modification by)
{
    unsigned dots = 0;
    return hbk_build_value(length, by.actual, by.normal, &dots) !=
           HBK_TUNE_NO_VALUE;
}

static bool is_shown_by_own(struct hbk_ratio length)
{
    struct modification own;
    return own_modification(length, &own) && is_shown(length, own);
}

static struct hbk_ratio beat_of(const struct hbk_tune_meter *meter)
{
    struct hbk_ratio beat = {.num = 1, .den = 4};
    if (meter->beats > 0) {
        const bool is_compound = meter->unit >= 8 && meter->beats % 3 == 0;
        (void)hbk_ratio_make(is_compound ? 3 : 1, meter->unit, &beat);
    }
    return beat;
}

/* In two, where a beat begins that leaves a note on both sides of it. */
static bool cut_at_beat(const struct hbk_tune *tune, size_t event,
                        struct pieces *pieces)
{
    const struct hbk_tune_event *const at = &tune->events[event];
    const struct hbk_ratio beat = beat_of(hbk_tune_meter_at(tune, event));
    struct hbk_ratio from;
    struct hbk_ratio beats;
    if (!hbk_ratio_sub(at->onset, tune->bars[at->bar].onset, &from) ||
        !hbk_ratio_add(from, at->length, &beats) ||
        !hbk_ratio_div(beats, beat, &beats)) {
        return false;
    }
    enum { BEATS_MAX = 64 };
    const int64_t last = (beats.num - 1) / beats.den;
    for (int64_t k = last; k > 0 && k + BEATS_MAX > last; k--) {
        struct hbk_ratio cut;
        if (!hbk_ratio_mul(beat, hbk_ratio_whole(k), &cut) ||
            hbk_ratio_compare(cut, from) <= 0) {
            return false;
        }
        if (hbk_ratio_sub(cut, from, &pieces->lengths[0]) &&
            hbk_ratio_sub(at->length, pieces->lengths[0],
                          &pieces->lengths[1]) &&
            is_shown_by_own(pieces->lengths[0]) &&
            is_shown_by_own(pieces->lengths[1])) {
            pieces->n = 2;
            return true;
        }
    }
    return false;
}

/* The longest note with at most one dot that `rest` has room for. */
static bool longest_in(struct hbk_ratio rest, struct hbk_ratio *longest)
{
    for (int value = -1; value <= 10; value++) {
        for (unsigned dots = 2; dots-- > 0;) {
            *longest = hbk_build_length(value, dots);
            if (hbk_ratio_compare(*longest, rest) <= 0) {
                return true;
            }
        }
    }
    return false;
}

/* In notes from the longest down. */
static bool cut_by_length(struct hbk_ratio length, struct modification by,
                          struct pieces *pieces)
{
    const struct hbk_ratio ratio = {.num = by.actual, .den = by.normal};
    struct hbk_ratio rest;
    if (!hbk_ratio_mul(length, ratio, &rest)) {
        return false;
    }
    for (pieces->n = 0; rest.num > 0; pieces->n++) {
        struct hbk_ratio longest;
        if (pieces->n == PIECES_MAX || !longest_in(rest, &longest) ||
            !hbk_ratio_div(longest, ratio, &pieces->lengths[pieces->n]) ||
            !hbk_ratio_sub(rest, longest, &rest)) {
            return false;
        }
    }
    return pieces->n > 1;
}

/* Whether an event must be written as several, and as which. */
static bool find_pieces(struct hbk_build *build, size_t event,
                        struct pieces *pieces)
{
    const struct hbk_tune *const tune = build->tune;
    const struct hbk_tune_event *const at = &tune->events[event];
    if (at->value != HBK_TUNE_NO_VALUE || at->kind == HBK_TUNE_GRACE ||
        at->whole_bar || at->hidden || at->length.num <= 0) {
        return false;
    }
    struct modification by = {1, 1};
    bool good = false;
    if (at->tuplet != HBK_TUNE_NONE) {
        const struct hbk_tune_tuplet *const tuplet = &tune->tuplets[at->tuplet];
        by = (struct modification){tuplet->actual, tuplet->normal};
        if (is_shown(at->length, by)) {
            return false;
        }
        good = cut_by_length(at->length, by, pieces);
    } else {
        if (is_shown_by_own(at->length)) {
            return false;
        }
        good = cut_at_beat(tune, event, pieces) ||
               (own_modification(at->length, &by) &&
                cut_by_length(at->length, by, pieces));
    }
    if (!good) {
        char where[HBK_TUNE_WHERE_SIZE];
        char length[HBK_RATIO_TEXT];
        hbk_build_warn(build, at->place, HBK_H_LENGTH_NOT_SHOWN,
                       "%s: no notes together show %s of a whole note; it is "
                       "drawn without its length",
                       hbk_tune_where(tune, event, where),
                       hbk_ratio_text(at->length, length));
    }
    return good;
}

/* ---- the events with pieces in the place of some ---- */

struct split {
    struct hbk_tune_event *events;
    size_t n, room;
    size_t *first; /* by old event: its first piece; one more for the end */
    size_t *old;   /* by new event, where `room` is enough for events */
    size_t room_old;
};

static void add(struct hbk_build *build, struct split *split,
                struct hbk_tune_event event, size_t old)
{
    HBK_ARENA_GROW(build->arena, split->events, split->n, split->room);
    HBK_ARENA_GROW(build->arena, split->old, split->n, split->room_old);
    split->events[split->n] = event;
    split->old[split->n++] = old;
}

/* What belongs to the beginning of a note stays with its first piece. */
static void add_pieces(struct hbk_build *build, struct split *split, size_t old,
                       const struct pieces *pieces)
{
    const unsigned at_end =
        HBK_TUNE_FERMATA | HBK_TUNE_BREATH | HBK_TUNE_CAESURA;
    const struct hbk_tune_event whole = build->tune->events[old];
    const bool is_note = whole.kind == HBK_TUNE_NOTE;
    struct hbk_ratio onset = whole.onset;
    for (size_t k = 0; k < pieces->n; k++) {
        const bool is_first = k == 0;
        const bool is_last = k + 1 == pieces->n;
        struct hbk_tune_event piece = whole;
        piece.onset = onset;
        piece.length = pieces->lengths[k];
        piece.tie_stop = is_first ? whole.tie_stop : is_note;
        piece.tie_start = is_last ? whole.tie_start : is_note;
        piece.slur_starts = is_first ? whole.slur_starts : 0;
        piece.slur_stops = is_last ? whole.slur_stops : 0;
        piece.articulation = whole.articulation & ((is_first ? ~at_end : 0) |
                                                   (is_last ? at_end : 0));
        piece.beam = is_first ? whole.beam : HBK_TUNE_BEAM_NONE;
        if (!is_first) {
            piece.accidental = HBK_TUNE_NOT_PRINTED;
            piece.fingering = NULL;
        }
        add(build, split, piece, is_first ? old : HBK_TUNE_NONE);
        (void)hbk_ratio_add(onset, piece.length, &onset);
    }
}

#define MOVE_CHANGES(list, count)                                              \
    for (size_t i_ = 0; i_ < (count); i_++) {                                  \
        (list)[i_].event = split->first[(list)[i_].event];                     \
    }

/* Everything that names an event by its number. */
static void take_over(struct hbk_build *build, const struct split *split)
{
    struct hbk_tune *const tune = build->tune;
    for (size_t b = 0; b < tune->n_bars; b++) {
        struct hbk_tune_bar *const bar = &tune->bars[b];
        const size_t end = split->first[bar->first + bar->count];
        bar->first = split->first[bar->first];
        bar->count = end - bar->first;
    }
    for (size_t t = 0; t < tune->n_tuplets; t++) {
        struct hbk_tune_tuplet *const tuplet = &tune->tuplets[t];
        const size_t end = tuplet->first + tuplet->count;
        const size_t last = end < tune->n_events ? end : tune->n_events;
        tuplet->first = split->first[tuplet->first];
        tuplet->count = split->first[last] - tuplet->first;
    }
    MOVE_CHANGES(tune->keys, tune->n_keys)
    MOVE_CHANGES(tune->meters, tune->n_meters)
    MOVE_CHANGES(tune->clefs, tune->n_clefs)
    MOVE_CHANGES(tune->tempos, tune->n_tempos)
    tune->events = split->events;
    tune->n_events = split->n;
    build->room_events = split->room;
    build->old = split->old;
}

static void split_lengths(struct hbk_build *build)
{
    const struct hbk_tune *const tune = build->tune;
    struct split split = {.n = 0};
    struct pieces pieces = {.n = 0};
    for (size_t i = 0; i < tune->n_events; i++) {
        const bool parted = find_pieces(build, i, &pieces);
        if (parted && split.first == NULL) {
            split.first =
                HBK_ARENA_ARRAY(build->arena, size_t, tune->n_events + 1);
            for (size_t k = 0; k < i; k++) {
                split.first[k] = k;
                add(build, &split, tune->events[k], k);
            }
        }
        if (split.first == NULL) {
            continue;
        }
        split.first[i] = split.n;
        if (parted) {
            add_pieces(build, &split, i, &pieces);
        } else {
            add(build, &split, tune->events[i], i);
        }
    }
    if (split.first != NULL) {
        split.first[tune->n_events] = split.n;
        take_over(build, &split);
    }
}

/* ---- tuplets ---- */

static bool is_free(const struct hbk_tune_event *event)
{
    return event->tuplet == HBK_TUNE_NONE && !event->whole_bar;
}

/* Whether a length has no thirds, fifths, ... in it. */
static bool is_even(struct hbk_ratio length)
{
    return (length.den & (length.den - 1)) == 0;
}

/*
 * The events from `first` on that are a tuplet together: those up to where
 * it comes out even. Returns the one after the last.
 */
static size_t end_of_tuplet(const struct hbk_tune *tune, size_t first,
                            struct modification by, bool *is_complete)
{
    struct hbk_ratio sum = hbk_ratio_whole(0);
    size_t end = first;
    *is_complete = false;
    for (size_t i = first; i < tune->n_events && !*is_complete; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        if (event->bar != tune->events[first].bar) {
            break;
        }
        if (event->kind == HBK_TUNE_GRACE) {
            continue;
        }
        if (!is_free(event) || !is_shown(event->length, by) ||
            !hbk_ratio_add(sum, event->length, &sum)) {
            break;
        }
        end = i + 1;
        *is_complete = is_even(sum);
    }
    return end;
}

static void make_tuplet(struct hbk_build *build, size_t first, size_t end,
                        struct modification by)
{
    struct hbk_tune *const tune = build->tune;
    const size_t tuplet = hbk_build_add_tuplet(
        build, (struct hbk_tune_tuplet){.first = first,
                                        .count = end - first,
                                        .actual = by.actual,
                                        .normal = by.normal});
    for (size_t i = first; i < end; i++) {
        struct hbk_tune_event *const event = &tune->events[i];
        if (event->kind != HBK_TUNE_GRACE) {
            event->tuplet = tuplet;
            event->dots = 0;
            event->value = hbk_build_value(event->length, by.actual, by.normal,
                                           &event->dots);
        }
    }
}

/* Tuplets are in the order of their notes: new ones go among those given. */
static void merge_tuplets(struct hbk_build *build, size_t given)
{
    struct hbk_tune *const tune = build->tune;
    struct hbk_tune_tuplet *const merged =
        HBK_ARENA_ARRAY(build->arena, struct hbk_tune_tuplet, tune->n_tuplets);
    size_t old = 0;
    size_t added = given;
    for (size_t t = 0; t < tune->n_tuplets; t++) {
        const bool takes_old = added == tune->n_tuplets ||
                               (old < given && tune->tuplets[old].first <=
                                                   tune->tuplets[added].first);
        merged[t] = tune->tuplets[takes_old ? old++ : added++];
        for (size_t i = merged[t].first; i < merged[t].first + merged[t].count;
             i++) {
            if (tune->events[i].tuplet != HBK_TUNE_NONE) {
                tune->events[i].tuplet = t;
            }
        }
    }
    tune->tuplets = merged;
    build->room_tuplets = tune->n_tuplets;
}

static void group_tuplets(struct hbk_build *build)
{
    struct hbk_tune *const tune = build->tune;
    const size_t given = tune->n_tuplets;
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        struct modification own;
        if (event->kind == HBK_TUNE_GRACE || !is_free(event) ||
            event->value != HBK_TUNE_NO_VALUE || event->hidden ||
            is_even(event->length) || !own_modification(event->length, &own) ||
            !is_shown(event->length, own)) {
            continue;
        }
        bool is_complete = false;
        const size_t end = end_of_tuplet(tune, i, own, &is_complete);
        if (!is_complete) {
            char where[HBK_TUNE_WHERE_SIZE];
            hbk_build_warn(build, event->place, HBK_H_TUPLET,
                           "%s: the group of %u in the time of %u that begins "
                           "here is not complete",
                           hbk_tune_where(tune, i, where), own.actual,
                           own.normal);
        }
        make_tuplet(build, i, end, own);
        i = end - 1;
    }
    if (given > 0 && tune->n_tuplets > given) {
        merge_tuplets(build, given);
    }
}

static void find_values(struct hbk_tune *tune)
{
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_tune_event *const event = &tune->events[i];
        if (event->value != HBK_TUNE_NO_VALUE) {
            continue;
        }
        if (event->kind == HBK_TUNE_GRACE) {
            event->value = 3;
        } else if (event->whole_bar) {
            event->value = 0;
        } else {
            const bool inside = event->tuplet != HBK_TUNE_NONE;
            const struct hbk_tune_tuplet *const tuplet =
                inside ? &tune->tuplets[event->tuplet] : NULL;
            event->value =
                hbk_build_value(event->length, inside ? tuplet->actual : 1,
                                inside ? tuplet->normal : 1, &event->dots);
        }
    }
}

void hbk_build_values(struct hbk_build *build)
{
    find_values(build->tune);
    split_lengths(build);
    find_values(build->tune);
    group_tuplets(build);
}
