#include "sheet/article/form_picture.h"

#include "horn/horn.h"
#include "notes/notes.h"
#include "sheet/block/dot.h"
#include "sheet/block/instrument_lay.h"

#include <math.h>

/* At unit 1, mm. */
static const double above = 25.0;
static const double below_keys = 21.0;
static const double below_valves = 27.0;
static const double fine_pen = 0.14;
static const double arrow = 1.5;
static const double letter_points = 9.0;
static const double words_points = 8.5;

/* The horn of the picture: nobody's, 1.3 m long. */
static const double long_m = 1.3;
static const double open_hole_m = 0.15;
static const double closed_hole_m = 0.36;
static const double station_share = 0.46; /* where a bore is measured */

struct example {
    struct hbk_horn horn;
    struct hbk_slide slide;
    struct hbk_notes notes;
    struct hbk_instrument instrument;
    struct hbk_instrument_layout layout;
};

static void add_key(struct hbk_horn *horn, const char *name, bool is_open,
                    double from_bell_m)
{
    const size_t i = horn->n_controls++;
    horn->controls[i] = (struct hbk_control){.kind = HBK_KEY,
                                             .name = name,
                                             .stands_open = is_open,
                                             .n_fingers = 1,
                                             .fingers = {HBK_R_INDEX}};
    horn->sites[horn->n_sites++] =
        (struct hbk_site){.kind = HBK_HOLE,
                          .at_rest = is_open,
                          .at_m = NAN,
                          .n_terms = 1,
                          .terms = {UINT32_C(1) << i},
                          .hole = {.from_bell_m = from_bell_m, .raises = NAN}};
}

static void add_valve(struct hbk_horn *horn, const char *name, double at_m,
                      double loop_m)
{
    const size_t i = horn->n_controls++;
    horn->controls[i] = (struct hbk_control){.kind = HBK_VALVE,
                                             .name = name,
                                             .n_fingers = 1,
                                             .fingers = {HBK_R_INDEX}};
    horn->sites[horn->n_sites++] = (struct hbk_site){
        .kind = HBK_LOOP,
        .at_m = at_m,
        .n_terms = 1,
        .terms = {UINT32_C(1) << i},
        .loop = {.measure = HBK_LOOP_METRES, .value = loop_m}};
}

static void make_example(const struct hbk_form_picture *picture, double x,
                         struct example *example)
{
    const double u = picture->unit;
    const double before = HBK_INSTRUMENT_MOUTHPIECE * u;
    struct hbk_horn *const horn = &example->horn;
    hbk_horn_init(horn);
    horn->length_m = long_m;
    if (picture->has_keys) {
        add_key(horn, "1", true, open_hole_m);
        add_key(horn, "2", false, closed_hole_m);
    } else {
        add_valve(horn, "1", 0.46, 0.16);
        add_valve(horn, "2", 0.58, 0.08);
        add_valve(horn, "3", 0.70, 0.24);
    }
    example->slide =
        (struct hbk_slide){.name = picture->has_keys ? "shank" : "main",
                           .travel_m = 0.025,
                           .legs = 1,
                           .at_m = picture->has_keys ? (double)NAN : 0.15,
                           .diameter_m = NAN,
                           .valve = -1};
    horn->slides = &example->slide;
    horn->n_slides = 1;
    example->notes = (struct hbk_notes){.horn = horn, .rest_m = long_m};
    example->instrument =
        (struct hbk_instrument){.notes = &example->notes,
                                .unit = u,
                                .growth = 1.0,
                                .x = x + before,
                                .width = picture->width - before - 3.0 * u};
    hbk_instrument_lay(&example->instrument, &example->layout);
}

double hbk_form_picture_height(const struct hbk_form_picture *picture)
{
    return (above + (picture->has_keys ? below_keys : below_valves)) *
           picture->unit;
}

/* The letter of a place, its middle at (x, y), in a group of its own. */
static void put_letter(struct hbk_pad *pad, double u, double x, double y,
                       const char *letter)
{
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_BOLD, letter_points, u, HBK_CENTRE);
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, y + 0.26 * style.size, style, letter);
}

/* An arrow's head at (x, y), pointing along (dx, dy), a unit. */
static void put_head(struct hbk_pad *pad, double u, double x, double y,
                     double dx, double dy)
{
    const double back = arrow * u;
    const double half = 0.28 * back;
    const struct hbk_point points[3] = {
        {x, y},
        {x - back * dx - half * dy, y - back * dy + half * dx},
        {x - back * dx + half * dy, y - back * dy - half * dx}};
    hbk_pad_shape(pad, 3, points);
}

