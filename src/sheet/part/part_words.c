#include "sheet/part/part_words.h"
#include "sheet/part/part_walk.h"

#include "base/text.h"
#include "horn/about.h"
#include "sheet/words/words_said.h"

#include <math.h>

static const double legend_points = 8.5;
static const double stanza_indent = 8.0; /* mm, at text of the usual size */
enum { longest_stanza = 12 };            /* lines */

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
    if (text->used.trill) {
        hbk_text_add(&out, "After tr: the upper note of the trill. ");
    }
    if (text->used.no_trill) {
        hbk_text_add(&out, "A dash after tr: no trill on this horn. ");
    }
    if (text->used.others > 0) {
        hbk_text_add(&out, text->used.others > 1
                               ? "In parentheses: the next choices, the best "
                                 "first. "
                               : "In parentheses: the next choice. ");
    }
    if (text->used.no_room) {
        hbk_text_add(&out, text->used.others > 0
                               ? "More choices have no room here. "
                               : "Other choices have no room here. ");
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
static double draw_map(struct hbk_part_walk *walk,
                       const struct hbk_part_text *text, double *width)
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

const char *const *hbk_part_stanzas(struct hbk_arena *arena, size_t n_lines,
                                    const char *const *lines, size_t *n)
{
    const char **stanzas = HBK_ARENA_ARRAY(arena, const char *, n_lines + 1);
    *n = 0;
    for (size_t i = 0; i < n_lines;) {
        struct hbk_text text = {.arena = arena};
        size_t k = 0;
        for (; k < longest_stanza && i + k < n_lines && lines[i + k][0] != '\0';
             k++) {
            hbk_text_addf(&text, "%s%s", k > 0 ? "\n" : "", lines[i + k]);
        }
        if (k > 0) {
            stanzas[(*n)++] = hbk_text_string(&text);
        }
        i += k > 0 ? k : 1;
    }
    return stanzas;
}

static size_t n_hard(const struct hbk_part_text *text)
{
    return text->words == NULL ? 0 : text->words->n_hard;
}

static bool has_out(const struct hbk_part_text *text)
{
    return text->words != NULL && text->words->out != NULL;
}

/* The two last blocks are the legend and the rights, which may be empty. */
size_t hbk_part_foot_blocks(const struct hbk_part_text *text)
{
    return text->n_stanzas + (has_out(text) ? 1 : 0) + n_hard(text) + 2;
}

static struct hbk_style words_style(const struct hbk_part_text *text)
{
    return hbk_style_of(HBK_FACE_PLAIN, 9.0, text->unit, HBK_LEFT);
}

static void heading(struct hbk_part_walk *walk, double unit, const char *words)
{
    walk->y += 1.5 * unit;
    hbk_part_paragraph(walk, hbk_style_of(HBK_FACE_BOLD, 8.5, unit, HBK_LEFT),
                       HBK_TAG_HEADING, words);
    walk->y += 0.5 * unit;
}

static void put_stanza(struct hbk_part_walk *walk,
                       const struct hbk_part_text *text, size_t number)
{
    walk->y += (number == 0 ? 3.0 : 2.0) * text->unit;
    walk->x += stanza_indent * text->unit;
    walk->width -= stanza_indent * text->unit;
    hbk_part_paragraph(walk,
                       hbk_style_of(HBK_FACE_PLAIN, 10.0, text->unit, HBK_LEFT),
                       HBK_TAG_PARAGRAPH, text->stanzas[number]);
}

static void put_hard(struct hbk_part_walk *walk,
                     const struct hbk_part_text *text, size_t number)
{
    if (number == 0) {
        heading(walk, text->unit, "Hard places");
    }
    hbk_part_paragraph(walk, words_style(text), HBK_TAG_PARAGRAPH,
                       text->words->hard[number]);
    walk->y += 0.4 * text->unit;
}

static void put_legend(struct hbk_part_walk *walk,
                       const struct hbk_part_text *text)
{
    const char *explained = legend(walk->pad->sheet->arena, text);
    if (explained[0] == '\0') {
        return;
    }
    walk->y += 1.5 * text->unit;
    const double top = walk->y;
    double width = 0.0;
    double height = 0.0;
    if (text->used.any && is_circles(text->fingers)) {
        height = draw_map(walk, text, &width);
        walk->x += width + 3.0;
        walk->width -= width + 3.0;
    }
    hbk_part_paragraph(walk,
                       hbk_style_of(HBK_FACE_PLAIN, legend_points,
                                    fmax(1.0, text->unit), HBK_LEFT),
                       HBK_TAG_PARAGRAPH, explained);
    walk->y = fmax(walk->y, top + height);
}

double hbk_part_foot_block(struct hbk_pad *pad,
                           const struct hbk_part_text *text, size_t block,
                           bool draw, double x, double y)
{
    struct hbk_part_walk walk = {pad, draw, x, y, text->width};
    const size_t stanzas = text->n_stanzas;
    const size_t hard = stanzas + (has_out(text) ? 1 : 0);
    const size_t after = hard + n_hard(text);
    if (block < stanzas) {
        put_stanza(&walk, text, block);
    } else if (block < hard) {
        heading(&walk, text->unit, "Not available");
        hbk_part_paragraph(&walk, words_style(text), HBK_TAG_PARAGRAPH,
                           text->words->out);
    } else if (block < after) {
        put_hard(&walk, text, block - hard);
    } else if (block == after) {
        put_legend(&walk, text);
    } else if (text->rights[0] != '\0') {
        walk.y += 1.5 * text->unit;
        hbk_part_paragraph(
            &walk, hbk_style_of(HBK_FACE_PLAIN, 8.5, text->unit, HBK_LEFT),
            HBK_TAG_PARAGRAPH, text->rights);
    }
    return walk.y - y;
}
