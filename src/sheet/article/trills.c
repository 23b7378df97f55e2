#include "sheet/article/trills.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "notes/trills.h"
#include "sheet/article/pairs.h"
#include "sheet/block/heading.h"
#include "sheet/block/trill_hands.h"
#include "sheet/words/words.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* mm, in units of the article. */
static const double spot_pitch = 3.4;
static const double name_width = 13.0;
static const double sounding_width = 19.0;
static const double upper_width = 12.0;
static const double pair_most = 21.0;
static const double column_gap = 2.2;
static const double panel_gap = 5.0;
static const double words_least = 21.0;
/* The least circles are 1.6 mm across, 0.78 of this. */
static const double least_pitch = 2.06;
static const double row_pad = 1.5;

/* More than so many cents off is told, as the charts do. */
static const double told_cents = 30.0;

/* One trill as it is printed. */
struct cell {
    const struct hbk_trill *trill;
    struct hbk_lines pair;
    const char *verdict;
    struct hbk_lines words;
};

struct table {
    struct hbk_article article;
    const struct hbk_notes *notes;
    const struct hbk_trills *trills;
    struct hbk_hands hands;
    bool sounding;
    struct hbk_pairs pairs; /* the two intervals */
    double pair, fingers, words;
    double pitch;     /* of the hands; 0 where they find no room */
    bool words_below; /* the words stand under pair and hands */
};

static struct hbk_style plain(const struct table *table, double points)
{
    return hbk_article_style(&table->article, HBK_FACE_PLAIN, points);
}

static struct hbk_style bold(const struct table *table, double points)
{
    return hbk_article_style(&table->article, HBK_FACE_BOLD, points);
}

static bool is_usual(const struct table *table, int written,
                     const struct hbk_fingering *taken)
{
    const struct hbk_note *const note = hbk_notes_find(table->notes, written);
    return note->n > 0 && note->fingerings[0].press == taken->press;
}

/*
 * The press, or the partial of a horn that has nothing to press; a star when
 * the note is not taken so as a rule.
 */
static const char *label_of(const struct table *table, int written,
                            const struct hbk_fingering *taken)
{
    struct hbk_arena *const arena = table->article.pad.sheet->arena;
    if (hbk_horn_n_controls(table->notes->horn) == 0) {
        return hbk_arena_printf(arena, "p%u", taken->partial);
    }
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(table->notes->horn, taken->press, label);
    return hbk_arena_printf(arena, "%s%s", label,
                            is_usual(table, written, taken) ? "" : "*");
}

static const char *pair_of(const struct table *table,
                           const struct hbk_trill *trill)
{
    return trill->kind == HBK_TRILL_NONE
               ? "\u2013"
               : hbk_arena_printf(
                     table->article.pad.sheet->arena, "%s \u21C4 %s",
                     label_of(table, trill->written, trill->main),
                     label_of(table, trill->written + trill->interval,
                              trill->upper));
}

static void add_deviation(struct hbk_text *text, int written,
                          const struct hbk_fingering *taken)
{
    if (fabs(taken->cents) > told_cents) {
        hbk_text_addf(text, "; %s %.0f cents %s",
                      hbk_words_note(text->arena, written), fabs(taken->cents),
                      taken->cents > 0.0 ? "sharp" : "flat");
    }
}

/* A number stays on the line of what it numbers. */
static const char *held_together(struct hbk_arena *arena, const char *words)
{
    struct hbk_text text = {.arena = arena};
    for (const char *at = words; *at != '\0'; at++) {
        const bool before_number = at[0] == ' ' && at[1] >= '0' && at[1] <= '9';
        hbk_text_put(&text, before_number ? "\u00A0" : at,
                     before_number ? 2 : 1);
    }
    return hbk_text_string(&text);
}

static const char *words_of(const struct table *table,
                            const struct hbk_trill *trill)
{
    struct hbk_arena *const arena = table->article.pad.sheet->arena;
    const int high = trill->written + trill->interval;
    if (trill->kind == HBK_TRILL_NONE) {
        const struct hbk_note *const upper = hbk_notes_find(table->notes, high);
        return upper == NULL   ? "above the compass"
               : upper->n == 0 ? hbk_arena_printf(arena, "%s is out of reach",
                                                  hbk_words_note(arena, high))
                               : "the hands cannot do it";
    }
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, trill->words);
    add_deviation(&text, trill->written, trill->main);
    add_deviation(&text, high, trill->upper);
    return held_together(arena, hbk_text_string(&text));
}