/* A measure along the tube from x to `to`, its letter in a gap in it. */
static void measure_along(struct hbk_pad *pad, double u, double x, double to,
                          double y, const char *letter)
{
    const double middle = 0.5 * (x + to);
    const double gap = 1.8 * u;
    hbk_pad_line(pad, x, y, middle - gap - x, 0.0, fine_pen * u);
    hbk_pad_line(pad, middle + gap, y, to - middle - gap, 0.0, fine_pen * u);
    put_head(pad, u, x, y, -1.0, 0.0);
    put_head(pad, u, to, y, 1.0, 0.0);
    const unsigned group = pad->group;
    put_letter(pad, u, middle, y, letter);
    pad->group = group;
}

/* A measure across, from the outside: two arrows, the letter above. */
static void measure_across(struct hbk_pad *pad, double u, double x,
                           const double from_to[2], const char *letter)
{
    const double tail = 4.0 * u;
    hbk_pad_line(pad, x, from_to[0] - tail, 0.0, tail, fine_pen * u);
    hbk_pad_line(pad, x, from_to[1], 0.0, tail, fine_pen * u);
    put_head(pad, u, x, from_to[0], 0.0, 1.0);
    put_head(pad, u, x, from_to[1], 0.0, -1.0);
    const unsigned group = pad->group;
    put_letter(pad, u, x, from_to[0] - tail - 2.0 * u, letter);
    pad->group = group;
}

/* A hole cut through: wall, chimney and the pad over it. */
static void draw_cut_hole(struct hbk_pad *pad, double u, double x, double y)
{
    const double wall = y + 17.0 * u; /* line of the bore's wall */
    const double rim = wall - 5.0 * u;
    const double pad_foot = rim - 5.0 * u;
    const double half = 6.0 * u;
    const double thick = 0.6 * u;
    hbk_pad_group(pad);
    for (int side = -1; side <= 1; side += 2) {
        const double edge = x + side * half;
        hbk_pad_line(pad, edge, wall, side * 8.0 * u, 0.0, thick);
        hbk_pad_line(pad, edge, rim, 0.0, wall - rim + 0.5 * thick, thick);
    }
    hbk_pad_panel(pad, x - 7.0 * u, pad_foot - 1.6 * u, 14.0 * u, 1.6 * u,
                  HBK_BLACK);
    hbk_pad_line(pad, x, pad_foot - 4.0 * u, 0.0, 2.6 * u, thick);
    /* Across the hole, under the wall; beside it the chimney and the lift. */
    measure_along(pad, u, x - half, x + half, wall + 2.4 * u, HBK_FORM_HOLE);
    const double right = x + half + 5.0 * u;
    hbk_pad_line(pad, x + half + 0.6 * u, rim, 5.6 * u, 0.0, fine_pen * u);
    hbk_pad_line(pad, x + half + 1.6 * u, pad_foot, 4.6 * u, 0.0, fine_pen * u);
    hbk_pad_line(pad, right, pad_foot, 0.0, wall - pad_foot, fine_pen * u);
    put_head(pad, u, right, pad_foot, 0.0, -1.0);
    put_head(pad, u, right, rim, 0.0, 1.0);
    put_head(pad, u, right, wall, 0.0, 1.0);
    put_letter(pad, u, right + 2.2 * u, 0.5 * (pad_foot + rim), HBK_FORM_LIFT);
    put_letter(pad, u, right + 2.2 * u, 0.5 * (rim + wall), HBK_FORM_CHIMNEY);
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_ITALIC, words_points, u, HBK_LEFT);
    hbk_pad_group(pad);
    hbk_pad_text(pad, right + 5.6 * u, wall - 5.4 * u, style, "a hole, cut");
    hbk_pad_text(pad, right + 5.6 * u, wall - 1.8 * u, style, "through");
}

/* What is measured on the tube of any horn. */
static void measure_tube(struct hbk_pad *pad, const struct example *example,
                         double axis)
{
    const struct hbk_instrument_layout *const layout = &example->layout;
    const double u = layout->u;
    const double x = example->instrument.x;
    const bool has_keys = example->horn.controls[0].kind == HBK_KEY;
    const double share = has_keys ? station_share : 0.76;
    const double at = x + share * example->instrument.width;
    const double half = hbk_instrument_half(layout, share);
    const double low = axis + (has_keys ? 11.0 : 22.0) * u;
    const double across[2] = {axis - half, axis + half};
    hbk_pad_line(pad, x, axis + 2.6 * u, 0.0, low + 1.0 * u - axis - 2.6 * u,
                 fine_pen * u);
    hbk_pad_line(pad, at, axis + half + 4.6 * u, 0.0,
                 low + 1.0 * u - axis - half - 4.6 * u, fine_pen * u);
    measure_along(pad, u, x, at, low, HBK_FORM_PLACE);
    measure_across(pad, u, at, across, HBK_FORM_ACROSS);
}

