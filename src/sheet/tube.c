#include "sheet/tube.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>

/* mm, in units of the drawing. */
static const double label_height = 5.4; /* name and hand */
static const double label_gap = 1.0;
static const double leader = 1.6;
static const double cup = 4.5;          /* the mouthpiece, left of the tube */
static const double bell_height = 12.0; /* at most */
static const double leg_gap = 1.2;      /* between the legs of a loop */
static const double loop_pitch = 2.2;   /* from loop to loop below it */
static const double arc_most = 5.0;     /* longer loops have legs */
static const double caption_leading = 2.7;
static const double pen = 0.18;

/*
 * Halves the wave of a fundamental into a length of tube where loops are in
 * metres: the speed of sound near 20 degrees, m/s. It only scales a drawing.
 */
static const double drawing_speed = 343.3;

enum { FLARE_STEPS = 24, LABEL_SIZE = 40 };

static double length_at_rest(const struct hbk_horn *horn)
{
    if (horn->model == HBK_MODEL_BORE) {
        return horn->bore.stations[horn->bore.n_stations - 1].x_m;
    }
    return isnan(horn->length_m) ? 0.5 * drawing_speed / horn->fundamental_hz
                                 : horn->length_m;
}

/* Where the air leaves at rest, from the bell: holes by their place only. */
static double mouth_of(const struct hbk_horn *horn)
{
    double mouth = 0.0;
    for (size_t i = 0; i < horn->n_sites; i++) {
        const struct hbk_site *site = &horn->sites[i];
        if (site->kind == HBK_HOLE && site->at_rest &&
            !isnan(site->hole.from_bell_m)) {
            mouth = fmax(mouth, site->hole.from_bell_m);
        }
    }
    return mouth;
}

/*
 * Semitones that lie between rest and the air leaving by a hole, or by the
 * bell when `site` is n_sites. Of several open holes the last of the file is
 * nearest the mouthpiece, and leaves the others nothing while it is open.
 */
static double raised(const struct hbk_horn *horn, size_t site)
{
    double level = 0.0;
    for (size_t i = horn->n_sites; i-- > 0;) {
        const struct hbk_site *other = &horn->sites[i];
        if (other->kind == HBK_HOLE && other->at_rest &&
            isnan(other->hole.from_bell_m)) {
            if (i == site) {
                return level;
            }
            level += other->hole.raises;
        }
    }
    return site < horn->n_sites ? horn->sites[site].hole.raises : level;
}

static double whole_length(const struct hbk_horn *horn)
{
    const double rest = length_at_rest(horn);
    if (horn->model == HBK_MODEL_BORE) {
        return rest;
    }
    return (rest * exp2(-raised(horn, horn->n_sites) / 12.0)) + mouth_of(horn);
}

double hbk_unrolled_hole(const struct hbk_horn *horn, size_t site)
{
    const struct hbk_hole *hole = &horn->sites[site].hole;
    const double whole = whole_length(horn);
    if (!isnan(hole->from_bell_m)) {
        return 1.0 - (hole->from_bell_m / whole);
    }
    return length_at_rest(horn) * exp2(-raised(horn, site) / 12.0) / whole;
}

double hbk_unrolled_loop(const struct hbk_horn *horn, size_t site)
{
    const struct hbk_loop *loop = &horn->sites[site].loop;
    const double rest = length_at_rest(horn);
    double length = loop->value;
    if (loop->measure == HBK_LOOP_SHARE) {
        length = loop->value * rest;
    } else if (loop->measure == HBK_LOOP_CENTS) {
        length = (exp2(loop->value / 1200.0) - 1.0) * rest;
    }
    return length / whole_length(horn);
}

/* One hole or loop on the paper; x from the left end of the drawing. */
struct part {
    const struct hbk_site *site;
    double x;
    double length; /* loop: of its tube */
    double span;   /* loop: along the tube */
    int level;     /* loop: how many hang above it */
    double label_x;
    double label_width;
    bool is_left;
    const struct hbk_control *control;
    char label[LABEL_SIZE];
};

