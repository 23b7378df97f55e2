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

/* Notes that are decided anew while all others stay as they are taken. */
struct stretch {
    const struct hbk_graph *graph;
    size_t first, end;
    size_t first_link, end_link; /* those whose later note is in it */
    size_t *link_of;             /* by lattice link: the link of the graph */
};

static bool is_in(const struct stretch *stretch, size_t note)
{
    return note >= stretch->first && note < stretch->end;
}

static void fill_stretch(const void *ctx, size_t link, int64_t out[])
{
    const struct stretch *const stretch = ctx;
    fill(stretch->graph, stretch->link_of[link], out);
}

/* The costs of a note's candidates with all that is beside the stretch. */
static int64_t *costs_beside(const struct stretch *stretch, size_t note,
                             struct hbk_arena *arena)
{
    const struct hbk_graph *const graph = stretch->graph;
    const size_t n = graph->notes[note].candidates->n;
    int64_t *const costs = HBK_ARENA_ARRAY(arena, int64_t, n);
    memcpy(costs, graph->costs[note], n * sizeof(costs[0]));
    for (size_t t = graph->first_of[note]; t < graph->first_of[note + 1]; t++) {
        const size_t link = graph->touching[t];
        const struct hbk_graph_link *const l = &graph->links[link];
        const bool comes = l->to == note;
        const size_t other = comes ? l->from : l->to;
        const size_t taken = graph->notes[other].taken;
        for (size_t x = 0; x < n && !is_in(stretch, other); x++) {
            costs[x] +=
                costs[x] == HBK_LATTICE_BARRED
                    ? 0
                    : hbk_graph_link_cost(graph, link, comes ? taken : x,
                                          comes ? x : taken);
        }
    }
    return costs;
}

/* The links that lie within; returns how many. */
static size_t links_within(struct stretch *stretch,
                           struct hbk_lattice_link links[])
{
    const struct hbk_graph *const graph = stretch->graph;
    size_t n = 0;
    for (size_t l = stretch->first_link; l < stretch->end_link; l++) {
        const struct hbk_lattice_link link = graph->lattice_links[l];
        if (is_in(stretch, link.from)) {
            stretch->link_of[n] = l;
            links[n++] =
                (struct hbk_lattice_link){.from = link.from - stretch->first,
                                          .to = link.to - stretch->first};
        }
    }
    return n;
}

/* Takes the cheapest way through a stretch. */
static void search_stretch(struct hbk_graph *graph, struct stretch *stretch)
{
    struct hbk_arena arena = {0};
    const size_t n = stretch->end - stretch->first;
    const size_t n_links = stretch->end_link - stretch->first_link;
    size_t *const n_choices = HBK_ARENA_ARRAY(&arena, size_t, n);
    const int64_t **const costs = HBK_ARENA_ARRAY(&arena, const int64_t *, n);
    struct hbk_lattice_link *const links =
        HBK_ARENA_ARRAY(&arena, struct hbk_lattice_link, n_links + 1);
    stretch->graph = graph;
    stretch->link_of = HBK_ARENA_ARRAY(&arena, size_t, n_links + 1);
    for (size_t i = 0; i < n; i++) {
        n_choices[i] = graph->notes[stretch->first + i].candidates->n;
        costs[i] = costs_beside(stretch, stretch->first + i, &arena);
    }
    const struct hbk_lattice lattice = {
        .n = n,
        .n_choices = n_choices,
        .costs = costs,
        .n_links = links_within(stretch, links),
        .links = links,
        .fill = fill_stretch,
        .ctx = stretch,
    };
    struct hbk_lattice_way way[HBK_LATTICE_WAYS_MAX];
    bool exact = false;
    (void)hbk_lattice_search(&lattice, 1, &arena, way, &exact);
    for (size_t i = 0; i < n; i++) {
        graph->notes[stretch->first + i].taken = way[0].pick[i];
    }
    hbk_arena_finish(&arena);
}

/* The next note from `at` on that is taken with what is barred, or n. */
static size_t next_barred(const struct hbk_graph *graph, size_t at)
{
    while (at < graph->n &&
           graph->costs[at][graph->notes[at].taken] != HBK_LATTICE_BARRED) {
        at++;
    }
    return at;
}

/*
 * How many notes on either side of one that was barred are decided anew with
 * it. What lies further away hardly changes, and the last search, of the
 * whole, sees to it.
 */
enum { BESIDE = 8 };

/* Decides anew, from the first to the last, what is about barred notes. */
static void search_about_barred(struct hbk_graph *graph)
{
    size_t link = 0;
    for (size_t i = next_barred(graph, 0); i < graph->n;) {
        size_t last = i;
        size_t next = next_barred(graph, i + 1);
        while (next < graph->n && next - last <= BESIDE) {
            last = next;
            next = next_barred(graph, next + 1);
        }
        struct stretch stretch = {
            .first = i > BESIDE ? i - BESIDE : 0,
            .end = graph->n - last > BESIDE ? last + BESIDE : graph->n};
        while (link > 0 && graph->lattice_links[link - 1].to >= stretch.first) {
            link--;
        }
        while (link < graph->n_links &&
               graph->lattice_links[link].to < stretch.first) {
            link++;
        }
        stretch.first_link = link;
        while (link < graph->n_links &&
               graph->lattice_links[link].to < stretch.end) {
            link++;
        }
        stretch.end_link = link;
        search_stretch(graph, &stretch);
        i = next_barred(graph, stretch.end);
    }
}

void hbk_graph_settle(struct hbk_graph *graph, struct hbk_passage *passage)
{
    for (;;) {
        search(graph, passage);
        for (size_t i = 0; i < graph->n; i++) {
            graph->notes[i].taken = passage->ways[0].pick[i];
        }
        if (!hbk_graph_bar_strays(graph)) {
            return;
        }
        do {
            search_about_barred(graph);
        } while (hbk_graph_bar_strays(graph));
    }
}
