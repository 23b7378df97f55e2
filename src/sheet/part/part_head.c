#include "sheet/part/part_walk.h"
#include "sheet/part/part_words.h"

#include "base/text.h"
#include "sheet/words/words.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

static const double page_points = 8.5;

/* The number of a page at the right of a line; returns the room left of it. */
static double page_beside(const struct hbk_part_walk *walk, double unit,
                          double base, const char *page)
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
static void line_beside_page(struct hbk_part_walk *walk, struct hbk_style style,
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
        hbk_part_paragraph(walk, style, HBK_TAG_PARAGRAPH, words);
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
    struct hbk_part_walk walk = {pad, draw, x, y, text->width};
    const double unit = text->unit;
    line_beside_page(&walk, hbk_style_of(HBK_FACE_CAPS, 10.0, unit, HBK_LEFT),
                     unit, text->title, page);
    hbk_part_paragraph(
        &walk, hbk_style_of(HBK_FACE_PLAIN, page_points, unit, HBK_LEFT),
        HBK_TAG_PARAGRAPH, part_and_horn(pad->sheet->arena, text));
    walk.y += 0.5 * unit;
    if (draw) {
        hbk_pad_group(pad);
        hbk_pad_line(pad, x, walk.y, text->width, 0.0, 0.3 * unit);
    }
    return walk.y + 2.2 * unit - y;
}

/* Whether a name is said with what its bearer did: "arr. J. Crow". */
static bool says_what(const char *name, const char *what)
{
    const size_t length = strlen(what);
    for (const char *at = name; *at != '\0'; at++) {
        size_t n = 0;
        while (n < length && tolower((unsigned char)at[n]) == what[n]) {
            n++;
        }
        if (n == length) {
            return true;
        }
    }
    return false;
}

static void add_credit(struct hbk_text *out, const char *before,
                       const char *name)
{
    if (name[0] != '\0') {
        hbk_text_addf(out, "%s%s%s", out->length > 0 ? "\n" : "", before, name);
    }
}

/* Who wrote words and music, a line each. */
static const char *credits(struct hbk_arena *arena,
                           const struct hbk_part_text *text)
{
    struct hbk_text out = {.arena = arena};
    add_credit(&out, says_what(text->lyricist, "words") ? "" : "words: ",
               text->lyricist);
    add_credit(&out, "", text->composer);
    add_credit(&out, says_what(text->arranger, "arr") ? "" : "arr. ",
               text->arranger);
    return hbk_text_string(&out);
}

/* Title and further titles, at their right who wrote them. */
static void put_titles(struct hbk_part_walk *walk,
                       const struct hbk_part_text *text)
{
    const double unit = text->unit;
    const char *const names = credits(walk->pad->sheet->arena, text);
    const struct hbk_style small =
        hbk_style_of(HBK_FACE_PLAIN, 9.6, unit, HBK_LEFT);
    const double most = 0.45 * walk->width;
    const double beside =
        names[0] == '\0'
            ? 0.0
            : hbk_pad_wrap(walk->pad, small, most, names).widest + 5.0;
    const struct hbk_style title = hbk_pad_fit(
        walk->pad, hbk_style_of(HBK_FACE_CAPS, 19.0, unit, HBK_LEFT),
        walk->width - beside, 0.6, text->title);
    struct hbk_part_walk right = *walk;
    right.x += walk->width - beside + 5.0;
    right.width = beside - 5.0 + 0.01;
    right.y += 0.76 * (title.size - small.size);
    const double width = walk->width;
    walk->width -= beside;
    hbk_part_paragraph(walk, title, HBK_TAG_TITLE, text->title);
    hbk_part_paragraph(walk,
                       hbk_style_of(HBK_FACE_ITALIC, 11.0, unit, HBK_LEFT),
                       HBK_TAG_PARAGRAPH, text->subtitle);
    walk->width = width;
    if (beside > 0.0) {
        hbk_part_paragraph(&right, small, HBK_TAG_PARAGRAPH, names);
        walk->y = fmax(walk->y, right.y);
    }
}

/* For whom and which horn, and that the notes are moved. */
static void put_words(struct hbk_part_walk *walk,
                      const struct hbk_part_text *text)
{
    const struct hbk_part_words *words = text->words;
    const double unit = text->unit;
    hbk_part_paragraph(walk, hbk_style_of(HBK_FACE_PLAIN, 9.6, unit, HBK_LEFT),
                       HBK_TAG_PARAGRAPH,
                       hbk_words_whom(walk->pad->sheet->arena, words->whom));
    if (words->heading != NULL) {
        hbk_part_paragraph(walk,
                           hbk_style_of(HBK_FACE_PLAIN, 9.0, unit, HBK_LEFT),
                           HBK_TAG_PARAGRAPH, words->heading);
    }
    if (words->moved != NULL) {
        hbk_part_paragraph(walk,
                           hbk_style_of(HBK_FACE_BOLD, 8.5, unit, HBK_LEFT),
                           HBK_TAG_PARAGRAPH, words->moved);
    }
    if (words->said != NULL) {
        walk->y += 0.8 * unit;
        hbk_part_paragraph(walk,
                           hbk_style_of(HBK_FACE_PLAIN, 10.5, unit, HBK_LEFT),
                           HBK_TAG_PARAGRAPH, words->said);
    }
}

double hbk_part_head(struct hbk_pad *pad, const struct hbk_part_text *text,
                     const char *page, bool draw, double x, double y)
{
    struct hbk_part_walk walk = {pad, draw, x, y, text->width};
    const double unit = text->unit;
    line_beside_page(&walk, hbk_style_of(HBK_FACE_CAPS, 12.0, unit, HBK_LEFT),
                     unit, text->part, page);
    walk.y += 0.8 * unit;
    put_titles(&walk, text);
    walk.y += 0.8 * unit;
    if (text->words != NULL) {
        put_words(&walk, text);
    }
    return walk.y + 2.2 * unit - y;
}

double hbk_part_excerpt_head(struct hbk_pad *pad,
                             const struct hbk_part_text *text,
                             const struct hbk_part_excerpt *excerpt, bool draw,
                             double x, double y)
{
    const double unit = text->unit;
    struct hbk_part_walk walk = {pad, draw, x, y, text->width};
    if (draw) {
        hbk_pad_group(pad);
    }
    walk.y += 2.0 * unit;
    hbk_part_paragraph(&walk, hbk_style_of(HBK_FACE_BOLD, 9.5, unit, HBK_LEFT),
                       HBK_TAG_HEADING, excerpt->heading);
    for (size_t i = 0; i < excerpt->n_lines; i++) {
        hbk_part_paragraph(&walk,
                           hbk_style_of(HBK_FACE_PLAIN, 9.0, unit, HBK_LEFT),
                           HBK_TAG_PARAGRAPH, excerpt->lines[i]);
    }
    return walk.y + 1.5 * unit - y;
}
