#include "engrave/engrave_beam.h"

#include "base/number.h"
#include "engrave/engrave_shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Least clear stem under the innermost beam, spaces. */
static const double least_stem = 2.5;
/* Slant by the interval of the outer notes in steps; common practice. */
static const double slants[5] = {0.0, 0.25, 0.5, 0.75, 1.0};
static const double long_slant = 1.25;
static const double long_beam = 12.0; /* from here on */
static const double short_beam = 3.5; /* under this at most half a space */

/*
 * Beats and groups of a meter, in whole notes from the beginning of the bar:
 * `beat` for the finer beams; groups end at multiples of `group`, or where
 * `ends` says.
 */
struct pulse {
    double beat;
    double group; /* of quavers that fill it evenly */
    size_t n_ends;
    double ends[16];
};

static void add_ends(struct pulse *pulse, const char *groups, double unit)
{
    double sum = 0.0;
    while (*groups != '\0' && pulse->n_ends < 16) {
        long n = 0;
        const char *const end = hbk_number_count(groups, 9, &n);
        if (end == NULL) {
            break;
        }
        sum += (double)n * unit;
        pulse->ends[pulse->n_ends++] = sum;
        groups = end + strspn(end, "+() ");
    }
}

static struct pulse pulse_of(const struct hbk_tune_meter *meter)
{
    struct pulse pulse = {.beat = 0.25, .group = 0.25};
    if (meter->beats == 0) {
        return pulse;
    }
    const double unit = 1.0 / meter->unit;
    const bool compound = meter->beats % 3 == 0 && meter->unit >= 8;
    if (meter->groups != NULL) {
        add_ends(&pulse, meter->groups, unit);
    } else if (compound) {
        pulse.beat = pulse.group = 3.0 * unit;
    } else if (meter->unit >= 8 && meter->beats == 5) {
        add_ends(&pulse, "3+2", unit);
    } else if (meter->unit >= 8 && meter->beats == 7) {
        add_ends(&pulse, "2+2+3", unit);
    } else if (meter->unit >= 8) {
        pulse.beat = pulse.group = 0.25;
    } else {
        pulse.beat = meter->unit == 2 ? 0.25 : unit;
        pulse.group = meter->unit == 4 && meter->beats == 3 ? 0.75 : 0.5;
    }
    return pulse;
}

/* The number of the beat or group that a moment of the bar falls in. */
static long group_at(const struct pulse *pulse, double at, bool wide)
{
    if (pulse->n_ends > 0) {
        long n = 0;
        while ((size_t)n < pulse->n_ends && at > pulse->ends[n] - 1e-9) {
            n++;
        }
        return n;
    }
    return (long)floor((at + 1e-9) / (wide ? pulse->group : pulse->beat));
}

double hbk_eng_time_in_bar(const struct hbk_tune *tune,
                           const struct hbk_tune_event *event)
{
    const struct hbk_tune_bar *bar = &tune->bars[event->bar];
    const double full =
        hbk_ratio_value(hbk_tune_full_bar(hbk_tune_meter_at(tune, bar->first)));
    const double length = hbk_ratio_value(bar->length);
    const double missing = bar->implicit && length < full ? full - length : 0.0;
    return hbk_ratio_value(event->onset) - hbk_ratio_value(bar->onset) +
           missing;
}

static bool source_beams(const struct hbk_tune *tune)
{
    for (size_t i = 0; i < tune->n_events; i++) {
        if (tune->events[i].kind == HBK_TUNE_NOTE &&
            tune->events[i].beam != HBK_TUNE_BEAM_NONE) {
            return true;
        }
    }
    return false;
}

/* Whether all between a and b are quavers, so that a wide group may stand. */
static bool only_quavers(const struct hbk_engraving *eng, size_t a, size_t b)
{
    for (size_t i = a; i <= b; i++) {
        const struct hbk_eng_note *note = &eng->notes[i];
        if (note->scale < 1.0) {
            continue;
        }
        if (note->flags != 1 || note->source->dots > 0 ||
            note->source->tuplet != HBK_TUNE_NONE) {
            return false;
        }
    }
    return true;
}

/* Whether note b belongs under the beam that note a is under. */
static bool joins(const struct hbk_engraving *eng, size_t start, size_t a,
                  size_t b, bool by_source)
{
    const struct hbk_eng_note *from = &eng->notes[a];
    const struct hbk_eng_note *to = &eng->notes[b];
    if (to->flags == 0 || from->flags == 0 ||
        from->source->bar != to->source->bar) {
        return false;
    }
    if (by_source) {
        return from->source->beam != HBK_TUNE_BEAM_NONE &&
               from->source->beam != HBK_TUNE_BEAM_END &&
               (to->source->beam == HBK_TUNE_BEAM_CONTINUE ||
                to->source->beam == HBK_TUNE_BEAM_END);
    }
    const struct pulse pulse =
        pulse_of(hbk_tune_meter_at(eng->tune, from->event));
    const double at = hbk_eng_time_in_bar(eng->tune, from->source);
    const double then = hbk_eng_time_in_bar(eng->tune, to->source);
    if (group_at(&pulse, at, false) == group_at(&pulse, then, false)) {
        return true;
    }
    return pulse.n_ends == 0 && only_quavers(eng, start, b) &&
           group_at(&pulse,
                    hbk_eng_time_in_bar(eng->tune, eng->notes[start].source),
                    true) == group_at(&pulse, then, true);
}