struct layout {
    const struct hbk_unrolled *tube;
    size_t n;
    struct part parts[HBK_SITES_MAX]; /* from the mouthpiece */
    double left, length;              /* of the tube */
    double widths;                    /* bored: paper mm to the metre */
    double times;                     /* bored: over the scale of the length */
    double axis;
    double tall; /* half the width where it is widest among the parts */
    int levels;
    bool computed; /* a hole's place, from its semitones */
    bool unplaced; /* a loop's place is not known */
    double bottom; /* of tube and loops */
    double height;
    struct hbk_lines caption;
};

static struct hbk_style small_type(double unit, double points)
{
    const struct hbk_style style = {.face = HBK_FACE_PLAIN,
                                    .size = HBK_PT(points) * unit};
    return style;
}

static struct hbk_style name_type(double unit)
{
    struct hbk_style style = small_type(unit, 8.0);
    style.face = HBK_FACE_BOLD;
    style.align = HBK_CENTRE;
    return style;
}

/* Half the width on paper at a share of the tube. */
static double half_width(const struct layout *layout, double share)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    const double u = layout->tube->unit;
    if (horn->model != HBK_MODEL_BORE) {
        return (0.8 + (0.5 * share) + (3.4 * pow(share, 16.0))) * u;
    }
    const struct hbk_bore *bore = &horn->bore;
    const double x = share * whole_length(horn);
    size_t i = 1;
    while (i + 1 < bore->n_stations && bore->stations[i].x_m < x) {
        i++;
    }
    const struct hbk_station *a = &bore->stations[i - 1];
    const struct hbk_station *b = &bore->stations[i];
    const double along =
        b->x_m > a->x_m ? (x - a->x_m) / (b->x_m - a->x_m) : 1.0;
    return layout->widths * (a->radius_m + (fmin(1.0, fmax(0.0, along)) *
                                            (b->radius_m - a->radius_m)));
}

/* The widest round scale at which the bell is not too tall. */
static void choose_widths(struct layout *layout)
{
    static const double rounds[] = {5.0, 4.0, 3.0, 2.0, 1.0, 0.5};
    const struct hbk_bore *bore = &layout->tube->notes->horn->bore;
    const double metre =
        layout->length / whole_length(layout->tube->notes->horn);
    double widest = 0.0;
    for (size_t i = 0; i < bore->n_stations; i++) {
        widest = fmax(widest, 2.0 * bore->stations[i].radius_m);
    }
    layout->times = 0.25;
    for (size_t i = sizeof(rounds) / sizeof(rounds[0]); i-- > 0;) {
        if (widest * metre * rounds[i] <= bell_height * layout->tube->unit) {
            layout->times = rounds[i];
        }
    }
    layout->widths = metre * layout->times;
}

/* The controls of the site's own term: "2", "1+4". */
static void name_part(const struct hbk_pad *pad, const struct layout *layout,
                      struct part *part)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    size_t used = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (part->site->n_terms == 0 || (part->site->terms[0] >> i & 1U) == 0) {
            continue;
        }
        char label[32];
        hbk_horn_control_label(horn, i, label, sizeof(label));
        if (part->control == NULL) {
            part->control = &horn->controls[i];
            part->is_left = hbk_finger_is_left(part->control->fingers[0]);
        }
        const int wrote = snprintf(part->label + used, LABEL_SIZE - used,
                                   "%s%s", used > 0 ? "+" : "", label);
        if (wrote > 0 && used + (size_t)wrote < LABEL_SIZE) {
            used += (size_t)wrote;
        }
    }
    part->label_width =
        hbk_pad_width(pad, name_type(layout->tube->unit), part->label);
}

/* A loop along the tube: a half circle, or two legs and a bend. */
static double loop_span(double length, double unit)
{
    if (length <= arc_most * unit) {
        return 2.0 * length / M_PI;
    }
    const double bend = 0.5 * leg_gap * unit;
    return fmax(2.0 * leg_gap * unit, 0.5 * (length + leg_gap * unit) + bend);
}

