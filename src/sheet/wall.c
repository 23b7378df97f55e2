#include "sheet/wall.h"

#include "sheet/gamut.h"
#include "sheet/heading.h"
#include "sheet/legend.h"
#include "sheet/tube.h"
#include "sheet/words.h"

#include <math.h>
#include <string.h>

/* mm, in units of the gamut. */
static const double row_gap = 3.2;
static const double widest_row_gap = 12.0;

/* What the drawn tube is worth; see score(). */
static const double tube_worth = 0.45;

/* Less than any plan scores. */
static const double no_plan = -1e9;

/* How large and how arranged; the plan with the best score is drawn. */
struct plan {
    struct hbk_paper_size paper;
    double unit;
    size_t per_row;
    size_t alternates;
    double words; /* unit of heading and legend */
    double score;
};

struct wall {
    const struct hbk_notes *notes;
    const struct hbk_sheet_options *options;
    struct hbk_pad pad;
    struct hbk_gamut_notes chosen;
    struct hbk_heading heading;
    struct hbk_legend legend;
    struct hbk_gamut gamut;
    struct hbk_unrolled tube;
    double heading_height, legend_height; /* for the paper being tried */
    bool with_tube;                       /* room is to be kept for it */
    double kept;                          /* for the tube */
};

/* Sizes by paper: the least unit of the gamut, the units of the words. */
struct sizes {
    double least_unit;
    double words, small_words;
};

static struct sizes sizes_of(enum hbk_paper paper)
{
    static const struct sizes sizes[HBK_PAPER_COUNT] = {
        [HBK_A4] = {1.0, 1.0, 1.0},
        [HBK_A5] = {0.8, 0.86, 0.8},
        [HBK_A6] = {0.72, 0.8, 0.8},
        [HBK_LETTER] = {1.0, 1.0, 1.0},
    };
    return sizes[paper];
}

/* What the tube takes with the white above it; 0 when it is not drawn. */
static double tube_height(const struct wall *wall)
{
    const double height = hbk_unrolled_height(&wall->pad, &wall->tube);
    return height > 0.0 ? height + 1.6 * wall->tube.unit : 0.0;
}

static void set_paper(struct wall *wall, struct hbk_paper_size paper,
                      double words)
{
    wall->heading.unit = words;
    wall->legend.unit = words;
    const double width = paper.width - 2.0 * paper.margin;
    wall->heading.width = width;
    wall->legend.width = width;
    wall->gamut.width = width;
    wall->tube = (struct hbk_unrolled){wall->notes, words, width};
    wall->heading_height = hbk_heading_height(&wall->pad, &wall->heading);
    wall->legend_height = hbk_legend_height(&wall->pad, &wall->legend);
    wall->kept = wall->with_tube ? tube_height(wall) : 0.0;
}

static void set_plan(struct wall *wall, const struct plan *plan)
{
    wall->gamut.unit = plan->unit;
    wall->gamut.per_row = plan->per_row;
    wall->gamut.alternates = plan->alternates;
}

static double rows_height(const struct hbk_gamut *gamut)
{
    double height = 0.0;
    for (size_t row = 0; row < hbk_gamut_rows(gamut); row++) {
        height += hbk_gamut_row_height(gamut, row) + row_gap * gamut->unit;
    }
    return height;
}

/*
 * Larger is better, above all up to a third more than the least size; then
 * other things count: a second alternate as much as an eighth of the size, rows
 * that fill evenly, upright paper.
 */
static double score(const struct wall *wall, const struct plan *plan)
{
    const struct hbk_gamut *gamut = &wall->gamut;
    const double least = sizes_of(wall->options->paper).least_unit;
    const size_t empty = hbk_gamut_rows(gamut) * plan->per_row - wall->chosen.n;
    const double size = plan->unit / least;
    double sum = fmin(size, 1.35) + (size > 1.35 ? 0.3 * (size - 1.35) : 0.0);
    sum += plan->alternates > 0 ? 0.25 : 0.0;
    sum += plan->alternates > 1 ? 0.12 : 0.0;
    sum += plan->alternates > 2 ? 0.03 : 0.0;
    sum -= 0.15 * (double)empty / (double)plan->per_row;
    sum += plan->paper.height > plan->paper.width ? 0.05 : 0.0;
    sum -= plan->words < sizes_of(wall->options->paper).words ? 0.1 : 0.0;
    return sum;
}

