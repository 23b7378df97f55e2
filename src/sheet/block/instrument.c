#include "sheet/block/instrument.h"

#include "base/pi.h"
#include "horn/press.h"
#include "sheet/block/dot.h"
#include "sheet/block/instrument_lay.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_said.h"
#include "sheet/words/words_system.h"

#include <math.h>
#include <string.h>

/* At unit 1, mm, from the rim of a ring up: finger, brace, hand, its top. */
static const double finger_gap = 1.3;
static const double brace_gap = 4.2;
static const double brace_tall = 1.8;
static const double hand_gap = 1.2;
static const double hand_tall = 2.6;

static const double finger_points = 8.6;
static const double hand_points = 9.5;
static const double name_points = 9.0;
static const double small_points = 8.0;

static const double least_finger_room = 7.5;

/* No words are made smaller than this share of their size. */
static const double least_share = 0.84;

static const double name_below = 4.0;
static const double line_below = 3.3;
static const double foot = 1.1;

static bool is_left(const struct hbk_horn *horn,
                    const struct hbk_instrument_part *part)
{
    return hbk_finger_is_left(horn->controls[part->control].fingers[0]);
}

double hbk_instrument_above(const struct hbk_instrument *instrument)
{
    struct hbk_instrument_layout layout;
    hbk_instrument_lay(instrument, &layout);
    if (layout.n == 0) {
        return HBK_INSTRUMENT_BELL * layout.g + layout.u;
    }
    return HBK_INSTRUMENT_TOUCH * layout.g + 1.22 * layout.ring +
           (brace_gap + brace_tall + hand_gap + hand_tall + finger_gap) *
               layout.u;
}

/* The foot of a valve's loop below the axis. */
static double loop_foot(const struct hbk_instrument_layout *layout,
                        const struct hbk_instrument_part *part)
{
    const struct hbk_bows bows = hbk_instrument_bows(layout, part->site);
    return HBK_INSTRUMENT_CASE * layout->g + 1.2 * layout->u + bows.leg +
           0.5 * bows.width + 0.4 * layout->u;
}

/* Room for words under part i, between its neighbours. */
static double room_below(const struct hbk_instrument_layout *layout, size_t i)
{
    const struct hbk_instrument_part *part = &layout->parts[i];
    const double before = i > 0 ? part->x - layout->parts[i - 1].x : 40.0;
    const double after =
        i + 1 < layout->n ? layout->parts[i + 1].x - part->x : 40.0;
    return fmin(before, after) - 0.4 * layout->u;
}

/* Where the words under a part have their first line. */
static double words_below(const struct hbk_instrument_layout *layout,
                          const struct hbk_instrument_part *part)
{
    const struct hbk_horn *horn = layout->instrument->notes->horn;
    const double share = hbk_instrument_share(layout, part->x);
    const double wall = hbk_instrument_half(layout, share);
    return (horn->controls[part->control].kind == HBK_VALVE
                ? loop_foot(layout, part)
                : wall) +
           name_below * layout->u;
}

/* A key called in two words has them one below the other. */
static bool has_two_words(const struct hbk_control *control)
{
    return control->kind == HBK_KEY && control->called != NULL &&
           strchr(control->called, ' ') != NULL;
}

double hbk_instrument_below(const struct hbk_instrument *instrument)
{
    struct hbk_instrument_layout layout;
    hbk_instrument_lay(instrument, &layout);
    const struct hbk_horn *horn = instrument->notes->horn;
    double below = HBK_INSTRUMENT_BELL * layout.g + layout.u;
    for (size_t i = 0; i < layout.n; i++) {
        const struct hbk_control *control =
            &horn->controls[layout.parts[i].control];
        const double lines =
            (control->stands_open || control->rests_in ? line_below : 0.0) +
            (has_two_words(control) ? line_below : 0.0);
        below = fmax(below, words_below(&layout, &layout.parts[i]) +
                                (lines + foot) * layout.u);
    }
    return below;
}

const char *hbk_instrument_fingers(struct hbk_arena *arena,
                                   const struct hbk_control *control)
{
    const char *words = hbk_digit_name(hbk_finger_digit(control->fingers[0]));
    for (size_t i = 1; i < control->n_fingers; i++) {
        words = hbk_arena_printf(
            arena, "%s/%s", words,
            hbk_digit_name(hbk_finger_digit(control->fingers[i])));
    }
    return words;
}

