#include "sheet/part/part_fingers.h"

#include "base/text.h"
#include "sheet/part/part_figure.h"

#include <math.h>

/* In staff spaces. */
static const double sounding_em = 1.45;
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
static const double tier_gap = 0.9; /* from a figure to the one below it */

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

static double scale_of(const struct hbk_tune_event *event)
{
    return event->kind == HBK_TUNE_GRACE ? grace_scale : 1.0;
}

static size_t others_of(const struct hbk_fingers *fingers,
                        const struct hbk_part_fingering *of)
{
    return of->n_others < fingers->most_others ? of->n_others
                                               : fingers->most_others;
}

/* How many figures stand under an event, one below the other. */
static size_t count_figures(const struct hbk_fingers *fingers, size_t event)
{
    if (!hbk_fingers_at(fingers, event)) {
        return 0;
    }
    const struct hbk_part_fingering *of = &fingers->fingerings[event];
    return (of->trill != NULL ? 2 : 1) + others_of(fingers, of);
}

/* One of them: its own fingering, that of its trill, other choices. */
static struct hbk_figure figure_of(const struct hbk_fingers *fingers,
                                   size_t event, size_t number)
{
    const struct hbk_part_fingering *of = &fingers->fingerings[event];
    const double scale = scale_of(&fingers->tune->events[event]);
    const size_t first_other = of->trill != NULL ? 2 : 1;
    if (number == 0) {
        return (struct hbk_figure){HBK_FIGURE_FIRST, of->label, of->press,
                                   scale};
    }
    const bool is_trill = number < first_other;
    const struct hbk_part_press *press =
        is_trill ? of->trill : &of->others[number - first_other];
    return (struct hbk_figure){is_trill ? HBK_FIGURE_TRILL : HBK_FIGURE_OTHER,
                               press->label, press->press, scale};
}

