#include "sheet/article/curve_sheet.h"

#include "horn/about.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/block/curve_plot.h"
#include "sheet/words/words.h"

#include <math.h>
#include <string.h>

/* mm, in units of the sheet. */
static const double row_height = 7.0;
static const double head_height = 4.2;
static const double column_least = 13.2;
static const double column_most = 22.0;
static const double sample_length = 8.0;

struct page {
    struct hbk_pad pad;
    const struct hbk_curves *curves;
    struct hbk_paper_size paper;
    double unit;
    double width;
    unsigned highest; /* partial in the table */
    bool more;        /* partials above that were found too */
};

static double paragraph(struct page *page, struct hbk_style style, double y,
                        enum hbk_tag tag, const char *text)
{
    const double leading = 1.28 * style.size;
    const struct hbk_lines lines =
        hbk_pad_wrap(&page->pad, style, page->width, text);
    hbk_pad_block(&page->pad, tag, page->paper.margin, y + 0.76 * style.size,
                  style, leading, &lines);
    return y + (double)lines.n * leading;
}

static double heading(struct page *page, const char *title)
{
    const double u = page->unit;
    const struct hbk_notes *const about = &page->curves->about;
    struct hbk_arena *const arena = page->pad.sheet->arena;
    double y = paragraph(
        page,
        hbk_pad_fit(&page->pad,
                    hbk_style_of(HBK_FACE_BOLD, 16.0, page->unit, HBK_LEFT),
                    page->width, 0.6, title),
        page->paper.margin, HBK_TAG_TITLE, title);
    hbk_pad_group(&page->pad);
    hbk_pad_line(&page->pad, page->paper.margin, y, page->width, 0.0, 0.5 * u);
    y += 2.0 * u;
    return paragraph(
        page, hbk_style_of(HBK_FACE_PLAIN, 8.5, page->unit, HBK_LEFT), y,
        HBK_TAG_PARAGRAPH,
        hbk_arena_printf(arena, "%s. %s %s",
                         hbk_words_sounds(arena, about->written_c4_sounds),
                         hbk_words_set(arena, about, HBK_WORDS_FULL),
                         hbk_words_rest(arena, about, HBK_WORDS_FULL)));
}

/* Width of the column with the fingerings. */
static double label_width(const struct page *page)
{
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_BOLD, 8.0, page->unit, HBK_LEFT);
    double widest = hbk_pad_width(
        &page->pad, hbk_style_of(HBK_FACE_PLAIN, 7.0, page->unit, HBK_LEFT),
        "fingering");
    for (size_t i = 0; i < page->curves->n; i++) {
        char label[HBK_LABEL_SIZE];
        hbk_horn_press_label(page->curves->about.horn,
                             page->curves->curves[i].press, label);
        widest = fmax(widest, (sample_length + 1.5) * page->unit +
                                  hbk_pad_width(&page->pad, style, label));
    }
    return widest + 2.0 * page->unit;
}

/* How many partials the table has columns for. */
static void choose_columns(struct page *page)
{
    unsigned found = 0;
    for (size_t i = 0; i < page->curves->n; i++) {
        const struct hbk_curve *const curve = &page->curves->curves[i];
        for (size_t k = 0; k < curve->n_maxima; k++) {
            found = curve->maxima[k].partial > found ? curve->maxima[k].partial
                                                     : found;
        }
    }
    const double room =
        (page->width - label_width(page)) / (column_least * page->unit);
    const unsigned most = room < 1.0 ? 1 : (unsigned)room;
    page->highest = found < most ? found : most;
    page->more = found > most;
}

static const struct hbk_curve_maximum *find(const struct hbk_curve *curve,
                                            unsigned partial)
{
    for (size_t k = 0; k < curve->n_maxima; k++) {
        if (curve->maxima[k].partial == partial) {
            return &curve->maxima[k];
        }
    }
    return NULL;
}

/* "B♭4 −12" over "463.2". */
static void draw_cell(struct page *page, const struct hbk_curve_maximum *m,
                      double x, double y)
{
    struct hbk_pad *const pad = &page->pad;
    struct hbk_arena *const arena = pad->sheet->arena;
    const double u = page->unit;
    struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, 7.5, page->unit, HBK_CENTRE);
    hbk_pad_open(pad, HBK_TAG_CELL);
    if (m == NULL) {
        hbk_pad_text(pad, x, y + 2.9 * u, style, "\u2013");
        hbk_pad_close(pad, HBK_TAG_CELL);
        return;
    }
    if (m->written >= 0 && m->written <= HBK_NOTE_MAX) {
        char name[HBK_NAME_SIZE];
        const double cents = round(m->cents);
        hbk_pad_text(
            pad, x, y + 2.9 * u, style,
            hbk_arena_printf(arena, "%s %s%.0f",
                             hbk_spelling_name(hbk_note_usual(m->written),
                                               HBK_UNICODE, name),
                             cents == 0.0  ? ""
                             : cents < 0.0 ? "\u2212"
                                           : "+",
                             fabs(cents)));
    }
    style.size = HBK_PT(6.5) * u;
    hbk_pad_text(pad, x, y + 5.7 * u, style,
                 hbk_arena_printf(arena, "%.1f", m->hz));
    hbk_pad_close(pad, HBK_TAG_CELL);
}