static void list_parts(const struct hbk_pad *pad, struct layout *layout)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    for (size_t i = 0; i < horn->n_sites; i++) {
        struct part *part = &layout->parts[layout->n++];
        *part = (struct part){.site = &horn->sites[i], .x = NAN};
        name_part(pad, layout, part);
        if (part->site->kind == HBK_HOLE) {
            part->x =
                layout->left + (layout->length * hbk_unrolled_hole(horn, i));
            layout->computed =
                layout->computed || isnan(part->site->hole.from_bell_m);
            continue;
        }
        part->length = layout->length * hbk_unrolled_loop(horn, i);
        part->span = loop_span(part->length, layout->tube->unit);
        /* Of a fundamental alone no place along the tube follows. */
        if (!isnan(part->site->at_m) &&
            (horn->model == HBK_MODEL_BORE || !isnan(horn->length_m))) {
            part->x = layout->left +
                      (layout->length * part->site->at_m / whole_length(horn));
        } else {
            layout->unplaced = true;
        }
    }
}

/* Loops of unknown place: side by side about the middle of the tube. */
static bool place_loops(struct layout *layout)
{
    const double gap = 3.0 * layout->tube->unit;
    double all = -gap;
    for (size_t i = 0; i < layout->n; i++) {
        all += isnan(layout->parts[i].x) ? layout->parts[i].span + gap : 0.0;
    }
    double x = layout->left + (0.5 * (layout->length - all));
    for (size_t i = 0; i < layout->n; i++) {
        if (isnan(layout->parts[i].x)) {
            layout->parts[i].x = x;
            x += layout->parts[i].span + gap;
        }
    }
    return all < 0.85 * layout->length;
}

static void sort_parts(struct layout *layout)
{
    for (size_t i = 1; i < layout->n; i++) {
        const struct part part = layout->parts[i];
        size_t k = i;
        for (; k > 0 && layout->parts[k - 1].x > part.x; k--) {
            layout->parts[k] = layout->parts[k - 1];
        }
        layout->parts[k] = part;
    }
}

/*
 * From the bell backwards, so that a loop which would run into those to its
 * right passes beneath them and its legs cross nothing.
 */
static void hang_loops(struct layout *layout)
{
    const double u = layout->tube->unit;
    double before = INFINITY;
    for (size_t i = layout->n; i-- > 0;) {
        struct part *part = &layout->parts[i];
        if (part->site->kind != HBK_LOOP) {
            continue;
        }
        part->x = fmin(part->x, before - (2.0 * leg_gap * u));
        before = part->x;
        for (size_t k = i + 1; k < layout->n; k++) {
            const struct part *other = &layout->parts[k];
            if (other->site->kind == HBK_LOOP && other->level >= part->level &&
                other->x < part->x + part->span + (0.6 * u)) {
                part->level = other->level + 1;
            }
        }
        layout->levels =
            part->level >= layout->levels ? part->level + 1 : layout->levels;
    }
}

/* Names over their parts, moved apart just as far as they must be. */
static bool spread_labels(struct layout *layout)
{
    const double u = layout->tube->unit;
    double least = 0.0;
    for (size_t i = 0; i < layout->n; i++) {
        struct part *part = &layout->parts[i];
        const double half = 0.5 * fmax(part->label_width, 2.0 * u);
        part->label_x = fmax(part->x, least + half);
        least = part->label_x + half + (label_gap * u);
    }
    /* Back towards the mouthpiece: half the push, and off the bell. */
    double most = layout->left + layout->length - (6.0 * u);
    for (size_t i = layout->n; i-- > 0;) {
        struct part *part = &layout->parts[i];
        const double half = 0.5 * fmax(part->label_width, 2.0 * u);
        part->label_x = fmin(0.5 * (part->label_x + part->x), most - half);
        most = part->label_x - half - (label_gap * u);
    }
    least = 0.0;
    for (size_t i = 0; i < layout->n; i++) {
        struct part *part = &layout->parts[i];
        const double half = 0.5 * fmax(part->label_width, 2.0 * u);
        part->label_x = fmax(part->label_x, least + half);
        least = part->label_x + half + (label_gap * u);
    }
    return least <= layout->left + layout->length - (4.0 * u);
}

