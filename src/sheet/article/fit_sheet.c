#include "sheet/article/fit_sheet.h"

#include "base/number.h"
#include "horn/about.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/article/fit_rows.h"
#include "sheet/block/wedge.h"
#include "sheet/words/fit_names_words.h"
#include "sheet/words/fit_words.h"

#include <math.h>
#include <string.h>

static const double line_height = 4.3; /* units */

struct page {
    struct hbk_pad pad;
    const struct hbk_fit_report *report;
    struct hbk_paper_size paper;
    const char *title;
    double unit;
    double width;
    double y;
};

static void begin_page(struct page *page)
{
    const size_t n = page->pad.sheet->n_pages + 1;
    hbk_pad_page(&page->pad, page->paper,
                 n == 1 ? page->title
                        : hbk_arena_printf(page->pad.sheet->arena,
                                           "%s, page %zu", page->title, n));
    page->y = page->paper.margin;
}

static double room(const struct page *page)
{
    return page->paper.height - page->paper.margin - page->y;
}

static void paragraph(struct page *page, struct hbk_style style,
                      enum hbk_tag tag, const char *text)
{
    const double leading = 1.3 * style.size;
    if (room(page) < hbk_pad_paragraph_height(&page->pad, style, leading,
                                              page->width, text)) {
        begin_page(page);
    }
    const struct hbk_point at = {page->paper.margin, page->y};
    page->y += hbk_pad_paragraph(&page->pad, tag, style, leading, at,
                                 page->width, text);
}

/* A heading that is not left alone at the foot of a page. */
static void heading(struct page *page, const char *text)
{
    const double u = page->unit;
    if (room(page) < (8.0 + 3.0 * line_height) * u) {
        begin_page(page);
    }
    page->y += 3.0 * u;
    paragraph(page, hbk_style_of(HBK_FACE_BOLD, 10.0, page->unit, HBK_LEFT),
              HBK_TAG_HEADING, text);
    page->y += 1.0 * u;
}

static void draw_heading(struct page *page)
{
    const struct hbk_fit_report *const report = page->report;
    struct hbk_arena *const arena = page->pad.sheet->arena;
    const double u = page->unit;
    const size_t aside = report->n - report->n_used;
    paragraph(
        page,
        hbk_pad_fit(&page->pad,
                    hbk_style_of(HBK_FACE_CAPS, 19.0, page->unit, HBK_LEFT),
                    page->width, 0.6, page->title),
        HBK_TAG_TITLE, page->title);
    hbk_pad_group(&page->pad);
    hbk_pad_line(&page->pad, page->paper.margin, page->y, page->width, 0.0,
                 0.5 * u);
    page->y += 2.0 * u;
    paragraph(
        page, hbk_style_of(HBK_FACE_PLAIN, 9.0, page->unit, HBK_LEFT),
        HBK_TAG_PARAGRAPH,
        hbk_arena_printf(
            arena, "Fitted to %s%s%s. %s %s",
            hbk_fit_words_fitted(arena, report),
            report->names.n < report->n ? " of a tuner" : "",
            aside == 0 ? "" : hbk_arena_printf(arena, "; %zu not used", aside),
            hbk_fit_words_gain(arena, report),
            hbk_fit_words_sure(arena, report)));
    paragraph(page, hbk_style_of(HBK_FACE_PLAIN, 9.0, page->unit, HBK_LEFT),
              HBK_TAG_PARAGRAPH, hbk_fit_words_odd(arena, report));
    paragraph(page, hbk_style_of(HBK_FACE_PLAIN, 9.0, page->unit, HBK_LEFT),
              HBK_TAG_PARAGRAPH, hbk_fit_words_names(arena, report));
    paragraph(page, hbk_style_of(HBK_FACE_PLAIN, 8.0, page->unit, HBK_LEFT),
              HBK_TAG_PARAGRAPH, hbk_fit_words_marks(arena, report));
}

