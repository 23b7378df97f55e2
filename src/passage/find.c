#include "passage/find.h"

#include "passage/graph.h"

#include <math.h>
#include <stdlib.h>

/*
 * What candidate x of a note costs with its neighbours as they are taken; not
 * what is charged for holding it.
 */
static double cost_with(const struct hbk_graph *graph, size_t i, size_t x)
{
    int64_t cost = graph->costs[i][x];
    for (size_t t = graph->first_of[i]; t < graph->first_of[i + 1]; t++) {
        const size_t link = graph->touching[t];
        const struct hbk_graph_link *const l = &graph->links[link];
        const size_t a = l->from == i ? x : graph->notes[l->from].taken;
        const size_t b = l->to == i ? x : graph->notes[l->to].taken;
        cost += hbk_graph_link_cost(graph, link, a, b);
    }
    return ((double)cost / HBK_GRAPH_SCALE) - (x > 0 ? graph->held[i] : 0.0);
}

static int by_price(const void *a, const void *b)
{
    const struct hbk_passage_choice *const x = a;
    const struct hbk_passage_choice *const y = b;
    if (x->extra_cost != y->extra_cost) {
        return x->extra_cost < y->extra_cost ? -1 : 1;
    }
    return (x->candidate > y->candidate) - (x->candidate < y->candidate);
}

static void find_choices(const struct hbk_graph *graph, size_t i)
{
    struct hbk_passage_note *const note = &graph->notes[i];
    const size_t n = note->candidates->n;
    const double taken = cost_with(graph, i, note->taken);
    struct hbk_passage_choice *const choices =
        HBK_ARENA_ARRAY(graph->arena, struct hbk_passage_choice, n);
    choices[0].candidate = note->taken;
    note->n_choices = 1;
    for (size_t x = 0; x < n; x++) {
        if (x != note->taken && graph->costs[i][x] != HBK_LATTICE_BARRED) {
            choices[note->n_choices++] = (struct hbk_passage_choice){
                .candidate = x,
                .extra_cost = fmax(cost_with(graph, i, x) - taken, 0.0)};
        }
    }
    qsort(choices + 1, note->n_choices - 1, sizeof(choices[0]), by_price);
    note->choices = choices;
}

/* The junction to a note in which most is asked of the time there is. */
static void find_tightest(const struct hbk_graph *graph, size_t i)
{
    struct hbk_passage_note *const note = &graph->notes[i];
    double tightest = -1.0;
    for (size_t t = graph->first_of[i]; t < graph->first_of[i + 1]; t++) {
        const struct hbk_graph_link *const l =
            &graph->links[graph->touching[t]];
        if (l->to != i) {
            continue;
        }
        const struct hbk_graph_step step =
            hbk_graph_step_of(graph, graph->touching[t],
                              graph->notes[l->from].taken, note->taken);
        const double need_s = fmax(step.hands_s, step.lip_s);
        const double pressed = need_s / fmax(l->available_s, 1e-6);
        if (pressed <= tightest) {
            continue;
        }
        tightest = pressed;
        note->before = l->from;
        note->hands_s = step.hands_s;
        note->lip_s = step.lip_s;
        note->available_s = l->available_s;
        note->quarters = l->quarters;
        const double hard = pressed / HBK_PASSAGE_HARD;
        note->playable_quarters =
            hard > 1.0 && !l->grace ? l->quarters / hard : 0.0;
    }
}

static void find_trill(struct hbk_graph *graph, struct hbk_passage_note *note)
{
    if (note->wants_trill) {
        note->trill = hbk_graph_trills(graph, note->candidates,
                                       note->trill.interval)[note->taken];
    }
}

static void report(struct hbk_graph *graph, struct hbk_passage *passage)
{
    for (size_t i = 0; i < graph->n; i++) {
        struct hbk_passage_note *const note = &graph->notes[i];
        find_choices(graph, i);
        find_tightest(graph, i);
        find_trill(graph, note);
        if (note->taken > 0) {
            note->why = hbk_graph_why(graph, i);
            passage->n_departures++;
        }
        passage->n_hard += note->playable_quarters > 0.0 ? 1 : 0;
    }
}

enum hbk_status hbk_passage_find(const struct hbk_passage_request *request,
                                 struct hbk_arena *arena,
                                 struct hbk_passage *passage)
{
    struct hbk_passage found = {0};
    struct hbk_graph graph;
    HBK_TRY(hbk_graph_make(request, arena, &graph, &found));
    hbk_graph_bar_in_runs(&graph);
    hbk_graph_settle(&graph, &found);
    report(&graph, &found);
    found.n = graph.n;
    found.notes = graph.notes;
    found.note_of = graph.note_of;
    *passage = found;
    return HBK_OK;
}
