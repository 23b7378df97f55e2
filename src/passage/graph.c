#include "passage/graph.h"

#include "passage/keep.h"
#include "passage/lip.h"
#include "passage/surcharge.h"
#include "tune/melody/ornament.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_note(const struct hbk_tune_event *event)
{
    return event->kind != HBK_TUNE_REST;
}

/* The written notes that are played at all, and which of them sound. */
static void find_notes(struct hbk_graph *graph,
                       const struct hbk_tune_performance *performance,
                       bool sounds[], struct hbk_passage *passage)
{
    const struct hbk_tune *const tune = graph->request->tune;
    bool *const played =
        HBK_ARENA_ARRAY(graph->arena, bool, tune->n_events + 1);
    for (size_t i = 0; i < performance->n + performance->n_unplayed; i++) {
        played[performance->items[i].event] = true;
    }
    size_t *const out =
        HBK_ARENA_ARRAY(graph->arena, size_t, tune->n_events + 1);
    graph->notes = HBK_ARENA_ARRAY(graph->arena, struct hbk_passage_note,
                                   tune->n_events + 1);
    graph->note_of = HBK_ARENA_ARRAY(graph->arena, size_t, tune->n_events + 1);
    for (size_t e = 0; e < tune->n_events; e++) {
        graph->note_of[e] = HBK_TUNE_NONE;
        if (!is_note(&tune->events[e]) || !played[e]) {
            continue;
        }
        const struct hbk_candidates *const candidates =
            hbk_repertoire_of(&graph->repertoire, tune->events[e].note);
        if (candidates->n == 0) {
            out[passage->n_out++] = e;
            continue;
        }
        sounds[e] = true;
        graph->note_of[e] = graph->n;
        graph->notes[graph->n++] = (struct hbk_passage_note){
            .event = e, .candidates = candidates, .before = HBK_TUNE_NONE};
    }
    passage->out = out;
}

/* A trill by more than a tone, or by nothing, is not followed. */
static int trill_interval(const struct hbk_tune *tune, size_t event)
{
    const int interval = hbk_tune_other_interval(tune, event);
    return interval < 2 ? 1 : 2;
}

const struct hbk_trill *
hbk_graph_trills(struct hbk_graph *graph,
                 const struct hbk_candidates *candidates, int interval)
{
    const int written = candidates->note->written;
    struct hbk_trill **const slot = &graph->trills[written][interval - 1];
    if (*slot == NULL) {
        *slot = HBK_ARENA_ARRAY(graph->arena, struct hbk_trill, candidates->n);
        for (size_t x = 0; x < candidates->n; x++) {
            (*slot)[x] =
                hbk_trill_find(graph->request->keywork, graph->request->notes,
                               written, interval, candidates->of[x]);
        }
    }
    return *slot;
}

/* What the trill of a note adds to the costs of its candidates. */
static void add_trill(struct hbk_graph *graph, struct hbk_passage_note *note,
                      double price[HBK_CANDIDATES_MAX])
{
    const struct hbk_candidates *const list = note->candidates;
    note->trill.interval = trill_interval(graph->request->tune, note->event);
    const struct hbk_trill *const trills =
        hbk_graph_trills(graph, list, note->trill.interval);
    bool any = false;
    for (size_t x = 0; x < list->n; x++) {
        any = any || trills[x].kind != HBK_TRILL_NONE;
    }
    for (size_t x = 0; x < list->n && any; x++) {
        price[x] += trills[x].kind == HBK_TRILL_NONE
                        ? HBK_PRICE_NO_TRILL
                        : trills[x].price - hbk_trill_heard(list->of[x]);
    }
}

static int64_t whole(double price)
{
    return (int64_t)floor((price * HBK_GRAPH_SCALE) + 0.5);
}

/* Sums over all times that a note is played. */
struct sums {
    double heard; /* hbk_lip_heard() */
    double held;  /* hbk_held_price() */
};