static struct cell cell_of(const struct table *table,
                           const struct hbk_trill *trill)
{
    return (struct cell){
        .trill = trill,
        .pair = hbk_pad_wrap(&table->article.pad, bold(table, 9.5), table->pair,
                             pair_of(table, trill)),
        .verdict = hbk_trill_kind_name(trill->kind),
        .words = hbk_pad_wrap(&table->article.pad, plain(table, 7.0),
                              table->words, words_of(table, trill))};
}

/* What pair and hands take. */
static double signs_height(const struct table *table, const struct cell *cell)
{
    return fmax((double)table->hands.n_rows * table->pitch,
                (double)cell->pair.n * hbk_article_line(bold(table, 9.5)));
}

static double cell_height(const struct table *table, const struct cell *cell)
{
    const double words =
        hbk_article_line(bold(table, 8.5)) +
        (double)cell->words.n * hbk_article_line(plain(table, 7.0));
    const double signs = signs_height(table, cell);
    const double names =
        2.0 * hbk_article_line(bold(table, 9.5)) +
        (table->sounding ? hbk_article_line(plain(table, 7.0)) : 0.0);
    const double height =
        table->words_below ? signs + words : fmax(signs, words);
    return fmax(height, names) + row_pad * table->article.unit;
}

/* Both names of a black note, one above the other; returns where they end. */
static double draw_names(struct table *table, struct hbk_style style, int note,
                         double x, double y)
{
    struct hbk_pad *const pad = &table->article.pad;
    char name[HBK_NAME_SIZE];
    hbk_spelling_name(hbk_note_sharp(note), HBK_UNICODE, name);
    hbk_pad_text(pad, x, y + 0.8 * style.size, style, name);
    if (hbk_note_is_black(note)) {
        hbk_spelling_name(hbk_note_flat(note), HBK_UNICODE, name);
        y += hbk_article_line(style);
        hbk_pad_text(pad, x, y + 0.8 * style.size, style, name);
    }
    return y + hbk_article_line(style);
}

static void draw_sounding(struct table *table, int written, double x, double y)
{
    struct hbk_pad *const pad = &table->article.pad;
    struct hbk_arena *const arena = pad->sheet->arena;
    const struct hbk_style style = plain(table, 7.0);
    hbk_pad_text(
        pad, x, y + 0.8 * style.size, style,
        hbk_arena_printf(arena, "sounds %s",
                         hbk_words_sounding(arena, written,
                                            table->notes->written_c4_sounds)));
}

static void draw_cell(struct table *table, const struct cell *cell, double x,
                      double y)
{
    struct hbk_pad *const pad = &table->article.pad;
    const double u = table->article.unit;
    const struct hbk_trill *const trill = cell->trill;
    const struct hbk_style pair = bold(table, 9.5);
    const struct hbk_style verdict =
        trill->kind == HBK_TRILL_EASY ? bold(table, 8.5) : plain(table, 8.5);
    double base = y + 0.8 * bold(table, 8.5).size;
    hbk_pad_open(pad, HBK_TAG_CELL);
    hbk_pad_group(pad);
    (void)draw_names(table, plain(table, 8.5), trill->written + trill->interval,
                     x, y);
    x += (upper_width + column_gap) * u;
    const double left = x;
    hbk_pad_lines(pad, x, base, pair, hbk_article_line(pair), &cell->pair);
    x += table->pair + column_gap * u;
    if (trill->kind != HBK_TRILL_NONE && table->pitch > 0.0) {
        const struct hbk_shake shake = {
            .left = x + 0.5 * table->pitch,
            .y = y + 0.45 * table->pitch,
            .pitch = table->pitch,
            .lower = trill->main->press,
            .upper = trill->upper->press,
        };
        hbk_trill_hands_draw(pad, table->notes->horn, &table->hands, &shake);
        hbk_pad_group(pad);
    }
    x += table->fingers;
    if (table->words_below) {
        x = left;
        base += signs_height(table, cell);
    }
    hbk_pad_text(pad, x, base, verdict, cell->verdict);
    hbk_pad_lines(pad, x, base + hbk_article_line(bold(table, 8.5)),
                  plain(table, 7.0), hbk_article_line(plain(table, 7.0)),
                  &cell->words);
    hbk_pad_close(pad, HBK_TAG_CELL);
}

/* The note, and beside it (or beside each other) its two trills. */
static void draw_row(struct table *table, int written,
                     const struct cell cells[2], double height)
{
    struct hbk_article *const article = &table->article;
    struct hbk_pad *const pad = &article->pad;
    const double y = hbk_pairs_row(&table->pairs, height);
    const struct hbk_point second =
        hbk_pairs_second(&table->pairs, y, cell_height(table, &cells[0]));
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_group(pad);
    const double below =
        draw_names(table, bold(table, 9.5), written, article->x, y);
    if (table->sounding) {
        draw_sounding(table, written, article->x, below);
    }
    hbk_pad_close(pad, HBK_TAG_HEADER);
    draw_cell(table, &cells[0], article->x + table->pairs.left, y);
    draw_cell(table, &cells[1], second.x, second.y);
    hbk_pairs_row_end(&table->pairs, height);
}

