#include "tune/abc/abc_line.h"

#include "tune/melody/build_marks.h"

#include <string.h>

/*
 * A tune that was read with all its chords and overlays becomes one line.
 */

/* The tune in the making, and where its old events went. */
struct rewritten {
    struct hbk_abc *abc;
    struct hbk_tune_event *events;
    size_t n, room;
    size_t *where; /* by old event, one more for the end: the new one there,
                      or that comes next */
    bool *is_kept; /* by old event: it is still there */
    struct hbk_ratio *onset; /* by old event: in its bar */
    bool was_one;            /* the note before was one of several */
};

/* One bar as hbk_line_pick() takes it. */
struct bar {
    struct hbk_line_item *items;
    size_t *first; /* by item: its event, of a chord the first */
    size_t n, room, room_first;
    size_t layers;
    struct hbk_ratio ends[HBK_LINE_VOICES_MAX]; /* of each layer */
};

static void put(struct rewritten *out, struct hbk_tune_event event, size_t bar)
{
    HBK_ARENA_GROW(out->abc->build.arena, out->events, out->n, out->room);
    event.bar = bar;
    out->events[out->n++] = event;
}

static size_t notes_from(const struct hbk_abc *abc, size_t i)
{
    size_t n = 1;
    while (i + n < abc->build.tune->n_events &&
           abc->voiced.items[i + n].in_chord) {
        n++;
    }
    return n;
}

static void list_bar(struct hbk_abc *abc, const struct hbk_tune_bar *from,
                     struct hbk_ratio onset[], struct bar *bar)
{
    const struct hbk_tune *const tune = abc->build.tune;
    const size_t end = from->first + from->count;
    bar->n = 0;
    bar->layers = 1;
    for (size_t k = 0; k < HBK_LINE_VOICES_MAX; k++) {
        bar->ends[k] = hbk_ratio_whole(0);
    }
    for (size_t i = from->first; i < end; i += notes_from(abc, i)) {
        const struct hbk_tune_event *const event = &tune->events[i];
        const size_t layer = abc->voiced.items[i].layer;
        const bool is_rest = event->kind == HBK_TUNE_REST;
        HBK_ARENA_GROW(abc->build.arena, bar->items, bar->n, bar->room);
        HBK_ARENA_GROW(abc->build.arena, bar->first, bar->n, bar->room_first);
        bar->items[bar->n] = (struct hbk_line_item){
            .voice = layer,
            .onset = bar->ends[layer],
            .length = event->length,
            .is_grace = event->kind == HBK_TUNE_GRACE,
            .is_tuplet = event->tuplet != HBK_TUNE_NONE,
            .is_written = !is_rest || !event->hidden,
            .notes = is_rest ? 0 : notes_from(abc, i),
        };
        bar->first[bar->n++] = i;
        onset[i] = bar->ends[layer];
        bar->layers = layer + 1 > bar->layers ? layer + 1 : bar->layers;
        /* What does not add up is told once the line is there. */
        (void)hbk_ratio_add(bar->ends[layer], event->length, &bar->ends[layer]);
    }
}

/* The event of that rank from the top among those of a chord. */
static size_t note_of_rank(const struct hbk_abc *abc, size_t first, size_t rank)
{
    const struct hbk_tune_event *const events = abc->build.tune->events;
    const size_t n = notes_from(abc, first);
    for (size_t i = first; i < first + n; i++) {
        size_t above = 0;
        for (size_t k = first; k < first + n; k++) {
            above += events[k].note > events[i].note ||
                     (events[k].note == events[i].note && k < i);
        }
        if (above == rank) {
            return i;
        }
    }
    return first;
}

/* A tie to a note of a chord that the line does not have ends there. */
static void end_tie(struct rewritten *out, const struct hbk_tune_event *next,
                    bool is_one)
{
    const bool was_one = out->was_one;
    size_t k = out->n;
    if (next->kind == HBK_TUNE_GRACE) {
        return;
    }
    out->was_one = is_one;
    while (k > 0 && out->events[k - 1].kind == HBK_TUNE_GRACE) {
        k--;
    }
    if (k > 0 && (is_one || was_one) && out->events[k - 1].tie_start &&
        out->events[k - 1].note != next->note) {
        out->events[k - 1].tie_start = false;
    }
}

static void put_item(struct rewritten *out, const struct bar *bar, size_t item,
                     size_t number)
{
    const struct hbk_tune *const tune = out->abc->build.tune;
    const struct hbk_line_item *const picked = &bar->items[item];
    const size_t first = bar->first[item];
    struct hbk_tune_event event = tune->events[first];
    if (picked->notes > 1) {
        const struct hbk_tune_event *const note =
            &tune->events[note_of_rank(out->abc, first, picked->note)];
        event.spelling = note->spelling;
        event.note = note->note;
        event.accidental = note->accidental;
        event.tie_start = note->tie_start;
        event.tie_stop = note->tie_stop;
    }
    if (!hbk_ratio_equal(event.length, picked->length)) {
        event.length = picked->length; /* its own line goes on */
        event.tie_start = false;
    }
    end_tie(out, &event, picked->notes > 1 || bar->layers > 1);
    out->where[first] = out->n;
    out->is_kept[first] = true;
    put(out, event, number);
}

