#include "passage/lattice.h"

#include <assert.h>
#include <string.h>

/*
 * Nodes are decided from the last to the first. What the decided ones cost
 * depends on the choices of the front: undecided nodes that have a link to a
 * decided one. Of each combination of these choices the k cheapest
 * continuations are kept.
 */
enum { FRONT_MAX = 5, NOT_FIXED = -1 };

/* Beyond these the search is cut down; see hbk_lattice_search(). */
static const double work_max = 1e8;
static const double bytes_max = 6e7;

struct front {
    size_t n;
    size_t nodes[FRONT_MAX]; /* rising */
};

/* What is remembered of a node that was decided. */
struct step {
    struct front front;         /* undecided nodes its choice depends on */
    unsigned char *pick, *rank; /* [state * k + rank] */
};

struct search {
    const struct hbk_lattice *lattice;
    size_t k;
    const short *fixed; /* choice that a node must have, or NOT_FIXED */
    bool chain_only;    /* far links are left out */
    struct hbk_arena *arena;
    struct step *steps;
    /* Of the node being decided. */
    size_t node;
    size_t n_parents;
    size_t parents[FRONT_MAX];
    int64_t own[HBK_LATTICE_CHOICES_MAX];
    int64_t *with[FRONT_MAX]; /* own choice beside that of a parent */
    int64_t *filled;
    size_t first_link, end_link; /* its links to earlier nodes */
    struct front front;          /* of what is decided so far */
    int64_t *costs;              /* [state * k + rank] over that front */
    size_t room;                 /* costs that fit there */
    int64_t *new_costs;
};

static bool front_has(const struct front *front, size_t node)
{
    for (size_t i = 0; i < front->n; i++) {
        if (front->nodes[i] == node) {
            return true;
        }
    }
    return false;
}

/* Returns false when the front is full. */
static bool front_add(struct front *front, size_t node)
{
    if (front_has(front, node)) {
        return true;
    }
    if (front->n == FRONT_MAX) {
        return false;
    }
    size_t i = front->n++;
    for (; i > 0 && front->nodes[i - 1] > node; i--) {
        front->nodes[i] = front->nodes[i - 1];
    }
    front->nodes[i] = node;
    return true;
}

static void front_drop(struct front *front, size_t node)
{
    size_t kept = 0;
    for (size_t i = 0; i < front->n; i++) {
        if (front->nodes[i] != node) {
            front->nodes[kept++] = front->nodes[i];
        }
    }
    front->n = kept;
}

static size_t states_of(const struct search *s, const struct front *front)
{
    size_t n = 1;
    for (size_t i = 0; i < front->n; i++) {
        n *= s->lattice->n_choices[front->nodes[i]];
    }
    return n;
}

static bool is_far(const struct hbk_lattice_link *link)
{
    return link->to - link->from > 1;
}

static bool is_left_out(const struct search *s, size_t link)
{
    return s->chain_only && is_far(&s->lattice->links[link]);
}

/* The links of `node` to earlier ones: [first_link, end_link). */
static void find_links(struct search *s, size_t node)
{
    s->node = node;
    s->end_link = s->first_link;
    while (s->first_link > 0 &&
           s->lattice->links[s->first_link - 1].to == node) {
        s->first_link--;
    }
}

/*
 * The front once `node` is decided too. Returns false when it grows too
 * large.
 */
static bool front_after(struct search *s, struct front *front)
{
    front_drop(front, s->node);
    for (size_t l = s->first_link; l < s->end_link; l++) {
        const size_t from = s->lattice->links[l].from;
        if (!is_left_out(s, l) && s->fixed[from] == NOT_FIXED &&
            !front_add(front, from)) {
            return false;
        }
    }
    return true;
}

/* Whether the whole search stays within its limits. */
static bool is_affordable(const struct search *search)
{
    struct search s = *search;
    s.first_link = s.lattice->n_links;
    struct front front = {.n = 0};
    double work = 0.0;
    double bytes = 0.0;
    for (size_t node = s.lattice->n; node-- > 0;) {
        find_links(&s, node);
        if (!front_after(&s, &front)) {
            return false;
        }
        const double states = (double)states_of(&s, &front) * (double)s.k;
        bytes += 2.0 * states;
        work += states * (double)s.lattice->n_choices[node];
        if (work > work_max || bytes > bytes_max) {
            return false;
        }
    }
    return true;
}

