#include "sheet/part/part_words.h"

#include "base/text.h"
#include "horn/about.h"
#include "sheet/words/words.h"
#include "sheet/words/words_said.h"

#include <math.h>

static const double legend_points = 8.5;
static const double page_points = 8.5;

/* Drawing and measuring are one walk. */
struct walk {
    struct hbk_pad *pad;
    bool draw;
    double x, y, width;
};

static void paragraph(struct walk *walk, struct hbk_style style,
                      enum hbk_tag tag, const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const double leading = 1.25 * style.size;
    const struct hbk_lines lines =
        hbk_pad_wrap(walk->pad, style, walk->width, text);
    if (walk->draw) {
        hbk_pad_block(walk->pad, tag, walk->x, walk->y + 0.76 * style.size,
                      style, leading, &lines);
    }
    walk->y += (double)lines.n * leading;
}

/* The number of a page at the right of a line; returns the room left of it. */
static double page_beside(const struct walk *walk, double unit, double base,
                          const char *page)
{
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, page_points, unit, HBK_RIGHT);
    if (walk->draw) {
        hbk_pad_group(walk->pad);
        hbk_pad_open(walk->pad, HBK_TAG_PARAGRAPH);
        hbk_pad_text(walk->pad, walk->x + walk->width, base, style, page);
        hbk_pad_close(walk->pad, HBK_TAG_PARAGRAPH);
    }
    return walk->width - hbk_pad_width(walk->pad, style, page) - 4.0 * unit;
}

/* A line with the page at its right. */
static void line_beside_page(struct walk *walk, struct hbk_style style,
                             double unit, const char *words, const char *page)
{
    const double width = walk->width;
    const double least = HBK_PT(page_points) * unit;
    const double size = words[0] == '\0' ? least : fmax(style.size, least);
    walk->width = page_beside(walk, unit, walk->y + 0.76 * size, page);
    if (words[0] == '\0') {
        walk->y += 1.25 * size;
    } else {
        style = hbk_pad_fit(walk->pad, style, walk->width, 0.75, words);
        walk->y += 0.76 * (size - style.size);
        paragraph(walk, style, HBK_TAG_PARAGRAPH, words);
    }
    walk->width = width;
}

/* "Solo cornet; Cornet in B flat, three pistons". */
static const char *part_and_horn(struct hbk_arena *arena,
                                 const struct hbk_part_text *text)
{
    return hbk_arena_printf(
        arena, "%s%s%s", text->part,
        text->part[0] != '\0' && text->horn[0] != '\0' ? "; " : "", text->horn);
}

double hbk_part_running_head(struct hbk_pad *pad,
                             const struct hbk_part_text *text, const char *page,
                             bool draw, double x, double y)
{
    struct walk walk = {pad, draw, x, y, text->width};
    const double unit = text->unit;
    line_beside_page(&walk, hbk_style_of(HBK_FACE_CAPS, 10.0, unit, HBK_LEFT),
                     unit, text->title, page);
    paragraph(&walk, hbk_style_of(HBK_FACE_PLAIN, page_points, unit, HBK_LEFT),
              HBK_TAG_PARAGRAPH, part_and_horn(pad->sheet->arena, text));
    walk.y += 0.5 * unit;
    if (draw) {
        hbk_pad_group(pad);
        hbk_pad_line(pad, x, walk.y, text->width, 0.0, 0.3 * unit);
    }
    return walk.y + 2.2 * unit - y;
}

