#include "sheet/part/part_fingers.h"

#include "engrave/quill.h"
#include "horn/about.h"

#include <math.h>
#include <string.h>

/* In staff spaces. The figures' x-height is at least a space (Gould). */
static const double em = 1.9;
static const double least_points = 10.0;
static const double sounding_em = 1.45;
static const double figure_tall = 0.73; /* of the em */
static const double stack_step = 0.87;  /* of the em */
static const double below = 1.0;        /* white above the figures */
static const double disc_radius = 0.85; /* of the discs, at least */
static const double least_radius = 1.5; /* mm */
static const double hands_apart = 1.2;  /* more than between words */
static const double graces_apart = 0.5;
static const double mark_gap = 0.4;
static const double mark_pen = 0.24;
static const double bracket_gap = 0.55;
static const double bracket_tall = 0.5;
static const double grace_scale = 0.8;
static const double cross_half = 0.5;

static bool is_sounded(const struct hbk_fingers *fingers, size_t event)
{
    const struct hbk_tune_event *of = &fingers->tune->events[event];
    return fingers->fingerings != NULL && of->kind != HBK_TUNE_REST &&
           of->head == event;
}

bool hbk_fingers_at(const struct hbk_fingers *fingers, size_t event)
{
    return is_sounded(fingers, event) && fingers->fingerings[event].shown &&
           fingers->fingerings[event].label != NULL;
}

bool hbk_fingers_out(const struct hbk_fingers *fingers, size_t event)
{
    return is_sounded(fingers, event) && fingers->fingerings[event].unreachable;
}

/* A bracket also stands where the fingering itself is not shown. */
static bool is_hard(const struct hbk_fingers *fingers, size_t event)
{
    return is_sounded(fingers, event) && fingers->fingerings[event].hard;
}

static bool names_sound(const struct hbk_fingers *fingers, size_t event)
{
    const struct hbk_tune_event *of = &fingers->tune->events[event];
    const int note = of->note + fingers->sounds_higher_by;
    return fingers->sounding && of->kind == HBK_TUNE_NOTE &&
           of->head == event && note >= 0 && note <= HBK_NOTE_MAX;
}

/* The em of figures in staff spaces: no smaller than can be read. */
static double em_of(const struct hbk_fingers *fingers, double scale)
{
    return fmax(em * scale, HBK_PT(least_points) / fingers->space);
}

static double tall_of(const struct hbk_fingers *fingers)
{
    return figure_tall * em_of(fingers, 1.0);
}

static double step_of(const struct hbk_fingers *fingers)
{
    return stack_step * em_of(fingers, 1.0);
}

static struct hbk_style label_style(const struct hbk_fingers *fingers,
                                    double scale)
{
    return (struct hbk_style){.face = HBK_FACE_FIGURE,
                              .size = em_of(fingers, scale),
                              .align = HBK_CENTRE};
}

static double scale_of(const struct hbk_tune_event *event)
{
    return event->kind == HBK_TUNE_GRACE ? grace_scale : 1.0;
}

/* The next part of a label, without the hyphens; false at its end. */
static bool next_part(const char **at, char part[32])
{
    const size_t length = strcspn(*at, "-");
    if (length == 0) {
        return false;
    }
    const size_t kept = length < 31 ? length : 31;
    memcpy(part, *at, kept);
    part[kept] = '\0';
    *at += length;
    *at += **at == '-' ? 1 : 0;
    return true;
}

struct hbk_cells_size hbk_fingers_size(const struct hbk_cells *cells,
                                       double space)
{
    return hbk_cells_least(cells, fmax(least_radius, disc_radius * space));
}

/* White that a fingering's width holds, for notes closer than their figures. */
static double apart(const struct hbk_fingers *fingers, size_t event)
{
    return fingers->shape == HBK_FINGERS_CELLS                   ? hands_apart
           : fingers->tune->events[event].kind == HBK_TUNE_GRACE ? graces_apart
                                                                 : 0.0;
}

static double cells_width(const struct hbk_fingers *fingers)
{
    return fingers->size.width / fingers->space;
}

static double text_width(const struct hbk_fingers *fingers,
                         const struct hbk_pad *pad, double space, size_t event)
{
    const struct hbk_part_fingering *fingering = &fingers->fingerings[event];
    struct hbk_style style =
        label_style(fingers, scale_of(&fingers->tune->events[event]));
    style.size *= space;
    if (fingers->shape == HBK_FINGERS_ROW) {
        return hbk_pad_width(pad, style, fingering->label) / space;
    }
    const char *at = fingering->label;
    char part[32];
    double widest = 0.0;
    while (next_part(&at, part)) {
        widest = fmax(widest, hbk_pad_width(pad, style, part) / space);
    }
    return widest;
}

