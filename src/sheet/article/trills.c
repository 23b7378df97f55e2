#include "sheet/article/trills.h"

#include "horn/about.h"
#include "music/pitch.h"
#include "sheet/article/trills_page.h"
#include "sheet/block/dot.h"
#include "sheet/words/words.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { OCTAVE = 12, HALVES = HBK_TRILLS_HALVES };

/* mm at unit 1. */
static const double label_room = 23.0;
static const double column_most = 26.0;
static const double head_gap = 2.2;
static const double row_gap = 2.4;
static const double extra_most = 9.0; /* white spread in a half-strip */
static const double foot_gap = 1.4;

/* Staff spaces, mm: at most at unit 1, and the least at any. */
static const double space_most = 2.05;
static const double space_least = 1.3;

/* Rules. */
static const double thin = 0.13;
static const double strong = 0.42;
static const double at_c = 0.5;

/* Points. */
static const double label_points = 10.5;
static const double foot_points = 7.8;
static const double foot_least = 7.5;

static double unit_of(enum hbk_paper paper)
{
    static const double units[HBK_PAPER_COUNT] = {[HBK_A4] = 1.0,
                                                  [HBK_A3] = 1.414,
                                                  [HBK_A5] = 0.74,
                                                  [HBK_A6] = 0.7,
                                                  [HBK_LETTER] = 0.96};
    return units[paper];
}

static bool has_trill(const struct hbk_trills_page *trills, size_t i)
{
    const struct hbk_trills *const all = trills->options->trills;
    return all->half[i].kind != HBK_TRILL_NONE ||
           all->whole[i].kind != HBK_TRILL_NONE;
}

/* Every note within reach; above the last trill there is nothing to show. */
static void list_cells(struct hbk_trills_page *trills)
{
    const struct hbk_notes *const notes = trills->notes;
    const struct hbk_trills *const all = trills->options->trills;
    struct hbk_arena *const arena = trills->article.pad.sheet->arena;
    size_t end = notes->n;
    while (end > 0 && !has_trill(trills, end - 1)) {
        end--;
    }
    trills->cells = HBK_ARENA_ARRAY(arena, struct hbk_trills_both, end + 1);
    for (size_t i = 0; i < end; i++) {
        if (notes->notes[i].n > 0) {
            struct hbk_trill_cell *const both = trills->cells[trills->n++].half;
            both[0] = hbk_trill_cell_of(notes, &all->half[i]);
            both[1] = hbk_trill_cell_of(notes, &all->whole[i]);
            trills->look.words |=
                hbk_trill_cell_words(both[0].trill)[0] != '\0' ||
                hbk_trill_cell_words(both[1].trill)[0] != '\0';
        }
    }
}

static int read_note(const struct hbk_trills_page *trills, size_t i)
{
    return hbk_notation_note(&trills->notes->notation,
                             trills->cells[i].half[0].trill->written);
}

/*
 * Rows begin at C, or at each share of an octave where a whole one is too wide.
 * One or two notes below the first C join its row, a last C the row before.
 */
static void set_rows(struct hbk_trills_page *trills, int step)
{
    trills->n_rows = 0;
    for (size_t i = 0; i < trills->n; i++) {
        const int note = read_note(trills, i);
        struct hbk_trills_row *const last =
            trills->n_rows == 0 ? NULL : &trills->rows[trills->n_rows - 1];
        const bool lone_top = i + 1 == trills->n && note % OCTAVE == 0;
        const bool few_below = trills->n_rows == 1 && last->n <= 2 &&
                               last->first == 0 && note % step == 0 &&
                               read_note(trills, 0) % step != 0;
        const bool begins =
            last == NULL || note / step != read_note(trills, i - 1) / step;
        if (begins && !(last != NULL && (lone_top || few_below))) {
            assert(HALVES * trills->n_rows < HBK_TRILLS_ROWS_MAX);
            trills->rows[trills->n_rows++] =
                (struct hbk_trills_row){.first = i, .n_halves = HALVES};
        }
        trills->rows[trills->n_rows - 1].n++;
    }
}

static size_t widest_row(const struct hbk_trills_page *trills)
{
    size_t most = 1;
    for (size_t i = 0; i < trills->n_rows; i++) {
        most = trills->rows[i].n > most ? trills->rows[i].n : most;
    }
    return most;
}

/* The longest rows whose cells can be read. */
static void set_columns(struct hbk_trills_page *trills)
{
    static const int steps[] = {OCTAVE, 6, 4, 3, 2};
    struct hbk_trill_look look = trills->look;
    double least = 0.0;
    look.space = space_least;
    for (size_t i = 0; i < trills->n; i++) {
        for (size_t k = 0; k < HALVES; k++) {
            least =
                fmax(least, hbk_trill_cell_least(&trills->article.pad, &look,
                                                 &trills->cells[i].half[k]));
        }
    }
    const double room = trills->article.width - trills->label;
    for (size_t i = 0; i < sizeof(steps) / sizeof(steps[0]); i++) {
        set_rows(trills, steps[i]);
        trills->look.column = fmin(room / (double)widest_row(trills),
                                   column_most * trills->look.unit);
        if (trills->look.column >= least) {
            return;
        }
    }
}