/* A hidden rest from one time to another, where the line has nothing. */
static void fill(struct rewritten *out, struct hbk_ratio from,
                 struct hbk_ratio to, size_t number)
{
    struct hbk_tune_event rest = hbk_build_blank(
        HBK_TUNE_REST, out->abc->build.tune->bars[number].place);
    rest.hidden = true;
    if (hbk_ratio_compare(from, to) < 0 &&
        hbk_ratio_sub(to, from, &rest.length)) {
        put(out, rest, number);
    }
}

/* The item that comes next in time and is read, or bar->n. */
static size_t next_item(const struct bar *bar, const bool *done)
{
    size_t next = bar->n;
    for (size_t i = 0; i < bar->n; i++) {
        if (bar->items[i].is_read && !done[i] &&
            (next == bar->n || hbk_ratio_compare(bar->items[i].onset,
                                                 bar->items[next].onset) < 0)) {
            next = i;
        }
    }
    return next;
}

/* A bar of several layers, in the order of time. */
static void put_layers(struct rewritten *out, const struct bar *bar,
                       size_t number)
{
    struct hbk_ratio reach = hbk_ratio_whole(0);
    struct hbk_ratio filled = hbk_ratio_whole(0);
    bool *const done = HBK_ARENA_ARRAY(out->abc->build.arena, bool, bar->n + 1);
    for (size_t k = 0; k < bar->layers; k++) {
        reach =
            hbk_ratio_compare(bar->ends[k], reach) > 0 ? bar->ends[k] : reach;
    }
    for (size_t i = next_item(bar, done); i < bar->n;
         i = next_item(bar, done)) {
        const struct hbk_line_item *const item = &bar->items[i];
        fill(out, filled, item->onset, number);
        put_item(out, bar, i, number);
        done[i] = true;
        (void)hbk_ratio_add(item->onset, item->length, &filled);
    }
    fill(out, filled, reach, number);
}

static void put_bar(struct rewritten *out, struct bar *bar, size_t number,
                    int line)
{
    struct hbk_tune *const tune = out->abc->build.tune;
    struct hbk_tune_bar *const from = &tune->bars[number];
    enum { ITEMS_MAX = 2000 }; /* more in one bar is no music */
    list_bar(out->abc, from, out->onset, bar);
    hbk_line_pick(line, bar->items, bar->n, &tune->line);
    const size_t first = out->n;
    if (bar->layers > 1 && bar->n <= ITEMS_MAX) {
        put_layers(out, bar, number);
    } else {
        for (size_t i = 0; i < bar->n; i++) {
            if (bar->items[i].voice == 0) {
                put_item(out, bar, i, number);
            }
        }
    }
    /* What stood before an event that is gone stands before the next. */
    size_t next = out->n;
    for (size_t i = from->first + from->count; i-- > from->first;) {
        next = out->where[i] == HBK_TUNE_NONE ? next : out->where[i];
        out->where[i] = next;
    }
    from->first = first;
    from->count = out->n - first;
}

/* The tuplets of the events that are left. */
static void rebuild_tuplets(struct rewritten *out)
{
    struct hbk_tune *const tune = out->abc->build.tune;
    struct hbk_build *const build = &out->abc->build;
    const struct hbk_tune_tuplet *const old = tune->tuplets;
    size_t last = HBK_TUNE_NONE;
    tune->tuplets = NULL;
    tune->n_tuplets = 0;
    build->room_tuplets = 0;
    for (size_t i = 0; i < out->n; i++) {
        struct hbk_tune_event *const event = &out->events[i];
        if (event->kind == HBK_TUNE_GRACE) {
            continue;
        }
        const size_t was = event->tuplet;
        if (was != HBK_TUNE_NONE && was != last) {
            (void)hbk_build_add_tuplet(
                build, (struct hbk_tune_tuplet){.first = i,
                                                .actual = old[was].actual,
                                                .normal = old[was].normal});
        }
        if (was != HBK_TUNE_NONE) {
            event->tuplet = tune->n_tuplets - 1;
            struct hbk_tune_tuplet *const tuplet =
                &tune->tuplets[event->tuplet];
            tuplet->count = i + 1 - tuplet->first;
        }
        last = was;
    }
}

/* The bar that an old event was in. */
static size_t bar_of(const struct rewritten *out, size_t event)
{
    return out->abc->build.tune->events[event].bar;
}

/* Whether a spot is at an event that is gone. */
static bool is_gone(const struct rewritten *out,
                    const struct hbk_build_spot *spot)
{
    return spot->where == HBK_BUILD_AT_EVENT &&
           spot->event < out->abc->build.tune->n_events &&
           !out->is_kept[spot->event];
}

