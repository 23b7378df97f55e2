#include "sheet/chart/flow.h"

#include "horn/about.h"
#include "sheet/words/words.h"

#include <math.h>
#include <string.h>

/* mm, in units of the gamut. */
static const double widest_row_gap = 12.0;
/* In units of the legend. */
static const double tube_gap = 1.6;

enum hbk_status hbk_flow_begin(struct hbk_flow *flow,
                               const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet)
{
    *flow = (struct hbk_flow){.notes = notes,
                              .pad = {.sheet = sheet, .ruler = ruler}};
    struct hbk_arena *arena = sheet->arena;
    hbk_gamut_choose(arena, notes, &flow->chosen);
    if (flow->chosen.n == 0) {
        return HBK_ERR_DOMAIN;
    }
    const char *title =
        options->title == NULL ? hbk_horn_name(notes->horn) : options->title;
    sheet->title = hbk_arena_copy(arena, title, strlen(title));
    sheet->kind = "chart";
    sheet->subject = hbk_arena_printf(
        arena, "%s. %s.", hbk_words_sounds(arena, notes->written_c4_sounds),
        hbk_words_pitch(arena, &notes->setting));
    const char *beyond = "";
    if (flow->chosen.n_left_out > 0) {
        beyond =
            hbk_arena_printf(arena, "Between %s and %s it cannot play %s. ",
                             hbk_words_note(arena, notes->lowest),
                             hbk_words_note(arena, notes->highest),
                             hbk_words_note_runs(arena, flow->chosen.n_left_out,
                                                 flow->chosen.left_out));
    }
    flow->heading = (struct hbk_heading){.notes = notes,
                                         .title = sheet->title,
                                         .also = beyond,
                                         .whom = options->whom};
    hbk_hands_arrange(notes->horn, &flow->heading.hands);
    flow->heading.hands.stuck =
        notes->setting.stuck.held_down | notes->setting.stuck.held_up;
    flow->legend = (struct hbk_legend){.notes = notes,
                                       .compared = options->beside != NULL};
    flow->gamut = (struct hbk_gamut){.notes = notes,
                                     .hands = flow->heading.hands,
                                     .n = flow->chosen.n,
                                     .shown = flow->chosen.shown,
                                     .unit = 1.0,
                                     .per_row = 1,
                                     .sounding = options->sounding,
                                     .beside = options->beside,
                                     .care = true};
    return HBK_OK;
}

void hbk_flow_set_paper(struct hbk_flow *flow, struct hbk_paper_size paper,
                        struct hbk_flow_units units)
{
    const double width = paper.width - 2.0 * paper.margin;
    flow->paper = paper;
    flow->heading.unit = units.heading;
    flow->legend.unit = units.legend;
    flow->heading.width = width;
    flow->legend.width = width;
    flow->gamut.width = width;
    flow->tube = (struct hbk_unrolled){flow->notes, units.legend, width};
    flow->heading_height = hbk_heading_height(&flow->pad, &flow->heading);
    /* Dozens of keys on the smallest paper: smaller is better than cut off. */
    while (flow->heading_height > paper.height - 2.0 * paper.margin &&
           flow->heading.unit > HBK_HEADING_LEAST_UNIT) {
        flow->heading.unit *= 0.95;
        flow->heading_height = hbk_heading_height(&flow->pad, &flow->heading);
    }
    flow->legend_height = hbk_legend_height(&flow->pad, &flow->legend);
}

double hbk_flow_tube_height(const struct hbk_flow *flow)
{
    const double height = hbk_unrolled_height(&flow->pad, &flow->tube);
    return height > 0.0 ? height + tube_gap * flow->tube.unit : 0.0;
}

double hbk_flow_rows_height(const struct hbk_flow *flow)
{
    const struct hbk_gamut *gamut = &flow->gamut;
    double height = 0.0;
    for (size_t row = 0; row < hbk_gamut_rows(gamut); row++) {
        height +=
            hbk_gamut_row_height(gamut, row) + HBK_FLOW_ROW_GAP * gamut->unit;
    }
    return height;
}

/* Rows of the gamut from `row` on that fit above `bottom`. */
static size_t rows_that_fit(const struct hbk_gamut *gamut, size_t row, double y,
                            double bottom)
{
    const size_t all = hbk_gamut_rows(gamut);
    size_t n = 0;
    while (row + n < all) {
        y += HBK_FLOW_ROW_GAP * gamut->unit +
             hbk_gamut_row_height(gamut, row + n);
        if (y > bottom + 1e-9) {
            break;
        }
        n++;
    }
    return n;
}