/* Positive when stems should go up, by the note farthest from the middle. */
static int pull_of(const struct hbk_engraving *eng, size_t first, size_t end)
{
    int high = 0;
    int low = 0;
    int sum = 0;
    for (size_t i = first; i < end; i++) {
        const struct hbk_eng_note *note = &eng->notes[i];
        if (note->source->kind != HBK_TUNE_NOTE) {
            continue;
        }
        const int off = note->pos - 4;
        high = off > high ? off : high;
        low = off < low ? off : low;
        sum += off;
    }
    return high == -low ? -sum : -low - high;
}

static void add_beam(struct hbk_engraving *eng, size_t first, size_t last,
                     bool up)
{
    struct hbk_eng_beam *beam = &eng->beams[eng->n_beams];
    *beam = (struct hbk_eng_beam){.first = first, .up = up};
    for (size_t i = first; i <= last; i++) {
        struct hbk_eng_note *note = &eng->notes[i];
        if (note->source->kind == eng->notes[first].source->kind) {
            note->beam = eng->n_beams;
            note->up = up;
        }
    }
    beam->n = last - first + 1;
    eng->n_beams++;
}

/* The next note of the same size; HBK_ENG_NONE when a rest comes first. */
static size_t next_of(const struct hbk_engraving *eng, size_t i)
{
    const enum hbk_tune_kind kind = eng->notes[i].source->kind;
    for (i++; i < eng->n_notes; i++) {
        if (eng->notes[i].source->kind == kind) {
            return i;
        }
        if (eng->notes[i].source->kind != HBK_TUNE_GRACE) {
            return HBK_ENG_NONE;
        }
    }
    return HBK_ENG_NONE;
}

/* A lone stem: away from the farther side; on the middle line, as before. */
static void settle_stem(struct hbk_engraving *eng, size_t i)
{
    struct hbk_eng_note *note = &eng->notes[i];
    if (note->scale < 1.0) {
        note->up = true;
        return;
    }
    note->up = note->pos < 4;
    if (note->pos != 4) {
        return;
    }
    /* Up only between neighbours of the bar that both go up. */
    bool before = false;
    for (size_t k = i; k-- > 0;) {
        if (eng->notes[k].scale == 1.0) {
            before = eng->notes[k].has_stem && eng->notes[k].up &&
                     eng->notes[k].source->bar == note->source->bar;
            break;
        }
    }
    const size_t next = next_of(eng, i);
    note->up = before && next != HBK_ENG_NONE && eng->notes[next].has_stem &&
               eng->notes[next].pos < 4 &&
               eng->notes[next].source->bar == note->source->bar;
}

void hbk_eng_beams(struct hbk_engraving *eng)
{
    eng->beams =
        HBK_ARENA_ARRAY(eng->arena, struct hbk_eng_beam, eng->n_notes + 1);
    const bool by_source = source_beams(eng->tune);
    for (size_t i = 0; i < eng->n_notes; i++) {
        struct hbk_eng_note *note = &eng->notes[i];
        if (note->beam != HBK_ENG_NONE || !note->has_stem) {
            continue;
        }
        size_t last = i;
        const bool is_grace = note->scale < 1.0;
        for (size_t next = next_of(eng, last); next != HBK_ENG_NONE;
             next = next_of(eng, last)) {
            const bool goes_on =
                is_grace ? next == last + 1 && note->flags > 0 &&
                               eng->notes[next].flags > 0 &&
                               note->source->bar == eng->notes[next].source->bar
                         : joins(eng, i, last, next, by_source);
            if (!goes_on) {
                break;
            }
            last = next;
        }
        if (last > i) {
            add_beam(eng, i, last, is_grace || pull_of(eng, i, last + 1) > 0);
        } else {
            settle_stem(eng, i);
        }
    }
}

/* A beam of one note is none. */
static void settle_beam(struct hbk_engraving *eng, struct hbk_eng_beam *beam)
{
    size_t last = beam->first;
    for (size_t i = beam->first; i < beam->first + beam->n; i++) {
        last = eng->notes[i].beam == (size_t)(beam - eng->beams) ? i : last;
    }
    beam->n = last - beam->first + 1;
    if (beam->n == 1) {
        eng->notes[beam->first].beam = HBK_ENG_NONE;
    }
}