static void set_caption(struct hbk_pad *pad, struct layout *layout)
{
    const bool bored = layout->tube->notes->horn->model == HBK_MODEL_BORE;
    struct hbk_text text = {.arena = pad->sheet->arena};
    hbk_text_add(&text, "The tube unrolled, mouthpiece left, bell right, its "
                        "length and the loops to scale. L, R: the hand.");
    if (bored) {
        const char *times = layout->times < 0.3
                                ? "a quarter as large"
                                : (layout->times < 0.6 ? "half as large" : "");
        hbk_text_add(&text, " Ruler: mm from the bell. Widths and holes drawn "
                            "to ");
        if (layout->times == 1.0) {
            hbk_text_add(&text, "the same scale.");
        } else if (times[0] != '\0') {
            hbk_text_addf(&text, "a scale %s.", times);
        } else {
            hbk_text_addf(&text, "%g times that scale.", layout->times);
        }
    } else {
        hbk_text_add(&text, " Its width is not to scale.");
    }
    if (layout->computed) {
        hbk_text_add(&text, " Places computed from the semitones.");
    }
    if (layout->unplaced) {
        hbk_text_add(&text, " Where the loops branch off is not known.");
    }
    layout->caption = hbk_pad_wrap(pad, small_type(layout->tube->unit, 6.5),
                                   layout->tube->width, hbk_text_string(&text));
}

static bool lay(struct hbk_pad *pad, const struct hbk_unrolled *tube,
                struct layout *layout)
{
    const struct hbk_horn *horn = tube->notes->horn;
    const double u = tube->unit;
    const bool bored = horn->model == HBK_MODEL_BORE;
    *layout = (struct layout){.tube = tube, .left = cup * u};
    layout->length = tube->width - (cup * u) - (0.5 * u);
    if (horn->n_sites == 0) {
        return false;
    }
    if (bored) {
        choose_widths(layout);
    }
    list_parts(pad, layout);
    if (!place_loops(layout)) {
        return false;
    }
    sort_parts(layout);
    hang_loops(layout);
    if (!spread_labels(layout)) {
        return false;
    }
    for (size_t i = 0; i < layout->n; i++) {
        const double share =
            (layout->parts[i].x - layout->left) / layout->length;
        layout->tall = fmax(layout->tall, half_width(layout, share));
    }
    const double bell = half_width(layout, 1.0);
    layout->axis =
        fmax(bell, layout->tall + (label_height + leader) * u) + 0.2 * u;
    const double loops =
        layout->levels == 0
            ? 0.0
            : layout->tall + (0.6 + layout->levels * loop_pitch) * u;
    layout->bottom = layout->axis + fmax(bell, loops) + 0.4 * u;
    set_caption(pad, layout);
    layout->height = layout->bottom + (bored ? 4.0 * u : 0.6 * u) +
                     ((double)layout->caption.n * caption_leading + 0.6) * u;
    return true;
}

static void draw_walls(struct hbk_pad *pad, const struct layout *layout,
                       double x, double axis, double from, double to)
{
    const double u = layout->tube->unit;
    const double a = half_width(layout, from);
    const double b = half_width(layout, to);
    const double left = x + layout->left + (from * layout->length);
    const double dx = (to - from) * layout->length;
    hbk_pad_line(pad, left, axis - a, dx, a - b, 1.4 * pen * u);
    hbk_pad_line(pad, left, axis + a, dx, b - a, 1.4 * pen * u);
}

/* In short lines: each is a mark of its own, no larger than what it draws. */
static void draw_tube(struct hbk_pad *pad, const struct layout *layout,
                      double x, double axis)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    const double u = layout->tube->unit;
    if (horn->model == HBK_MODEL_BORE) {
        const double whole = whole_length(horn);
        for (size_t i = 1; i < horn->bore.n_stations; i++) {
            draw_walls(pad, layout, x, axis,
                       horn->bore.stations[i - 1].x_m / whole,
                       horn->bore.stations[i].x_m / whole);
        }
    } else {
        for (int i = 0; i < FLARE_STEPS; i++) {
            /* Shorter towards the bell, where the wall bends. */
            const double a = 1.0 - pow(1.0 - (double)i / FLARE_STEPS, 2.0);
            const double b = 1.0 - pow(1.0 - (i + 1.0) / FLARE_STEPS, 2.0);
            draw_walls(pad, layout, x, axis, a, b);
        }
    }
    const double bell = half_width(layout, 1.0);
    hbk_pad_line(pad, x + layout->left + layout->length, axis - bell, 0.0,
                 2.0 * bell, 1.4 * pen * u);
    /* The mouthpiece: a sign, not to scale. */
    const double start = half_width(layout, 0.0);
    const double rim = x + 0.3 * u;
    const double throat = x + 2.2 * u;
    hbk_pad_line(pad, rim, axis - 1.5 * u, 0.0, 3.0 * u, 2.5 * pen * u);
    for (double side = -1.0; side < 1.5; side += 2.0) {
        hbk_pad_line(pad, rim, axis + side * 1.3 * u, throat - rim,
                     side * -1.0 * u, pen * u);
        hbk_pad_line(pad, throat, axis + side * 0.3 * u,
                     x + layout->left - throat, side * (start - 0.3 * u),
                     pen * u);
    }
}

