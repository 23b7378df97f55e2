#include "sheet/block/heading.h"

#include "horn/about.h"
#include "horn/press.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_system.h"
#include "sheet/words/words_use.h"

#include <math.h>
#include <string.h>

/* mm, in units of the heading. */
static const double column_width = 18.0;
static const double narrowest_column = 13.2;
static const double strip_gap = 6.0; /* from words beside it */
static const double hand_gap = 5.0;
static const double hand_name = 3.8;

/*
 * Drawing and measuring are one walk: with `draw` false nothing is put down,
 * and the cursor still moves.
 */
struct walk {
    struct hbk_pad *pad;
    const struct hbk_heading *heading;
    bool draw;
    double x, y, width;
};

static void paragraph(struct walk *walk, struct hbk_style style, double leading,
                      const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const struct hbk_lines lines =
        hbk_pad_wrap(walk->pad, style, walk->width, text);
    if (walk->draw) {
        hbk_pad_block(walk->pad, HBK_TAG_PARAGRAPH, walk->x,
                      walk->y + 0.76 * style.size, style, leading, &lines);
    }
    walk->y += (double)lines.n * leading;
}

static void title(struct walk *walk)
{
    const double u = walk->heading->unit;
    const struct hbk_style style =
        hbk_pad_fit(walk->pad, hbk_style_of(HBK_FACE_CAPS, 24.0, u, HBK_LEFT),
                    walk->width, 0.6, walk->heading->title);
    const struct hbk_lines lines =
        hbk_pad_wrap(walk->pad, style, walk->width, walk->heading->title);
    const double leading = 1.2 * style.size;
    if (walk->draw) {
        hbk_pad_block(walk->pad, HBK_TAG_TITLE, walk->x,
                      walk->y + 0.76 * style.size, style, leading, &lines);
    }
    walk->y += (double)lines.n * leading + 0.6 * u;
    if (walk->draw) {
        hbk_pad_group(walk->pad);
        hbk_pad_line(walk->pad, walk->x, walk->y, walk->width, 0.0, 0.5 * u);
    }
    walk->y += 2.4 * u;
}

/* Neighbouring columns of one hand, under its name. */
struct segment {
    bool left_hand;
    double left, right; /* ends, from the left end of the strip */
    double top;         /* from the strip's top */
    size_t most_lines;  /* of words in one column */
};

/*
 * The strip: a column for each control, with the lines of words under its
 * circle. The hands stand side by side where that leaves the columns wide
 * enough for the words, else the left above the right; a hand with more
 * controls than a line holds goes on below.
 */
struct strip {
    struct hbk_lines words[HBK_CONTROLS_MAX];
    double centre[HBK_CONTROLS_MAX]; /* from the left end of the strip */
    size_t segment[HBK_CONTROLS_MAX];
    size_t n_segments;
    struct segment segments[HBK_CONTROLS_MAX];
    double step;
    double width, height;
};

static const char *column_words(struct hbk_arena *arena,
                                const struct hbk_notes *notes,
                                const struct hbk_spot *spot)
{
    const struct hbk_control *control =
        hbk_horn_control(notes->horn, spot->control);
    static const char *const digits[] = {"thumb", "index", "middle", "ring",
                                         "little"};
    const char *finger = digits[hbk_finger_digit(spot->finger)];
    for (size_t i = 1; i < control->n_fingers; i++) {
        finger =
            hbk_arena_printf(arena, "%s or %s", finger,
                             hbk_finger_is_left(control->fingers[i]) ==
                                     hbk_finger_is_left(spot->finger)
                                 ? digits[hbk_finger_digit(control->fingers[i])]
                                 : hbk_finger_name(control->fingers[i]));
    }
    const char *called = hbk_words_key_read(arena, notes, spot->control);
    if (called[0] == '\0') {
        return hbk_arena_printf(arena, "%s\n%s", finger,
                                hbk_words_effect(arena, notes, spot->control));
    }
    /* A key goes by its note: cents beside it say nothing to a player. */
    const bool name_says_all = control->kind == HBK_KEY &&
                               !hbk_notes_stuck(notes, spot->control) &&
                               !hbk_effect_is_interval(notes, spot->control);
    const char *does = !name_says_all
                           ? hbk_words_effect(arena, notes, spot->control)
                       : control->stands_open ? "open at rest"
                                              : "";
    return hbk_arena_printf(arena, "%s\n%s%s%s", finger, called,
                            does[0] == '\0' ? "" : "\n", does);
}

