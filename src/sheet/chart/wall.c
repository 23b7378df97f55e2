#include "sheet/chart/wall.h"

#include "sheet/chart/flow.h"

#include <math.h>

/* The least and the largest unit of the gamut: names of 14 pt at least. */
static const double least_unit = 1.0;
static const double largest_unit = 2.2;

/* The unit of heading and legend: words of 7 pt at least. */
static const struct hbk_flow_units words = {1.0, 1.0};

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
    double score;
};

struct wall {
    struct hbk_flow flow;
    enum hbk_paper paper;
    bool with_tube;    /* room is to be kept for it */
    bool legend_apart; /* on the next page, with the tube */
    double kept;       /* for the tube */
};

static void set_paper(struct wall *wall, struct hbk_paper_size paper)
{
    hbk_flow_set_paper(&wall->flow, paper, words);
    wall->kept = wall->with_tube ? hbk_flow_tube_height(&wall->flow) : 0.0;
}

static void set_plan(struct wall *wall, const struct plan *plan)
{
    wall->flow.gamut.unit = plan->unit;
    wall->flow.gamut.per_row = plan->per_row;
    wall->flow.gamut.alternates = plan->alternates;
}

/*
 * Larger is better, above all up to a third more than the least size; then
 * other things count: a second alternate as much as an eighth of the size,
 * rows that fill evenly, upright paper.
 */
static double score(const struct wall *wall, const struct plan *plan)
{
    const struct hbk_gamut *gamut = &wall->flow.gamut;
    const size_t empty = hbk_gamut_rows(gamut) * plan->per_row - gamut->n;
    const double size = plan->unit / least_unit;
    double sum = fmin(size, 1.35) + (size > 1.35 ? 0.3 * (size - 1.35) : 0.0);
    sum += plan->alternates > 1 ? 0.12 : 0.0;
    sum += plan->alternates > 2 ? 0.03 : 0.0;
    sum -= 0.15 * (double)empty / (double)plan->per_row;
    sum += plan->paper.height > plan->paper.width ? 0.05 : 0.0;
    return sum;
}

/* Tries the sizes for one arrangement; the largest that fits is offered. */
static void try_sizes(struct wall *wall, struct plan plan, struct plan *best)
{
    const struct hbk_flow *flow = &wall->flow;
    const double room = plan.paper.height - 2.0 * plan.paper.margin -
                        flow->heading_height - wall->kept -
                        (wall->legend_apart ? 0.0 : flow->legend_height);
    for (double unit = largest_unit; unit > least_unit - 0.001; unit -= 0.02) {
        plan.unit = unit;
        set_plan(wall, &plan);
        if (hbk_gamut_bar_width(&flow->gamut) <
                hbk_gamut_narrowest(&flow->gamut) ||
            hbk_flow_rows_height(flow) + HBK_FLOW_ROW_GAP * unit > room) {
            continue;
        }
        plan.score = score(wall, &plan);
        if (plan.score > best->score) {
            *best = plan;
        }
        return;
    }
}

static void try_paper(struct wall *wall, struct hbk_paper_size paper,
                      struct plan *best)
{
    const struct hbk_gamut *gamut = &wall->flow.gamut;
    const size_t most = hbk_gamut_alternates(gamut, HBK_ALTERNATES_MAX);
    const size_t least = most > 0 ? 1 : 0;
    for (size_t alternates = least; alternates <= most; alternates++) {
        wall->flow.legend.alternates = alternates;
        set_paper(wall, paper);
        struct plan plan = {.paper = paper, .alternates = alternates};
        for (size_t n = 4; n <= 16; n++) {
            plan.per_row = n < gamut->n ? n : gamut->n;
            try_sizes(wall, plan, best);
        }
    }
}

/*
 * The best arrangement on one page; false when none fits, or none that has
 * room for an alternate where the horn has some.
 */