/* Adds the costs of a link to what they depend on. */
static void add_link(struct search *s, size_t link)
{
    const size_t from = s->lattice->links[link].from;
    const size_t n = s->lattice->n_choices[s->node];
    s->lattice->fill(s->lattice->ctx, link, s->filled);
    if (s->fixed[from] != NOT_FIXED) {
        const int64_t *const row = s->filled + ((size_t)s->fixed[from] * n);
        for (size_t x = 0; x < n; x++) {
            s->own[x] += s->own[x] == HBK_LATTICE_BARRED ? 0 : row[x];
        }
        return;
    }
    size_t p = 0;
    while (p < s->n_parents && s->parents[p] != from) {
        p++;
    }
    const size_t size = s->lattice->n_choices[from] * n;
    if (p == s->n_parents) {
        s->parents[s->n_parents++] = from;
        memcpy(s->with[p], s->filled, size * sizeof(s->filled[0]));
        return;
    }
    for (size_t i = 0; i < size; i++) {
        s->with[p][i] += s->filled[i];
    }
}

static void gather_costs(struct search *s)
{
    const size_t n = s->lattice->n_choices[s->node];
    const short fixed = s->fixed[s->node];
    for (size_t x = 0; x < n; x++) {
        const bool is_open = fixed == NOT_FIXED || (size_t)fixed == x;
        s->own[x] =
            is_open ? s->lattice->costs[s->node][x] : HBK_LATTICE_BARRED;
    }
    s->n_parents = 0;
    for (size_t l = s->first_link; l < s->end_link; l++) {
        if (!is_left_out(s, l)) {
            add_link(s, l);
        }
    }
}

/* The k cheapest of one state while they are collected. */
struct best {
    size_t k, n;
    int64_t *cost;
    unsigned char *pick, *rank;
};

/* Of equal costs the one that came first stays first. */
static void best_add(struct best *best, int64_t cost, size_t pick, size_t rank)
{
    if (best->n == best->k) {
        if (cost >= best->cost[best->n - 1]) {
            return;
        }
        best->n--;
    }
    size_t i = best->n++;
    for (; i > 0 && best->cost[i - 1] > cost; i--) {
        best->cost[i] = best->cost[i - 1];
        best->pick[i] = best->pick[i - 1];
        best->rank[i] = best->rank[i - 1];
    }
    best->cost[i] = cost;
    best->pick[i] = (unsigned char)pick;
    best->rank[i] = (unsigned char)rank;
}

/* Where the choices of one state lead. */
struct place {
    size_t rest;     /* index into the costs so far, without the own choice */
    size_t own_step; /* what the own choice adds to it; 0 if it is not there */
    const int64_t *rows[FRONT_MAX];
};

static void decide_state(const struct search *s, const struct place *place,
                         struct best *best)
{
    for (size_t x = 0; x < s->lattice->n_choices[s->node]; x++) {
        if (s->own[x] == HBK_LATTICE_BARRED) {
            continue;
        }
        int64_t cost = s->own[x];
        for (size_t p = 0; p < s->n_parents; p++) {
            cost += place->rows[p][x];
        }
        const int64_t *const then =
            s->costs + ((place->rest + (x * place->own_step)) * s->k);
        for (size_t r = 0; r < s->k && then[r] != HBK_LATTICE_BARRED; r++) {
            best_add(best, cost + then[r], x, r);
        }
    }
}

/* For the choices `at` of the new front. */
static struct place place_of(const struct search *s, const struct front *front,
                             const size_t at[FRONT_MAX])
{
    const size_t n = s->lattice->n_choices[s->node];
    struct place place = {.rest = 0};
    size_t stride = 1;
    for (size_t i = s->front.n; i-- > 0;) {
        const size_t node = s->front.nodes[i];
        if (node == s->node) {
            place.own_step = stride;
        }
        for (size_t f = 0; f < front->n; f++) {
            place.rest += front->nodes[f] == node ? at[f] * stride : 0;
        }
        stride *= s->lattice->n_choices[node];
    }
    for (size_t p = 0; p < s->n_parents; p++) {
        for (size_t f = 0; f < front->n; f++) {
            if (front->nodes[f] == s->parents[p]) {
                place.rows[p] = s->with[p] + (at[f] * n);
            }
        }
    }
    return place;
}

/* The next choices in order, the last of the front fastest. */
static void next_state(const struct search *s, const struct front *front,
                       size_t at[FRONT_MAX])
{
    for (size_t f = front->n; f-- > 0;) {
        if (++at[f] < s->lattice->n_choices[front->nodes[f]]) {
            return;
        }
        at[f] = 0;
    }
}

static void make_room(struct search *s, size_t need)
{
    if (need <= s->room) {
        return;
    }
    const size_t old = states_of(s, &s->front) * s->k;
    int64_t *const larger = HBK_ARENA_ARRAY(s->arena, int64_t, need);
    memcpy(larger, s->costs, old * sizeof(*larger));
    s->costs = larger;
    s->new_costs = HBK_ARENA_ARRAY(s->arena, int64_t, need);
    s->room = need;
}