/* The step from control to control, and whether the hands share a line. */
static double choose_step(const struct hbk_heading *heading, bool *together)
{
    const struct hbk_hands *hands = &heading->hands;
    const double u = heading->unit;
    size_t in_row[2] = {0, 0};
    for (size_t i = 0; i < hands->n; i++) {
        in_row[hands->spots[i].row]++;
    }
    const double all = (double)(in_row[0] + in_row[1]);
    const double longest =
        (double)(in_row[0] > in_row[1] ? in_row[0] : in_row[1]);
    const double least = narrowest_column * u;
    const double most = column_width * u;
    const double shared = (heading->width - hand_gap * u) / all;
    *together = shared >= least;
    return *together ? fmin(most, shared)
                     : fmin(most, fmax(least, heading->width / longest));
}

/* Starts a segment for spot i if it cannot join the one before. */
static double place_column(const struct hbk_heading *heading,
                           struct strip *strip, bool together, size_t i,
                           double x)
{
    const struct hbk_hands *hands = &heading->hands;
    const bool other_hand =
        i > 0 && hands->spots[i].row != hands->spots[i - 1].row;
    const bool full = x + strip->step > heading->width + 1e-6;
    if (i > 0 && !other_hand && !full) {
        return x;
    }
    const bool below = i > 0 && (full || !together);
    if (below) {
        x = 0.0;
    } else if (other_hand) {
        x += hand_gap * heading->unit;
    }
    /* Counted in lines for now; see stack_segments. */
    const size_t n = strip->n_segments++;
    strip->segments[n] = (struct segment){
        .left_hand = hands->left[hands->spots[i].row],
        .left = x,
        .top = i == 0 ? 0.0 : strip->segments[n - 1].top + (below ? 1.0 : 0.0)};
    return x;
}

/* Turns lines of segments into heights. */
static void stack_segments(struct strip *strip, double unit)
{
    double line = 0.0;
    size_t most = 0;
    for (size_t i = 0; i < strip->n_segments;) {
        size_t end = i;
        most = 0;
        while (end < strip->n_segments &&
               strip->segments[end].top <= line + 0.5) {
            most = strip->segments[end].most_lines > most
                       ? strip->segments[end].most_lines
                       : most;
            end++;
        }
        for (; i < end; i++) {
            strip->segments[i].top = strip->height;
        }
        strip->height += (hand_name + 6.8 + (double)most * 2.9 + 1.0) * unit;
        line += 1.0;
    }
}

static void lay_strip(const struct hbk_pad *pad,
                      const struct hbk_heading *heading, struct strip *strip)
{
    const struct hbk_hands *hands = &heading->hands;
    const double u = heading->unit;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 7.0, u, HBK_LEFT);
    bool together;
    *strip = (struct strip){.step = choose_step(heading, &together)};
    double x = 0.0;
    for (size_t i = 0; i < hands->n; i++) {
        x = place_column(heading, strip, together, i, x);
        const size_t at = strip->n_segments - 1;
        struct segment *segment = &strip->segments[at];
        strip->words[i] = hbk_pad_wrap(
            pad, style, strip->step - 1.0 * u,
            column_words(pad->sheet->arena, heading->notes, &hands->spots[i]));
        strip->centre[i] = x + 0.5 * strip->step;
        strip->segment[i] = at;
        x += strip->step;
        segment->right = x;
        segment->most_lines = strip->words[i].n > segment->most_lines
                                  ? strip->words[i].n
                                  : segment->most_lines;
        strip->width = fmax(strip->width, x);
    }
    stack_segments(strip, u);
}