static void draw_table(struct table *table)
{
    for (size_t i = 0; i < table->notes->n; i++) {
        if (table->notes->notes[i].n == 0) {
            continue;
        }
        const struct cell cells[2] = {cell_of(table, &table->trills->half[i]),
                                      cell_of(table, &table->trills->whole[i])};
        draw_row(table, table->notes->notes[i].written, cells,
                 hbk_pairs_height(&table->pairs, cell_height(table, &cells[0]),
                                  cell_height(table, &cells[1])));
    }
    hbk_pairs_end(&table->pairs);
}

static double hands_width(const struct table *table, double pitch)
{
    return table->hands.n == 0 || pitch <= 0.0
               ? 0.0
               : (table->hands.width + 1.0) * pitch +
                     column_gap * table->article.unit;
}

/* Dozens of keys on a small paper: the words go below, the hands close up. */
static void stack(struct table *table, double before)
{
    const double u = table->article.unit;
    const double room = table->pairs.panel - before - column_gap * u;
    table->words_below = true;
    table->words = table->pairs.panel - (upper_width + column_gap) * u;
    table->pitch = fmin(spot_pitch * u, room / (table->hands.width + 1.0));
    if (table->pitch < least_pitch) {
        table->pitch = 0.0;
    }
}

/* Columns as wide as what stands in them, the words get the rest. */
static void set_columns(struct table *table)
{
    const double u = table->article.unit;
    const struct hbk_pad *const pad = &table->article.pad;
    const struct hbk_style style = bold(table, 9.5);
    double widest = 0.0;
    double widest_part = 0.0;
    for (size_t i = 0; i < table->notes->n; i++) {
        const struct hbk_trill *const both[] = {&table->trills->half[i],
                                                &table->trills->whole[i]};
        for (size_t k = 0; k < 2; k++) {
            const char *const pair = pair_of(table, both[k]);
            widest = fmax(widest, hbk_pad_width(pad, style, pair));
            widest_part =
                fmax(widest_part,
                     hbk_pad_wrap(pad, style, 0.6 * widest, pair).widest);
        }
    }
    const double left = (table->sounding ? sounding_width : name_width) * u;
    const double room = table->article.width - left;
    /* A long pair may take two lines, broken at the arrows. */
    table->pair = fmin(widest, fmax(widest_part, pair_most * u)) + 0.01;
    const double before = (upper_width + 2.0 * column_gap) * u + table->pair;
    const double half = 0.5 * (room - panel_gap * u);
    const double hands = hands_width(table, spot_pitch * u);
    const bool side_by_side = half - before - hands >= words_least * u;
    table->pairs = (struct hbk_pairs){
        .article = &table->article,
        .side_by_side = side_by_side,
        .left = left,
        .panel = side_by_side ? half : room,
        .gap = panel_gap * u,
        .row_pad = row_pad * u,
        .over_left = "Note",
        .over = {"to the semitone above", "to the whole tone above"},
        .over_both = "to the semitone and the tone above"};
    table->words = table->pairs.panel - before - hands;
    table->pitch = table->hands.n == 0 ? 0.0 : spot_pitch * u;
    if (table->words < words_least * u) {
        stack(table, before);
    }
    table->fingers = hands_width(table, table->pitch);
}

static const double explained_gap = 0.6;
static const double sign_room = 6.0;

static struct hbk_lines explained(const struct table *table, const char *words)
{
    const struct hbk_article *const article = &table->article;
    return hbk_pad_wrap(&article->pad, plain(table, 7.0),
                        article->width - sign_room * article->unit, words);
}

/* A sign of the legend with its words behind it. */
static void explain(struct table *table, bool is_held, bool upper,
                    const char *words)
{
    static const struct hbk_control shut_key = {.kind = HBK_KEY};
    struct hbk_article *const article = &table->article;
    struct hbk_pad *const pad = &article->pad;
    const double u = article->unit;
    const struct hbk_style style = plain(table, 7.0);
    const struct hbk_lines lines = explained(table, words);
    const double height = (double)lines.n * hbk_article_line(style);
    hbk_article_room(article, height);
    hbk_pad_group(pad);
    if (is_held) {
        hbk_spot_draw(pad, &shut_key, article->x + 1.8 * u,
                      article->y + 1.5 * u, 1.2 * u, true);
    } else {
        hbk_trill_hands_spot(pad, &shut_key, article->x + 1.8 * u,
                             article->y + 1.5 * u, 1.2 * u, upper);
    }
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_lines(pad, article->x + sign_room * u,
                  article->y + 0.8 * style.size, style, hbk_article_line(style),
                  &lines);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
    article->y += height + explained_gap * u;
}