/* Tries the sizes for one arrangement; the largest that fits is offered. */
static void try_sizes(struct wall *wall, struct plan plan, struct plan *best)
{
    const double least = sizes_of(wall->options->paper).least_unit;
    const double room = plan.paper.height - 2.0 * plan.paper.margin -
                        wall->heading_height - wall->legend_height - wall->kept;
    for (double unit = 2.2 * least; unit > least - 0.001; unit -= 0.02) {
        plan.unit = unit;
        set_plan(wall, &plan);
        if (hbk_gamut_bar_width(&wall->gamut) <
                hbk_gamut_narrowest(&wall->gamut) ||
            rows_height(&wall->gamut) + row_gap * unit > room) {
            continue;
        }
        plan.score = score(wall, &plan);
        if (plan.score > best->score) {
            *best = plan;
        }
        return;
    }
}

static void try_rows(struct wall *wall, struct plan plan, struct plan *best)
{
    for (size_t n = 4; n <= 16; n++) {
        plan.per_row = n < wall->chosen.n ? n : wall->chosen.n;
        try_sizes(wall, plan, best);
    }
}

static void try_paper(struct wall *wall, struct hbk_paper_size paper,
                      double words, struct plan *best)
{
    const size_t most = hbk_gamut_alternates(&wall->gamut, 3);
    const size_t least = wall->with_tube && most > 0 ? 1 : 0;
    for (size_t alternates = least; alternates <= most; alternates++) {
        wall->legend.alternates = alternates;
        set_paper(wall, paper, words);
        const struct plan plan = {
            .paper = paper, .alternates = alternates, .words = words};
        try_rows(wall, plan, best);
    }
}

/* The best arrangement on one page; false when none fits. */
static bool try_papers(struct wall *wall, double more_than, struct plan *best)
{
    const struct hbk_paper_size upright = hbk_paper_size(wall->options->paper);
    const struct hbk_paper_size papers[] = {upright, hbk_paper_turned(upright)};
    const struct sizes sizes = sizes_of(wall->options->paper);
    struct plan found = {.score = more_than};
    for (size_t i = 0; i < 4; i++) {
        try_paper(wall, papers[i / 2],
                  i % 2 == 0 ? sizes.words : sizes.small_words, &found);
    }
    if (found.score > more_than) {
        *best = found;
        return true;
    }
    return false;
}

/*
 * The same, with the tube where closing up the rows, a further alternate
 * less or smaller words make room for it; the bars are never below their
 * least size, nor is every alternate given up.
 */
static bool plan_page(struct wall *wall, struct plan *best)
{
    if (!try_papers(wall, no_plan, best)) {
        return false;
    }
    struct plan with_tube;
    wall->with_tube = true;
    set_paper(wall, best->paper, best->words);
    if (wall->kept > 0.0 &&
        try_papers(wall, best->score - tube_worth, &with_tube)) {
        *best = with_tube;
    }
    wall->with_tube = false;
    return true;
}

/* For several pages: upright, least size, two alternates. */
static void plan_pages(struct wall *wall, struct plan *plan)
{
    plan->paper = hbk_paper_size(wall->options->paper);
    plan->unit = sizes_of(wall->options->paper).least_unit;
    plan->alternates = hbk_gamut_alternates(&wall->gamut, 2);
    wall->legend.alternates = plan->alternates;
    plan->words = sizes_of(wall->options->paper).words;
    set_paper(wall, plan->paper, plan->words);
    const double page = plan->paper.height - 2.0 * plan->paper.margin -
                        hbk_running_head_height(plan->words);
    if (wall->legend_height > page) {
        wall->legend.known_apart = true;
        set_paper(wall, plan->paper, plan->words);
    }
    plan->per_row = 1;
    set_plan(wall, plan);
    const double room = hbk_gamut_bar_width(&wall->gamut);
    const double bars = floor(room / hbk_gamut_narrowest(&wall->gamut));
    plan->per_row = bars < 1.0 ? 1 : (size_t)bars;
}