/* The name of the hand over a line that spans its controls. */
static void draw_hand_name(struct hbk_pad *pad, double unit, bool left,
                           double x, double y, double width)
{
    struct hbk_style style = hbk_style_of(HBK_FACE_BOLD, 7.5, unit, HBK_LEFT);
    style.align = HBK_CENTRE;
    const char *name = left ? "Left hand" : "Right hand";
    const double half = 0.5 * hbk_pad_width(pad, style, name) + 1.2 * unit;
    const double middle = x + 0.5 * width;
    const double line = y + 1.2 * unit;
    hbk_pad_group(pad);
    hbk_pad_text(pad, middle, y + 2.2 * unit, style, name);
    const double arm = 0.5 * width - half - 0.8 * unit;
    if (arm > 1.0 * unit) {
        hbk_pad_line(pad, x + 0.8 * unit, line, arm, 0.0, 0.2 * unit);
        hbk_pad_line(pad, middle + half, line, arm, 0.0, 0.2 * unit);
    }
}

static void draw_strip_control(struct hbk_pad *pad,
                               const struct hbk_heading *heading,
                               const struct strip *strip, size_t i, double x,
                               double y)
{
    const double u = heading->unit;
    const size_t index = heading->hands.spots[i].control;
    const struct hbk_control *control =
        hbk_horn_control(heading->notes->horn, index);
    char label[32];
    hbk_horn_control_label(heading->notes->horn, index, label, sizeof(label));
    struct hbk_style style =
        hbk_pad_fit(pad, hbk_style_of(HBK_FACE_BOLD, 10.0, u, HBK_LEFT),
                    4.6 * u, 0.7, label);
    style.align = HBK_CENTRE;
    hbk_pad_group(pad);
    if (control->stands_open) {
        hbk_pad_frame(pad, x - 2.7 * u, y, 5.4 * u, 5.4 * u, 0.3 * u);
    } else {
        hbk_pad_ring(pad, x, y + 2.7 * u, 2.8 * u, 0.3 * u);
        if (control->rests_in) {
            hbk_pad_ring(pad, x, y + 2.7 * u, 2.2 * u, 0.2 * u);
        }
    }
    hbk_pad_text(pad, x, y + 2.7 * u + 0.36 * style.size, style, label);
    style = hbk_style_of(HBK_FACE_PLAIN, 7.0, u, HBK_LEFT);
    style.align = HBK_CENTRE;
    hbk_pad_lines(pad, x, y + 8.6 * u, style, 2.9 * u, &strip->words[i]);
}

static void draw_strip(struct hbk_pad *pad, const struct hbk_heading *heading,
                       const struct strip *strip, double x, double y)
{
    for (size_t k = 0; k < strip->n_segments; k++) {
        const struct segment *segment = &strip->segments[k];
        hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
        draw_hand_name(pad, heading->unit, segment->left_hand,
                       x + segment->left, y + segment->top,
                       segment->right - segment->left);
        for (size_t i = 0; i < heading->hands.n; i++) {
            if (strip->segment[i] == k) {
                draw_strip_control(pad, heading, strip, i, x + strip->centre[i],
                                   y + segment->top +
                                       hand_name * heading->unit);
            }
        }
        hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
    }
}