const char *hbk_fingers_said(const struct hbk_fingers *fingers, size_t event,
                             struct hbk_arena *arena)
{
    struct hbk_text said = {.arena = arena};
    for (size_t i = 0; i < count_figures(fingers, event); i++) {
        const struct hbk_figure figure = figure_of(fingers, event, i);
        hbk_text_addf(&said, "%s%s", i > 0 ? ", " : "",
                      hbk_figure_said(arena, &figure));
    }
    return hbk_text_string(&said);
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

/* The letter that sounds, spelled as the part is. */
static const char *sound_name(const struct hbk_fingers *fingers, size_t event,
                              char name[HBK_NAME_SIZE])
{
    const struct hbk_spelling sounds = hbk_spelling_moved(
        fingers->tune->events[event].spelling, fingers->sounds_higher_by);
    return hbk_spelling_called(sounds, fingers->naming, HBK_UNICODE, name);
}

static double widest_figure(const struct hbk_fingers *fingers,
                            const struct hbk_pad *pad, double space,
                            size_t event)
{
    double widest = 0.0;
    for (size_t i = 0; i < count_figures(fingers, event); i++) {
        const struct hbk_figure figure = figure_of(fingers, event, i);
        widest = fmax(widest, hbk_figure_width(fingers, pad, space, &figure));
    }
    return widest;
}

const double *hbk_fingers_widths(const struct hbk_fingers *fingers,
                                 const struct hbk_pad *pad, double space)
{
    const size_t n = fingers->tune->n_events;
    double *widths = HBK_ARENA_ARRAY(pad->sheet->arena, double, n + 1);
    for (size_t i = 0; i < n; i++) {
        if (hbk_fingers_at(fingers, i)) {
            widths[i] =
                widest_figure(fingers, pad, space, i) + apart(fingers, i);
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
    const double y = top - 0.5 * hbk_figure_tall(fingers);
    const struct hbk_point down[2] = {{x - cross_half, y + cross_half},
                                      {x + cross_half, y - cross_half}};
    const struct hbk_point up[2] = {{x - cross_half, y - cross_half},
                                    {x + cross_half, y + cross_half}};
    hbk_quill_path(quill, 2, down, mark_pen);
    hbk_quill_path(quill, 2, up, mark_pen);
}

/* Figures that stand below each other in a line, and their common tops. */
enum { TIERS_MAX = 2 + HBK_PART_OTHERS_MAX };

struct tiers {
    size_t n;
    double top[TIERS_MAX];
};

static struct tiers find_tiers(const struct hbk_fingers *fingers,
                               const struct hbk_eng_view *view, double top)
{
    struct tiers tiers = {.n = 0};
    double height[TIERS_MAX] = {0.0};
    for (size_t i = view->first; i < view->end; i++) {
        const size_t event = view->eng->notes[i].event;
        const size_t n = count_figures(fingers, event);
        tiers.n = n > tiers.n ? n : tiers.n;
        for (size_t k = 0; k < n; k++) {
            const struct hbk_figure figure = figure_of(fingers, event, k);
            height[k] = fmax(height[k], hbk_figure_height(fingers, &figure));
        }
    }
    for (size_t k = 0; k < tiers.n; k++) {
        tiers.top[k] = top;
        top -= height[k] + tier_gap + (k == 0 ? mark_pen : 0.0);
    }
    return tiers;
}

/* The fingerings of a note, an alternate underlined; returns where they end. */
static double draw_figures(const struct hbk_fingers *fingers,
                           struct hbk_quill *quill,
                           const struct hbk_eng_note *note,
                           const struct tiers *tiers)
{
    const size_t event = note->event;
    const double x = note->x + 0.5 * note->width;
    double foot = tiers->top[0];
    for (size_t k = 0; k < count_figures(fingers, event); k++) {
        const struct hbk_figure figure = figure_of(fingers, event, k);
        hbk_pad_group(quill->pad);
        hbk_figure_draw(fingers, quill, &figure, x, tiers->top[k]);
        foot = tiers->top[k] - hbk_figure_height(fingers, &figure) - mark_gap -
               mark_pen;
        if (k == 0 && fingers->fingerings[event].departure) {
            const double wide = fmax(
                hbk_figure_width(fingers, quill->pad, quill->space, &figure),
                1.0);
            hbk_quill_block(quill, x - 0.5 * wide, foot, wide, mark_pen);
        }
    }
    return foot;
}

/* Takes up what the figures of an event show. */
static void use_figures(const struct hbk_fingers *fingers, size_t event,
                        struct hbk_fingers_used *used)
{
    const struct hbk_part_fingering *of = &fingers->fingerings[event];
    used->any = true;
    used->departure = used->departure || of->departure;
    used->trill =
        used->trill || (of->trill != NULL && of->trill->label != NULL);
    used->no_trill =
        used->no_trill || (of->trill != NULL && of->trill->label == NULL);
    const size_t others = others_of(fingers, of);
    used->others = others > used->others ? others : used->others;
    used->no_room = used->no_room || others < of->n_others;
}

/* Draws one note's; what it uses goes into `used`, its bracket into `run`. */
static void draw_one(const struct hbk_fingers *fingers, struct hbk_quill *quill,
                     const struct hbk_eng_note *note, const struct tiers *tiers,
                     struct run *run, struct hbk_fingers_used *used)
{
    const size_t event = note->event;
    const double x = note->x + 0.5 * note->width;
    const double half = half_of(fingers, note);
    double foot = tiers->top[0];
    if (hbk_fingers_at(fingers, event)) {
        foot = draw_figures(fingers, quill, note, tiers);
        use_figures(fingers, event, used);
    } else if (hbk_fingers_out(fingers, event)) {
        hbk_pad_group(quill->pad);
        draw_cross(fingers, quill, x, tiers->top[0]);
        foot -= hbk_figure_tall(fingers) + mark_gap + mark_pen;
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
    struct hbk_fingers_used used = {.any = false};
    const double top = lowest(fingers, view) - below;
    struct tiers tiers = find_tiers(fingers, view, top);
    tiers.top[0] = top; /* where crosses stand in a line without figures */
    struct run run = {.open = false};
    for (size_t i = view->first; i < view->end; i++) {
        const struct hbk_eng_note *note = &view->eng->notes[i];
        begins[note->event] = hbk_pad_last(quill->pad)->n;
        draw_one(fingers, quill, note, &tiers, &run, &used);
        ends[note->event] = hbk_pad_last(quill->pad)->n;
    }
    close_run(quill, &run);
    if (fingers->sounding) {
        draw_sounds(fingers, view);
    }
    return used;
}
