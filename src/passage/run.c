#include "passage/graph.h"
#include "passage/lip.h"

#include <math.h>
#include <stdlib.h>

/* What the junctions of a note are, over all times that it is played. */
struct place {
    bool runs;  /* one is of a run */
    bool turns; /* one is a step that is of no run */
};

/* From one junction's note to the next: 0 for the same note, else a step. */
static int interval_of(const struct hbk_graph *graph,
                       const struct hbk_junction *junction)
{
    const struct hbk_tune *const tune = graph->request->tune;
    return tune->events[junction->to].note - tune->events[junction->from].note;
}

static bool is_step(int interval)
{
    return abs(interval) <= HBK_RUN_STEP;
}

/*
 * The end of the steps one way that begin with junction `at`, and in `n_notes`
 * the notes they lead through, of which one that is repeated counts once.
 */
static size_t end_of_steps(const struct hbk_graph *graph, size_t at,
                           size_t *n_notes)
{
    const struct hbk_timing *const timing = &graph->timing;
    int way = 0;
    size_t i = at;
    for (*n_notes = 1; i < timing->n_junctions; i++) {
        const struct hbk_junction *const junction = &timing->junctions[i];
        const int interval = interval_of(graph, junction);
        const bool joins =
            i == at || timing->junctions[i - 1].to == junction->from;
        if (!joins || !is_step(interval) || way * interval < 0) {
            break;
        }
        if (interval != 0) {
            way = interval;
            ++*n_notes;
        }
    }
    return i;
}

static void mark(const struct hbk_graph *graph,
                 const struct hbk_junction *junction, bool runs,
                 struct place places[])
{
    const size_t ends[] = {graph->note_of[junction->from],
                           graph->note_of[junction->to]};
    for (size_t e = 0; e < 2; e++) {
        places[ends[e]].runs = places[ends[e]].runs || runs;
        places[ends[e]].turns = places[ends[e]].turns || !runs;
    }
}

static void find_places(const struct hbk_graph *graph, struct place places[])
{
    const struct hbk_timing *const timing = &graph->timing;
    for (size_t at = 0; at < timing->n_junctions;) {
        size_t n_notes = 0;
        const size_t end = end_of_steps(graph, at, &n_notes);
        for (size_t i = at; i < end; i++) {
            mark(graph, &timing->junctions[i], n_notes >= HBK_RUN_NOTES,
                 places);
        }
        at = end > at ? end : at + 1; /* a leap is neither */
    }
}

/* Whether hands and lip can do a note and its neighbours as usual. */
static bool can_be_usual(const struct hbk_graph *graph, size_t note)
{
    for (size_t t = graph->first_of[note]; t < graph->first_of[note + 1]; t++) {
        const size_t link = graph->touching[t];
        const struct hbk_graph_step step = hbk_graph_step_of(graph, link, 0, 0);
        const double need_s = fmax(step.hands_s, step.lip_s);
        if (!graph->links[link].grace &&
            need_s > HBK_RUN_NEED * graph->links[link].available_s) {
            return false;
        }
    }
    return true;
}

/* Whether one junction of a note at least is quick. */
static bool is_quick(const struct hbk_graph *graph, size_t note)
{
    for (size_t t = graph->first_of[note]; t < graph->first_of[note + 1]; t++) {
        if (graph->links[graph->touching[t]].available_s < HBK_RUN_QUICK_S) {
            return true;
        }
    }
    return false;
}

static void bar_far(struct hbk_graph *graph, size_t i)
{
    const struct hbk_passage_note *const note = &graph->notes[i];
    const struct hbk_fingering *const *const of = note->candidates->of;
    for (size_t x = 1; x < note->candidates->n; x++) {
        if (fabs(of[x]->cents) - fabs(of[0]->cents) > HBK_RUN_CENTS) {
            graph->costs[i][x] = HBK_LATTICE_BARRED;
        }
    }
}

void hbk_graph_bar_in_runs(struct hbk_graph *graph)
{
    struct place *const places =
        HBK_ARENA_ARRAY(graph->arena, struct place, graph->n + 1);
    find_places(graph, places);
    for (size_t i = 0; i < graph->n; i++) {
        const struct hbk_passage_note *const note = &graph->notes[i];
        if (places[i].runs && !places[i].turns && !note->wants_trill &&
            note->kept != HBK_PASSAGE_KEPT && is_quick(graph, i) &&
            can_be_usual(graph, i)) {
            bar_far(graph, i);
        }
    }
}