static void draw_hole(struct hbk_pad *pad, const struct layout *layout,
                      const struct part *part, double x, double axis)
{
    const double u = layout->tube->unit;
    const struct hbk_hole *hole = &part->site->hole;
    double radius = 0.75 * u;
    if (layout->widths > 0.0 && !isnan(hole->diameter_m)) {
        radius = 0.5 * hole->diameter_m * layout->widths;
    }
    if (part->site->at_rest) {
        hbk_pad_frame(pad, x - 0.9 * radius, axis - 0.9 * radius, 1.8 * radius,
                      1.8 * radius, 1.4 * pen * u);
    } else {
        hbk_pad_ring(pad, x, axis, radius, 1.4 * pen * u);
    }
}

static void draw_arc(struct hbk_pad *pad, double x, double y, double radius,
                     double from, double pen_mm)
{
    enum { STEPS = 8 };
    for (int i = 0; i < STEPS; i++) {
        const double a = from + (M_PI * i / STEPS);
        const double b = from + (M_PI * (i + 1) / STEPS);
        hbk_pad_line(pad, x + radius * cos(a), y + radius * sin(a),
                     radius * (cos(b) - cos(a)), radius * (sin(b) - sin(a)),
                     pen_mm);
    }
}

/* Its line is as long as the loop's tube is, to the scale of the axis. */
static void draw_loop(struct hbk_pad *pad, const struct layout *layout,
                      const struct part *part, double x, double wall)
{
    const double u = layout->tube->unit;
    const double thick =
        (part->control != NULL && part->control->rests_in ? 3.0 : 1.6) * pen *
        u;
    const double radius = part->length / M_PI;
    if (part->length <= arc_most * u && part->level == 0) {
        draw_arc(pad, x + radius, wall, radius, 0.0, thick);
        return;
    }
    const double bend = 0.5 * leg_gap * u;
    const double top = 0.6 * u + part->level * loop_pitch * u;
    const double down = (2.0 * top) + (2.0 * bend);
    const double legs =
        fmax(0.0, 0.5 * (part->length - down - (M_PI * bend) - (leg_gap * u)));
    const double turn = x + leg_gap * u + legs;
    hbk_pad_line(pad, x, wall, 0.0, top + 2.0 * bend, thick);
    hbk_pad_line(pad, x, wall + top + 2.0 * bend, turn - x, 0.0, thick);
    hbk_pad_line(pad, x + leg_gap * u, wall, 0.0, top, thick);
    hbk_pad_line(pad, x + leg_gap * u, wall + top, legs, 0.0, thick);
    draw_arc(pad, turn, wall + top + bend, bend, -0.5 * M_PI, thick);
}

/* Two strokes across the tube where a slide is drawn. */
static void draw_slides(struct hbk_pad *pad, const struct layout *layout,
                        double x, double axis)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    const double u = layout->tube->unit;
    for (size_t i = 0; i < horn->n_slides; i++) {
        const struct hbk_slide *slide = &horn->slides[i];
        const bool placed = !isnan(slide->at_m);
        if (slide->valve >= 0 || (placed && horn->model != HBK_MODEL_BORE &&
                                  isnan(horn->length_m))) {
            continue;
        }
        const double share = placed ? slide->at_m / whole_length(horn) : 0.0;
        const double half = half_width(layout, share) + 0.6 * u;
        const double at = x + layout->left + share * layout->length;
        for (int k = 0; k < 2; k++) {
            hbk_pad_line(pad, at + 0.7 * k * u, axis - half, 0.0, 2.0 * half,
                         pen * u);
        }
    }
}

