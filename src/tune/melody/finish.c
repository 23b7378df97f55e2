#include "tune/melody/build.h"

#include "base/messages.h"
#include "tune/melody/build_marks.h"
#include "tune/melody/build_often.h"
#include "tune/melody/line_told.h"

#include <string.h>

/*
 * The second half of building: everything that can only be told once the
 * whole tune is there.
 */

static bool add_up(struct hbk_build *build)
{
    struct hbk_tune *const tune = build->tune;
    struct hbk_ratio now = hbk_ratio_whole(0);
    for (size_t b = 0; b < tune->n_bars; b++) {
        struct hbk_tune_bar *const bar = &tune->bars[b];
        bar->onset = now;
        for (size_t i = bar->first; i < bar->first + bar->count; i++) {
            struct hbk_tune_event *const event = &tune->events[i];
            event->onset = now;
            if (!hbk_ratio_add(now, event->length, &now)) {
                hbk_build_error(build, event->place, HBK_H_NOTE_TIME,
                                "the note lengths do not add up to a time "
                                "that can be kept exactly");
                return false;
            }
        }
        if (!hbk_ratio_sub(now, bar->onset, &bar->length)) {
            return false;
        }
    }
    return true;
}

/* Whether a tie may come into this event from elsewhere than before it. */
static bool is_landing(const struct hbk_tune *tune, size_t i)
{
    const struct hbk_tune_bar *const bar = &tune->bars[tune->events[i].bar];
    const unsigned begins = HBK_SIGN_SEGNO | HBK_SIGN_CODA;
    return bar->first == i && (bar->repeat_start || bar->ending != NULL ||
                               (bar->signs.bits & begins) != 0);
}

/* Whether the tune may go on elsewhere than after this event. */
static bool is_leaving(const struct hbk_tune *tune, size_t i)
{
    const struct hbk_tune_bar *const bar = &tune->bars[tune->events[i].bar];
    if (bar->first + bar->count != i + 1) {
        return false;
    }
    const unsigned leads = HBK_SIGN_JUMP | HBK_SIGN_TO_CODA;
    return bar->repeat_end > 0 || (bar->signs.bits & leads) != 0 ||
           (tune->events[i].bar + 1 < tune->n_bars && bar[1].ending != NULL);
}

static void drop_tie(struct hbk_build *build, size_t i)
{
    if (!is_leaving(build->tune, i)) {
        build->tune->events[i].tie_start = false;
        char where[HBK_TUNE_WHERE_SIZE];
        hbk_build_warn(build, build->tune->events[i].place, HBK_H_TIE_NOWHERE,
                       "%s: the tie leads to no note of the same pitch",
                       hbk_tune_where(build->tune, i, where));
    }
}

static bool tie_up(struct hbk_build *build)
{
    struct hbk_tune *const tune = build->tune;
    size_t before = HBK_TUNE_NONE;
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_tune_event *const event = &tune->events[i];
        event->head = i;
        event->held = event->length;
        if (event->kind == HBK_TUNE_GRACE) {
            continue;
        }
        struct hbk_tune_event *const last =
            before == HBK_TUNE_NONE ? NULL : &tune->events[before];
        const bool is_tied = last != NULL && last->tie_start &&
                             event->tie_stop && last->note == event->note;
        if (is_tied) {
            event->head = last->head;
            struct hbk_tune_event *const head = &tune->events[last->head];
            if (!hbk_ratio_add(head->held, event->length, &head->held)) {
                return false;
            }
        } else {
            if (last != NULL && last->tie_start) {
                drop_tie(build, before);
            }
            event->tie_stop = event->tie_stop && is_landing(tune, i);
        }
        before = i;
    }
    if (before != HBK_TUNE_NONE && tune->events[before].tie_start) {
        drop_tie(build, before);
    }
    return true;
}

/* Grace notes belong to the note after them, or else to the one before. */
static void attach_graces(struct hbk_tune *tune)
{
    size_t next = HBK_TUNE_NONE;
    for (size_t i = tune->n_events; i-- > 0;) {
        if (tune->events[i].kind == HBK_TUNE_GRACE) {
            tune->events[i].main = next;
        } else {
            next = i;
        }
    }
    size_t last = HBK_TUNE_NONE;
    for (size_t i = 0; i < tune->n_events; i++) {
        if (tune->events[i].kind != HBK_TUNE_GRACE) {
            last = i;
        } else if (tune->events[i].main == HBK_TUNE_NONE) {
            tune->events[i].main = last;
        }
    }
}