static double first_top(const struct hbk_flow *flow)
{
    return flow->paper.margin + flow->heading_height;
}

static double further_top(const struct hbk_flow *flow)
{
    return flow->paper.margin + hbk_running_head_height(flow->heading.unit);
}

static double bottom_of(const struct hbk_flow *flow)
{
    return flow->paper.height - flow->paper.margin;
}

/* What stands on one page: rows, then the tube, then the legend. */
struct portion {
    size_t row, n;
    bool tube, legend;
    bool too_tall; /* a row is taller than a page */
};

/* Whether all rows from `row` and `height` mm below them end at the foot. */
static bool rest_fits(const struct hbk_flow *flow, size_t row, double y,
                      double height)
{
    const struct hbk_gamut *gamut = &flow->gamut;
    const double end =
        bottom_of(flow) - height - HBK_FLOW_ROW_GAP * gamut->unit;
    const size_t left = hbk_gamut_rows(gamut) - row;
    return y + height <= bottom_of(flow) &&
           rows_that_fit(gamut, row, y, end) == left;
}

/*
 * Once all rows have room but not what follows them: the tube shares the next
 * page with the legend or, where these two are too tall, this page with the
 * rows or the next with the last of them. It never has a page for itself
 * while anything can stand beside it.
 */
static struct portion last_rows(const struct hbk_flow *flow, size_t row,
                                double y, double tube)
{
    const size_t left = hbk_gamut_rows(&flow->gamut) - row;
    const double top = further_top(flow);
    struct portion portion = {.row = row, .n = left};
    if (tube <= 0.0) {
        /* A legend taller than a page must go somewhere. */
        portion.legend = left == 0 && y <= top;
    } else if (left == 0 && y <= top) {
        portion.tube = true;
    } else if (top + tube + flow->legend_height <= bottom_of(flow)) {
        portion.tube = false;
    } else if (rest_fits(flow, row, y, tube)) {
        portion.tube = true;
    } else if (left > 1 && rest_fits(flow, row + left - 1, top, tube)) {
        portion.n = left - 1;
    }
    return portion;
}

/* The rows from `row` for a page that is free from y. */
static struct portion next_portion(const struct hbk_flow *flow, size_t row,
                                   double y, bool with_tube)
{
    const struct hbk_gamut *gamut = &flow->gamut;
    const size_t left = hbk_gamut_rows(gamut) - row;
    const double tube = with_tube ? hbk_flow_tube_height(flow) : 0.0;
    struct portion portion = {
        .row = row, .n = left, .tube = tube > 0.0, .legend = true};
    if (rest_fits(flow, row, y, tube + flow->legend_height)) {
        return portion;
    }
    portion = (struct portion){
        .row = row, .n = rows_that_fit(gamut, row, y, bottom_of(flow))};
    if (portion.n == left) {
        return last_rows(flow, row, y, tube);
    }
    if (portion.n == 0 && y <= further_top(flow)) {
        /* It must go somewhere. */
        portion.n = 1;
        portion.too_tall = true;
    }
    return portion;
}

size_t hbk_flow_pages(const struct hbk_flow *flow)
{
    double y = first_top(flow);
    size_t row = 0;
    bool tube = flow->has_tube;
    for (size_t pages = 1;; pages++) {
        const struct portion portion = next_portion(flow, row, y, tube);
        if (portion.legend) {
            return pages;
        }
        if (portion.too_tall) {
            return SIZE_MAX;
        }
        row += portion.n;
        tube = tube && !portion.tube;
        y = further_top(flow);
    }
}

static void start_page(struct hbk_flow *flow)
{
    struct hbk_pad *pad = &flow->pad;
    const size_t number = pad->sheet->n_pages + 1;
    const char *label =
        number == 1
            ? flow->heading.title
            : hbk_arena_printf(pad->sheet->arena, "%s: %s, page %zu",
                               flow->heading.title, pad->sheet->kind, number);
    hbk_pad_page(pad, flow->paper, label);
}

/* A further page; returns where its contents begin. */
static double turn_page(struct hbk_flow *flow)
{
    struct hbk_pad *pad = &flow->pad;
    start_page(flow);
    hbk_running_head_draw(pad, flow->heading.title,
                          hbk_arena_printf(pad->sheet->arena, "%s, page %zu",
                                           pad->sheet->kind,
                                           pad->sheet->n_pages),
                          flow->heading.unit, flow->paper.margin,
                          flow->paper.margin, flow->heading.width);
    return further_top(flow);
}