double hbk_part_head(struct hbk_pad *pad, const struct hbk_part_text *text,
                     const char *page, bool draw, double x, double y)
{
    struct walk walk = {pad, draw, x, y, text->width};
    const double top = y;
    line_beside_page(&walk,
                     hbk_style_of(HBK_FACE_CAPS, 12.0, text->unit, HBK_LEFT),
                     text->unit, text->part, page);
    walk.y += 0.8 * text->unit;
    y = walk.y;
    struct hbk_style composer =
        hbk_style_of(HBK_FACE_PLAIN, 9.6, text->unit, HBK_LEFT);
    double beside = 0.0;
    if (text->composer[0] != '\0') {
        composer =
            hbk_pad_fit(pad, composer, 0.4 * text->width, 0.6, text->composer);
        beside = hbk_pad_width(pad, composer, text->composer) + 5.0;
        beside = beside > 0.5 * text->width ? 0.5 * text->width : beside;
    }
    const struct hbk_style title = hbk_pad_fit(
        pad, hbk_style_of(HBK_FACE_CAPS, 19.0, text->unit, HBK_LEFT),
        text->width - beside, 0.6, text->title);
    walk.width = text->width - beside;
    paragraph(&walk, title, HBK_TAG_TITLE, text->title);
    if (beside > 0.0) {
        const double below = walk.y;
        walk.x = x + text->width - beside + 5.0;
        walk.width = beside - 5.0 + 0.01;
        walk.y = y + 0.76 * (title.size - composer.size);
        paragraph(&walk, composer, HBK_TAG_PARAGRAPH, text->composer);
        walk.x = x;
        walk.y = walk.y > below ? walk.y : below;
    }
    walk.width = text->width;
    walk.y += 0.8 * text->unit;
    if (text->words != NULL) {
        paragraph(&walk,
                  hbk_style_of(HBK_FACE_PLAIN, 9.6, text->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH,
                  hbk_words_whom(pad->sheet->arena, text->words->whom));
    }
    if (text->words != NULL && text->words->heading != NULL) {
        paragraph(&walk,
                  hbk_style_of(HBK_FACE_PLAIN, 9.0, text->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH, text->words->heading);
    }
    if (text->words != NULL && text->words->moved != NULL) {
        paragraph(&walk, hbk_style_of(HBK_FACE_BOLD, 8.5, text->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH, text->words->moved);
    }
    walk.y += 2.2 * text->unit;
    return walk.y - top;
}

static bool is_circles(const struct hbk_fingers *fingers)
{
    return fingers->shape == HBK_FINGERS_CELLS;
}

static const char *kinds_of(const struct hbk_horn *horn)
{
    const bool keys = hbk_horn_has_kind(horn, HBK_KEY);
    const bool valves = hbk_horn_has_kind(horn, HBK_VALVE);
    return keys && valves ? "keys and valves" : valves ? "valves" : "keys";
}

static void add_cells(struct hbk_text *out, const struct hbk_fingers *fingers)
{
    const struct hbk_cells *cells = &fingers->cells;
    bool stands_open = false;
    for (size_t i = 0; i < hbk_horn_n_controls(fingers->horn); i++) {
        stands_open =
            stands_open || hbk_horn_control(fingers->horn, i)->stands_open;
    }
    hbk_text_addf(out, "Circles show the %s, a row for each finger",
                  kinds_of(fingers->horn));
    hbk_text_add(out, cells->n_hands == 2 ? ", the left hand at the left. "
                      : cells->left[0]    ? " of the left hand. "
                                          : " of the right hand. ");
    hbk_text_add(out, "Black: the finger presses; a small ring: it does not. ");
    hbk_text_add(out, stands_open ? "Double ring: open at rest. " : "");
    hbk_text_add(out, cells->stuck != 0 ? "Crossed: stuck. " : "");
}

static const char *legend(struct hbk_arena *arena,
                          const struct hbk_part_text *text)
{
    struct hbk_text out = {.arena = arena};
    const struct hbk_fingers *fingers = text->fingers;
    if (text->used.any) {
        switch (fingers->shape) {
        case HBK_FINGERS_ROW:
            hbk_text_add(&out, "Numbers under the notes: what is pressed, 0 "
                               "for nothing. ");
            break;
        case HBK_FINGERS_STACK:
            hbk_text_add(&out, "Numbers under a note, one above the other: "
                               "what is pressed together, 0 for nothing. ");
            break;
        case HBK_FINGERS_CELLS:
            add_cells(&out, fingers);
            break;
        }
    }
    if (text->used.departure) {
        hbk_text_add(&out, "Underlined: not the usual fingering. ");
    }
    if (text->used.hard) {
        hbk_text_add(&out, text->words != NULL && text->words->n_hard > 0
                               ? "Bracketed: too fast at this tempo, see "
                                 "above. "
                               : "Bracketed: too fast at this tempo. ");
    }
    if (text->used.unreachable) {
        hbk_text_add(&out, "A cross under a note: not available on this "
                           "horn. ");
    }
    if (fingers->sounding) {
        hbk_text_add(&out, "Small letters: the note that sounds. ");
    }
    return hbk_text_string(&out);
}

/* The map of the cells: mm, and points, at text of the usual size. */
static const double map_radius = 1.9;
static const double lettered_radius = 2.4; /* of "k1", "v1" */
static const double map_points = 8.5;
static const double map_head = 3.4;

/* Which finger works which key; returns its height. */
static double draw_map(struct walk *walk, const struct hbk_part_text *text,
                       double *width)
{
    const struct hbk_cells *cells = &text->fingers->cells;
    const bool lettered = hbk_horn_has_kind(cells->horn, HBK_KEY) &&
                          hbk_horn_has_kind(cells->horn, HBK_VALVE);
    const double radius = lettered ? lettered_radius : map_radius;
    struct hbk_cells_map map = {
        .style = hbk_style_of(HBK_FACE_PLAIN, map_points, text->unit, HBK_LEFT),
        .size = hbk_cells_least(cells, radius * fmax(1.0, text->unit))};
    map.words = hbk_cells_words(walk->pad, cells, map.style);
    *width = map.words + map.size.width;
    const double head = map_head * text->unit;
    if (walk->draw) {
        hbk_pad_open_figure(
            walk->pad,
            hbk_arena_printf(walk->pad->sheet->arena, "The fingers: %s.",
                             hbk_words_said_controls(walk->pad->sheet->arena,
                                                     cells->horn, NULL)));
        hbk_cells_letters(walk->pad, cells, &map.size, walk->x + map.words,
                          walk->y + 0.8 * head,
                          hbk_style_of(HBK_FACE_BOLD, 7.0,
                                       fmax(1.0, text->unit), HBK_CENTRE));
        hbk_cells_map(walk->pad, cells, &map, walk->x, walk->y + head);
        hbk_pad_close(walk->pad, HBK_TAG_FIGURE);
    }
    return head + hbk_cells_height(cells, &map.size);
}

double hbk_part_foot(struct hbk_pad *pad, const struct hbk_part_text *text,
                     bool draw, double x, double y)
{
    struct walk walk = {pad, draw, x, y, text->width};
    const struct hbk_style words =
        hbk_style_of(HBK_FACE_PLAIN, 9.0, text->unit, HBK_LEFT);
    const struct hbk_part_words *said = text->words;
    if (said != NULL && said->out != NULL) {
        walk.y += 1.5 * text->unit;
        paragraph(&walk, hbk_style_of(HBK_FACE_BOLD, 8.5, text->unit, HBK_LEFT),
                  HBK_TAG_HEADING, "Not available");
        walk.y += 0.5 * text->unit;
        paragraph(&walk, words, HBK_TAG_PARAGRAPH, said->out);
    }
    if (said != NULL && said->n_hard > 0) {
        walk.y += 1.5 * text->unit;
        paragraph(&walk, hbk_style_of(HBK_FACE_BOLD, 8.5, text->unit, HBK_LEFT),
                  HBK_TAG_HEADING, "Hard places");
        walk.y += 0.5 * text->unit;
        for (size_t i = 0; i < said->n_hard; i++) {
            paragraph(&walk, words, HBK_TAG_PARAGRAPH, said->hard[i]);
            walk.y += 0.4 * text->unit;
        }
    }
    const char *explained = legend(pad->sheet->arena, text);
    if (explained[0] != '\0') {
        walk.y += 1.5 * text->unit;
        const double top = walk.y;
        double width = 0.0;
        double height = 0.0;
        if (text->used.any && is_circles(text->fingers)) {
            height = draw_map(&walk, text, &width);
            walk.x += width + 3.0;
            walk.width -= width + 3.0;
        }
        paragraph(&walk,
                  hbk_style_of(HBK_FACE_PLAIN, legend_points,
                               fmax(1.0, text->unit), HBK_LEFT),
                  HBK_TAG_PARAGRAPH, explained);
        walk.y = fmax(walk.y, top + height);
    }
    return walk.y - y;
}