/* A brace over a run of touches, its point upwards. */
static void draw_brace(struct hbk_pad *pad, double left, double right, double y,
                       double tall, double pen)
{
    enum { STEPS = 16 };
    struct hbk_point points[2 * STEPS + 1];
    const double middle = 0.5 * (left + right);
    const double bend = fmin(2.5 * tall, 0.25 * (right - left));
    for (int i = 0; i <= 2 * STEPS; i++) {
        const double t = (double)i / (2 * STEPS);
        const double x = left + t * (right - left);
        const double from_end = fmin(x - left, right - x);
        const double from_point = fabs(x - middle);
        double up = 0.5;
        if (from_end < bend) {
            up = 0.5 * sin(0.5 * HBK_PI * from_end / bend);
        } else if (from_point < bend) {
            up = 1.0 - 0.5 * sin(0.5 * HBK_PI * from_point / bend);
        }
        points[i] = (struct hbk_point){x, y - up * tall};
    }
    hbk_pad_path(pad, 2 * STEPS + 1, points, pen);
}

/* A run of neighbouring touches of one hand. */
static void draw_run(struct hbk_pad *pad,
                     const struct hbk_instrument_layout *layout, size_t first,
                     size_t last, double y)
{
    const struct hbk_horn *horn = layout->instrument->notes->horn;
    const double u = layout->u;
    const double left = layout->parts[first].touch - 1.2 * layout->ring;
    const double right = layout->parts[last].touch + 1.2 * layout->ring;
    hbk_pad_group(pad);
    draw_brace(pad, left, right, y, brace_tall * u, 0.18 * u);
    const bool is_of_left = is_left(horn, &layout->parts[first]);
    struct hbk_style style =
        hbk_style_of(HBK_FACE_CAPS, hand_points, u, HBK_CENTRE);
    const char *words = is_of_left ? "Left hand" : "Right hand";
    const double room = right - left + 0.6 * u;
    if (hbk_pad_width(pad, style, words) > room) {
        words = is_of_left ? "Left" : "Right";
        style = hbk_pad_fit(pad, style, room, 0.85, words);
    }
    if (hbk_pad_width(pad, style, words) > room) {
        words = is_of_left ? "L" : "R";
    }
    hbk_pad_group(pad);
    hbk_pad_text(pad, 0.5 * (left + right), y - (brace_tall + hand_gap) * u,
                 style, words);
}

static void draw_hands(struct hbk_pad *pad,
                       const struct hbk_instrument_layout *layout, double y)
{
    const struct hbk_horn *horn = layout->instrument->notes->horn;
    for (size_t first = 0; first < layout->n;) {
        size_t last = first;
        while (last + 1 < layout->n &&
               is_left(horn, &layout->parts[last + 1]) ==
                   is_left(horn, &layout->parts[first])) {
            last++;
        }
        draw_run(pad, layout, first, last, y);
        first = last + 1;
    }
}

/* The ring with the number, and the finger over it. */
static void draw_touch(struct hbk_pad *pad,
                       const struct hbk_instrument_layout *layout, size_t i,
                       double y)
{
    const struct hbk_notes *notes = layout->instrument->notes;
    const struct hbk_instrument_part *part = &layout->parts[i];
    const struct hbk_control *control = &notes->horn->controls[part->control];
    char label[HBK_LABEL_SIZE];
    const struct hbk_dot dot = {part->touch, y, layout->ring,
                                hbk_horn_control_label(notes->horn,
                                                       part->control, label,
                                                       sizeof(label))};
    hbk_dot_name(pad, &dot, control->stands_open);
    if (hbk_notes_stuck(notes, part->control)) {
        hbk_dot_cross(pad, part->touch, y, layout->ring);
    }
    const double before =
        i > 0 ? part->touch - layout->parts[i - 1].touch : 40.0;
    const double after =
        i + 1 < layout->n ? layout->parts[i + 1].touch - part->touch : 40.0;
    const double room = fmin(before, after) - 0.8 * layout->u;
    const char *words = hbk_instrument_fingers(pad->sheet->arena, control);
    struct hbk_style style =
        hbk_style_of(HBK_FACE_ITALIC, finger_points, layout->u, HBK_CENTRE);
    if (room < least_finger_room * layout->u) {
        return; /* dozens of keys: the table has the fingers */
    }
    style = hbk_pad_fit(pad, style, room, least_share, words);
    if (hbk_pad_width(pad, style, words) > room) {
        words = hbk_digit_name(hbk_finger_digit(control->fingers[0]));
        style = hbk_pad_fit(pad, style, room, 0.9, words);
    }
    hbk_pad_group(pad);
    hbk_pad_text(pad, part->touch,
                 y - 1.22 * layout->ring - finger_gap * layout->u, style,
                 words);
}