static void decide(struct search *s, size_t node)
{
    find_links(s, node);
    gather_costs(s);
    struct step *const step = &s->steps[node];
    step->front = s->front;
    /* Affordable, so the front has room. */
    const bool fits = front_after(s, &step->front);
    assert(fits);
    (void)fits;
    const size_t n_states = states_of(s, &step->front);
    make_room(s, n_states * s->k);
    step->pick = HBK_ARENA_ARRAY(s->arena, unsigned char, n_states * s->k * 2);
    step->rank = step->pick + (n_states * s->k);
    size_t at[FRONT_MAX] = {0};
    for (size_t state = 0; state < n_states; state++) {
        struct best best = {.k = s->k,
                            .cost = s->new_costs + (state * s->k),
                            .pick = step->pick + (state * s->k),
                            .rank = step->rank + (state * s->k)};
        const struct place place = place_of(s, &step->front, at);
        decide_state(s, &place, &best);
        for (size_t r = best.n; r < s->k; r++) {
            best.cost[r] = HBK_LATTICE_BARRED;
        }
        next_state(s, &step->front, at);
    }
    int64_t *const old = s->costs;
    s->costs = s->new_costs;
    s->new_costs = old;
    s->front = step->front;
}

static void trace(const struct search *s, size_t rank,
                  struct hbk_lattice_way *way)
{
    way->cost = s->costs[rank];
    way->pick = HBK_ARENA_ARRAY(s->arena, unsigned char, s->lattice->n + 1);
    for (size_t node = 0; node < s->lattice->n; node++) {
        const struct step *const step = &s->steps[node];
        size_t state = 0;
        for (size_t f = 0; f < step->front.n; f++) {
            const size_t earlier = step->front.nodes[f];
            state =
                (state * s->lattice->n_choices[earlier]) + way->pick[earlier];
        }
        const size_t i = (state * s->k) + rank;
        way->pick[node] = step->pick[i];
        rank = step->rank[i];
    }
}

static size_t run(struct search *s, struct hbk_lattice_way ways[])
{
    const struct hbk_lattice *const lattice = s->lattice;
    s->steps = HBK_ARENA_ARRAY(s->arena, struct step, lattice->n + 1);
    const size_t square = HBK_LATTICE_CHOICES_MAX * HBK_LATTICE_CHOICES_MAX;
    s->filled = HBK_ARENA_ARRAY(s->arena, int64_t, square);
    for (size_t p = 0; p < FRONT_MAX; p++) {
        s->with[p] = HBK_ARENA_ARRAY(s->arena, int64_t, square);
    }
    s->front.n = 0;
    s->room = HBK_LATTICE_CHOICES_MAX * s->k;
    s->costs = HBK_ARENA_ARRAY(s->arena, int64_t, s->room);
    s->new_costs = HBK_ARENA_ARRAY(s->arena, int64_t, s->room);
    for (size_t r = 1; r < s->k; r++) {
        s->costs[r] = HBK_LATTICE_BARRED; /* one way to decide nothing */
    }
    s->first_link = lattice->n_links;
    for (size_t node = lattice->n; node-- > 0;) {
        decide(s, node);
    }
    size_t found = 0;
    while (found < s->k && s->costs[found] != HBK_LATTICE_BARRED) {
        trace(s, found, &ways[found]);
        found++;
    }
    return found;
}

/* Decides the earlier ends of far links along the chain alone. */
static void fix_far(const struct search *search, short *fixed)
{
    struct search s = *search;
    s.k = 1;
    s.chain_only = true;
    struct hbk_lattice_way way;
    const size_t found = run(&s, &way);
    assert(found == 1);
    (void)found;
    for (size_t l = 0; l < s.lattice->n_links; l++) {
        if (is_far(&s.lattice->links[l])) {
            const size_t from = s.lattice->links[l].from;
            fixed[from] = way.pick[from];
        }
    }
}

size_t hbk_lattice_search(const struct hbk_lattice *lattice, size_t k,
                          struct hbk_arena *arena,
                          struct hbk_lattice_way ways[], bool *exact)
{
    assert(k >= 1 && k <= HBK_LATTICE_WAYS_MAX);
    struct hbk_arena scratch = {0};
    short *const fixed = HBK_ARENA_ARRAY(&scratch, short, lattice->n + 1);
    for (size_t i = 0; i < lattice->n; i++) {
        fixed[i] = NOT_FIXED;
    }
    struct search s = {
        .lattice = lattice, .k = k, .fixed = fixed, .arena = &scratch};
    *exact = is_affordable(&s);
    if (!*exact) {
        fix_far(&s, fixed);
    }
    while (s.k > 1 && !is_affordable(&s)) {
        s.k--;
    }
    const size_t found = run(&s, ways);
    for (size_t w = 0; w < found; w++) {
        unsigned char *const pick =
            HBK_ARENA_ARRAY(arena, unsigned char, lattice->n + 1);
        memcpy(pick, ways[w].pick, lattice->n);
        ways[w].pick = pick;
    }
    hbk_arena_finish(&scratch);
    return found;
}