/*
 * What both formats can say in two ways is kept in one: grace notes before
 * the first note of a tuplet are in it, and a repeat sign is no final bar.
 */
static void settle(struct hbk_tune *tune)
{
    for (size_t t = 0; t < tune->n_tuplets; t++) {
        struct hbk_tune_tuplet *const tuplet = &tune->tuplets[t];
        while (tuplet->first > 0 && tuplet->first < tune->n_events &&
               tune->events[tuplet->first - 1].kind == HBK_TUNE_GRACE &&
               tune->events[tuplet->first - 1].bar ==
                   tune->events[tuplet->first].bar) {
            tuplet->first--;
            tuplet->count++;
        }
    }
    for (size_t b = 0; b < tune->n_bars; b++) {
        struct hbk_tune_bar *const bar = &tune->bars[b];
        if (bar->repeat_end > 0 && bar->right == HBK_TUNE_BAR_FINAL) {
            bar->right = HBK_TUNE_BAR_PLAIN;
        }
    }
}

/* Takes the beam off the notes from `first` to before `end`. */
static void unbeam(struct hbk_tune *tune, size_t first, size_t end)
{
    for (size_t i = first; i < end; i++) {
        tune->events[i].beam = HBK_TUNE_BEAM_NONE;
    }
}

/* What draws the notes may rely on it: every beam that begins also ends. */
static void check_beams(struct hbk_tune *tune)
{
    size_t open = HBK_TUNE_NONE;
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_tune_event *const event = &tune->events[i];
        const enum hbk_tune_beam beam = event->beam;
        if (event->kind != HBK_TUNE_NOTE) {
            event->beam = HBK_TUNE_BEAM_NONE;
            continue;
        }
        const bool goes_on =
            beam == HBK_TUNE_BEAM_CONTINUE || beam == HBK_TUNE_BEAM_END;
        if (!goes_on && open != HBK_TUNE_NONE) {
            unbeam(tune, open, i);
        }
        if (goes_on && open == HBK_TUNE_NONE) {
            event->beam = HBK_TUNE_BEAM_NONE;
        }
        if (!goes_on) {
            open = beam == HBK_TUNE_BEAM_BEGIN ? i : HBK_TUNE_NONE;
        } else if (beam == HBK_TUNE_BEAM_END) {
            open = HBK_TUNE_NONE;
        }
    }
    if (open != HBK_TUNE_NONE) {
        unbeam(tune, open, tune->n_events);
    }
}

/* Whether the player sees that something ends with this bar. */
static bool is_divided_after(const struct hbk_tune *tune, size_t b)
{
    const struct hbk_tune_bar *const bar = &tune->bars[b];
    const struct hbk_tune_bar *const next =
        b + 1 < tune->n_bars ? bar + 1 : NULL;
    return next == NULL || bar->right != HBK_TUNE_BAR_PLAIN ||
           bar->repeat_end > 0 || bar->ending_stop || next->repeat_start ||
           next->ending != NULL;
}

static struct hbk_ratio full_length(const struct hbk_tune *tune, size_t b)
{
    return hbk_tune_full_bar(hbk_tune_meter_at(tune, tune->bars[b].first));
}

/* A bar split by a repeat keeps one number for its two halves. */
static bool completes_bar_before(const struct hbk_tune *tune, size_t b)
{
    if (b == 0 || tune->bars[b - 1].implicit ||
        !is_divided_after(tune, b - 1)) {
        return false;
    }
    struct hbk_ratio both;
    return tune->bars[b - 1].length.num > 0 &&
           hbk_ratio_add(tune->bars[b - 1].length, tune->bars[b].length,
                         &both) &&
           hbk_ratio_equal(both, full_length(tune, b));
}

static void number_bars(struct hbk_build *build)
{
    struct hbk_tune *const tune = build->tune;
    unsigned number = 0;
    for (size_t b = 0; b < tune->n_bars; b++) {
        struct hbk_tune_bar *const bar = &tune->bars[b];
        const struct hbk_ratio full = full_length(tune, b);
        const bool is_short =
            full.num > 0 && hbk_ratio_compare(bar->length, full) < 0;
        const bool is_pickup = is_short && b == 0 && tune->n_bars > 1;
        bar->implicit =
            is_pickup || (is_short && completes_bar_before(tune, b));
        number += bar->implicit ? 0 : 1;
        bar->number = hbk_arena_printf(build->arena, "%u", number);
    }
}