static void cost_note(struct hbk_graph *graph, size_t i,
                      const struct sums *played)
{
    struct hbk_passage_note *const note = &graph->notes[i];
    const struct hbk_candidates *const list = note->candidates;
    const struct hbk_tune_event *const event =
        &graph->request->tune->events[note->event];
    double price[HBK_CANDIDATES_MAX] = {0};
    note->wants_trill = (event->articulation & HBK_TUNE_TRILL) != 0;
    if (note->wants_trill) {
        add_trill(graph, note, price);
    }
    const double times = (double)note->times;
    graph->held[i] = note->wants_trill ? 0.0 : played->held;
    graph->costs[i] = HBK_ARENA_ARRAY(graph->arena, int64_t, list->n);
    for (size_t x = 0; x < list->n; x++) {
        const double cents2 = list->of[x]->cents * list->of[x]->cents;
        const double off2 = cents2 + hbk_unsure_price(graph->request->keywork,
                                                      list->of[x]->press);
        price[x] += list->of[x]->cost - cents2;
        price[x] += x > 0 ? hbk_departure_price(list->of[0], list->of[x]) : 0.0;
        graph->costs[i][x] = whole((price[x] * times) + (off2 * played->heard) +
                                   (x > 0 ? graph->held[i] : 0.0));
    }
    if (graph->request->keep && event->fingering != NULL) {
        note->kept = hbk_keep(graph->request->notes, event->fingering, list,
                              graph->costs[i]);
    }
}

static void cost_notes(struct hbk_graph *graph, const struct hbk_timing *timing)
{
    struct sums *const played =
        HBK_ARENA_ARRAY(graph->arena, struct sums, graph->n + 1);
    for (size_t i = 0; i < timing->n_sounded; i++) {
        const size_t note = graph->note_of[timing->sounded[i].event];
        const double length_s = timing->sounded[i].length_s;
        played[note].heard += hbk_lip_heard(length_s);
        played[note].held += hbk_held_price(length_s);
        graph->notes[note].times++;
    }
    graph->costs = HBK_ARENA_ARRAY(graph->arena, int64_t *, graph->n + 1);
    graph->held = HBK_ARENA_ARRAY(graph->arena, double, graph->n + 1);
    for (size_t i = 0; i < graph->n; i++) {
        cost_note(graph, i, &played[i]);
    }
}

/* Bars that are never played have fingerings as if they were, once. */
static void count_unplayed(struct hbk_graph *graph)
{
    const struct hbk_tune *const tune = graph->request->tune;
    const bool *const played = hbk_tune_played_bars(tune, graph->arena);
    for (size_t i = 0; i < graph->n; i++) {
        struct hbk_passage_note *const note = &graph->notes[i];
        note->times = played[tune->events[note->event].bar] ? note->times : 0;
    }
}

static size_t later(const struct hbk_graph_link *link)
{
    return link->from > link->to ? link->from : link->to;
}

static size_t earlier(const struct hbk_graph_link *link)
{
    return link->from < link->to ? link->from : link->to;
}

static int by_size(size_t a, size_t b)
{
    return (a > b) - (a < b);
}

/* By the later note, as the lattice wants them; then alike beside alike. */
static int by_ends(const void *a, const void *b)
{
    const struct hbk_graph_link *const x = a;
    const struct hbk_graph_link *const y = b;
    int order = by_size(later(x), later(y));
    order = order != 0 ? order : by_size(earlier(x), earlier(y));
    order = order != 0 ? order : by_size(x->from, y->from);
    if (order == 0 && x->available_s != y->available_s) {
        order = x->available_s < y->available_s ? -1 : 1;
    }
    if (order == 0 && x->quarters != y->quarters) {
        order = x->quarters < y->quarters ? -1 : 1;
    }
    return order;
}

static void make_links(struct hbk_graph *graph, const struct hbk_timing *timing)
{
    struct hbk_graph_link *const links = HBK_ARENA_ARRAY(
        graph->arena, struct hbk_graph_link, timing->n_junctions + 1);
    size_t n = 0;
    for (size_t i = 0; i < timing->n_junctions; i++) {
        const struct hbk_junction *const junction = &timing->junctions[i];
        /* A note after itself is one fingering, and nothing moves. */
        if (junction->from != junction->to) {
            links[n++] =
                (struct hbk_graph_link){.from = graph->note_of[junction->from],
                                        .to = graph->note_of[junction->to],
                                        .available_s = junction->available_s,
                                        .quarters = junction->quarters,
                                        .count = 1.0,
                                        .grace = junction->grace};
        }
    }
    if (n > 0) {
        qsort(links, n, sizeof(links[0]), by_ends);
    }
    for (size_t i = 0; i < n; i++) {
        if (graph->n_links > 0 &&
            by_ends(&links[graph->n_links - 1], &links[i]) == 0) {
            links[graph->n_links - 1].count += 1.0;
        } else {
            links[graph->n_links++] = links[i];
        }
    }
    graph->links = links;
}

static int written_of(const struct hbk_graph *graph, size_t note)
{
    return graph->notes[note].candidates->note->written;
}