/* How far the notes of a row, and its clef, reach beyond the staff. */
static void set_reach(struct hbk_trills_page *trills)
{
    for (size_t i = 0; i < trills->n_rows; i++) {
        struct hbk_trills_row *const row = &trills->rows[i];
        hbk_clef_reach(trills->notes->notation.clef, &row->above, &row->below);
        for (size_t k = row->first; k < row->first + row->n; k++) {
            for (size_t h = row->half; h < row->half + row->n_halves; h++) {
                hbk_trill_cell_reach(&trills->look, &trills->cells[k].half[h],
                                     &row->above, &row->below);
            }
        }
    }
}

static double half_height(const struct hbk_trills_page *trills,
                          const struct hbk_trills_row *row, double extra)
{
    return hbk_trill_lines_of(&trills->look, row->above, row->below, extra).end;
}

static double row_height(const struct hbk_trills_page *trills,
                         const struct hbk_trills_row *row)
{
    return HALVES * half_height(trills, row, 0.0) + row_gap * trills->look.unit;
}

static struct hbk_style foot_style(const struct hbk_trills_page *trills)
{
    struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, foot_points, trills->look.unit, HBK_LEFT);
    style.size = fmax(style.size, HBK_PT(foot_least));
    return style;
}

static double foot_leading(const struct hbk_trills_page *trills)
{
    return 1.28 * foot_style(trills).size;
}

static struct hbk_lines foot_lines(const struct hbk_trills_page *trills)
{
    return hbk_pad_wrap(&trills->article.pad, foot_style(trills),
                        trills->article.width, trills->facts);
}

/* How the horn is set, and care: once, at the end. */
static double foot_height(const struct hbk_trills_page *trills)
{
    return foot_gap * trills->look.unit +
           foot_leading(trills) * (double)foot_lines(trills).n;
}

/* What the signs mean: on every page. */
static double legend_height(const struct hbk_trills_page *trills)
{
    return hbk_signs_height(&trills->article.pad, &trills->legend);
}

/* Room for rows on a page. */
static double page_room(const struct hbk_trills_page *trills)
{
    return trills->article.end - trills->article.paper.margin -
           hbk_head_height(&trills->article.pad, &trills->head) -
           head_gap * trills->look.unit - legend_height(trills);
}

static bool every_row_fits(const struct hbk_trills_page *trills)
{
    bool fits = true;
    for (size_t i = 0; i < trills->n_rows; i++) {
        fits =
            fits && row_height(trills, &trills->rows[i]) <= page_room(trills);
    }
    return fits;
}

/* Parts the half-strips of all rows where a page does not hold both. */
static void part_rows(struct hbk_trills_page *trills)
{
    if (every_row_fits(trills)) {
        return;
    }
    for (size_t i = trills->n_rows; i-- > 0;) {
        for (size_t h = 0; h < HALVES; h++) {
            struct hbk_trills_row *const part = &trills->rows[HALVES * i + h];
            *part = trills->rows[i];
        }
    }
    trills->n_rows *= HALVES;
    for (size_t i = 0; i < trills->n_rows; i++) {
        trills->rows[i].half = i % HALVES;
        trills->rows[i].n_halves = 1;
    }
    set_reach(trills);
}

/* How many rows from `first` on stand on a page, and what they take. */
static size_t rows_on_page(const struct hbk_trills_page *trills, size_t first,
                           double *sum)
{
    const double room = page_room(trills);
    size_t n = 0;
    *sum = 0.0;
    while (first + n < trills->n_rows) {
        const double height = row_height(trills, &trills->rows[first + n]);
        if (n > 0 && *sum + height > room + 1e-6) {
            break;
        }
        *sum += height;
        n++;
    }
    return n;
}

/* With the foot, which stands on the last page. */
static size_t count_pages(const struct hbk_trills_page *trills)
{
    size_t pages = 0;
    double sum = 0.0;
    for (size_t first = 0; first < trills->n_rows; pages++) {
        first += rows_on_page(trills, first, &sum);
    }
    return pages +
           (sum + foot_height(trills) > page_room(trills) + 1e-6 ? 1 : 0);
}