/* What a valve does in the fewest words, "a tone" or "raises a tone". */
static const char *valve_words(struct hbk_arena *arena,
                               const struct hbk_notes *notes, size_t control)
{
    const double cents = notes->effect_cents[control];
    const bool lowers =
        !isnan(cents) && cents < 0.0 && !hbk_notes_stuck(notes, control);
    return !lowers ? hbk_words_effect(arena, notes, control)
           : hbk_effect_is_interval(notes, control)
               ? hbk_words_effect_size(arena, notes, control)
               : hbk_arena_printf(arena, "%.0f cents", -cents);
}

/* Words that are made smaller, and in the end cut, until they fit. */
static void put_fitting(struct hbk_pad *pad, double x, double y,
                        struct hbk_style style, double room, const char *words)
{
    style = hbk_pad_fit(pad, style, room, least_share, words);
    hbk_pad_text(pad, x, y, style, hbk_pad_cut(pad, style, room, words));
}

/* What is written under a part. */
static void draw_below(struct hbk_pad *pad,
                       const struct hbk_instrument_layout *layout, size_t i,
                       double axis)
{
    const struct hbk_notes *notes = layout->instrument->notes;
    const struct hbk_instrument_part *part = &layout->parts[i];
    const struct hbk_control *control = &notes->horn->controls[part->control];
    struct hbk_arena *arena = pad->sheet->arena;
    const double u = layout->u;
    const double y = axis + words_below(layout, part);
    struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, name_points, u, HBK_CENTRE);
    const char *words = "";
    const char *rest = "";
    if (control->kind == HBK_KEY) {
        words = hbk_words_key_short(arena, notes, part->control);
        rest = control->stands_open ? "open at rest" : "";
    } else if (control->kind == HBK_VALVE) {
        style.face = HBK_FACE_ITALIC;
        words = valve_words(arena, notes, part->control);
        rest = control->rests_in ? "loop in at rest" : "";
    }
    if (layout->instrument->is_bare) {
        words = control->kind == HBK_KEY ? words : "";
        rest = "";
    }
    double line = y;
    hbk_pad_group(pad);
    if (control->kind == HBK_KEY && strchr(words, ' ') != NULL) {
        const size_t length = strcspn(words, " ");
        put_fitting(pad, part->x, line, style, room_below(layout, i),
                    hbk_arena_copy(arena, words, length));
        words += length + 1;
        line += line_below * u;
    }
    put_fitting(pad, part->x, line, style, room_below(layout, i), words);
    const struct hbk_style small =
        hbk_style_of(HBK_FACE_ITALIC, small_points, u, HBK_CENTRE);
    const double half = 0.5 * hbk_pad_width(pad, small, rest);
    const double right = layout->instrument->x + layout->instrument->width;
    hbk_pad_text(pad, fmin(part->x, right - half),
                 line + (words[0] != '\0' ? line_below : 0.0) * u, small, rest);
}

static void draw_part(struct hbk_pad *pad,
                      const struct hbk_instrument_layout *layout, size_t i,
                      double axis)
{
    const struct hbk_notes *notes = layout->instrument->notes;
    const struct hbk_instrument_part *part = &layout->parts[i];
    switch (notes->horn->controls[part->control].kind) {
    case HBK_KEY:
        hbk_instrument_key(pad, layout, part, axis);
        break;
    case HBK_VALVE:
        hbk_instrument_valve(pad, layout, part, axis);
        break;
    case HBK_TRIGGER:
        hbk_instrument_trigger(pad, layout, part, axis);
        break;
    }
}

void hbk_instrument_draw(struct hbk_pad *pad,
                         const struct hbk_instrument *instrument, double axis)
{
    struct hbk_instrument_layout layout;
    hbk_instrument_lay(instrument, &layout);
    const double touch = axis - HBK_INSTRUMENT_TOUCH * layout.g;
    const char *controls = hbk_words_said_controls(
        pad->sheet->arena, instrument->notes->horn, instrument->notes);
    hbk_pad_open_figure(
        pad, hbk_arena_printf(pad->sheet->arena,
                              "The horn drawn straight, from the mouthpiece "
                              "to the bell%s%s.",
                              controls[0] == '\0' ? "" : ": ", controls));
    hbk_pad_group(pad);
    const unsigned body = pad->group;
    hbk_instrument_body(pad, &layout, axis);
    for (size_t i = 0; i < layout.n; i++) {
        pad->group = body;
        draw_part(pad, &layout, i, axis);
    }
    for (size_t i = 0; i < layout.n; i++) {
        pad->group = body;
        draw_touch(pad, &layout, i, touch);
        draw_below(pad, &layout, i, axis);
    }
    draw_hands(pad, &layout, touch - 1.22 * layout.ring - brace_gap * layout.u);
    hbk_pad_close(pad, HBK_TAG_FIGURE);
}