/* The letter that sounds, spelled as the part is. */
static const char *sound_name(const struct hbk_fingers *fingers, size_t event,
                              char name[HBK_NAME_SIZE])
{
    const struct hbk_spelling sounds = hbk_spelling_moved(
        fingers->tune->events[event].spelling, fingers->sounds_higher_by);
    return hbk_spelling_called(sounds, fingers->naming, HBK_UNICODE, name);
}

const double *hbk_fingers_widths(const struct hbk_fingers *fingers,
                                 const struct hbk_pad *pad, double space)
{
    const size_t n = fingers->tune->n_events;
    double *widths = HBK_ARENA_ARRAY(pad->sheet->arena, double, n + 1);
    const bool is_text = fingers->shape == HBK_FINGERS_ROW ||
                         fingers->shape == HBK_FINGERS_STACK;
    for (size_t i = 0; i < n; i++) {
        if (hbk_fingers_at(fingers, i)) {
            widths[i] = (is_text ? text_width(fingers, pad, space, i)
                                 : cells_width(fingers)) +
                        apart(fingers, i);
        } else if (hbk_fingers_out(fingers, i)) {
            widths[i] = 2.0 * cross_half + mark_pen;
        }
        if (names_sound(fingers, i)) {
            char name[HBK_NAME_SIZE];
            const struct hbk_style style = {.size = sounding_em * space};
            widths[i] =
                fmax(widths[i],
                     hbk_pad_width(pad, style, sound_name(fingers, i, name)) /
                         space);
        }
    }
    return widths;
}

/* How tall the fingering of an event is, from the common top. */
static double height_of(const struct hbk_fingers *fingers, size_t event)
{
    const struct hbk_part_fingering *fingering = &fingers->fingerings[event];
    switch (fingers->shape) {
    case HBK_FINGERS_ROW:
        return tall_of(fingers);
    case HBK_FINGERS_STACK: {
        double height = tall_of(fingers) - step_of(fingers);
        const char *at = fingering->label;
        char part[32];
        while (next_part(&at, part)) {
            height += step_of(fingers);
        }
        return fmax(height, tall_of(fingers));
    }
    case HBK_FINGERS_CELLS:
        return hbk_cells_height(&fingers->cells, &fingers->size) /
               fingers->space;
    }
    return 0.0;
}

static void draw_text(const struct hbk_fingers *fingers,
                      struct hbk_quill *quill, size_t event, double x,
                      double top)
{
    const struct hbk_part_fingering *fingering = &fingers->fingerings[event];
    const struct hbk_style style =
        label_style(fingers, scale_of(&fingers->tune->events[event]));
    double y = top - tall_of(fingers);
    if (fingers->shape == HBK_FINGERS_ROW) {
        hbk_quill_text(quill, x, y, style, fingering->label);
        return;
    }
    const char *at = fingering->label;
    char part[32];
    while (next_part(&at, part)) {
        hbk_quill_text(quill, x, y, style, part);
        y -= step_of(fingers);
    }
}

static void draw_cells(const struct hbk_fingers *fingers,
                       struct hbk_quill *quill, size_t event, double x,
                       double top)
{
    const double wide = fingers->size.width / fingers->space;
    const double left = x - 0.5 * wide;
    const struct hbk_point at = {quill->x + left * quill->space,
                                 quill->y - top * quill->space};
    hbk_cells_draw(quill->pad, &fingers->cells, &fingers->size, at,
                   fingers->fingerings[event].press, false);
    hbk_quill_fill(quill, left, left + wide, top - height_of(fingers, event),
                   top);
}

/* A run of hard notes: one bracket below them. */
struct run {
    bool open;
    double x0, x1, y;
};

static void close_run(struct hbk_quill *quill, struct run *run)
{
    if (!run->open) {
        return;
    }
    const struct hbk_point path[4] = {{run->x0, run->y + bracket_tall},
                                      {run->x0, run->y},
                                      {run->x1, run->y},
                                      {run->x1, run->y + bracket_tall}};
    hbk_pad_group(quill->pad);
    hbk_quill_path(quill, 4, path, HBK_ENG_BRACKET_PEN);
    run->open = false;
}

static double half_of(const struct hbk_fingers *fingers,
                      const struct hbk_eng_note *note)
{
    return 0.5 * fmax(note->label - apart(fingers, note->event), 1.0);
}

static double lowest(const struct hbk_fingers *fingers,
                     const struct hbk_eng_view *view)
{
    double y = -0.6;
    for (size_t i = view->first; i < view->end; i++) {
        const struct hbk_eng_note *note = &view->eng->notes[i];
        if (!hbk_fingers_at(fingers, note->event) &&
            !hbk_fingers_out(fingers, note->event) &&
            !is_hard(fingers, note->event) &&
            !names_sound(fingers, note->event)) {
            continue;
        }
        const double middle = note->x + 0.5 * note->width;
        const double half = 0.5 * fmax(note->label, note->width) + 0.2;
        y = fmin(y,
                 hbk_quill_bottom(view->quill, middle - half, middle + half));
    }
    return y;
}