/* The largest staff that needs no more pages than the least one. */
static void set_space(struct hbk_trills_page *trills)
{
    struct hbk_trill_look *const look = &trills->look;
    /* Heads, accidentals and ledger lines of a cell: 8.4 spaces. */
    const double most =
        fmax(space_least, fmin(space_most * look->unit, look->column / 8.4));
    look->space = space_least;
    part_rows(trills);
    const size_t fewest = count_pages(trills);
    look->space = most;
    while (look->space > space_least &&
           (count_pages(trills) > fewest || !every_row_fits(trills))) {
        look->space = fmax(space_least, look->space - 0.05);
    }
}

/* The tints of half-tones, under everything. */
static void draw_tints(struct hbk_trills_page *trills,
                       const struct hbk_trills_row *row, double y,
                       double height)
{
    const struct hbk_trill_look *const look = &trills->look;
    const double x = trills->article.x + trills->label;
    trills->article.pad.group = 0;
    for (size_t i = 0; i < row->n; i++) {
        if (hbk_note_is_black(read_note(trills, row->first + i))) {
            hbk_pad_panel(&trills->article.pad, x + look->column * (double)i, y,
                          look->column, height, HBK_TINT);
        }
    }
}

/* The borders of cells, that of each C strong, and the rules of the row. */
static void draw_rules(struct hbk_trills_page *trills,
                       const struct hbk_trills_row *row, double y, double half)
{
    struct hbk_pad *const pad = &trills->article.pad;
    const struct hbk_trill_look *const look = &trills->look;
    const double u = fmax(look->unit, 1.0);
    const double left = trills->article.x + trills->label;
    const double width = trills->label + look->column * (double)row->n;
    pad->group = HBK_GROUP_STAFF;
    const double height = half * (double)row->n_halves;
    hbk_pad_line(pad, trills->article.x, y, width, 0.0, strong * u);
    if (row->n_halves > 1) {
        hbk_pad_line(pad, trills->article.x, y + half, width, 0.0, thin * u);
    }
    hbk_pad_line(pad, trills->article.x, y + height, width, 0.0, strong * u);
    for (size_t i = 0; i <= row->n; i++) {
        const bool is_c =
            i < row->n && read_note(trills, row->first + i) % OCTAVE == 0;
        const double pen = (is_c ? at_c : thin) * u;
        const double x =
            left + look->column * (double)i - (i == row->n ? 0.5 * pen : 0.0);
        hbk_pad_line(pad, x, y, 0.0, height, pen);
    }
}

/* "semitone above" at the left, beside the fingerings. */
static void draw_label(struct hbk_trills_page *trills, double y, double middle,
                       const char *words)
{
    struct hbk_pad *const pad = &trills->article.pad;
    struct hbk_style style = hbk_style_of(HBK_FACE_ITALIC, label_points,
                                          trills->look.unit, HBK_LEFT);
    style.size = fmax(style.size, HBK_PT(HBK_TRILLS_SENTENCE));
    const struct hbk_lines lines = hbk_pad_wrap(
        pad, style, trills->label - 1.0 * trills->look.unit, words);
    const double leading = 1.15 * style.size;
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_lines(pad, trills->article.x,
                  y + middle + 0.25 * style.size -
                      0.5 * leading * (double)(lines.n - 1),
                  style, leading, &lines);
    hbk_pad_close(pad, HBK_TAG_HEADER);
}