/* The tables that costs are looked up in. */
static void index_links(struct hbk_graph *graph)
{
    const size_t n = graph->n_links;
    graph->lattice_links =
        HBK_ARENA_ARRAY(graph->arena, struct hbk_lattice_link, n + 1);
    graph->hands_s = HBK_ARENA_ARRAY(graph->arena, const double *, n + 1);
    graph->memories = HBK_ARENA_ARRAY(graph->arena, struct hbk_graph_memory,
                                      HBK_GRAPH_MEMORIES);
    graph->first_of = HBK_ARENA_ARRAY(graph->arena, size_t, graph->n + 2);
    graph->touching = HBK_ARENA_ARRAY(graph->arena, size_t, (2 * n) + 1);
    for (size_t l = 0; l < n; l++) {
        const struct hbk_graph_link *const link = &graph->links[l];
        graph->lattice_links[l] =
            (struct hbk_lattice_link){.from = earlier(link), .to = later(link)};
        graph->hands_s[l] = hbk_repertoire_between(
            &graph->repertoire, written_of(graph, link->from),
            written_of(graph, link->to));
        graph->first_of[link->from + 1]++;
        graph->first_of[link->to + 1]++;
    }
    for (size_t i = 0; i < graph->n; i++) {
        graph->first_of[i + 1] += graph->first_of[i];
    }
    size_t *const next = HBK_ARENA_ARRAY(graph->arena, size_t, graph->n + 1);
    memcpy(next, graph->first_of, graph->n * sizeof(*next));
    for (size_t l = 0; l < n; l++) {
        graph->touching[next[graph->links[l].from]++] = l;
        graph->touching[next[graph->links[l].to]++] = l;
    }
}

static double price_of(const struct hbk_graph_link *link, double least_s)
{
    return link->grace ? hbk_grace_price(least_s, link->available_s)
                       : hbk_pressed_price(least_s, link->available_s);
}

/* Whether two notes would be one and the same sound, whatever the lip does. */
static bool is_one_sound(const struct hbk_candidates *a, size_t x,
                         const struct hbk_candidates *b, size_t y)
{
    return a != b && a->of[x]->press == b->of[y]->press &&
           a->of[x]->partial == b->of[y]->partial;
}

struct hbk_graph_step hbk_graph_step_of(const struct hbk_graph *graph,
                                        size_t link, size_t from_pick,
                                        size_t to_pick)
{
    const struct hbk_graph_link *const l = &graph->links[link];
    const struct hbk_candidates *const a = graph->notes[l->from].candidates;
    const struct hbk_candidates *const b = graph->notes[l->to].candidates;
    struct hbk_graph_step step = {
        .hands_s = graph->hands_s[link][(from_pick * b->n) + to_pick],
        .lip_s =
            hbk_lip_least_s(a->of[from_pick]->partial, b->of[to_pick]->partial),
    };
    step.hands_price = price_of(l, step.hands_s);
    step.lip_price = price_of(l, step.lip_s);
    if (is_one_sound(a, from_pick, b, to_pick)) {
        step.lip_price = HBK_PRICE_ONE_SOUND;
    }
    return step;
}

int64_t hbk_graph_link_cost(const struct hbk_graph *graph, size_t link,
                            size_t from_pick, size_t to_pick)
{
    const struct hbk_graph_step step =
        hbk_graph_step_of(graph, link, from_pick, to_pick);
    return whole((step.hands_price + step.lip_price) *
                 graph->links[link].count);
}

enum hbk_status hbk_graph_make(const struct hbk_passage_request *request,
                               struct hbk_arena *arena, struct hbk_graph *graph,
                               struct hbk_passage *passage)
{
    struct hbk_tune_performance performance;
    HBK_TRY(
        hbk_tune_unfold(request->tune, request->quarters, arena, &performance));
    if (performance.n > HBK_PASSAGE_PLAYED_MAX) {
        return HBK_ERR_DOMAIN;
    }
    *graph = (struct hbk_graph){
        .request = request,
        .arena = arena,
        .repertoire = {.notes = request->notes,
                       .keywork = request->keywork,
                       .arena = arena},
    };
    bool *const sounds =
        HBK_ARENA_ARRAY(arena, bool, request->tune->n_events + 1);
    find_notes(graph, &performance, sounds, passage);
    const struct hbk_timing timing = hbk_timing_of(
        request->tune, &performance, request->quarters, sounds, arena);
    cost_notes(graph, &timing);
    count_unplayed(graph);
    make_links(graph, &timing);
    index_links(graph);
    graph->timing = timing;
    passage->tempo_assumed = performance.tempo_assumed;
    return HBK_OK;
}