static void start_page(struct wall *wall, const struct plan *plan)
{
    struct hbk_pad *pad = &wall->pad;
    const size_t number = pad->sheet->n_pages + 1;
    const char *label =
        number == 1 ? wall->heading.title
                    : hbk_arena_printf(pad->sheet->arena, "%s, page %zu",
                                       wall->heading.title, number);
    hbk_pad_page(pad, plan->paper, label);
}

/* Rows of the gamut from `row` on that fit above `bottom`. */
static size_t rows_that_fit(const struct hbk_gamut *gamut, size_t row, double y,
                            double bottom)
{
    const size_t all = hbk_gamut_rows(gamut);
    size_t n = 0;
    while (row + n < all) {
        y += row_gap * gamut->unit + hbk_gamut_row_height(gamut, row + n);
        if (y > bottom + 1e-9) {
            break;
        }
        n++;
    }
    return n;
}

/* Draws n rows between y and bottom, spare room shared out between them. */
static double draw_rows(struct wall *wall, size_t row, size_t n, double x,
                        double y, double bottom)
{
    const struct hbk_gamut *gamut = &wall->gamut;
    double used = 0.0;
    for (size_t i = 0; i < n; i++) {
        used += hbk_gamut_row_height(gamut, row + i);
    }
    const double gap =
        fmax(row_gap * gamut->unit, fmin((bottom - y - used) / (double)(n + 1),
                                         widest_row_gap * gamut->unit));
    hbk_pad_open(&wall->pad, HBK_TAG_TABLE);
    for (size_t i = 0; i < n; i++) {
        y += gap;
        hbk_gamut_row_draw(&wall->pad, gamut, row + i, x, y);
        y += hbk_gamut_row_height(gamut, row + i);
    }
    hbk_pad_close(&wall->pad, HBK_TAG_TABLE);
    return y;
}

static void draw_running_head(struct wall *wall, const struct plan *plan)
{
    struct hbk_pad *pad = &wall->pad;
    hbk_running_head_draw(
        pad, wall->heading.title,
        hbk_arena_printf(pad->sheet->arena, "page %zu", pad->sheet->n_pages),
        wall->heading.unit, plan->paper.margin, plan->paper.margin,
        wall->heading.width);
}

/* A further page; returns where its contents begin. */
static double turn_page(struct wall *wall, const struct plan *plan)
{
    start_page(wall, plan);
    draw_running_head(wall, plan);
    return plan->paper.margin + hbk_running_head_height(wall->heading.unit);
}

/* The last rows, and beneath them the tube where it costs no room. */
static void draw_last_rows(struct wall *wall, size_t row, size_t n, double x,
                           double y, double foot)
{
    const struct hbk_gamut *gamut = &wall->gamut;
    const double gap = row_gap * gamut->unit;
    const double height = tube_height(wall);
    if (height > 0.0 &&
        rows_that_fit(gamut, row, y, foot - gap - height) == n) {
        draw_rows(wall, row, n, x, y, foot - height);
        hbk_unrolled_draw(&wall->pad, &wall->tube, x, foot - height);
    } else {
        draw_rows(wall, row, n, x, y, foot);
    }
}

/*
 * The rows over as many pages as they need; *y is where the free room of the
 * last page begins. Returns whether the legend has room at its foot.
 */
static bool draw_gamut(struct wall *wall, const struct plan *plan, double *y)
{
    const struct hbk_gamut *gamut = &wall->gamut;
    const double x = plan->paper.margin;
    const double end = plan->paper.height - plan->paper.margin;
    const double foot = end - wall->legend_height;
    const size_t rows = hbk_gamut_rows(gamut);
    for (size_t row = 0;;) {
        const size_t above_foot =
            rows_that_fit(gamut, row, *y, foot - row_gap * gamut->unit);
        if (row + above_foot == rows) {
            draw_last_rows(wall, row, above_foot, x, *y, foot);
            return true;
        }
        size_t n = rows_that_fit(gamut, row, *y, end);
        if (n == 0 && *y <= x + hbk_running_head_height(wall->heading.unit)) {
            /* Taller than a page: it must go somewhere. */
            n = 1;
        }
        if (n > 0) {
            draw_rows(wall, row, n, x, *y, end);
            row += n;
        }
        *y = turn_page(wall, plan);
        if (row == rows) {
            return false;
        }
    }
}

