#include "sheet/article/scales_ranking.h"

#include "base/text.h"
#include "engrave/signature.h"
#include "sheet/article/pairs.h"
#include "sheet/article/scale_staff.h"
#include "sheet/words/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* mm, in units of the article. */
static const double staff_space = 1.4;
static const double signature_room = 18.5;
static const double place_room = 9.5;
static const double panel_gap = 6.0;
static const double panel_least = 58.0;
static const double row_pad = 3.0;
static const double least_points = 7.5; /* of the book face */

struct table {
    struct hbk_article *article;
    const struct hbk_notes *notes;
    const struct hbk_scales *scales;
    struct hbk_pairs pairs; /* major and minor */
};

/* One key as it is printed. */
struct cell {
    const struct hbk_scale *key;
    const char *name;
    struct hbk_lines words;
};

/* Words in the book face, 8.5 points at unit 1. */
static struct hbk_style words_style(const struct table *table)
{
    struct hbk_style style =
        hbk_article_style(table->article, HBK_FACE_PLAIN, 8.5);
    style.size = fmax(style.size, HBK_PT(least_points));
    return style;
}

static struct hbk_style caps(const struct table *table)
{
    return hbk_article_style(table->article, HBK_FACE_CAPS, 13.0);
}

static const char *note_name(const struct table *table,
                             const struct hbk_scale *key, int written)
{
    const struct hbk_notation *const notation = &table->notes->notation;
    const struct hbk_scale read = hbk_scale_read(key, notation);
    const struct hbk_spelling spelling =
        hbk_scale_spelling(&read, hbk_notation_note(notation, written));
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        table->article->pad.sheet->arena, "%s%d",
        hbk_spelling_called(spelling, notation->naming, HBK_UNICODE, name),
        spelling.octave);
}

/* "G3 to C6, two octaves; lacks C♯4." */
static void add_reach(struct hbk_text *text, const struct table *table,
                      const struct hbk_scale *key)
{
    if (key->n_run == 0) {
        hbk_text_add(text, "No note of it can be played.\n");
        return;
    }
    const struct hbk_scale_note *const run = &key->notes[key->run];
    hbk_text_addf(text, "%s to %s", note_name(table, key, run[0].written),
                  note_name(table, key, run[key->n_run - 1].written));
    if (key->octaves > 0) {
        hbk_text_addf(text, ", %s octave%s",
                      hbk_words_count(text->arena, key->octaves, false),
                      key->octaves == 1 ? "" : "s");
    }
    const char *before = "; lacks ";
    for (size_t i = 0; i < key->n; i++) {
        if (key->notes[i].taken == NULL) {
            hbk_text_addf(text, "%s%s", before,
                          note_name(table, key, key->notes[i].written));
            before = ", ";
        }
    }
    hbk_text_add(text, ".\n");
}

static void add_tuning(struct hbk_text *text, const struct table *table,
                       const struct hbk_scale *key)
{
    if (key->n_reached == 0) {
        return;
    }
    const double rms = round(key->rms_cents);
    hbk_text_addf(text, "Tuning %.0f cent%s", rms, rms == 1.0 ? "" : "s");
    const double worst = round(fabs(key->worst_cents));
    if (worst > 0.0) {
        hbk_text_addf(text, "; worst %s, %.0f %s",
                      note_name(table, key, key->worst), worst,
                      key->worst_cents > 0.0 ? "sharp" : "flat");
    }
    hbk_text_add(text, ".\n");
}

static void add_moves(struct hbk_text *text, const struct table *table,
                      const struct hbk_scale *key)
{
    if (key->n_moves == 0) {
        return;
    }
    if (key->n_awkward == 0) {
        hbk_text_add(text, "No awkward move.");
        return;
    }
    hbk_text_addf(text, "%s awkward of %zu moves",
                  hbk_words_count(text->arena, key->n_awkward, true),
                  key->n_moves);
    const struct hbk_scale_move *const worst = &key->awkward[0];
    const struct hbk_scale_note *const low = &key->notes[worst->from];
    hbk_text_addf(text, "; %s\u2013%s: %s.",
                  note_name(table, key, low[0].written),
                  note_name(table, key, low[1].written), worst->why);
}

