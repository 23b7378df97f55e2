#ifndef HBK_PASSAGE_GRAPH_H
#define HBK_PASSAGE_GRAPH_H

#include "passage/lattice.h"
#include "passage/passage.h"
#include "passage/timing.h"

/*
 * A passage while it is looked for: its notes and junctions as nodes and
 * links of a lattice. Shared by the files of this folder only.
 */

/* The same junction, each time it is played alike. */
struct hbk_graph_link {
    size_t from, to; /* notes of the passage, from != to, in playing order */
    double available_s, quarters;
    double count;
    bool grace;
};

/* The costs between two written notes, as they were wanted last. */
struct hbk_graph_memory {
    const double *hands_s; /* of which pair of notes; NULL for none yet */
    double available_s, count;
    bool grace;
    int64_t *costs; /* [from * n_to + to] */
};

enum { HBK_GRAPH_MEMORIES = 4096 };

struct hbk_graph {
    const struct hbk_passage_request *request;
    struct hbk_arena *arena;
    struct hbk_repertoire repertoire;
    struct hbk_timing timing;
    size_t n;
    struct hbk_passage_note *notes;
    size_t *note_of; /* by event */
    int64_t **costs; /* by note and candidate */
    double *held;    /* by note: hbk_held_price() in all, which is in costs */
    size_t n_links;  /* links[l] belongs to lattice_links[l] */
    struct hbk_graph_link *links;
    struct hbk_lattice_link *lattice_links;
    const double **hands_s; /* by link; from the earlier played note */
    struct hbk_graph_memory *memories; /* HBK_GRAPH_MEMORIES of them */
    /* By written note and interval - 1: one trill for each candidate. */
    struct hbk_trill *trills[HBK_NOTE_MAX + 1][2];
    /* The links of a note: touching[first_of[i]] to touching[first_of[i+1]]. */
    size_t *first_of, *touching;
};

/* The trills of a note's candidates, to the interval of its trill. */
const struct hbk_trill *
hbk_graph_trills(struct hbk_graph *graph,
                 const struct hbk_candidates *candidates, int interval);

/* What the hands and the lip do along a link. */
struct hbk_graph_step {
    double hands_s, lip_s;
    double hands_price, lip_price; /* each time it is played */
};

struct hbk_graph_step hbk_graph_step_of(const struct hbk_graph *graph,
                                        size_t link, size_t from_pick,
                                        size_t to_pick);

/* The cost of a link, as a whole number. */
int64_t hbk_graph_link_cost(const struct hbk_graph *graph, size_t link,
                            size_t from_pick, size_t to_pick);

/* Squared cents in thousandths, so that sums are exact. */
enum { HBK_GRAPH_SCALE = 1000 };

/* Makes notes and links; the notes of `out` are those out of reach. */
enum hbk_status hbk_graph_make(const struct hbk_passage_request *request,
                               struct hbk_arena *arena, struct hbk_graph *graph,
                               struct hbk_passage *passage) HBK_MUST_CHECK;

/*
 * Bars what leaves a partial for one note and comes back to it, of what is
 * taken: an alternate off the one partial of both its neighbours; and an
 * alternate beside a note that is played as usual,
 * if it makes that note leave the partial of both its neighbours where their
 * usual fingerings do not. Never a usual fingering, one that is kept, or one
 * for a trill. Returns whether there was any.
 */
bool hbk_graph_bar_strays(struct hbk_graph *graph);

/*
 * Runs are practised with the usual fingerings, and quick ones are played with
 * them. A run is HBK_RUN_NOTES notes at least that go one way by steps of
 * HBK_RUN_STEP semitones at most. A quick note in it has no alternate that is
 * more than HBK_RUN_CENTS further out of tune than its usual fingering, unless
 * hands or lip need more than HBK_RUN_NEED times the time there is for the
 * usual ones. A note with a step that is of no run, as in a shake or a turn,
 * is free. All our own choice, no source: the cents let the open fifth partial
 * (14 cents flat) stand in, the need is twice what is called hard.
 */
#define HBK_RUN_CENTS 15.0
#define HBK_RUN_NEED (2.0 * HBK_PASSAGE_HARD)
#define HBK_RUN_QUICK_S 0.25 /* slower, no alternate is wanted anyway */
enum { HBK_RUN_NOTES = 4, HBK_RUN_STEP = 2 };

/* Bars such alternates; never one that is kept, or one for a trill. */
void hbk_graph_bar_in_runs(struct hbk_graph *graph);

/*
 * Finds the cheapest ways, anew until nothing strays, and takes the first.
 * Whatever is barred is no usual fingering, so that this ends, and mostly at
 * once. Between searches of the whole, only what is about a barred note is
 * decided anew, until nothing strays there.
 */
void hbk_graph_settle(struct hbk_graph *graph, struct hbk_passage *passage);

/*
 * Why a note is not played as usual, from what its neighbours would ask of
 * the usual fingering.
 */
const char *hbk_graph_why(struct hbk_graph *graph, size_t note);

#endif