static bool try_papers(struct wall *wall, double more_than, struct plan *best)
{
    const struct hbk_paper_size upright = hbk_paper_size(wall->paper);
    struct plan found = {.score = more_than};
    try_paper(wall, upright, &found);
    try_paper(wall, hbk_paper_turned(upright), &found);
    if (found.score > more_than) {
        *best = found;
        return true;
    }
    return false;
}

/* Whether the tube and the legend share a page, once the rows have one. */
static bool tube_joins_legend(const struct wall *wall)
{
    const struct hbk_flow *flow = &wall->flow;
    return hbk_running_head_height(words.heading) + wall->kept +
               flow->legend_height <=
           flow->paper.height - 2.0 * flow->paper.margin;
}

/*
 * The same, with the tube where closing up the rows or a further alternate
 * less makes room for it; the bars are never below their least size. Else
 * the rows have a page for themselves, and are larger for it.
 */
static bool plan_page(struct wall *wall, struct plan *best)
{
    if (!try_papers(wall, no_plan, best)) {
        return false;
    }
    struct plan with_tube;
    wall->with_tube = true;
    set_paper(wall, best->paper);
    if (wall->kept > 0.0 &&
        try_papers(wall, best->score - tube_worth, &with_tube)) {
        *best = with_tube;
    } else if (wall->kept > 0.0 && tube_joins_legend(wall)) {
        wall->with_tube = false;
        wall->legend_apart = true;
        try_papers(wall, no_plan, best);
        wall->legend_apart = false;
    }
    wall->with_tube = false;
    return true;
}

/* Fewer pages are better, then what is better on one. */
static void try_pages(struct wall *wall, struct plan plan, size_t *fewest,
                      struct plan *best)
{
    struct hbk_flow *flow = &wall->flow;
    for (double unit = largest_unit; unit > least_unit - 0.001; unit -= 0.05) {
        plan.unit = unit;
        set_plan(wall, &plan);
        if (hbk_gamut_bar_width(&flow->gamut) <
            hbk_gamut_narrowest(&flow->gamut)) {
            continue;
        }
        const size_t pages = hbk_flow_pages(flow);
        plan.score = score(wall, &plan);
        if (pages < *fewest || (pages == *fewest && plan.score > best->score)) {
            *fewest = pages;
            *best = plan;
        }
    }
}

/* For several pages: upright, with alternates. */
static void plan_pages(struct wall *wall, struct plan *best)
{
    struct hbk_flow *flow = &wall->flow;
    const struct hbk_paper_size paper = hbk_paper_size(wall->paper);
    const size_t most = hbk_gamut_alternates(&flow->gamut, HBK_ALTERNATES_MAX);
    const double page = paper.height - 2.0 * paper.margin -
                        hbk_running_head_height(words.heading);
    flow->legend.alternates = most;
    set_paper(wall, paper);
    flow->legend.known_apart = flow->legend_height > page;
    *best = (struct plan){
        .paper = paper, .unit = least_unit, .per_row = 1, .alternates = most};
    size_t fewest = SIZE_MAX;
    for (size_t alternates = most < 2 ? most : 2; alternates <= most;
         alternates++) {
        flow->legend.alternates = alternates;
        set_paper(wall, paper);
        struct plan plan = {.paper = paper, .alternates = alternates};
        for (size_t n = 1; n <= 16 && n <= flow->gamut.n; n++) {
            plan.per_row = n;
            try_pages(wall, plan, &fewest, best);
        }
    }
}

enum hbk_status hbk_sheet_wall(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet)
{
    struct wall wall = {.paper = options->paper};
    struct hbk_flow *flow = &wall.flow;
    const enum hbk_status status =
        hbk_flow_begin(flow, notes, options, ruler, sheet);
    if (status != HBK_OK) {
        return status;
    }
    flow->has_tube = true;
    hbk_gamut_measure(&flow->pad, &flow->gamut);
    struct plan plan;
    if (!plan_page(&wall, &plan)) {
        plan_pages(&wall, &plan);
    }
    set_plan(&wall, &plan);
    flow->legend.alternates = plan.alternates;
    set_paper(&wall, plan.paper);
    hbk_flow_draw(flow);
    return HBK_OK;
}