const char *hbk_build_bar_name(struct hbk_build *build)
{
    const struct hbk_tune *const tune = build->tune;
    if (tune->n_bars == 0) {
        return "1";
    }
    if (!build->bars_to_number) {
        return tune->bars[tune->n_bars - 1].number;
    }
    if (build->warnings > HBK_BUILD_WARNINGS_MAX || !add_up(build)) {
        return "";
    }
    number_bars(build);
    return tune->bars[tune->n_bars - 1].number;
}

static void check_bars(struct hbk_build *build)
{
    const struct hbk_tune *const tune = build->tune;
    for (size_t b = 0; b < tune->n_bars; b++) {
        const struct hbk_tune_bar *const bar = &tune->bars[b];
        const struct hbk_tune_meter *const meter =
            hbk_tune_meter_at(tune, bar->first);
        const struct hbk_ratio full = hbk_tune_full_bar(meter);
        if (full.num == 0 || bar->implicit || bar->count == 0) {
            continue;
        }
        const int order = hbk_ratio_compare(bar->length, full);
        const bool may_be_short = b == 0 || is_divided_after(tune, b) ||
                                  is_divided_after(tune, b - 1);
        if (order == 0 || (order < 0 && may_be_short)) {
            continue;
        }
        char length[HBK_RATIO_TEXT];
        hbk_build_warn(build, bar->place, HBK_H_BAR_LENGTH,
                       "bar %s is not full or too full: it holds %s of a "
                       "whole note, the meter is %u/%u",
                       bar->number, hbk_ratio_text(bar->length, length),
                       meter->beats, meter->unit);
    }
}

static unsigned least(unsigned a, unsigned b)
{
    return a < b ? a : b;
}

static void check_slurs(struct hbk_build *build)
{
    const struct hbk_tune *const tune = build->tune;
    size_t open = 0;
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_tune_event *const event = &tune->events[i];
        /* A slur may end on the note on which the next begins. */
        if (event->slur_stops > open + event->slur_starts) {
            event->slur_stops = (unsigned)open + event->slur_starts;
        }
        open += event->slur_starts;
        open -= event->slur_stops;
    }
    /* Backwards, so that the slurs left open are the ones without an end. */
    unsigned ends = 0;
    for (size_t i = tune->n_events; open > 0 && i-- > 0;) {
        struct hbk_tune_event *const event = &tune->events[i];
        const unsigned later = least(event->slur_starts, ends);
        const unsigned own =
            least(event->slur_starts - later, event->slur_stops);
        const unsigned kept = later + own;
        if (event->slur_starts > kept) {
            hbk_build_warn(build, event->place, HBK_H_SLUR_OPEN,
                           "a slur begins here and never ends");
        }
        event->slur_starts = kept;
        ends += event->slur_stops - kept;
    }
}

static bool has_notes(const struct hbk_tune *tune)
{
    size_t i = 0;
    while (i < tune->n_events && tune->events[i].kind == HBK_TUNE_REST) {
        i++;
    }
    return i < tune->n_events;
}

enum hbk_status hbk_build_finish(struct hbk_build *build)
{
    struct hbk_tune *const tune = build->tune;
    if (build->failed) {
        return HBK_ERR_INPUT;
    }
    const struct hbk_place nowhere = {.file = tune->file};
    const bool plays = has_notes(tune);
    if (!plays && (build->needs_notes || tune->n_events == 0)) {
        hbk_build_error(build, nowhere, HBK_H_NO_NOTES,
                        "there are no notes in it");
        return HBK_ERR_INPUT;
    }
    if (!add_up(build)) {
        return HBK_ERR_INPUT;
    }
    if (build->bars_to_number) {
        number_bars(build);
    }
    hbk_build_tell_often(build);
    hbk_build_values(build);
    if (!tie_up(build)) {
        hbk_build_error(build, nowhere, HBK_H_NOTE_TIME,
                        "the tied notes do not add up to a time that can be "
                        "kept exactly");
        return HBK_ERR_INPUT;
    }
    settle(tune);
    attach_graces(tune);
    hbk_build_place_marks(build);
    check_slurs(build);
    if (!build->beams_are_joins) {
        check_beams(tune);
    }
    check_bars(build);
    hbk_build_order(build);
    if (!plays) {
        hbk_fault_warn(build->faults, nowhere, HBK_H_ONLY_RESTS,
                       "there are only rests in it");
    }
    hbk_line_tell(build);
    if (build->warnings > HBK_BUILD_WARNINGS_MAX) {
        hbk_fault_warn(build->faults, nowhere, HBK_H_MORE_WARNINGS,
                       "%u further warnings are not shown",
                       build->warnings - HBK_BUILD_WARNINGS_MAX);
    }
    return HBK_OK;
}
