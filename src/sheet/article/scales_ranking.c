#include "sheet/article/scales_ranking.h"

#include "base/text.h"
#include "engrave/signature.h"
#include "sheet/article/pairs.h"
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

static struct hbk_style plain(const struct table *table, double points)
{
    return hbk_article_style(table->article, HBK_FACE_PLAIN, points);
}

static struct hbk_style bold(const struct table *table, double points)
{
    return hbk_article_style(table->article, HBK_FACE_BOLD, points);
}

static const char *note_name(const struct table *table,
                             const struct hbk_scale *key, int written)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        table->article->pad.sheet->arena, "%s",
        hbk_spelling_name(hbk_scale_spelling(key, written), HBK_UNICODE, name));
}

/* "G3 to C6, two octaves; lacks C♯4." */
static void add_reach(struct hbk_text *text, const struct table *table,
                      const struct hbk_scale *key)
{
    if (key->n_run == 0) {
        hbk_text_add(text, "Out of reach.\n");
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
    char name[HBK_KEY_NAME_SIZE];
    add_reach(&text, table, key);
    add_tuning(&text, table, key);
    add_moves(&text, table, key);
    return (struct cell){
        .key = key,
        .name = hbk_arena_printf(arena, "%s",
                                 hbk_scale_name(key, HBK_UNICODE, name)),
        .words =
            hbk_pad_wrap(&table->article->pad, plain(table, 7.5),
                         table->pairs.panel - place_room * table->article->unit,
                         hbk_text_string(&text))};
}

static double cell_height(const struct table *table, const struct cell *cell)
{
    return hbk_article_line(bold(table, 10.0)) +
           (double)cell->words.n * hbk_article_line(plain(table, 7.5)) +
           row_pad * table->article->unit;
}

static void draw_cell(struct table *table, const struct cell *cell, double x,
                      double y)
{
    struct hbk_pad *const pad = &table->article->pad;
    const double u = table->article->unit;
    const struct hbk_style name = bold(table, 10.0);
    const struct hbk_style words = plain(table, 7.5);
    struct hbk_style place = bold(table, 15.0);
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
    draw_signature(table, cells[0].key->signature, y);
    draw_cell(table, &cells[0], table->article->x + table->pairs.left, y);
    draw_cell(table, &cells[1], second.x, second.y);
    hbk_pairs_row_end(&table->pairs, height);
}

/* Row i: no accidental, one flat, one sharp, two flats ... */
static const struct hbk_scale *row_keys(const struct table *table, int i)
{
    const int signature = i % 2 == 1 ? -(i + 1) / 2 : i / 2;
    return &table->scales->keys[2 * (size_t)(signature + HBK_FLATS_MOST)];
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
        char name[HBK_KEY_NAME_SIZE];
        hbk_text_addf(text, "%s%s", any ? ", " : before,
                      hbk_scale_tonics(key, HBK_UNICODE, name));
        any = true;
    }
    if (any) {
        hbk_text_add(text, minor ? " minor" : " major");
    }
    return any;
}

/* "Lies well: C, G major; A minor. "; nothing where no key lies so. */
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
        add_lies(&text, table, HBK_LIES_WELL, "Lies well: ");
        add_lies(&text, table, HBK_LIES_BADLY, "Lies badly: ");
        add_lies(&text, table, HBK_LIES_NOT, "No whole octave of: ");
    }
    hbk_article_gap(table->article, 2.0 * table->article->unit);
    hbk_article_paragraph(table->article, bold(table, 9.0),
                          hbk_text_string(&text));
    hbk_article_gap(table->article, 1.0 * table->article->unit);
}

static void draw_legend(struct table *table)
{
    hbk_article_gap(table->article, 1.6 * table->article->unit);
    hbk_article_paragraph(
        table->article, plain(table, 7.0),
        "The large number is the key\u2019s place among the major or the "
        "minor ones, 1 the easiest: by how far its notes lie beyond what the "
        "lip corrects without a thought, what is out of reach, how long the "
        "hands need and what they find awkward. A key with two names stands "
        "once, under that with fewer accidentals. A dash: no whole octave lies "
        "on the horn. Notes "
        "are written ones, the longest unbroken run of the scale. Tuning: root "
        "of the mean square of the "
        "first fingerings, tuned as above. Minor scales are harmonic, the "
        "seventh raised up and down. Awkward: a finger jumps or changes, one "
        "goes down while another comes up, or two thumbs follow each other, "
        "on the easiest way through the scale.");
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
    draw_table(table);
    draw_legend(table);
    hbk_article_foot(article, notes);
}
