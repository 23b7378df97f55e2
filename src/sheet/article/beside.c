#include "sheet/article/beside.h"

#include "horn/about.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/article/article.h"
#include "sheet/words/words.h"
#include "sheet/words/words_beside.h"
#include "sheet/words/words_system.h"

#include <math.h>
#include <string.h>

/* mm, in units of the article. */
static const double row_height = 5.2;
static const double head_height = 6.0;
static const double block_least = 54.0;
static const double block_gap = 8.0;
/* 1.6 mm across on any paper. */
static const double least_disc = 0.8;

/* Where the columns of a block stand, in shares of its width. */
static const double known_share = 0.62;
static const double here_share = 0.9;

struct table {
    struct hbk_article *article;
    const struct hbk_notes *here, *known;
    size_t n;
    int written[HBK_NOTE_MAX + 1]; /* that either horn reaches */
    size_t blocks;
    double block; /* width */
};

static const char *label_of(struct hbk_arena *arena,
                            const struct hbk_notes *notes, int written)
{
    const struct hbk_note *const note = hbk_notes_find(notes, written);
    char label[HBK_LABEL_SIZE];
    if (note == NULL || note->n == 0) {
        return "\u2013";
    }
    hbk_horn_press_label(notes->horn, note->fingerings[0].press, label);
    return hbk_arena_copy(arena, label, strlen(label));
}

static void cell(struct hbk_pad *pad, double x, double y,
                 struct hbk_style style, double width, const char *text)
{
    hbk_pad_open(pad, HBK_TAG_CELL);
    hbk_pad_text(pad, x, y, hbk_pad_fit(pad, style, width, 0.4, text), text);
    hbk_pad_close(pad, HBK_TAG_CELL);
}

/*
 * A disc before the notes that change, a ring where only the fingers do, and
 * the new fingering in bold.
 */
static void draw_row(const struct table *table, int written, double x, double y)
{
    struct hbk_pad *const pad = &table->article->pad;
    struct hbk_arena *const arena = pad->sheet->arena;
    const double u = table->article->unit;
    const enum hbk_beside_note what =
        hbk_beside_note(table->here, table->known, written);
    const bool changes = what != HBK_BESIDE_SAME;
    const double base = y + 3.6 * u;
    struct hbk_style plain =
        hbk_article_style(table->article, HBK_FACE_PLAIN, 8.5);
    struct hbk_style mark = hbk_article_style(
        table->article, changes ? HBK_FACE_BOLD : HBK_FACE_PLAIN, 9.5);
    hbk_pad_group(pad);
    hbk_pad_line(pad, x, y + row_height * u, table->block, 0.0, 0.1 * u);
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_pad_open(pad, HBK_TAG_HEADER);
    if (changes) {
        const double radius = fmax(0.8 * u, least_disc);
        const double pen = 0.25 * radius;
        if (what == HBK_BESIDE_FINGER) {
            hbk_pad_ring(pad, x + 1.2 * u, base - 1.1 * u, radius - 0.5 * pen,
                         pen);
        } else {
            hbk_pad_disc(pad, x + 1.2 * u, base - 1.1 * u, radius);
        }
    }
    hbk_pad_text(pad, x + 3.4 * u, base, plain, hbk_words_note(arena, written));
    hbk_pad_close(pad, HBK_TAG_HEADER);
    plain.align = HBK_CENTRE;
    mark.align = HBK_CENTRE;
    const double room = 2.0 * (1.0 - here_share) * table->block;
    cell(pad, x + known_share * table->block, base, plain,
         (here_share - known_share) * table->block,
         label_of(arena, table->known, written));
    cell(pad, x + here_share * table->block, base, mark, fmax(room, 11.0 * u),
         label_of(arena, table->here, written));
    hbk_pad_close(pad, HBK_TAG_ROW);
}

static void draw_head(const struct table *table, double x, double y)
{
    struct hbk_pad *const pad = &table->article->pad;
    const double u = table->article->unit;
    const double base = y + 4.2 * u;
    struct hbk_style style =
        hbk_article_style(table->article, HBK_FACE_PLAIN, 7.5);
    hbk_pad_group(pad);
    hbk_pad_line(pad, x, y + head_height * u, table->block, 0.0, 0.25 * u);
    hbk_pad_open(pad, HBK_TAG_ROW);
    cell(pad, x + 3.4 * u, base, style, 0.4 * table->block, "note");
    style.align = HBK_CENTRE;
    cell(pad, x + known_share * table->block, base, style, 0.3 * table->block,
         "you know");
    style.face = HBK_FACE_BOLD;
    cell(pad, x + here_share * table->block, base, style, 0.2 * table->block,
         "here");
    hbk_pad_close(pad, HBK_TAG_ROW);
}

