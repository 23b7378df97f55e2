#include "horn/about.h"
#include "passage/graph.h"

#include "horn/press.h"

#include <stdio.h>
#include <string.h>

/* A point must save this share of all savings to be spoken of. */
static const double worth_saying = 0.25;

enum { POINTS_MAX = 2 };

/* One thing that the usual fingering would make cost more. */
struct point {
    double saves;
    size_t link;
    size_t other_pick; /* what the note beside is then played with */
    bool lip;          /* else the hands */
};

struct points {
    size_t n;
    struct point of[POINTS_MAX]; /* the costliest first */
    double total;
};

static void points_add(struct points *points, struct point point)
{
    if (point.saves <= 0.0) {
        return;
    }
    points->total += point.saves;
    for (size_t i = 0; i < POINTS_MAX; i++) {
        if (i == points->n) {
            points->of[points->n++] = point;
            return;
        }
        if (points->of[i].saves < point.saves) {
            const struct point moved = points->of[i];
            points->of[i] = point;
            point = moved;
        }
    }
}

/* The note at the other end of a link. */
static size_t beside(const struct hbk_graph *graph, size_t i, size_t link)
{
    const struct hbk_graph_link *const l = &graph->links[link];
    return l->to == i ? l->from : l->to;
}

/* A link with these fingerings of note `i` and of the one beside it. */
static struct hbk_graph_step step_with(const struct hbk_graph *graph,
                                       size_t link, size_t i, size_t pick,
                                       size_t other_pick)
{
    const bool is_after = graph->links[link].to == i;
    return hbk_graph_step_of(graph, link, is_after ? other_pick : pick,
                             is_after ? pick : other_pick);
}

static double price_of(struct hbk_graph_step step)
{
    return step.hands_price + step.lip_price;
}

/*
 * Where two notes depart together, one is no reason for the other: both are
 * then compared with what is usual, if that is what it saves.
 */
static size_t compared_with(const struct hbk_graph *graph, size_t i,
                            size_t link)
{
    const struct hbk_passage_note *const note = &graph->notes[i];
    const struct hbk_passage_note *const other =
        &graph->notes[beside(graph, i, link)];
    if (other->kept == HBK_PASSAGE_KEPT ||
        price_of(step_with(graph, link, i, 0, 0)) <=
            price_of(step_with(graph, link, i, note->taken, other->taken))) {
        return other->taken;
    }
    return 0;
}

static struct points points_of(const struct hbk_graph *graph, size_t i)
{
    struct points points = {0};
    for (size_t t = graph->first_of[i]; t < graph->first_of[i + 1]; t++) {
        const size_t link = graph->touching[t];
        const double count = graph->links[link].count;
        const size_t pick = compared_with(graph, i, link);
        const struct hbk_graph_step usual = step_with(graph, link, i, 0, pick);
        const struct hbk_graph_step taken =
            step_with(graph, link, i, graph->notes[i].taken,
                      graph->notes[beside(graph, i, link)].taken);
        points_add(&points, (struct point){.saves = count * (usual.hands_price -
                                                             taken.hands_price),
                                           .link = link,
                                           .other_pick = pick});
        points_add(&points, (struct point){.saves = count * (usual.lip_price -
                                                             taken.lip_price),
                                           .link = link,
                                           .other_pick = pick,
                                           .lip = true});
    }
    return points;
}

static const char *label_of(const struct hbk_graph *graph,
                            const struct hbk_candidates *candidates,
                            size_t pick)
{
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(graph->request->notes->horn,
                         candidates->of[pick]->press, label);
    return hbk_arena_copy(graph->arena, label, strlen(label));
}

/* The tune as its reader names it. */
static const struct hbk_tune *named_tune(const struct hbk_graph *graph)
{
    return graph->request->read != NULL ? graph->request->read
                                        : graph->request->tune;
}

/*
 * "after D4: valve 3 up as valve 2 goes down ..."; `again` without
 * the note, where it has just been named.
 */
