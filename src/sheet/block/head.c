#include "sheet/block/head.h"

#include <math.h>
#include <string.h>

/* Points at unit 1, and the least of a sentence. */
static const double name_points = 27.0;
static const double line_points = 13.0;
static const double legend_points = 11.0;
static const double least_points = 8.5;

/* The name takes so much of the width at most, and is not set smaller. */
static const double name_share = 0.55;
static const double name_least = 0.55;

/* Tops of letters and descenders of the book face, of the em. */
static const double ascender = 0.76;
static const double descender = 0.26;

static const double leading = 1.16; /* of the em */
static const double apart = 7.0;    /* name and lines, mm at unit 1 */
static const double between = 0.9;  /* line and legend, mm at unit 1 */

/* A line or legend: its look, and how it is broken. */
struct set_lines {
    struct hbk_style style;
    struct hbk_lines lines;
};

struct set_head {
    struct hbk_style name;
    struct hbk_lines names;
    struct set_lines line, legend;
    double height;
};

static struct set_lines set_text(const struct hbk_pad *pad,
                                 struct hbk_style style, double width,
                                 const char *text)
{
    const double least = fmin(1.0, HBK_PT(least_points) / style.size);
    struct set_lines set = {
        .style = hbk_pad_fit(pad, style, width - 0.05, least, text)};
    set.lines = hbk_pad_wrap(pad, set.style, width, text);
    return set;
}

static double lines_height(const struct set_lines *set)
{
    return set->lines.n == 0
               ? 0.0
               : (ascender + descender + leading * (double)(set->lines.n - 1)) *
                     set->style.size;
}

static double names_height(const struct set_head *set)
{
    return (ascender + leading * (double)(set->names.n - 1)) * set->name.size;
}

static struct set_head set_head(const struct hbk_pad *pad,
                                const struct hbk_head *head)
{
    const double u = head->unit;
    const double least_size = HBK_PT(least_points);
    struct set_head set = {
        .name = hbk_pad_fit(
            pad, hbk_style_of(HBK_FACE_CAPS, name_points, u, HBK_LEFT),
            name_share * head->width, name_least, head->name)};
    set.names =
        hbk_pad_wrap(pad, set.name, name_share * head->width, head->name);
    struct hbk_style line =
        hbk_style_of(HBK_FACE_ITALIC, line_points, u, HBK_RIGHT);
    struct hbk_style legend =
        hbk_style_of(HBK_FACE_PLAIN, legend_points, u, HBK_RIGHT);
    line.size = fmax(line.size, least_size);
    legend.size = fmax(legend.size, least_size);
    const double room = head->width - set.names.widest - apart * u;
    set.line = set_text(pad, line, room, head->line);
    set.legend = set_text(pad, legend, room - head->sign, head->legend);
    set.height =
        fmax(names_height(&set) + descender * set.name.size,
             lines_height(&set.line) + between * u + lines_height(&set.legend));
    return set;
}

double hbk_head_height(const struct hbk_pad *pad, const struct hbk_head *head)
{
    return set_head(pad, head).height;
}

/* Draws lines whose foot is at y; returns the first base line. */
static double draw_lines(struct hbk_pad *pad, const struct set_lines *set,
                         double right, double foot)
{
    const double first = foot - lines_height(set) + ascender * set->style.size;
    if (set->lines.n > 0) {
        hbk_pad_block(pad, HBK_TAG_PARAGRAPH, right, first, set->style,
                      leading * set->style.size, &set->lines);
    }
    return first;
}

struct hbk_point hbk_head_draw(struct hbk_pad *pad, const struct hbk_head *head,
                               double x, double y)
{
    const struct set_head set = set_head(pad, head);
    const double right = x + head->width;
    const double foot = y + set.height;
    hbk_pad_block(pad, HBK_TAG_TITLE, x,
                  foot - descender * set.name.size - names_height(&set) +
                      ascender * set.name.size,
                  set.name, leading * set.name.size, &set.names);
    const double legend_top =
        foot - lines_height(&set.legend) - between * head->unit;
    draw_lines(pad, &set.line, right, legend_top);
    const double base = draw_lines(pad, &set.legend, right, foot);
    return (struct hbk_point){right - set.legend.lines.widest - head->sign,
                              base};
}

void hbk_head_split(struct hbk_arena *arena, const char *title,
                    const char **name, const char **rest)
{
    const size_t length = strcspn(title, ",");
    *name = hbk_arena_copy(arena, title, length);
    const char *after = title + length;
    after += strspn(after, ", ");
    *rest = hbk_arena_copy(arena, after, strlen(after));
}