/* On the filled circle, and on the other signs where there are any. */
static const char *held_words(const struct table *table)
{
    const struct hbk_horn *const horn = table->notes->horn;
    bool square = false;
    bool doubled = false;
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const bool moves = (table->hands.stuck >> i & 1u) == 0;
        square = square || (moves && hbk_horn_control(horn, i)->stands_open);
        doubled = doubled || (moves && hbk_horn_control(horn, i)->rests_in);
    }
    return hbk_arena_printf(
        table->article.pad.sheet->arena,
        "pressed for both notes; an empty one for neither. As at the head, "
        "%s.%s%s%s",
        hbk_hands_order(&table->hands),
        square ? " Square: a key that stands open." : "",
        doubled ? " Double circle: a valve that raises." : "",
        table->hands.stuck != 0 ? " Crossed: stuck." : "");
}

static const char *const lower_words =
    "this finger shakes: pressed for the lower note only.";
static const char *const upper_words =
    "this finger shakes: pressed for the upper note only.";
static const char *const verdict_words =
    "*: not the usual fingering of that note; the pairs are those that shake "
    "best. Easy: one finger moves, free of its neighbours, and the lip stays. "
    "By lip: nothing is pressed or let go. Awkward: all else, with the reason.";
static const double legend_gap = 1.6;

static double legend_height(const struct table *table)
{
    const struct hbk_article *const article = &table->article;
    double height =
        legend_gap * article->unit +
        hbk_article_paragraph_height(article, plain(table, 7.0), verdict_words);
    if (table->hands.n > 0) {
        const size_t lines = explained(table, held_words(table)).n +
                             explained(table, lower_words).n +
                             explained(table, upper_words).n;
        height += (double)lines * hbk_article_line(plain(table, 7.0)) +
                  3.0 * explained_gap * article->unit;
    }
    return height;
}

/* Legend, note and foot stay together where a page holds them. */
static void draw_legend(struct table *table)
{
    struct hbk_article *const article = &table->article;
    const double together =
        legend_height(table) + hbk_article_foot_height(article, table->notes);
    if (together <= article->end - article->paper.margin -
                        hbk_running_head_height(article->unit)) {
        hbk_article_room(article, together);
    }
    hbk_article_gap(article, legend_gap * article->unit);
    if (table->hands.n > 0) {
        explain(table, true, false, held_words(table));
        explain(table, false, false, lower_words);
        explain(table, false, true, upper_words);
    }
    hbk_article_paragraph(article, plain(table, 7.0), verdict_words);
}

enum hbk_status hbk_sheet_trills(const struct hbk_notes *notes,
                                 const struct hbk_sheet_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet)
{
    size_t reached = 0;
    assert(options->trills != NULL && options->trills->n == notes->n);
    for (size_t i = 0; i < notes->n; i++) {
        reached += notes->notes[i].n > 0 ? 1 : 0;
    }
    if (reached == 0) {
        return HBK_ERR_DOMAIN;
    }
    struct hbk_arena *const arena = sheet->arena;
    const char *const name =
        options->title == NULL ? hbk_horn_name(notes->horn) : options->title;
    struct table *const table = HBK_ARENA_ARRAY(arena, struct table, 1);
    table->notes = notes;
    table->sounding = options->sounding;
    sheet->title = hbk_arena_printf(arena, "%s: trills", name);
    sheet->kind = "trills";
    sheet->subject = hbk_arena_printf(
        arena, "%s. %s.", hbk_words_sounds(arena, notes->written_c4_sounds),
        hbk_words_pitch(arena, &notes->setting));
    hbk_article_begin(&table->article, sheet, ruler,
                      hbk_paper_size(options->paper),
                      hbk_article_unit(options->paper), name);
    table->trills = options->trills;
    hbk_hands_arrange(notes->horn, &table->hands);
    table->hands.stuck =
        notes->setting.stuck.held_down | notes->setting.stuck.held_up;
    hbk_article_horn(&table->article, notes, options);
    hbk_article_gap(&table->article, 2.0 * table->article.unit);
    set_columns(table);
    draw_table(table);
    draw_legend(table);
    hbk_article_foot(&table->article, notes);
    return HBK_OK;
}