/* Names of what sounds, below everything. */
static void draw_sounds(const struct hbk_fingers *fingers,
                        struct hbk_eng_view *view)
{
    struct hbk_quill *quill = view->quill;
    const double foot = lowest(fingers, view) - 0.6 - 0.76 * sounding_em;
    const struct hbk_style style = {.size = sounding_em, .align = HBK_CENTRE};
    for (size_t i = view->first; i < view->end; i++) {
        const struct hbk_eng_note *note = &view->eng->notes[i];
        if (names_sound(fingers, note->event)) {
            char name[HBK_NAME_SIZE];
            hbk_pad_group(quill->pad);
            hbk_quill_text(quill, note->x + 0.5 * note->width, foot, style,
                           sound_name(fingers, note->event, name));
        }
    }
}

/* Where a number would stand: no fingering plays the note. */
static void draw_cross(const struct hbk_fingers *fingers,
                       struct hbk_quill *quill, double x, double top)
{
    const double y = top - 0.5 * tall_of(fingers);
    const struct hbk_point down[2] = {{x - cross_half, y + cross_half},
                                      {x + cross_half, y - cross_half}};
    const struct hbk_point up[2] = {{x - cross_half, y - cross_half},
                                    {x + cross_half, y + cross_half}};
    hbk_quill_path(quill, 2, down, mark_pen);
    hbk_quill_path(quill, 2, up, mark_pen);
}

/* The fingering of a note with its underline; returns where it ends. */
static double draw_fingering(const struct hbk_fingers *fingers,
                             struct hbk_quill *quill,
                             const struct hbk_eng_note *note, double top)
{
    const size_t event = note->event;
    const bool is_text = fingers->shape == HBK_FINGERS_ROW ||
                         fingers->shape == HBK_FINGERS_STACK;
    const double x = note->x + 0.5 * note->width;
    const double half = half_of(fingers, note);
    hbk_pad_group(quill->pad);
    if (is_text) {
        draw_text(fingers, quill, event, x, top);
    } else {
        draw_cells(fingers, quill, event, x, top);
    }
    const double foot = top - height_of(fingers, event) - mark_gap - mark_pen;
    if (fingers->fingerings[event].departure) {
        hbk_quill_block(quill, x - half, foot, 2.0 * half, mark_pen);
    }
    return foot;
}

/* Draws one note's; what it uses goes into `used`, its bracket into `run`. */
static void draw_one(const struct hbk_fingers *fingers, struct hbk_quill *quill,
                     const struct hbk_eng_note *note, double top,
                     struct run *run, struct hbk_fingers_used *used)
{
    const size_t event = note->event;
    const double x = note->x + 0.5 * note->width;
    const double half = half_of(fingers, note);
    double foot = top;
    if (hbk_fingers_at(fingers, event)) {
        foot = draw_fingering(fingers, quill, note, top);
        used->any = true;
        used->departure =
            used->departure || fingers->fingerings[event].departure;
    } else if (hbk_fingers_out(fingers, event)) {
        hbk_pad_group(quill->pad);
        draw_cross(fingers, quill, x, top);
        foot = top - tall_of(fingers) - mark_gap - mark_pen;
        used->unreachable = true;
    }
    if (!is_hard(fingers, event)) {
        if (is_sounded(fingers, event)) {
            close_run(quill, run);
        }
        return;
    }
    used->hard = true;
    foot -= bracket_gap + 0.3;
    if (!run->open) {
        *run = (struct run){true, x - half, x + half, foot};
    }
    run->x1 = x + half;
    run->y = fmin(run->y, foot);
}

struct hbk_fingers_used hbk_fingers_draw(const struct hbk_fingers *fingers,
                                         struct hbk_eng_view *view,
                                         size_t *begins, size_t *ends)
{
    struct hbk_quill *quill = view->quill;
    struct hbk_fingers_used used = {false, false, false, false};
    const double top = lowest(fingers, view) - below;
    struct run run = {.open = false};
    for (size_t i = view->first; i < view->end; i++) {
        const struct hbk_eng_note *note = &view->eng->notes[i];
        begins[note->event] = hbk_pad_last(quill->pad)->n;
        draw_one(fingers, quill, note, top, &run, &used);
        ends[note->event] = hbk_pad_last(quill->pad)->n;
    }
    close_run(quill, &run);
    if (fingers->sounding) {
        draw_sounds(fingers, view);
    }
    return used;
}
