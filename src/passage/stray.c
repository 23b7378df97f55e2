#include "passage/graph.h"

static unsigned partial_of(const struct hbk_graph *graph, size_t note,
                           size_t pick)
{
    return graph->notes[note].candidates->of[pick]->partial;
}

static unsigned taken_partial(const struct hbk_graph *graph, size_t note)
{
    return partial_of(graph, note, graph->notes[note].taken);
}

/* Whether a note may be denied what it is played with. */
static bool may_bar(const struct hbk_graph *graph, size_t note)
{
    const struct hbk_passage_note *const n = &graph->notes[note];
    return n->taken > 0 && n->kept != HBK_PASSAGE_KEPT && !n->wants_trill;
}

static bool bar(struct hbk_graph *graph, size_t note)
{
    if (!may_bar(graph, note)) {
        return false;
    }
    graph->costs[note][graph->notes[note].taken] = HBK_LATTICE_BARRED;
    return true;
}

/* Three notes in succession of which the middle one leaves the partial. */
static bool bar_between(struct hbk_graph *graph, size_t before, size_t note,
                        size_t after)
{
    const unsigned partial = taken_partial(graph, before);
    if (taken_partial(graph, after) != partial ||
        taken_partial(graph, note) == partial) {
        return false;
    }
    if (graph->notes[note].taken > 0) {
        return bar(graph, note);
    }
    const unsigned usual = partial_of(graph, before, 0);
    if (partial_of(graph, after, 0) == usual &&
        partial_of(graph, note, 0) != usual) {
        return false;
    }
    const bool first = bar(graph, before);
    return bar(graph, after) || first;
}

bool hbk_graph_bar_strays(struct hbk_graph *graph)
{
    bool any = false;
    for (size_t i = 0; i < graph->n; i++) {
        const size_t *const touching = graph->touching + graph->first_of[i];
        const size_t n = graph->first_of[i + 1] - graph->first_of[i];
        for (size_t a = 0; a < n; a++) {
            const struct hbk_graph_link *const in = &graph->links[touching[a]];
            for (size_t b = 0; b < n && in->to == i; b++) {
                const struct hbk_graph_link *const out =
                    &graph->links[touching[b]];
                any = (out->from == i &&
                       bar_between(graph, in->from, i, out->to)) ||
                      any;
            }
        }
    }
    return any;
}