static void measure_keys(struct hbk_pad *pad, const struct example *example,
                         double axis)
{
    const struct hbk_instrument_layout *const layout = &example->layout;
    const double u = layout->u;
    const double end = example->instrument.x + example->instrument.width;
    const struct hbk_instrument_part *const hole = &layout->parts[0];
    const double low = axis + 16.5 * u;
    const double wall =
        axis +
        hbk_instrument_half(layout, hbk_instrument_share(layout, hole->x));
    hbk_pad_line(pad, hole->x, wall + 0.8 * u, 0.0,
                 low + 1.0 * u - wall - 0.8 * u, fine_pen * u);
    hbk_pad_line(pad, end, axis + 11.6 * u, 0.0,
                 low + 1.0 * u - axis - 11.6 * u, fine_pen * u);
    measure_along(pad, u, hole->x, end, low, HBK_FORM_FROM_BELL);
}

static void measure_valves(struct hbk_pad *pad, const struct example *example,
                           double axis)
{
    const struct hbk_instrument_layout *const layout = &example->layout;
    const double u = layout->u;
    const struct hbk_instrument_part *const valve = &layout->parts[0];
    const struct hbk_bows bows = hbk_instrument_bows(layout, valve->site);
    const double low = axis + 13.0 * u;
    const double loop = axis + HBK_INSTRUMENT_CASE * layout->g + 1.2 * u;
    const double left = valve->x - 0.5 * bows.width - 0.8 * u;
    measure_along(pad, u, example->instrument.x, left - 0.4 * u, low,
                  HBK_FORM_AT);
    const unsigned group = pad->group;
    put_letter(pad, u, valve->x + 0.5 * bows.width + 3.0 * u,
               loop + 0.5 * bows.leg, HBK_FORM_LOOP);
    /* Across the tube of a loop: from the right, at its last leg. */
    const struct hbk_instrument_part *const other = &layout->parts[1];
    const struct hbk_bows its = hbk_instrument_bows(layout, other->site);
    const double edge = other->x + 0.5 * its.width + 0.4 * u;
    pad->group = group;
    hbk_pad_line(pad, edge, loop + 0.5 * its.leg, 4.0 * u, 0.0, fine_pen * u);
    put_head(pad, u, edge, loop + 0.5 * its.leg, -1.0, 0.0);
    put_letter(pad, u, edge + 5.6 * u, loop + 0.5 * its.leg,
               HBK_FORM_LOOP_BORE);
    pad->group = group;
}

/* The rings over the touches, as on every sheet. */
static void draw_touches(struct hbk_pad *pad, const struct example *example,
                         double axis)
{
    const struct hbk_instrument_layout *const layout = &example->layout;
    const double y = axis - HBK_INSTRUMENT_TOUCH * layout->g;
    for (size_t i = 0; i < layout->n; i++) {
        const struct hbk_instrument_part *const part = &layout->parts[i];
        const struct hbk_control *const control =
            &example->horn.controls[part->control];
        const struct hbk_dot dot = {part->touch, y, layout->ring,
                                    control->name};
        hbk_dot_name(pad, &dot, control->stands_open);
    }
}

void hbk_form_picture_draw(struct hbk_pad *pad,
                           const struct hbk_form_picture *picture, double x,
                           double y)
{
    struct example *const example =
        HBK_ARENA_ARRAY(pad->sheet->arena, struct example, 1);
    make_example(picture, x, example);
    const struct hbk_instrument_layout *const layout = &example->layout;
    const double u = picture->unit;
    const double axis = y + above * u;
    hbk_pad_open_figure(pad, "A horn drawn straight, from the mouthpiece to "
                             "the bell, with a letter where each length is "
                             "measured; the list says what each letter is.");
    hbk_pad_group(pad);
    const unsigned body = pad->group;
    hbk_instrument_body(pad, layout, axis);
    pad->group = body;
    for (size_t i = 0; i < layout->n; i++) {
        if (picture->has_keys) {
            hbk_instrument_key(pad, layout, &layout->parts[i], axis);
        } else {
            hbk_instrument_valve(pad, layout, &layout->parts[i], axis);
        }
    }
    draw_touches(pad, example, axis);
    measure_tube(pad, example, axis);
    if (picture->has_keys) {
        measure_keys(pad, example, axis);
        draw_cut_hole(pad, u, x + 0.26 * picture->width, y);
    } else {
        measure_valves(pad, example, axis);
    }
    pad->group = body;
    const double slide =
        picture->has_keys ? 6.0 * u : example->slide.at_m * layout->scale;
    put_letter(pad, u, example->instrument.x + slide + 0.6 * u, axis - 5.0 * u,
               HBK_FORM_PULL);
    hbk_pad_close(pad, HBK_TAG_FIGURE);
}
