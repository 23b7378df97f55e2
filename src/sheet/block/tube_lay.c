#include "sheet/block/tube_lay.h"

#include "base/pi.h"
#include "base/text.h"
#include "horn/horn.h"
#include "horn/press.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* mm, in units of the drawing. */
static const double label_gap = 1.0;
static const double cup = 4.5;          /* the mouthpiece, left of the tube */
static const double bell_height = 12.0; /* at most */
static const double flare_from = 0.85;  /* of the length */

struct hbk_style hbk_unrolled_small(double unit, double points)
{
    const struct hbk_style style = {.face = HBK_FACE_PLAIN,
                                    .size = HBK_PT(points) * unit};
    return style;
}

struct hbk_style hbk_unrolled_name(double unit)
{
    struct hbk_style style = hbk_unrolled_small(unit, 8.0);
    style.face = HBK_FACE_BOLD;
    style.align = HBK_CENTRE;
    return style;
}

/* Half the width on paper at a share of the tube. */
double hbk_unrolled_half(const struct hbk_unrolled_layout *layout, double share)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    const double u = layout->tube->unit;
    if (horn->model != HBK_MODEL_BORE) {
        return (0.8 + (0.5 * share) + (3.4 * pow(share, 16.0))) * u;
    }
    const struct hbk_bore *bore = &horn->bore;
    const double x = share * layout->whole_m;
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
static void choose_widths(struct hbk_unrolled_layout *layout)
{
    static const double rounds[] = {1.0 / 3.0, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0};
    const struct hbk_bore *bore = &layout->tube->notes->horn->bore;
    const double metre = layout->length / layout->whole_m;
    double widest = 0.0;
    for (size_t i = 0; i < bore->n_stations; i++) {
        widest = fmax(widest, 2.0 * bore->stations[i].radius_m);
    }
    layout->times = 0.25;
    for (size_t i = 0; i < sizeof(rounds) / sizeof(rounds[0]); i++) {
        if (widest * metre * rounds[i] <= bell_height * layout->tube->unit) {
            layout->times = rounds[i];
        }
    }
    layout->widths = metre * layout->times;
}

/* The controls of the site's own term: "2", "1+4". */
static void name_part(const struct hbk_pad *pad,
                      const struct hbk_unrolled_layout *layout,
                      struct hbk_unrolled_part *part)
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
        const int wrote = snprintf(part->label + used, HBK_UNROLLED_NAME - used,
                                   "%s%s", used > 0 ? "+" : "", label);
        if (wrote > 0 && used + (size_t)wrote < HBK_UNROLLED_NAME) {
            used += (size_t)wrote;
        }
    }
    part->label_width =
        hbk_pad_width(pad, hbk_unrolled_name(layout->tube->unit), part->label);
}

/* A loop along the tube: a half circle, or two legs and a bend. */
static double loop_span(double length, double unit)
{
    if (length <= HBK_UNROLLED_ARC * unit) {
        return 2.0 * length / HBK_PI;
    }
    const double bend = 0.5 * HBK_UNROLLED_LEGS * unit;
    return fmax(2.0 * HBK_UNROLLED_LEGS * unit,
                0.5 * (length + HBK_UNROLLED_LEGS * unit) + bend);
}

static void list_parts(const struct hbk_pad *pad,
                       struct hbk_unrolled_layout *layout)
{
    const struct hbk_horn *horn = layout->tube->notes->horn;
    const double rest_m = layout->tube->notes->rest_m;
    for (size_t i = 0; i < horn->n_sites; i++) {
        struct hbk_unrolled_part *part = &layout->parts[layout->n++];
        *part = (struct hbk_unrolled_part){.site = &horn->sites[i], .x = NAN};
        name_part(pad, layout, part);
        if (part->site->kind == HBK_HOLE) {
            part->x = layout->left +
                      (layout->length * hbk_unrolled_hole(horn, rest_m, i));
            layout->computed =
                layout->computed || isnan(part->site->hole.from_bell_m);
            continue;
        }
        part->length = layout->length * hbk_unrolled_loop(horn, rest_m, i);
        part->span = loop_span(part->length, layout->tube->unit);
        /* Of a fundamental alone no place along the tube follows. */
        if (!isnan(part->site->at_m) &&
            (horn->model == HBK_MODEL_BORE || !isnan(horn->length_m))) {
            part->x = layout->left +
                      (layout->length * part->site->at_m / layout->whole_m);
        } else {
            layout->unplaced = true;
        }
    }
}