static void draw_readings(struct page *page)
{
    const struct hbk_fit_report *const report = page->report;
    const double u = page->unit;
    struct hbk_arena *const arena = page->pad.sheet->arena;
    const struct hbk_fit_setups setups = hbk_fit_setups(arena, report);
    const struct hbk_fit_rows rows = {.report = report,
                                      .setups = &setups,
                                      .unit = u,
                                      .x = page->paper.margin,
                                      .width = page->width,
                                      .range = hbk_fit_rows_range(report)};
    const double row = HBK_FIT_ROW_HEIGHT * u;
    const double head = HBK_FIT_HEAD_HEIGHT * u;
    for (size_t i = 0; i < report->n;) {
        if (room(page) < head + (4.0 * row)) {
            begin_page(page);
        }
        hbk_pad_open(&page->pad, HBK_TAG_TABLE);
        hbk_fit_rows_head(&page->pad, &rows, page->y);
        page->y += head;
        const size_t fit = (size_t)(room(page) / row);
        const size_t here = fit < report->n - i ? fit : report->n - i;
        hbk_fit_rows_grid(&page->pad, &rows, page->y, here);
        for (size_t k = 0; k < here; k++, i++) {
            hbk_fit_rows_draw(&page->pad, &rows, page->y, i);
            page->y += row;
        }
        hbk_pad_close(&page->pad, HBK_TAG_TABLE);
    }
    const struct hbk_style small =
        hbk_style_of(HBK_FACE_PLAIN, 7.5, page->unit, HBK_LEFT);
    page->y += 1.0 * u;
    paragraph(page, small, HBK_TAG_PARAGRAPH,
              hbk_fit_words_setups(arena, &setups));
    paragraph(page, small, HBK_TAG_PARAGRAPH,
              hbk_fit_words_alone(arena, report));
    paragraph(page, small, HBK_TAG_PARAGRAPH,
              hbk_fit_words_learning(arena, report));
}