static void facts(struct walk *walk)
{
    const struct hbk_notes *notes = walk->heading->notes;
    struct hbk_arena *arena = walk->pad->sheet->arena;
    const double u = walk->heading->unit;
    if (walk->heading->whom != NULL) {
        paragraph(walk, hbk_style_of(HBK_FACE_PLAIN, 9.0, u, HBK_LEFT), 4.6 * u,
                  hbk_words_whom(arena, walk->heading->whom));
    }
    const char *sounds =
        hbk_arena_printf(arena, "%s.", hbk_words_read_sounds(arena, notes));
    paragraph(walk,
              hbk_pad_fit(walk->pad,
                          hbk_style_of(HBK_FACE_BOLD, 11.0, u, HBK_LEFT),
                          walk->width, 0.8, sounds),
              5.0 * u, sounds);
    paragraph(walk, hbk_style_of(HBK_FACE_PLAIN, 9.0, u, HBK_LEFT), 4.1 * u,
              hbk_words_set(arena, notes, walk->heading->length));
    paragraph(walk,
              hbk_rest_alarms(notes)
                  ? hbk_style_of(HBK_FACE_BOLD, 9.0, u, HBK_LEFT)
                  : hbk_style_of(HBK_FACE_PLAIN, 9.0, u, HBK_LEFT),
              4.1 * u, hbk_words_rest(arena, notes, walk->heading->length));
    paragraph(walk, hbk_style_of(HBK_FACE_BOLD, 8.5, u, HBK_LEFT), 3.9 * u,
              hbk_words_assumed(arena, notes->horn));
    walk->y += 0.8 * u;
    paragraph(walk, hbk_style_of(HBK_FACE_PLAIN, 8.5, u, HBK_LEFT), 3.9 * u,
              hbk_arena_printf(arena, "%s%s%s", hbk_words_system(arena, notes),
                               walk->heading->also,
                               hbk_words_response(arena, notes)));
}

static double run(struct hbk_pad *pad, const struct hbk_heading *heading,
                  bool draw, double x, double y)
{
    struct walk walk = {pad, heading, draw, x, y, heading->width};
    title(&walk);
    struct strip strip = {.width = 0.0};
    if (heading->hands.n > 0) {
        lay_strip(pad, heading, &strip);
    }
    const double u = heading->unit;
    const bool beside = strip.width <= 0.5 * heading->width;
    const double top = walk.y;
    if (beside && strip.width > 0.0) {
        walk.width = heading->width - strip.width - strip_gap * u;
    }
    facts(&walk);
    const double strip_y = beside ? top : walk.y + 1.6 * u;
    if (draw && strip.width > 0.0) {
        const double strip_x = beside
                                   ? x + heading->width - strip.width
                                   : x + 0.5 * (heading->width - strip.width);
        draw_strip(pad, heading, &strip, strip_x, strip_y);
    }
    return fmax(walk.y, strip_y + strip.height) - y;
}

double hbk_heading_height(const struct hbk_pad *pad,
                          const struct hbk_heading *heading)
{
    struct hbk_pad copy = *pad;
    return run(&copy, heading, false, 0.0, 0.0);
}

double hbk_heading_draw(struct hbk_pad *pad, const struct hbk_heading *heading,
                        double x, double y)
{
    return run(pad, heading, true, x, y);
}

double hbk_running_head_height(double unit)
{
    return 7.0 * unit;
}

void hbk_running_head_draw(struct hbk_pad *pad, const char *title,
                           const char *page, double unit, double x, double y,
                           double width)
{
    struct hbk_style right = hbk_style_of(HBK_FACE_PLAIN, 8.5, unit, HBK_LEFT);
    const double room = width - hbk_pad_width(pad, right, page) - 4.0 * unit;
    const struct hbk_style full =
        hbk_style_of(HBK_FACE_CAPS, 10.0, unit, HBK_LEFT);
    const double least = fmax(0.75, fmin(1.0, HBK_PT(8.0) / full.size));
    const struct hbk_style left = hbk_pad_fit(pad, full, room, least, title);
    title = hbk_pad_cut(pad, left, room, title);
    right.align = HBK_RIGHT;
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(pad, x, y + 2.9 * unit, left, title);
    hbk_pad_text(pad, x + width, y + 2.9 * unit, right, page);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_line(pad, x, y + 4.4 * unit, width, 0.0, 0.3 * unit);
}