/*
 * Loops of unknown place: side by side about the middle of the tube, clear of
 * the flare.
 */
static bool place_loops(struct hbk_unrolled_layout *layout)
{
    const double gap = 3.0 * layout->tube->unit;
    double all = -gap;
    for (size_t i = 0; i < layout->n; i++) {
        all += isnan(layout->parts[i].x) ? layout->parts[i].span + gap : 0.0;
    }
    double x = layout->left + fmin(0.5 * (layout->length - all),
                                   flare_from * layout->length - all);
    for (size_t i = 0; i < layout->n; i++) {
        if (isnan(layout->parts[i].x)) {
            layout->parts[i].x = x;
            x += layout->parts[i].span + gap;
        }
    }
    return all < flare_from * layout->length;
}

static void sort_parts(struct hbk_unrolled_layout *layout)
{
    for (size_t i = 1; i < layout->n; i++) {
        const struct hbk_unrolled_part part = layout->parts[i];
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
static void hang_loops(struct hbk_unrolled_layout *layout)
{
    const double u = layout->tube->unit;
    double before = INFINITY;
    for (size_t i = layout->n; i-- > 0;) {
        struct hbk_unrolled_part *part = &layout->parts[i];
        if (part->site->kind != HBK_LOOP) {
            continue;
        }
        part->x = fmin(part->x, before - (2.0 * HBK_UNROLLED_LEGS * u));
        before = part->x;
        for (size_t k = i + 1; k < layout->n; k++) {
            const struct hbk_unrolled_part *other = &layout->parts[k];
            if (other->site->kind == HBK_LOOP && other->level >= part->level &&
                other->x < part->x + part->span + (0.6 * u)) {
                part->level = other->level + 1;
            }
        }
        const double least = 1.2 + (2.0 * part->level * HBK_UNROLLED_LOOP) +
                             (0.5 * HBK_PI + 2.0) * HBK_UNROLLED_LEGS;
        layout->stretched =
            layout->stretched || (part->level > 0 && part->length < least * u);
        layout->levels =
            part->level >= layout->levels ? part->level + 1 : layout->levels;
    }
}

/* Names over their parts, moved apart just as far as they must be. */
static bool spread_labels(struct hbk_unrolled_layout *layout)
{
    const double u = layout->tube->unit;
    double least = 0.0;
    for (size_t i = 0; i < layout->n; i++) {
        struct hbk_unrolled_part *part = &layout->parts[i];
        const double half = 0.5 * fmax(part->label_width, 2.0 * u);
        part->label_x = fmax(part->x, least + half);
        least = part->label_x + half + (label_gap * u);
    }
    /* Back towards the mouthpiece: half the push, and off the bell. */
    double most = layout->left + layout->length - (6.0 * u);
    for (size_t i = layout->n; i-- > 0;) {
        struct hbk_unrolled_part *part = &layout->parts[i];
        const double half = 0.5 * fmax(part->label_width, 2.0 * u);
        part->label_x = fmin(0.5 * (part->label_x + part->x), most - half);
        most = part->label_x - half - (label_gap * u);
    }
    least = 0.0;
    for (size_t i = 0; i < layout->n; i++) {
        struct hbk_unrolled_part *part = &layout->parts[i];
        const double half = 0.5 * fmax(part->label_width, 2.0 * u);
        part->label_x = fmax(part->label_x, least + half);
        least = part->label_x + half + (label_gap * u);
    }
    return least <= layout->left + layout->length - (4.0 * u);
}

/* Whether the strokes of a main slide stand on the tube. */
bool hbk_unrolled_has_slide(const struct hbk_horn *horn, size_t slide)
{
    const struct hbk_slide *const what = &horn->slides[slide];
    return what->valve < 0 &&
           (isnan(what->at_m) || horn->model == HBK_MODEL_BORE ||
            !isnan(horn->length_m));
}

/* What the strokes are: "Two strokes: the main slide, drawn up to 40 mm." */
static void add_slides(struct hbk_text *text, const struct hbk_horn *horn)
{
    const char *before = " Two strokes: the ";
    for (size_t i = 0; i < horn->n_slides; i++) {
        if (!hbk_unrolled_has_slide(horn, i)) {
            continue;
        }
        const char *name = horn->slides[i].name;
        /* A slide named "main" is the main slide; a shank is a shank. */
        const bool bare = strcmp(name, "main") == 0;
        hbk_text_addf(text, "%s%s%s, drawn up to %.0f mm", before, name,
                      bare ? " slide" : "", horn->slides[i].travel_m * 1e3);
        before = ", the ";
    }
    hbk_text_add(text, before[0] == ',' ? "." : "");
}

static void set_caption(struct hbk_pad *pad, struct hbk_unrolled_layout *layout)
{
    const bool bored = layout->tube->notes->horn->model == HBK_MODEL_BORE;
    struct hbk_text text = {.arena = pad->sheet->arena};
    hbk_text_addf(&text,
                  "The tube unrolled, mouthpiece left, bell right, its length "
                  "%sto scale. L, R: the hand.",
                  layout->levels == 0 ? ""
                  : layout->stretched ? "and the longer loops "
                                      : "and the loops ");
    if (bored) {
        const char *times = layout->times < 0.3   ? "a quarter as large"
                            : layout->times < 0.4 ? "a third as large"
                            : layout->times < 0.6 ? "half as large"
                                                  : "";
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
    add_slides(&text, layout->tube->notes->horn);
    const struct hbk_setting *set = &layout->tube->notes->setting;
    if ((set->stuck.held_down | set->stuck.held_up) != 0) {
        hbk_text_add(&text, " Crossed: stuck.");
    }
    if (layout->computed) {
        hbk_text_add(&text, " Places computed from the semitones.");
    }
    if (layout->unplaced) {
        hbk_text_add(&text, " Where the loops branch off is not known.");
    }
    layout->caption =
        hbk_pad_wrap(pad, hbk_unrolled_small(layout->tube->unit, 7.0),
                     layout->tube->width, hbk_text_string(&text));
}

bool hbk_unrolled_lay(struct hbk_pad *pad, const struct hbk_unrolled *tube,
                      struct hbk_unrolled_layout *layout)
{
    const struct hbk_horn *horn = tube->notes->horn;
    const double u = tube->unit;
    const bool bored = horn->model == HBK_MODEL_BORE;
    *layout = (struct hbk_unrolled_layout){.tube = tube, .left = cup * u};
    layout->length = tube->width - (cup * u) - (0.5 * u);
    layout->whole_m = hbk_unrolled_length(horn, tube->notes->rest_m);
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
        layout->tall = fmax(layout->tall, hbk_unrolled_half(layout, share));
    }
    const double bell = hbk_unrolled_half(layout, 1.0);
    layout->axis =
        fmax(bell,
             layout->tall + (HBK_UNROLLED_LABEL + HBK_UNROLLED_LEADER) * u) +
        0.2 * u;
    const double loops =
        layout->levels == 0
            ? 0.0
            : layout->tall + (0.6 + layout->levels * HBK_UNROLLED_LOOP) * u;
    layout->bottom = layout->axis + fmax(bell, loops) + 0.4 * u;
    set_caption(pad, layout);
    layout->height =
        layout->bottom + (bored ? 4.5 * u : 0.6 * u) +
        ((double)layout->caption.n * HBK_UNROLLED_LEADING + 0.6) * u;
    return true;
}