void hbk_eng_split_beam(struct hbk_engraving *eng, size_t note)
{
    const size_t number =
        note < eng->n_notes ? eng->notes[note].beam : HBK_ENG_NONE;
    if (number == HBK_ENG_NONE || eng->beams[number].first == note) {
        return;
    }
    struct hbk_eng_beam *beam = &eng->beams[number];
    struct hbk_eng_beam *later = &eng->beams[eng->n_beams];
    *later = *beam;
    later->first = note;
    later->n = beam->first + beam->n - note;
    beam->n = note - beam->first;
    for (size_t i = note; i < note + later->n; i++) {
        if (eng->notes[i].beam == number) {
            eng->notes[i].beam = eng->n_beams;
        }
    }
    eng->n_beams++;
    settle_beam(eng, beam);
    settle_beam(eng, later);
}

double hbk_eng_beam_y(const struct hbk_eng_beam *beam, double x)
{
    const double share =
        beam->x1 > beam->x0 ? (x - beam->x0) / (beam->x1 - beam->x0) : 0.0;
    return beam->y0 + share * (beam->y1 - beam->y0);
}

static bool is_under(const struct hbk_engraving *eng,
                     const struct hbk_eng_beam *beam, size_t i)
{
    return eng->notes[i].beam == (size_t)(beam - eng->beams);
}

/* Flat where an inner note is as near the beam as the outer ones. */
static double slant_of(const struct hbk_engraving *eng,
                       const struct hbk_eng_beam *beam)
{
    const int a = eng->notes[beam->first].pos;
    const int b = eng->notes[beam->first + beam->n - 1].pos;
    const int side = beam->up ? 1 : -1;
    const int nearest = side * a > side * b ? side * a : side * b;
    for (size_t i = beam->first + 1; i + 1 < beam->first + beam->n; i++) {
        if (is_under(eng, beam, i) && side * eng->notes[i].pos >= nearest &&
            beam->n > 2) {
            return 0.0;
        }
    }
    const double length = beam->x1 - beam->x0;
    const int steps = abs(b - a);
    double slant = slants[steps > 4 ? 4 : steps];
    slant = steps > 5 && length > long_beam ? long_slant : slant;
    slant = length < short_beam ? fmin(slant, 0.5) : slant;
    return b > a ? slant : -slant;
}

/* The nearest height at which a beam sits on, straddles or hangs from a line:
   in the middle of a space the white beside it would be a wedge. */
static double settle_end(double y, bool up)
{
    double at = 0.25 * (up ? ceil(4.0 * y - 1e-9) : floor(4.0 * y + 1e-9));
    const double part = at - floor(at);
    if (at > -0.3 && at < 4.3 && fabs(part - 0.5) < 1e-9) {
        at += up ? 0.25 : -0.25;
    }
    return at;
}

void hbk_eng_slant(struct hbk_engraving *eng, struct hbk_eng_beam *beam)
{
    const struct hbk_eng_note *first = &eng->notes[beam->first];
    const struct hbk_eng_note *last = first + beam->n - 1;
    const double scale = first->scale;
    const double side = beam->up ? 1.0 : -1.0;
    beam->x0 = first->x + hbk_eng_stem_x(first);
    beam->x1 = last->x + hbk_eng_stem_x(last);
    const double slant = scale * slant_of(eng, beam);
    beam->y0 = 0.0;
    beam->y1 = slant;
    /* As near as the shortest stem allows; the outer notes want more. */
    double y0 = -INFINITY;
    for (size_t i = beam->first; i < beam->first + beam->n; i++) {
        const struct hbk_eng_note *note = &eng->notes[i];
        if (!is_under(eng, beam, i)) {
            continue;
        }
        const bool outer = note == first || note == last;
        double need =
            outer ? hbk_eng_stem_length(note->flags) - 0.5 : least_stem;
        need = fmax(need, least_stem - 0.25 +
                              HBK_ENG_BEAM_STEP * (note->flags - 1.0));
        const double head = hbk_eng_y(note->pos);
        const double x = note->x + hbk_eng_stem_x(note);
        double end = side * head + scale * need;
        if (scale == 1.0) {
            end = fmax(end, side * 2.0); /* to the middle line at least */
        }
        y0 = fmax(y0, end - side * hbk_eng_beam_y(beam, x));
    }
    y0 = side * y0;
    beam->y0 = scale < 1.0 ? y0 : settle_end(y0, beam->up);
    beam->y1 = beam->y0 + slant;
    if (scale == 1.0 && fabs(slant) > 0.0) {
        beam->y1 = settle_end(beam->y1, beam->up);
    }
    for (size_t i = beam->first; i < beam->first + beam->n; i++) {
        struct hbk_eng_note *note = &eng->notes[i];
        if (is_under(eng, beam, i)) {
            note->tip = hbk_eng_beam_y(beam, note->x + hbk_eng_stem_x(note));
        }
    }
}