static void draw_ruler(struct hbk_pad *pad, const struct layout *layout,
                       double x, double y)
{
    const double u = layout->tube->unit;
    const double whole = whole_length(layout->tube->notes->horn);
    const double bell = x + layout->left + layout->length;
    struct hbk_style style = small_type(u, 5.5);
    style.align = HBK_CENTRE;
    double free = INFINITY;
    hbk_pad_group(pad);
    const unsigned ticks = pad->group;
    hbk_pad_line(pad, x + layout->left, y, layout->length, 0.0, pen * u);
    for (int mm = 0; mm * 0.001 <= whole; mm += 100) {
        const double at = bell - (mm * 0.001 / whole * layout->length);
        pad->group = ticks;
        hbk_pad_line(pad, at, y, 0.0, (mm % 500 == 0 ? 1.2 : 0.8) * u, pen * u);
        const char *number = hbk_arena_printf(pad->sheet->arena, "%d", mm);
        const double half = 0.5 * hbk_pad_width(pad, style, number);
        if (at + half + 0.8 * u > free || at + half > x + layout->tube->width) {
            continue;
        }
        hbk_pad_group(pad);
        hbk_pad_text(pad, at, y + 3.0 * u, style, number);
        free = at - half;
    }
}

static void draw_label(struct hbk_pad *pad, const struct layout *layout,
                       const struct part *part, double x, double y)
{
    const double u = layout->tube->unit;
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, y + 2.6 * u, name_type(u), part->label);
    if (part->control != NULL) {
        struct hbk_style style = small_type(u, 5.5);
        style.align = HBK_CENTRE;
        hbk_pad_text(pad, x, y + 4.9 * u, style, part->is_left ? "L" : "R");
    }
}

static void draw_parts(struct hbk_pad *pad, const struct layout *layout,
                       double x, double axis)
{
    const double u = layout->tube->unit;
    for (size_t i = 0; i < layout->n; i++) {
        const struct part *part = &layout->parts[i];
        const double share = (part->x - layout->left) / layout->length;
        const double half = half_width(layout, share);
        const bool is_loop = part->site->kind == HBK_LOOP;
        const double from = axis - layout->tall - (leader - 0.3) * u;
        const double to = axis - half;
        if (is_loop) {
            draw_loop(pad, layout, part, x + part->x, axis + half);
        } else {
            draw_hole(pad, layout, part, x + part->x, axis);
        }
        hbk_pad_line(pad, x + part->label_x, from, part->x - part->label_x,
                     to - from, 0.7 * pen * u);
    }
}

double hbk_unrolled_height(const struct hbk_pad *pad,
                           const struct hbk_unrolled *tube)
{
    struct hbk_pad copy = *pad;
    struct layout layout;
    return lay(&copy, tube, &layout) ? layout.height : 0.0;
}

double hbk_unrolled_draw(struct hbk_pad *pad, const struct hbk_unrolled *tube,
                         double x, double y)
{
    struct layout layout;
    if (!lay(pad, tube, &layout)) {
        return 0.0;
    }
    const double u = tube->unit;
    const double axis = y + layout.axis;
    hbk_pad_open(pad, HBK_TAG_FIGURE);
    hbk_pad_group(pad);
    draw_tube(pad, &layout, x, axis);
    draw_slides(pad, &layout, x, axis);
    draw_parts(pad, &layout, x, axis);
    for (size_t i = 0; i < layout.n; i++) {
        const struct part *part = &layout.parts[i];
        draw_label(pad, &layout, part, x + part->label_x,
                   axis - layout.tall - (label_height + leader) * u);
    }
    double below = y + layout.bottom;
    if (tube->notes->horn->model == HBK_MODEL_BORE) {
        draw_ruler(pad, &layout, x, below);
        below += 4.0 * u;
    } else {
        below += 0.6 * u;
    }
    hbk_pad_group(pad);
    hbk_pad_lines(pad, x, below + 2.0 * u, small_type(u, 6.5),
                  caption_leading * u, &layout.caption);
    hbk_pad_close(pad, HBK_TAG_FIGURE);
    return layout.height;
}