static void draw_half(struct hbk_trills_page *trills,
                      const struct hbk_trills_row *row, size_t half, double y,
                      double extra)
{
    static const char *const labels[] = {"semitone\nabove",
                                         "whole tone\nabove"};
    struct hbk_pad *const pad = &trills->article.pad;
    const struct hbk_trill_look *const look = &trills->look;
    const struct hbk_trill_lines lines =
        hbk_trill_lines_of(look, row->above, row->below, extra);
    const double left = trills->article.x + trills->label;
    const double clef = 4.0 * look->space;
    const struct hbk_staff staff = {.clef = trills->notes->notation.clef,
                                    .x = left - clef,
                                    .bottom = y + lines.bottom,
                                    .width =
                                        clef + look->column * (double)row->n,
                                    .space = look->space};
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_staff_open_lines(pad, &staff);
    hbk_staff_clef(pad, &staff);
    draw_label(trills, y, lines.middle, labels[half]);
    for (size_t i = 0; i < row->n; i++) {
        hbk_trill_cell_draw(
            pad, look, &lines, &staff,
            &trills->cells[row->first + i].half[half],
            (struct hbk_point){left + look->column * (double)i, y});
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
}

static void draw_row(struct hbk_trills_page *trills,
                     const struct hbk_trills_row *row, double extra)
{
    struct hbk_article *const article = &trills->article;
    const double half = half_height(trills, row, extra);
    const double y = article->y;
    const double height = half * (double)row->n_halves;
    draw_tints(trills, row, y, height);
    draw_rules(trills, row, y, half);
    hbk_pad_open(&article->pad, HBK_TAG_TABLE);
    for (size_t k = 0; k < row->n_halves; k++) {
        draw_half(trills, row, row->half + k, y + half * (double)k, extra);
    }
    hbk_pad_close(&article->pad, HBK_TAG_TABLE);
    article->y += height + row_gap * trills->look.unit;
}

static void draw_head(struct hbk_trills_page *trills)
{
    struct hbk_article *const article = &trills->article;
    const struct hbk_head *const head = &trills->head;
    const struct hbk_point at =
        hbk_head_draw(&article->pad, head, article->x, article->y);
    if (head->sign > 0.0) {
        const struct hbk_dot dot = {at.x + 1.2 * HBK_TRILLS_SIGN_RADIUS,
                                    at.y - 0.1 * HBK_TRILLS_SIGN_RADIUS,
                                    HBK_TRILLS_SIGN_RADIUS, "1"};
        hbk_pad_group(&article->pad);
        hbk_pad_open_figure(&article->pad, "A dot with a number:");
        hbk_dot_trill(&article->pad, &dot, false);
        hbk_pad_close(&article->pad, HBK_TAG_FIGURE);
    }
    article->y +=
        hbk_head_height(&article->pad, head) + head_gap * trills->look.unit;
}

/* Draws the legend at the end of a page, above so much room for the foot. */
static void draw_legend(struct hbk_trills_page *trills, double foot)
{
    struct hbk_article *const article = &trills->article;
    hbk_signs_draw(&article->pad, &trills->legend, article->x,
                   article->end - foot - legend_height(trills));
}

static void draw_foot(struct hbk_trills_page *trills, double y)
{
    const struct hbk_style style = foot_style(trills);
    const struct hbk_lines lines = foot_lines(trills);
    hbk_pad_block(&trills->article.pad, HBK_TAG_PARAGRAPH, trills->article.x,
                  y + foot_gap * trills->look.unit + 0.8 * style.size, style,
                  foot_leading(trills), &lines);
}

/* White that each half-strip of a page may have beside what it needs. */
static double spare(const struct hbk_trills_page *trills, double room,
                    size_t first, size_t n)
{
    double halves = 0.0;
    for (size_t i = first; i < first + n; i++) {
        halves += (double)trills->rows[i].n_halves;
    }
    return fmin(extra_most * trills->look.unit, fmax(0.0, room / halves));
}

/* The rows of a page and its legend; returns where the next row begins. */
static size_t draw_page(struct hbk_trills_page *trills, size_t first,
                        bool *has_foot)
{
    const double foot = foot_height(trills);
    double sum = 0.0;
    const size_t n = rows_on_page(trills, first, &sum);
    *has_foot =
        first + n == trills->n_rows && sum + foot <= page_room(trills) + 1e-6;
    const double room = page_room(trills) - sum - (*has_foot ? foot : 0.0);
    const double extra = spare(trills, room, first, n);
    for (size_t i = first; i < first + n; i++) {
        draw_row(trills, &trills->rows[i], extra);
    }
    draw_legend(trills, *has_foot ? foot : 0.0);
    return first + n;
}

static void draw_pages(struct hbk_trills_page *trills)
{
    struct hbk_article *const article = &trills->article;
    bool has_foot = false;
    draw_head(trills);
    if (trills->n_rows == 0) {
        hbk_article_paragraph(article,
                              hbk_article_style(article, HBK_FACE_PLAIN, 12.0),
                              "No trill can be played on this horn.");
    }
    for (size_t first = 0; first < trills->n_rows;) {
        first = draw_page(trills, first, &has_foot);
        if (!has_foot) {
            hbk_article_page(article);
            draw_head(trills);
        }
    }
    draw_foot(trills,
              has_foot ? article->end - foot_height(trills) : article->y);
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
    struct hbk_trills_page *const trills =
        HBK_ARENA_ARRAY(arena, struct hbk_trills_page, 1);
    const double unit = unit_of(options->paper);
    sheet->title = hbk_arena_printf(arena, "%s: trills", name);
    sheet->kind = "trills";
    sheet->subject = hbk_arena_printf(
        arena, "%s. %s.", hbk_words_sounds(arena, notes->written_c4_sounds),
        hbk_words_pitch(arena, &notes->setting));
    trills->notes = notes;
    trills->options = options;
    trills->look = (struct hbk_trill_look){
        .notes = notes, .unit = unit, .sounding = options->sounding};
    trills->label = label_room * fmax(unit, 0.8);
    hbk_article_begin(&trills->article, sheet, ruler,
                      hbk_paper_turned(hbk_paper_size(options->paper)),
                      hbk_article_unit(options->paper), name);
    list_cells(trills);
    set_columns(trills);
    set_reach(trills);
    hbk_trills_set_head(trills);
    hbk_trills_set_facts(trills);
    hbk_trills_set_legend(trills);
    set_space(trills);
    draw_pages(trills);
    return HBK_OK;
}