static void draw_cells(struct page *page, bool is_head, struct hbk_style style,
                       const double at[4], const char *const cells[4])
{
    struct hbk_pad *const pad = &page->pad;
    const double u = page->unit;
    if (room(page) < line_height * u) {
        /* Parts end with their page. */
        hbk_pad_close(pad, HBK_TAG_TABLE);
        begin_page(page);
        hbk_pad_open(pad, HBK_TAG_TABLE);
    }
    hbk_pad_open(pad, HBK_TAG_ROW);
    for (size_t i = 0; i < 4; i++) {
        const double width = page->width * (at[i + (i < 3 ? 1 : 0)] - at[i]);
        const struct hbk_style fitted =
            i < 3 ? hbk_pad_fit(pad, style, width - 1.0 * u, 0.6, cells[i])
                  : style;
        hbk_pad_group(pad);
        const enum hbk_tag tag = is_head  ? HBK_TAG_COLUMN
                                 : i == 0 ? HBK_TAG_HEADER
                                          : HBK_TAG_CELL;
        hbk_pad_open(pad, tag);
        const double x = page->paper.margin + page->width * at[i];
        if (cells[i][0] == '\0') {
            hbk_pad_say(pad, x, page->y + 3.1 * u, "what");
        }
        hbk_pad_text(pad, x, page->y + 3.1 * u, fitted, cells[i]);
        hbk_pad_close(pad, tag);
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
    page->y += line_height * u;
}

static const double value_columns[4] = {0.0, 0.38, 0.58, 0.86};

/* As closely as it is known, with a minus, which is no hyphen. */
static const char *known(struct hbk_arena *arena, double value, double sd)
{
    char text[HBK_KNOWN_SIZE];
    hbk_known_text(value, sd, text);
    return hbk_arena_printf(arena, "%s%s", text[0] == '-' ? "\u2212" : "",
                            text + (text[0] == '-' ? 1 : 0));
}

static void draw_value(struct page *page, const struct hbk_fit_value *value)
{
    struct hbk_arena *const arena = page->pad.sheet->arena;
    const double sd = value->after_sd;
    const char *const cells[4] = {
        value->what,
        hbk_arena_printf(arena, "%s %s", known(arena, value->before, sd),
                         value->unit),
        hbk_arena_printf(arena, "%s \u00b1 %s %s",
                         known(arena, value->after, sd), known(arena, sd, sd),
                         value->unit),
        hbk_arena_printf(arena, "%zu", value->n_readings)};
    draw_cells(page, false,
               hbk_style_of(HBK_FACE_PLAIN, 8.5, page->unit, HBK_LEFT),
               value_columns, cells);
}

static void draw_values(struct page *page)
{
    const struct hbk_fit_report *const report = page->report;
    struct hbk_arena *const arena = page->pad.sheet->arena;
    const char *const names[4] = {"", "file", "fitted",
                                  hbk_fit_words_told_by(report)};
    size_t n = 0;
    const size_t *const order = hbk_fit_rows_order(arena, report, &n);
    heading(page, "What was learned");
    if (n > 0) {
        hbk_pad_open(&page->pad, HBK_TAG_TABLE);
        draw_cells(page, true,
                   hbk_style_of(HBK_FACE_PLAIN, 7.0, page->unit, HBK_LEFT),
                   value_columns, names);
        for (size_t i = 0; i < n; i++) {
            draw_value(page, &report->values[order[i]]);
        }
        hbk_pad_close(&page->pad, HBK_TAG_TABLE);
        page->y += 1.0 * page->unit;
    }
    const struct hbk_style small =
        hbk_style_of(HBK_FACE_PLAIN, 7.5, page->unit, HBK_LEFT);
    paragraph(page, small, HBK_TAG_PARAGRAPH,
              hbk_fit_words_kept(arena, report));
    paragraph(page, small, HBK_TAG_PARAGRAPH,
              hbk_fit_words_player(arena, report));
    paragraph(page, small, HBK_TAG_PARAGRAPH,
              hbk_fit_words_shape(arena, report));
    paragraph(page, small, HBK_TAG_PARAGRAPH,
              hbk_fit_words_untold(arena, report));
    paragraph(page, small, HBK_TAG_PARAGRAPH,
              hbk_fit_words_twins(arena, report));
}

static void draw_next(struct page *page)
{
    static const double columns[4] = {0.0, 0.14, 0.38, 0.62};
    static const char *const names[4] = {"note", "fingering",
                                         "should read, tuned",
                                         "all notes then known within"};
    const struct hbk_fit_report *const report = page->report;
    struct hbk_arena *const arena = page->pad.sheet->arena;
    if (report->n_next == 0) {
        return;
    }
    heading(page, "Read next, most useful first");
    hbk_pad_open(&page->pad, HBK_TAG_TABLE);
    draw_cells(page, true,
               hbk_style_of(HBK_FACE_PLAIN, 7.0, page->unit, HBK_LEFT), columns,
               names);
    for (size_t i = 0; i < report->n_next; i++) {
        const struct hbk_fit_next *const next = &report->next[i];
        char name[HBK_NAME_SIZE];
        char label[HBK_LABEL_SIZE];
        char cents[HBK_CENTS_SIZE];
        const char *const cells[4] = {
            hbk_note_name(next->written, HBK_UNICODE, name),
            hbk_horn_press_label(report->horn, next->press, label),
            hbk_arena_printf(arena, "%s \u00b1 %.0f cents",
                             hbk_cents_text(next->cents, cents),
                             next->cents_sd),
            hbk_arena_printf(arena, "%.1f cents", next->notes_sd)};
        draw_cells(page, false,
                   hbk_style_of(HBK_FACE_PLAIN, 8.5, page->unit, HBK_LEFT),
                   columns, cells);
    }
    hbk_pad_close(&page->pad, HBK_TAG_TABLE);
}

void hbk_sheet_fit(const struct hbk_fit_report *report,
                   const struct hbk_sheet_options *options,
                   const struct hbk_ruler *ruler, struct hbk_sheet *sheet)
{
    static const double units[HBK_PAPER_COUNT] = {[HBK_A4] = 1.0,
                                                  [HBK_A3] = 1.35,
                                                  [HBK_A5] = 0.9,
                                                  [HBK_A6] = 0.8,
                                                  [HBK_LETTER] = 1.0};
    const char *const title =
        options->title == NULL ? hbk_horn_name(report->horn) : options->title;
    struct page page = {
        .pad = {.sheet = sheet, .ruler = ruler},
        .report = report,
        .paper = hbk_paper_size(options->paper),
        .title = hbk_arena_copy(sheet->arena, title, strlen(title)),
        .unit = units[options->paper],
    };
    page.width = page.paper.width - 2.0 * page.paper.margin;
    sheet->title = page.title;
    sheet->kind = "fitting";
    sheet->subject = "Horn fitted to tuner readings";
    begin_page(&page);
    draw_heading(&page);
    draw_readings(&page);
    draw_values(&page);
    draw_next(&page);
}