/* Blocks side by side, filled downwards, over as many pages as they take. */
static void draw_table(const struct table *table)
{
    struct hbk_article *const article = table->article;
    const double u = article->unit;
    for (size_t from = 0; from < table->n;) {
        hbk_article_room(article, (head_height + 4.0 * row_height) * u);
        const double room =
            (article->end - article->y) / u - head_height + 1e-9;
        const size_t fit = room < row_height ? 1 : (size_t)(room / row_height);
        const size_t left = table->n - from;
        const size_t even = (left + table->blocks - 1) / table->blocks;
        const size_t rows = even < fit ? even : fit;
        hbk_pad_open(&article->pad, HBK_TAG_TABLE);
        for (size_t b = 0; b < table->blocks && from < table->n; b++) {
            const double x =
                article->x + (double)b * (table->block + block_gap * u);
            draw_head(table, x, article->y);
            for (size_t i = 0; i < rows && from < table->n; i++) {
                draw_row(table, table->written[from++], x,
                         article->y +
                             (head_height + (double)i * row_height) * u);
            }
        }
        hbk_pad_close(&article->pad, HBK_TAG_TABLE);
        article->y += (head_height + (double)rows * row_height) * u;
    }
}

static void set_table(struct table *table)
{
    const double u = table->article->unit;
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        if (hbk_beside_note(table->here, table->known, written) !=
            HBK_BESIDE_NEITHER) {
            table->written[table->n++] = written;
        }
    }
    const double blocks = (table->article->width + block_gap * u) /
                          ((block_least + block_gap) * u);
    table->blocks = blocks < 1.0 ? 1 : (size_t)blocks;
    table->block =
        (table->article->width - (double)(table->blocks - 1) * block_gap * u) /
        (double)table->blocks;
}

/* The words on one horn: its name in bold, then how it works. */
static void describe(struct hbk_article *article, const char *role,
                     const struct hbk_notes *notes)
{
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_style bold =
        hbk_article_style(article, HBK_FACE_BOLD, 8.5);
    const struct hbk_style plain =
        hbk_article_style(article, HBK_FACE_PLAIN, 8.5);
    hbk_article_paragraph(
        article, bold,
        hbk_arena_printf(arena, "%s: %s", role, hbk_horn_name(notes->horn)));
    const char *const rest = hbk_words_rest(arena, notes, HBK_WORDS_BRIEF);
    hbk_article_paragraph(
        article, plain,
        hbk_arena_printf(arena, "%s. %s %s%s%s",
                         hbk_words_sounds(arena, notes->written_c4_sounds),
                         hbk_words_set(arena, notes, HBK_WORDS_BRIEF), rest,
                         rest[0] == '\0' ? "" : " ",
                         hbk_words_system(arena, notes)));
    hbk_article_gap(article, 1.2 * article->unit);
}

/* The warning in a frame, which no eye passes over. */
static void warn(struct hbk_article *article, const char *text)
{
    const double u = article->unit;
    struct hbk_pad *const pad = &article->pad;
    const struct hbk_style style =
        hbk_article_style(article, HBK_FACE_BOLD, 10.0);
    const double step = 1.3 * style.size;
    const struct hbk_lines lines =
        hbk_pad_wrap(pad, style, article->width - 6.0 * u, text);
    const double height = (double)lines.n * step + 4.0 * u;
    hbk_article_gap(article, 1.0 * u);
    hbk_article_room(article, height);
    hbk_pad_group(pad);
    /* The pen's outer edge stands on the margin. */
    const double pen = 0.6 * u;
    hbk_pad_frame(pad, article->x + 0.5 * pen, article->y + 0.5 * pen,
                  article->width - pen, height - pen, pen);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_lines(pad, article->x + 3.0 * u,
                  article->y + 2.0 * u + 0.8 * style.size, style, step, &lines);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
    article->y += height + 1.4 * u;
}

void hbk_sheet_beside(const struct hbk_notes *here,
                      const struct hbk_sheet_options *options,
                      const struct hbk_ruler *ruler, struct hbk_sheet *sheet)
{
    const struct hbk_notes *const known = options->beside;
    struct hbk_arena *const arena = sheet->arena;
    struct hbk_article article;
    const char *const title =
        options->title == NULL ? hbk_horn_name(here->horn) : options->title;
    hbk_article_begin(&article, sheet, ruler, hbk_paper_size(options->paper),
                      hbk_article_unit(options->paper), title);
    const struct hbk_style plain =
        hbk_article_style(&article, HBK_FACE_PLAIN, 8.5);
    hbk_article_title(&article, hbk_arena_printf(arena, "If you know the %s",
                                                 hbk_horn_name(known->horn)));
    describe(&article, "This horn", here);
    describe(&article, "The horn you know", known);
    const char *const warning = hbk_beside_warning(arena, here, known);
    if (warning[0] != '\0') {
        warn(&article, warning);
    }
    const char *const controls = hbk_beside_controls(arena, here, known);
    hbk_article_heading(&article, "What changes", 12.0 * article.unit);
    hbk_article_paragraph(&article, plain,
                          hbk_beside_sounds(arena, here, known));
    hbk_article_paragraph(&article, plain, controls);
    hbk_article_paragraph(&article, plain,
                          hbk_beside_summary(arena, here, known));
    struct table table = {.article = &article, .here = here, .known = known};
    set_table(&table);
    hbk_article_heading(&article, "First fingerings side by side",
                        (head_height + 4.0 * row_height) * article.unit);
    hbk_article_paragraph(
        &article, hbk_article_style(&article, HBK_FACE_PLAIN, 7.5),
        "A disc marks what is not as you know it, a ring the same number under "
        "another finger; 0 is nothing pressed, \u2013 out of reach.");
    hbk_article_gap(&article, 0.8 * article.unit);
    draw_table(&table);
}