/* At its event's new number, or at the time where that was. */
static void move_spot(const struct rewritten *out, struct hbk_build_spot *spot)
{
    const size_t n = out->abc->build.tune->n_events;
    const size_t old = spot->event < n ? spot->event : n;
    if (spot->where != HBK_BUILD_AT_EVENT) {
        return;
    }
    if (is_gone(out, spot)) {
        *spot = (struct hbk_build_spot){.where = HBK_BUILD_AT_TIME,
                                        .bar = bar_of(out, old),
                                        .time = out->onset[old]};
    } else {
        spot->event = out->where[old];
    }
}

/* Whether it says how to play, which each voice may have for itself. */
static bool is_of_voice(const struct hbk_build_mark *mark)
{
    const enum hbk_tune_mark_kind kind = mark->mark.kind;
    return hbk_mark_is_hairpin(&mark->mark) || kind == HBK_TUNE_MARK_DYNAMIC ||
           kind == HBK_TUNE_MARK_WORDS || kind == HBK_TUNE_MARK_PLUS ||
           kind == HBK_TUNE_MARK_OPEN;
}

/* By bar: whether the line has marks of its own that say how to play. */
static bool *find_marked(const struct rewritten *out)
{
    const struct hbk_build *const build = &out->abc->build;
    bool *const marked =
        HBK_ARENA_ARRAY(build->arena, bool, build->tune->n_bars + 1);
    for (size_t i = 0; i < build->marks.n; i++) {
        const struct hbk_build_mark *const mark = &build->marks.items[i];
        if (is_of_voice(mark) && mark->at.where == HBK_BUILD_AT_EVENT &&
            mark->at.event < build->tune->n_events &&
            !is_gone(out, &mark->at)) {
            marked[bar_of(out, mark->at.event)] = true;
        }
    }
    return marked;
}

/*
 * What stands at another voice is meant for this one as well, as on any staff
 * for two, unless this one has marks of its own in that bar.
 */
static void move_marks(struct rewritten *out)
{
    struct hbk_build *const build = &out->abc->build;
    struct hbk_build_marks *const marks = &build->marks;
    const bool *const marked = find_marked(out);
    size_t kept = 0;
    for (size_t i = 0; i < marks->n; i++) {
        struct hbk_build_mark mark = marks->items[i];
        if (is_gone(out, &mark.at) && is_of_voice(&mark) &&
            marked[bar_of(out, mark.at.event)]) {
            hbk_build_left_out(build, "mark of another voice",
                               "marks of another voice");
            continue;
        }
        move_spot(out, &mark.at);
        move_spot(out, &mark.end);
        marks->items[kept++] = mark;
    }
    marks->n = kept;
}

static void move_syllables(struct rewritten *out)
{
    struct hbk_build *const build = &out->abc->build;
    struct hbk_tune_marks *const marks = &build->tune->marks;
    size_t kept = 0;
    for (size_t i = 0; i < marks->n_syllables; i++) {
        struct hbk_tune_syllable syllable = marks->syllables[i];
        if (!out->is_kept[syllable.event]) {
            hbk_build_left_out(build, "syllable of another voice",
                               "syllables of another voice");
            continue;
        }
        size_t last = syllable.last;
        while (last > syllable.event && !out->is_kept[last]) {
            last--;
        }
        syllable.event = out->where[syllable.event];
        syllable.last = out->where[last];
        marks->syllables[kept++] = syllable;
    }
    marks->n_syllables = kept;
}

#define MOVE_CHANGES(list, count)                                              \
    for (size_t i_ = 0; i_ < (count); i_++) {                                  \
        (list)[i_].event = out.where[(list)[i_].event];                        \
    }

void hbk_abc_line(struct hbk_abc *abc, int number)
{
    struct hbk_tune *const tune = abc->build.tune;
    struct rewritten out = {.abc = abc};
    struct bar bar = {.n = 0};
    tune->line.number = number;
    if (!abc->voiced.is_divided) {
        return;
    }
    out.where = HBK_ARENA_ARRAY(abc->build.arena, size_t, tune->n_events + 1);
    out.onset =
        HBK_ARENA_ARRAY(abc->build.arena, struct hbk_ratio, tune->n_events + 1);
    out.is_kept = HBK_ARENA_ARRAY(abc->build.arena, bool, tune->n_events + 1);
    for (size_t i = 0; i < tune->n_events; i++) {
        out.where[i] = HBK_TUNE_NONE;
    }
    for (size_t b = 0; b < tune->n_bars; b++) {
        put_bar(&out, &bar, b, number);
    }
    out.where[tune->n_events] = out.n;
    rebuild_tuplets(&out);
    move_marks(&out);
    move_syllables(&out);
    MOVE_CHANGES(tune->keys, tune->n_keys)
    MOVE_CHANGES(tune->meters, tune->n_meters)
    MOVE_CHANGES(tune->clefs, tune->n_clefs)
    MOVE_CHANGES(tune->tempos, tune->n_tempos)
    tune->events = out.events;
    tune->n_events = out.n;
    abc->build.room_events = out.room;
}
