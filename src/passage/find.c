#include "passage/find.h"

#include "passage/graph.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * The costs of a link in playing order. Music goes on in equal notes, so the
 * same pair of notes mostly wants what it wanted last.
 */
static const int64_t *costs_of(const struct hbk_graph *graph, size_t link)
{
    const struct hbk_graph_link *const l = &graph->links[link];
    const size_t n_from = graph->notes[l->from].candidates->n;
    const size_t n_to = graph->notes[l->to].candidates->n;
    const double *const hands_s = graph->hands_s[link];
    struct hbk_graph_memory *const memory =
        &graph->memories[((uintptr_t)hands_s / 64) % HBK_GRAPH_MEMORIES];
    if (memory->hands_s == hands_s && memory->available_s == l->available_s &&
        memory->count == l->count && memory->grace == l->grace) {
        return memory->costs;
    }
    if (memory->costs == NULL) {
        memory->costs = HBK_ARENA_ARRAY(
            graph->arena, int64_t, HBK_CANDIDATES_MAX * HBK_CANDIDATES_MAX);
    }
    memory->hands_s = hands_s;
    memory->available_s = l->available_s;
    memory->count = l->count;
    memory->grace = l->grace;
    for (size_t a = 0; a < n_from; a++) {
        for (size_t b = 0; b < n_to; b++) {
            memory->costs[(a * n_to) + b] =
                hbk_graph_link_cost(graph, link, a, b);
        }
    }
    return memory->costs;
}

/* Costs of a lattice link, its earlier node first. */
static void fill(const void *ctx, size_t link, int64_t out[])
{
    const struct hbk_graph *const graph = ctx;
    const struct hbk_graph_link *const l = &graph->links[link];
    const size_t n_from = graph->notes[l->from].candidates->n;
    const size_t n_to = graph->notes[l->to].candidates->n;
    const int64_t *const costs = costs_of(graph, link);
    if (l->from < l->to) {
        memcpy(out, costs, n_from * n_to * sizeof(*out));
        return;
    }
    /* A junction that a repeat takes backwards is written the other way. */
    for (size_t a = 0; a < n_from; a++) {
        for (size_t b = 0; b < n_to; b++) {
            out[(b * n_from) + a] = costs[(a * n_to) + b];
        }
    }
}

/* What a way costs for holding other fingerings than the usual ones. */
static double held_of(const struct hbk_graph *graph, const unsigned char pick[])
{
    double held = 0.0;
    for (size_t i = 0; i < graph->n; i++) {
        held += pick[i] > 0 ? graph->held[i] : 0.0;
    }
    return held;
}

static void search(const struct hbk_graph *graph, struct hbk_passage *passage)
{
    size_t *const n_choices =
        HBK_ARENA_ARRAY(graph->arena, size_t, graph->n + 1);
    const int64_t **const costs =
        HBK_ARENA_ARRAY(graph->arena, const int64_t *, graph->n + 1);
    for (size_t i = 0; i < graph->n; i++) {
        n_choices[i] = graph->notes[i].candidates->n;
        costs[i] = graph->costs[i];
    }
    const struct hbk_lattice lattice = {
        .n = graph->n,
        .n_choices = n_choices,
        .costs = costs,
        .n_links = graph->n_links,
        .links = graph->lattice_links,
        .fill = fill,
        .ctx = graph,
    };
    struct hbk_lattice_way found[HBK_PASSAGE_WAYS_MAX];
    struct hbk_passage_way *const ways = HBK_ARENA_ARRAY(
        graph->arena, struct hbk_passage_way, HBK_PASSAGE_WAYS_MAX);
    passage->n_ways = hbk_lattice_search(&lattice, graph->request->ways,
                                         graph->arena, found, &passage->exact);
    for (size_t w = 0; w < passage->n_ways; w++) {
        const double held = held_of(graph, found[w].pick);
        ways[w] = (struct hbk_passage_way){
            .price = ((double)found[w].cost / HBK_GRAPH_SCALE) - held,
            .held = held,
            .pick = found[w].pick};
    }
    passage->ways = ways;
}

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

/*
 * Searches anew until nothing strays. Whatever is barred is no usual
 * fingering, so that this ends, and mostly at once.
 */
static void settle(struct hbk_graph *graph, struct hbk_passage *passage)
{
    do {
        search(graph, passage);
        for (size_t i = 0; i < graph->n; i++) {
            graph->notes[i].taken = passage->ways[0].pick[i];
        }
    } while (hbk_graph_bar_strays(graph));
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
    settle(&graph, &found);
    report(&graph, &found);
    found.n = graph.n;
    found.notes = graph.notes;
    found.note_of = graph.note_of;
    *passage = found;
    return HBK_OK;
}