/* What was too long for the foot, over as many pages as it needs. */
static void draw_known(struct wall *wall, const struct plan *plan)
{
    const struct hbk_lines lines =
        hbk_legend_known_lines(&wall->pad, &wall->legend);
    const double end = plan->paper.height - plan->paper.margin;
    for (size_t first = 0; first < lines.n;) {
        const double y = turn_page(wall, plan);
        const size_t room = hbk_legend_known_fit(&wall->legend, end - y);
        const size_t left = lines.n - first;
        const size_t n = room == 0 || room > left ? left : room;
        hbk_legend_known_draw(&wall->pad, &wall->legend, &lines, first, n,
                              plan->paper.margin, y);
        first += n;
    }
}

static void draw(struct wall *wall, const struct plan *plan)
{
    const double x = plan->paper.margin;
    const double end = plan->paper.height - plan->paper.margin;
    start_page(wall, plan);
    double y = x + hbk_heading_draw(&wall->pad, &wall->heading, x, x);
    if (draw_gamut(wall, plan, &y)) {
        y = end - wall->legend_height;
    }
    hbk_legend_draw(&wall->pad, &wall->legend, x, y);
    if (wall->legend.known_apart) {
        draw_known(wall, plan);
    }
}

/* Copies what the sheet says of itself, and joins the parts of the wall. */
static void prepare(struct wall *wall)
{
    struct hbk_sheet *sheet = wall->pad.sheet;
    struct hbk_arena *arena = sheet->arena;
    const struct hbk_notes *notes = wall->notes;
    const char *title =
        wall->options->title == NULL ? notes->horn->name : wall->options->title;
    sheet->title = hbk_arena_copy(arena, title, strlen(title));
    sheet->subject = hbk_arena_printf(
        arena, "%s. %s.", hbk_words_sounds(arena, notes->written_c4_sounds),
        hbk_words_pitch(arena, &notes->setting));
    const char *beyond = "";
    if (wall->chosen.n_left_out > 0) {
        beyond =
            hbk_arena_printf(arena, "Between %s and %s it cannot play %s. ",
                             hbk_words_note(arena, notes->lowest),
                             hbk_words_note(arena, notes->highest),
                             hbk_words_note_runs(arena, wall->chosen.n_left_out,
                                                 wall->chosen.left_out));
    }
    wall->heading = (struct hbk_heading){
        .notes = notes, .title = sheet->title, .also = beyond};
    hbk_hands_arrange(notes->horn, &wall->heading.hands);
    wall->heading.hands.stuck =
        notes->setting.held_down | notes->setting.held_up;
    wall->legend = (struct hbk_legend){.notes = notes};
    wall->gamut = (struct hbk_gamut){.notes = notes,
                                     .hands = wall->heading.hands,
                                     .n = wall->chosen.n,
                                     .shown = wall->chosen.shown,
                                     .unit = 1.0,
                                     .per_row = 1,
                                     .sounding = wall->options->sounding,
                                     .care_db = hbk_care_db(notes),
                                     .marks_in_detail = true};
    hbk_gamut_measure(&wall->pad, &wall->gamut);
}

enum hbk_status hbk_sheet_wall(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet)
{
    struct wall wall = {
        .notes = notes,
        .options = options,
        .pad = {.sheet = sheet, .ruler = ruler},
    };
    hbk_gamut_choose(sheet->arena, notes, &wall.chosen);
    if (wall.chosen.n == 0) {
        return HBK_ERR_DOMAIN;
    }
    prepare(&wall);
    struct plan plan;
    if (!plan_page(&wall, &plan)) {
        plan_pages(&wall, &plan);
    }
    set_plan(&wall, &plan);
    wall.legend.alternates = plan.alternates;
    set_paper(&wall, plan.paper, plan.words);
    draw(&wall, &plan);
    return HBK_OK;
}