static void draw_head(struct page *page, double x, double y, double column)
{
    struct hbk_pad *const pad = &page->pad;
    const double u = page->unit;
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_text(pad, page->paper.margin, y + 2.9 * u,
                 hbk_style_of(HBK_FACE_PLAIN, 7.0, page->unit, HBK_LEFT),
                 "fingering");
    hbk_pad_close(pad, HBK_TAG_HEADER);
    for (unsigned p = 1; p <= page->highest; p++) {
        hbk_pad_open(pad, HBK_TAG_HEADER);
        hbk_pad_text(pad, x + (p - 0.5) * column, y + 2.9 * u,
                     hbk_style_of(HBK_FACE_BOLD, 7.5, page->unit, HBK_CENTRE),
                     hbk_arena_printf(pad->sheet->arena, "%u", p));
        hbk_pad_close(pad, HBK_TAG_HEADER);
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
}

static double table_height(const struct page *page)
{
    return (head_height + row_height * (double)page->curves->n) * page->unit;
}

static void draw_table(struct page *page, double y)
{
    struct hbk_pad *const pad = &page->pad;
    const double u = page->unit;
    const double x = page->paper.margin + label_width(page);
    const double column =
        fmin((page->paper.margin + page->width - x) / (double)page->highest,
             column_most * u);
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_TABLE);
    draw_head(page, x, y, column);
    y += head_height * u;
    for (size_t i = 0; i < page->curves->n; i++, y += row_height * u) {
        const struct hbk_curve *const curve = &page->curves->curves[i];
        char label[HBK_LABEL_SIZE];
        hbk_pad_line(pad, page->paper.margin, y,
                     x - page->paper.margin + column * page->highest, 0.0,
                     0.15 * u);
        hbk_pad_open(pad, HBK_TAG_ROW);
        hbk_pad_open(pad, HBK_TAG_HEADER);
        hbk_plot_sample(pad, i, page->paper.margin, y + 3.6 * u,
                        sample_length * u, u);
        hbk_pad_text(pad, page->paper.margin + (sample_length + 1.5) * u,
                     y + 4.6 * u,
                     hbk_style_of(HBK_FACE_BOLD, 8.0, page->unit, HBK_LEFT),
                     hbk_horn_press_label(page->curves->about.horn,
                                          curve->press, label));
        hbk_pad_close(pad, HBK_TAG_HEADER);
        for (unsigned p = 1; p <= page->highest; p++) {
            draw_cell(page, find(curve, p), x + (p - 0.5) * column, y);
        }
        hbk_pad_close(pad, HBK_TAG_ROW);
    }
    hbk_pad_close(pad, HBK_TAG_TABLE);
}

static bool has_side_maxima(const struct hbk_curves *curves)
{
    for (size_t i = 0; i < curves->n; i++) {
        if (find(&curves->curves[i], 0) != NULL) {
            return true;
        }
    }
    return false;
}

static const char *caption(const struct page *page, bool has_table)
{
    struct hbk_arena *const arena = page->pad.sheet->arena;
    return hbk_arena_printf(
        arena,
        "Input impedance Z of the air column at the mouthpiece, computed, "
        "without the player: the level is 20 log |Z| S/\u03c1c, S the area of "
        "the bore where the column begins. Numbers are partials; %s.%s%s %s",
        has_table ? "the table has the nearest written note, the cents by "
                    "which the maximum lies above or below it, and hertz"
                  : "along the top stand the written notes",
        has_table && page->more
            ? " Partials beyond the last column are not listed."
            : "",
        has_side_maxima(page->curves)
            ? " A maximum without a number is a side resonance."
            : "",
        hbk_words_provenance(arena, page->curves->about.horn));
}

static void lay(struct page *page, const char *title)
{
    const double u = page->unit;
    const double top = heading(page, title) + 1.0 * u;
    const double end = page->paper.height - page->paper.margin;
    const struct hbk_style small =
        hbk_style_of(HBK_FACE_PLAIN, 7.0, page->unit, HBK_LEFT);
    choose_columns(page);
    /* On a small page many rows would leave the plot too low to read. */
    const bool has_table =
        page->highest > 0 && table_height(page) < 0.4 * (end - top);
    const char *const words = caption(page, has_table);
    const double words_height =
        1.28 * small.size *
        (double)hbk_pad_wrap(&page->pad, small, page->width, words).n;
    const double table = has_table ? table_height(page) + 1.5 * u : 0.0;
    const double foot = end - words_height - 1.0 * u;
    const struct hbk_plot plot = {.curves = page->curves,
                                  .unit = u,
                                  .x = page->paper.margin,
                                  .y = top,
                                  .width = page->width,
                                  .height = foot - table - top};
    hbk_plot_draw(&page->pad, &plot);
    if (has_table) {
        draw_table(page, foot - table + 1.0 * u);
    }
    paragraph(page, small, foot + 1.0 * u, HBK_TAG_PARAGRAPH, words);
}

void hbk_sheet_curves(const struct hbk_curves *curves,
                      const struct hbk_sheet_options *options,
                      const struct hbk_ruler *ruler, struct hbk_sheet *sheet)
{
    static const double units[HBK_PAPER_COUNT] = {[HBK_A4] = 1.0,
                                                  [HBK_A3] = 1.35,
                                                  [HBK_A5] = 0.86,
                                                  [HBK_A6] = 0.8,
                                                  [HBK_LETTER] = 1.0};
    struct hbk_arena *const arena = sheet->arena;
    struct page page = {
        .pad = {.sheet = sheet, .ruler = ruler},
        .curves = curves,
        .paper = hbk_paper_turned(hbk_paper_size(options->paper)),
        .unit = units[options->paper],
    };
    page.width = page.paper.width - 2.0 * page.paper.margin;
    const char *const title = options->title == NULL
                                  ? hbk_horn_name(curves->about.horn)
                                  : options->title;
    sheet->title = hbk_arena_copy(arena, title, strlen(title));
    sheet->kind = "curves";
    sheet->subject = "Input impedance against frequency";
    hbk_pad_page(&page.pad, page.paper, sheet->title);
    lay(&page, sheet->title);
}