static const char *point_words(const struct hbk_graph *graph, size_t i,
                               const struct point *point, bool again)
{
    const bool is_after = graph->links[point->link].to == i;
    const struct hbk_passage_note *const other =
        &graph->notes[beside(graph, i, point->link)];
    const struct hbk_candidates *const own = graph->notes[i].candidates;
    const struct hbk_candidates *const others = other->candidates;
    char name[HBK_NAME_SIZE];
    char what[HBK_MOVE_WORDS_SIZE];
    hbk_spelling_said(named_tune(graph)->events[other->event].spelling,
                      graph->request->notes->notation.naming, HBK_UNICODE,
                      name);
    if (point->lip) {
        const unsigned a = own->of[0]->partial;
        const unsigned b = others->of[point->other_pick]->partial;
        (void)snprintf(what, sizeof(what), "the partial changes from %u to %u",
                       is_after ? b : a, is_after ? a : b);
    } else {
        const struct hbk_grips *const a = &own->grips[0];
        const struct hbk_grips *const b = &others->grips[point->other_pick];
        const unsigned hard = ~(unsigned)HBK_MOVE_STAYS;
        hbk_passing_words(graph->request->keywork, is_after ? b : a,
                          is_after ? a : b, hard, what);
    }
    if (again) {
        return hbk_arena_copy(graph->arena, what, strlen(what));
    }
    /* What it is played with goes without saying only where it is usual. */
    return hbk_arena_printf(
        graph->arena, "%s %s%s%s: %s", is_after ? "after" : "before", name,
        other->taken > 0 ? " on " : "",
        other->taken > 0 ? label_of(graph, others, point->other_pick) : "",
        what);
}

/* Whether two points are the way to a note and the same way back. */
static bool is_there_and_back(const struct hbk_graph *graph, size_t i,
                              const struct points *points)
{
    const struct point *const a = &points->of[0];
    const struct point *const b = &points->of[1];
    if (a->lip != b->lip ||
        (graph->links[a->link].to == i) == (graph->links[b->link].to == i)) {
        return false;
    }
    const struct hbk_passage_note *const x =
        &graph->notes[beside(graph, i, a->link)];
    const struct hbk_passage_note *const y =
        &graph->notes[beside(graph, i, b->link)];
    return x->candidates == y->candidates && x->taken == y->taken;
}

/* What stays down as it is taken and would not as usual; "" for nothing. */
static const char *stays_words(const struct hbk_graph *graph, size_t i,
                               const struct point *point)
{
    const struct hbk_passage_note *const note = &graph->notes[i];
    const struct hbk_passage_note *const other =
        &graph->notes[beside(graph, i, point->link)];
    const struct hbk_candidates *const own = note->candidates;
    const struct hbk_candidates *const others = other->candidates;
    const uint32_t stays =
        own->of[note->taken]->press & others->of[other->taken]->press &
        ~(own->of[0]->press & others->of[point->other_pick]->press);
    if (point->lip || stays == 0) {
        return "";
    }
    char control[80];
    hbk_control_words(hbk_horn_control(graph->request->notes->horn,
                                       (size_t)__builtin_ctz(stays)),
                      control, sizeof(control));
    return hbk_arena_printf(graph->arena, "; with %s, %s stays down",
                            label_of(graph, own, note->taken), control);
}

static const char *points_words(const struct hbk_graph *graph, size_t i,
                                const struct points *points)
{
    const char *const usual = label_of(graph, graph->notes[i].candidates, 0);
    const char *const first = point_words(graph, i, &points->of[0], false);
    const char *const stays = stays_words(graph, i, &points->of[0]);
    if (points->n == 1 || points->of[1].saves < worth_saying * points->total) {
        return hbk_arena_printf(graph->arena, "with %s, %s%s", usual, first,
                                stays);
    }
    if (is_there_and_back(graph, i, points)) {
        return hbk_arena_printf(
            graph->arena, "with %s, %s, and back %s%s", usual, first,
            graph->links[points->of[0].link].to == i ? "after it" : "before it",
            stays);
    }
    const char *const second = point_words(
        graph, i, &points->of[1], points->of[1].link == points->of[0].link);
    return hbk_arena_printf(
        graph->arena, "with %s, %s; %s%s", usual, first, second,
        stays[0] != '\0' ? stays : stays_words(graph, i, &points->of[1]));
}

static bool is_for_the_trill(struct hbk_graph *graph, size_t i, double saves)
{
    const struct hbk_passage_note *const note = &graph->notes[i];
    if (!note->wants_trill) {
        return false;
    }
    const struct hbk_trill *const trills =
        hbk_graph_trills(graph, note->candidates, note->trill.interval);
    return trills[0].price - trills[note->taken].price > saves;
}

const char *hbk_graph_why(struct hbk_graph *graph, size_t note)
{
    if (graph->notes[note].kept == HBK_PASSAGE_KEPT) {
        return "as the file has it";
    }
    const struct points points = points_of(graph, note);
    if (is_for_the_trill(graph, note, points.total)) {
        return "for the trill";
    }
    if (points.n == 0) {
        return "fewer fingers, and too short for its tuning to count";
    }
    return points_words(graph, note, &points);
}