static struct cell cell_of(const struct table *table,
                           const struct hbk_scale *key)
{
    struct hbk_arena *const arena = table->article->pad.sheet->arena;
    struct hbk_text text = {.arena = arena};
    add_reach(&text, table, key);
    add_tuning(&text, table, key);
    add_moves(&text, table, key);
    return (struct cell){
        .key = key,
        .name = hbk_scale_heading(arena, key, &table->notes->notation),
        .words =
            hbk_pad_wrap(&table->article->pad, words_style(table),
                         table->pairs.panel - place_room * table->article->unit,
                         hbk_text_string(&text))};
}

static double cell_height(const struct table *table, const struct cell *cell)
{
    return hbk_article_line(caps(table)) +
           (double)cell->words.n * hbk_article_line(words_style(table)) +
           row_pad * table->article->unit;
}

static void draw_cell(struct table *table, const struct cell *cell, double x,
                      double y)
{
    struct hbk_pad *const pad = &table->article->pad;
    const double u = table->article->unit;
    const struct hbk_style name = caps(table);
    const struct hbk_style words = words_style(table);
    struct hbk_style place =
        hbk_article_style(table->article, HBK_FACE_FIGURE, 16.0);
    place.align = HBK_RIGHT;
    hbk_pad_open(pad, HBK_TAG_CELL);
    hbk_pad_group(pad);
    hbk_pad_text(pad, x + (place_room - 2.5) * u, y + 0.8 * place.size, place,
                 cell->key->place == 0
                     ? "\u2013"
                     : hbk_arena_printf(pad->sheet->arena, "%u",
                                        cell->key->place_in_mode));
    hbk_pad_group(pad);
    x += place_room * u;
    hbk_pad_text(pad, x, y + 0.8 * name.size, name, cell->name);
    hbk_pad_lines(pad, x, y + hbk_article_line(name) + 0.8 * words.size, words,
                  hbk_article_line(words), &cell->words);
    hbk_pad_close(pad, HBK_TAG_CELL);
}

static void draw_signature(struct table *table, int sharps, double y)
{
    struct hbk_article *const article = table->article;
    struct hbk_pad *const pad = &article->pad;
    const double space = staff_space * article->unit;
    double above = 0.0;
    double below = 0.0;
    hbk_clef_reach(table->notes->notation.clef, &above, &below);
    const struct hbk_staff staff = {.clef = table->notes->notation.clef,
                                    .x = article->x,
                                    .bottom = y + (above + 4.0) * space,
                                    .width = signature_room * article->unit,
                                    .space = space};
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_say(pad, staff.x, staff.bottom,
                sharps == 0
                    ? "no sharps or flats"
                    : hbk_arena_printf(pad->sheet->arena, "%d %s%s",
                                       sharps < 0 ? -sharps : sharps,
                                       sharps < 0 ? "flat" : "sharp",
                                       sharps * sharps == 1 ? "" : "s"));
    hbk_staff_lines(pad, &staff);
    hbk_staff_clef(pad, &staff);
    hbk_signature_draw(pad, &staff, sharps, staff.x + 4.0 * space);
    hbk_pad_close(pad, HBK_TAG_HEADER);
}

/* The staff takes so much with its clef. */
static double signature_height(const struct table *table)
{
    double above = 0.0;
    double below = 0.0;
    hbk_clef_reach(table->notes->notation.clef, &above, &below);
    return (above + 4.0 + below) * staff_space * table->article->unit +
           row_pad * table->article->unit;
}

static void draw_row(struct table *table, const struct cell cells[2],
                     double height)
{
    const double y = hbk_pairs_row(&table->pairs, height);
    const struct hbk_point second =
        hbk_pairs_second(&table->pairs, y, cell_height(table, &cells[0]));
    draw_signature(
        table, hbk_scale_read(cells[0].key, &table->notes->notation).signature,
        y);
    draw_cell(table, &cells[0], table->article->x + table->pairs.left, y);
    draw_cell(table, &cells[1], second.x, second.y);
    hbk_pairs_row_end(&table->pairs, height);
}

/* Row i: no accidental, one flat, one sharp, two flats ... as it is read. */
static const struct hbk_scale *row_keys(const struct table *table, int i)
{
    const int signature = i % 2 == 1 ? -(i + 1) / 2 : i / 2;
    const struct hbk_scale *keys = table->scales->keys;
    while (hbk_scale_read(keys, &table->notes->notation).signature !=
           signature) {
        keys += 2; /* major and minor */
    }
    return keys;
}

