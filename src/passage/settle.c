#include "passage/graph.h"

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

void hbk_graph_settle(struct hbk_graph *graph, struct hbk_passage *passage)
{
    do {
        search(graph, passage);
        for (size_t i = 0; i < graph->n; i++) {
            graph->notes[i].taken = passage->ways[0].pick[i];
        }
    } while (hbk_graph_bar_strays(graph));
}