/* Draws rows between y and bottom, spare room shared out between them. */
static void draw_rows(struct hbk_flow *flow, struct portion portion, double y,
                      double bottom)
{
    const struct hbk_gamut *gamut = &flow->gamut;
    double used = 0.0;
    for (size_t i = 0; i < portion.n; i++) {
        used += hbk_gamut_row_height(gamut, portion.row + i);
    }
    const double gap = fmax(HBK_FLOW_ROW_GAP * gamut->unit,
                            fmin((bottom - y - used) / (double)(portion.n + 1),
                                 widest_row_gap * gamut->unit));
    if (portion.n == 0) {
        return;
    }
    hbk_pad_open(&flow->pad, HBK_TAG_TABLE);
    for (size_t i = 0; i < portion.n; i++) {
        y += gap;
        hbk_gamut_row_draw(&flow->pad, gamut, portion.row + i,
                           flow->paper.margin, y);
        y += hbk_gamut_row_height(gamut, portion.row + i);
    }
    hbk_pad_close(&flow->pad, HBK_TAG_TABLE);
}

/*
 * The tube from y or, beneath rows, down to the foot; returns where it ends.
 * Without rows above it there is room to draw it larger.
 */
static double draw_tube(struct hbk_flow *flow, bool alone, double y,
                        double foot)
{
    struct hbk_unrolled large = flow->tube;
    if (!alone) {
        y = foot - hbk_flow_tube_height(flow);
        hbk_unrolled_draw(&flow->pad, &large, flow->paper.margin, y);
        return foot;
    }
    y += tube_gap * flow->tube.unit;
    double height = hbk_unrolled_height(&flow->pad, &large);
    for (large.unit = 1.5 * flow->tube.unit; large.unit > flow->tube.unit;
         large.unit -= 0.1 * flow->tube.unit) {
        const double tall = hbk_unrolled_height(&flow->pad, &large);
        if (tall > 0.0 && y + tall + tube_gap * large.unit <= foot) {
            height = tall;
            break;
        }
    }
    large.unit = fmax(large.unit, flow->tube.unit);
    hbk_unrolled_draw(&flow->pad, &large, flow->paper.margin, y);
    return fmin(foot, y + height + tube_gap * large.unit);
}

/* One page from y, its rows above its tube above its legend. */
static void draw_portion(struct hbk_flow *flow, struct portion portion,
                         double y)
{
    const double foot =
        bottom_of(flow) - (portion.legend ? flow->legend_height : 0.0);
    draw_rows(flow, portion, y,
              foot - (portion.tube ? hbk_flow_tube_height(flow) : 0.0));
    const bool alone = portion.n == 0;
    double end = alone ? y : foot;
    if (portion.tube) {
        end = draw_tube(flow, alone, y, foot);
    }
    if (portion.legend) {
        hbk_legend_draw(&flow->pad, &flow->legend, flow->paper.margin, end);
    }
}

/* What was too long for the foot, over as many pages as it needs. */
static void draw_known(struct hbk_flow *flow)
{
    const struct hbk_lines lines =
        hbk_legend_known_lines(&flow->pad, &flow->legend);
    for (size_t first = 0; first < lines.n;) {
        const double y = turn_page(flow);
        const size_t room =
            hbk_legend_known_fit(&flow->legend, bottom_of(flow) - y);
        const size_t left = lines.n - first;
        const size_t n = room == 0 || room > left ? left : room;
        hbk_legend_known_draw(&flow->pad, &flow->legend, &lines, first, n,
                              flow->paper.margin, y);
        first += n;
    }
}

void hbk_flow_draw(struct hbk_flow *flow)
{
    const double x = flow->paper.margin;
    start_page(flow);
    double y = x + hbk_heading_draw(&flow->pad, &flow->heading, x, x);
    bool tube = flow->has_tube;
    struct portion portion = next_portion(flow, 0, y, tube);
    draw_portion(flow, portion, y);
    while (!portion.legend) {
        y = turn_page(flow);
        tube = tube && !portion.tube;
        portion = next_portion(flow, portion.row + portion.n, y, tube);
        draw_portion(flow, portion, y);
    }
    if (flow->legend.known_apart) {
        draw_known(flow);
    }
}