static void draw_table(struct table *table)
{
    for (int i = 0; i < HBK_KEYS / 2; i++) {
        const struct hbk_scale *const keys = row_keys(table, i);
        const struct cell cells[2] = {cell_of(table, &keys[0]),
                                      cell_of(table, &keys[1])};
        const double both =
            hbk_pairs_height(&table->pairs, cell_height(table, &cells[0]),
                             cell_height(table, &cells[1]));
        draw_row(table, cells, fmax(both, signature_height(table)));
    }
    hbk_pairs_end(&table->pairs);
}

/* "G, C, F, D major" of those that lie so, the easiest first. */
static bool add_keys(struct hbk_text *text, const struct table *table,
                     bool minor, enum hbk_scale_lie lies, const char *before)
{
    bool any = false;
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_scale *const key =
            &table->scales->keys[table->scales->order[i]];
        if (key->minor != minor || key->lies != lies) {
            continue;
        }
        hbk_text_addf(
            text, "%s%s", any ? ", " : before,
            hbk_scale_tonic_read(text->arena, key, &table->notes->notation));
        any = true;
    }
    if (any) {
        hbk_text_add(text, minor ? " minor" : " major");
    }
    return any;
}

/* "Easiest keys: C, G major; A minor. "; nothing where no key lies so. */
static void add_lies(struct hbk_text *text, const struct table *table,
                     enum hbk_scale_lie lies, const char *how)
{
    const bool major = add_keys(text, table, false, lies, how);
    if (add_keys(text, table, true, lies, major ? "; " : how) || major) {
        hbk_text_add(text, ". ");
    }
}

/* The best and the worst, for who reads no further. */
static void draw_summary(struct table *table)
{
    struct hbk_text text = {.arena = table->article->pad.sheet->arena};
    if (table->scales->n_placed == 0) {
        hbk_text_add(&text, HBK_SCALES_NONE);
    } else {
        add_lies(&text, table, HBK_LIES_WELL, "Easiest scales: ");
        add_lies(&text, table, HBK_LIES_BADLY, "Hardest scales: ");
        add_lies(&text, table, HBK_LIES_NOT, "No whole octave: ");
    }
    hbk_article_gap(table->article, 2.0 * table->article->unit);
    hbk_article_paragraph(
        table->article, hbk_article_style(table->article, HBK_FACE_PLAIN, 11.0),
        hbk_text_string(&text));
    hbk_article_gap(table->article, 1.0 * table->article->unit);
}

static void draw_legend(struct table *table)
{
    hbk_article_gap(table->article, 1.6 * table->article->unit);
    hbk_article_paragraph(
        table->article, words_style(table),
        "The large number is the place among the major or the minor "
        "scales; 1 is the easiest. It counts how far notes are beyond what "
        "is easily lipped into tune, notes that are missing, the time the "
        "fingers need and awkward moves. A dash: no whole octave on this horn. "
        "A scale with two names stands under the one with fewer accidentals. "
        "The notes are written ones: the longest run of the scale without a "
        "gap. Tuning: root mean square of the first fingerings. Minor scales "
        "are harmonic: the seventh is raised up and down. Awkward: a finger "
        "jumps or changes keys, one finger goes down as another comes up, or "
        "the two thumbs follow each other, on the easiest way through the "
        "scale.");
}

static void set_columns(struct table *table)
{
    struct hbk_article *const article = table->article;
    const double u = article->unit;
    const double left = (signature_room + 2.0) * u;
    const double half = 0.5 * (article->width - left - panel_gap * u);
    const bool side_by_side = half >= panel_least * u;
    table->pairs =
        (struct hbk_pairs){.article = article,
                           .side_by_side = side_by_side,
                           .left = left,
                           .panel = side_by_side ? half : article->width - left,
                           .gap = panel_gap * u,
                           .row_pad = row_pad * u,
                           .over = {"Major", "Minor"},
                           .over_both = "Major, and the minor below",
                           .indent = place_room * u};
}

void hbk_scales_ranking_draw(struct hbk_article *article,
                             const struct hbk_notes *notes,
                             const struct hbk_scales *scales)
{
    struct hbk_arena *const arena = article->pad.sheet->arena;
    struct table *const table = HBK_ARENA_ARRAY(arena, struct table, 1);
    table->article = article;
    table->notes = notes;
    table->scales = scales;
    set_columns(table);
    draw_summary(table);
    if (scales->n_placed > 0) {
        draw_table(table);
        draw_legend(table);
    }
    hbk_article_foot(article, notes);
}
