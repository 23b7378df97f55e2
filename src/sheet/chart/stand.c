#include "sheet/chart/stand.h"

#include "sheet/chart/flow.h"

#include <math.h>

/*
 * Names are 14 pt at unit 1, so these are 20 and 34 pt. At 1.2 m a capital of
 * 20 pt is 5.1 mm high and fills 15 minutes of arc, three times what normal
 * sight just reads (5 minutes, the rule of Snellen's charts; from memory).
 */
static const double least_unit = 20.0 / 14.0;
static const double largest_unit = 34.0 / 14.0;

/*
 * Circles, mm across: at 1.2 m they fill 13 minutes of arc, and a filled one
 * is told from an empty one by a third of that.
 */
static const double least_spot = 4.5;

static const struct hbk_flow_units words = {1.15, 1.0};

/* An arrangement; see `better`. */
struct plan {
    struct hbk_paper_size paper;
    double unit;
    size_t per_row;
    size_t pages;
    double worth;
};

/* The fewest pages; then large notes, in rows that fill evenly. */
static bool better(const struct plan *a, const struct plan *b)
{
    return a->pages < b->pages ||
           (a->pages == b->pages && a->worth > b->worth + 1e-9);
}

static void set_plan(struct hbk_flow *flow, const struct plan *plan)
{
    flow->gamut.unit = plan->unit;
    flow->gamut.per_row = plan->per_row;
}

/* The largest size that so many bars a row allow on that many pages. */
static void try_sizes(struct hbk_flow *flow, struct plan plan,
                      struct plan *best)
{
    flow->gamut.per_row = plan.per_row;
    const size_t bars = hbk_gamut_rows(&flow->gamut) * plan.per_row;
    const double empty = (double)(bars - flow->gamut.n) / (double)plan.per_row;
    for (double unit = largest_unit; unit > least_unit - 1e-6; unit -= 0.02) {
        plan.unit = fmax(unit, least_unit);
        set_plan(flow, &plan);
        if (hbk_gamut_bar_width(&flow->gamut) <
            hbk_gamut_narrowest(&flow->gamut)) {
            continue;
        }
        plan.pages = hbk_flow_pages(flow);
        plan.worth = plan.unit - 0.2 * empty;
        if (better(&plan, best)) {
            *best = plan;
        }
    }
}

static void try_paper(struct hbk_flow *flow, struct hbk_paper_size paper,
                      struct plan *best)
{
    hbk_flow_set_paper(flow, paper, words);
    struct plan plan = {.paper = paper};
    for (size_t n = 1; n <= 16 && n <= flow->gamut.n; n++) {
        plan.per_row = n;
        try_sizes(flow, plan, best);
    }
}

/* One bar a row at the least size, where not even that is wide enough. */
static struct plan choose(struct hbk_flow *flow,
                          const struct hbk_sheet_options *options)
{
    const struct hbk_paper_size upright = hbk_paper_size(options->paper);
    struct plan best = {
        .paper = upright, .unit = least_unit, .per_row = 1, .pages = SIZE_MAX};
    try_paper(flow, upright, &best);
    try_paper(flow, hbk_paper_turned(upright), &best);
    return best;
}

enum hbk_status hbk_sheet_stand(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet)
{
    struct hbk_flow flow;
    const enum hbk_status status =
        hbk_flow_begin(&flow, notes, options, ruler, sheet);
    if (status != HBK_OK) {
        return status;
    }
    sheet->kind = "stand chart";
    flow.heading.length = HBK_WORDS_BRIEF;
    flow.gamut.least_spot = least_spot;
    flow.gamut.detail = HBK_DETAIL_HINTS;
    flow.legend.detail = HBK_DETAIL_HINTS;
    hbk_gamut_measure(&flow.pad, &flow.gamut);
    const struct plan plan = choose(&flow, options);
    set_plan(&flow, &plan);
    hbk_flow_set_paper(&flow, plan.paper, words);
    const double page = plan.paper.height - 2.0 * plan.paper.margin -
                        hbk_running_head_height(words.heading);
    if (flow.legend_height > page) {
        flow.legend.known_apart = true;
        hbk_flow_set_paper(&flow, plan.paper, words);
    }
    hbk_flow_draw(&flow);
    return HBK_OK;
}
