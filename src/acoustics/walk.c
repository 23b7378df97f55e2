#include "acoustics/walk.h"

#include "acoustics/ear.h"
#include "acoustics/phase.h"
#include "acoustics/response.h"

#include <math.h>
#include <pthread.h>
#include <string.h>

enum { DEFAULT_STATES = 4096, THREADS_MAX = 64 };

/* A state and its word in the order of the sites: bit k is the k-th site
 * from the mouthpiece, so that the bell side weighs most. */
struct entry {
    uint64_t key;
    size_t index;
};

/* The load in front of one site (level k), or at the bell (level n_sites). */
struct level {
    double *wave; /* 4 arrays: Re p, Im p, Re U, Im U */
    double *end;  /* 2 arrays: the flow at the end that counts, if set here */
    int *quarter;
    double mass;              /* length over area of the load, 1/m */
    const struct level *ends; /* the level whose `end` holds */
};

/* What one thread works with. */
struct worker {
    struct hbk_walk *walk;
    struct level *levels;
    struct hbk_maxima_scratch scratch;
    struct hbk_maximum *found;
    size_t first, last; /* entries */
    size_t steps;
};

/* The question being answered. */
struct job {
    size_t room;
    struct hbk_maximum *maxima;
    size_t *counts;
};

struct hbk_walk {
    const struct hbk_sections *sections;
    size_t states_max;
    bool without_sharing;
    double ear_limit_hz;
    unsigned n_workers;
    struct worker *workers;
    struct entry *entries;
    struct job job;
    size_t bytes;
};

static void *take(struct hbk_walk *walk, struct hbk_arena *arena, size_t count,
                  size_t size)
{
    walk->bytes += count * size;
    return hbk_arena_zalloc(arena, count, size);
}

static void make_worker(struct hbk_walk *walk, struct worker *worker,
                        struct hbk_arena *arena)
{
    const struct hbk_sections *const sections = walk->sections;
    const size_t n = sections->n;
    worker->walk = walk;
    worker->levels =
        take(walk, arena, sections->n_sites + 1, sizeof(struct level));
    for (size_t k = 0; k <= sections->n_sites; k++) {
        struct level *const level = &worker->levels[k];
        level->wave = take(walk, arena, 4 * n, sizeof(double));
        level->end = take(walk, arena, 2 * n, sizeof(double));
        level->quarter = take(walk, arena, n, sizeof(int));
    }
    worker->scratch = (struct hbk_maxima_scratch){
        .slopes = {.rise = take(walk, arena, n, sizeof(double)),
                   .bend = take(walk, arena, n, sizeof(double)),
                   .u2 = take(walk, arena, n, sizeof(double)),
                   .zero = take(walk, arena, n, sizeof(double))},
        .quarter = take(walk, arena, n, sizeof(int)),
    };
    worker->found = take(walk, arena, n, sizeof(struct hbk_maximum));
    /* The bell: its own flow is 1 at every frequency. */
    struct level *const bell = &worker->levels[sections->n_sites];
    memcpy(bell->wave, sections->bell, 4 * n * sizeof(double));
    for (size_t i = 0; i < n; i++) {
        bell->end[i] = 1.0;
    }
    bell->mass = sections->bell_mass;
    bell->ends = bell;
}

struct hbk_walk *hbk_walk_make(const struct hbk_sections *sections,
                               const struct hbk_walk_options *options,
                               struct hbk_arena *arena)
{
    struct hbk_walk *const walk =
        hbk_arena_zalloc(arena, 1, sizeof(struct hbk_walk));
    walk->sections = sections;
    walk->states_max =
        options->states_max == 0 ? DEFAULT_STATES : options->states_max;
    walk->without_sharing = options->without_sharing;
    walk->ear_limit_hz = options->ear_limit_hz == 0.0 ? sections->limit_hz
                                                      : options->ear_limit_hz;
    walk->n_workers = options->threads == 0 ? 1 : options->threads;
    if (walk->n_workers > THREADS_MAX) {
        walk->n_workers = THREADS_MAX;
    }
    walk->bytes = sizeof(*walk);
    walk->entries = take(walk, arena, walk->states_max, sizeof(struct entry));
    walk->workers = take(walk, arena, walk->n_workers, sizeof(struct worker));
    for (unsigned w = 0; w < walk->n_workers; w++) {
        make_worker(walk, &walk->workers[w], arena);
    }
    return walk;
}

/* out = the two-port (8 arrays) times the wave (4 arrays). */
static void carry(size_t n, const double *restrict port,
                  const double *restrict wave, double *restrict out)
{
    for (size_t i = 0; i < n; i++) {
        const double pr = wave[i];
        const double pi = wave[n + i];
        const double ur = wave[(2 * n) + i];
        const double ui = wave[(3 * n) + i];
        const double *const a = port + i;
        out[i] = (a[0] * pr) - (a[n] * pi) + (a[2 * n] * ur) - (a[3 * n] * ui);
        out[n + i] =
            (a[0] * pi) + (a[n] * pr) + (a[2 * n] * ui) + (a[3 * n] * ur);
        out[(2 * n) + i] = (a[4 * n] * pr) - (a[5 * n] * pi) + (a[6 * n] * ur) -
                           (a[7 * n] * ui);
        out[(3 * n) + i] = (a[4 * n] * pi) + (a[5 * n] * pr) + (a[6 * n] * ui) +
                           (a[7 * n] * ur);
    }
}

/* The flow in front of an open hole that is the end that counts. */
static void set_end(size_t n, const struct hbk_site_ports *site,
                    const double *restrict wave, struct level *level)
{
    const double *const cr = site->flow;
    const double *const ci = cr + n;
    const double *const dr = cr + (2 * n);
    const double *const di = cr + (3 * n);
    double *restrict const re = level->end;
    double *restrict const im = level->end + n;
    for (size_t i = 0; i < n; i++) {
        const double pr = wave[i];
        const double pi = wave[n + i];
        const double ur = wave[(2 * n) + i];
        const double ui = wave[(3 * n) + i];
        re[i] = (cr[i] * pr) - (ci[i] * pi) + (dr[i] * ur) - (di[i] * ui);
        im[i] = (cr[i] * pi) + (ci[i] * pr) + (dr[i] * ui) + (di[i] * ur);
    }
    hbk_phase_unwind(n, re, im, level->quarter);
    level->ends = level;
}

/* From the load behind site k to the load in front of it. */
static void step(struct worker *worker, size_t k, bool state)
{
    const struct hbk_sections *const sections = worker->walk->sections;
    const struct hbk_site_ports *const site = &sections->sites[k];
    const struct level *const far = &worker->levels[k + 1];
    struct level *const near = &worker->levels[k];
    const size_t n = sections->n;
    near->ends = far->ends;
    near->mass = far->mass;
    if (site->is_hole && state) {
        /*
         * The hole is the end of the column when at low frequency more flow
         * leaves by it than goes on: when its air is the lighter.
         */
        if (site->own < far->mass) {
            set_end(n, site, far->wave, near);
        }
        near->mass = site->own * far->mass / (site->own + far->mass);
    } else if (state) {
        near->mass += site->own;
    }
    near->mass += site->before;
    carry(n, site->port[state ? 1 : 0], far->wave, near->wave);
    worker->steps++;
}

enum { SCALE_LANES = 8 };
_Static_assert(HBK_LANES % SCALE_LANES == 0, "the grid is whole lanes");

/*
 * A long lattice of holes makes pressure and flow grow by many powers of
 * ten from the bell to the mouthpiece. Only their quotient counts, so a
 * common power of two, which changes no digit, keeps the fourth powers that
 * the search takes within a double.
 */
static void scale_down(size_t n, double *wave)
{
    const double most_plain = 0x1p100;
    double lane[SCALE_LANES] = {0.0};
    for (size_t i = 0; i < n; i += SCALE_LANES) {
        for (size_t k = 0; k < SCALE_LANES; k++) {
            lane[k] += fabs(wave[i + k]);
        }
    }
    double size = 0.0;
    for (size_t k = 0; k < SCALE_LANES; k++) {
        size += lane[k];
    }
    if (size <= most_plain) {
        return;
    }
    int exponent = 0;
    (void)frexp(size, &exponent);
    const double factor = ldexp(1.0, -exponent);
    for (size_t i = 0; i < n; i++) {
        wave[i] *= factor;
    }
}

/* The maxima of the state whose load has reached the mouthpiece. */
static void answer(struct worker *worker, size_t index)
{
    const struct hbk_sections *const sections = worker->walk->sections;
    const struct job *const job = &worker->walk->job;
    const struct level *const level = &worker->levels[0];
    const size_t n = sections->n;
    scale_down(4 * n, level->wave);
    const struct hbk_field field = {
        .n = n,
        .step_hz = sections->step_hz,
        .limit_hz = sections->limit_hz,
        .pr = level->wave,
        .pi = level->wave + n,
        .ur = level->wave + (2 * n),
        .ui = level->wave + (3 * n),
        .endr = level->ends->end,
        .endi = level->ends->end + n,
        .end_quarter = level->ends->quarter,
    };
    size_t count = hbk_maxima_find(&field, &worker->scratch, n, worker->found);
    hbk_response_rate(count, worker->found, sections->limit_hz,
                      sections->wave_impedance);
    hbk_ear_hear(count, worker->found, worker->walk->ear_limit_hz);
    count = count < job->room ? count : job->room;
    memcpy(job->maxima + (index * job->room), worker->found,
           count * sizeof(struct hbk_maximum));
    job->counts[index] = count;
}

static void *work(void *context)
{
    struct worker *const worker = context;
    const struct hbk_walk *const walk = worker->walk;
    const struct job *const job = &walk->job;
    const size_t n_sites = walk->sections->n_sites;
    worker->steps = 0;
    for (size_t e = worker->first; e < worker->last; e++) {
        const struct entry *const entry = &walk->entries[e];
        size_t from = n_sites; /* sites below this number must be redone */
        if (e > worker->first && !walk->without_sharing) {
            const struct entry *const before = &walk->entries[e - 1];
            uint64_t differing = entry->key ^ before->key;
            if (differing == 0) {
                memcpy(job->maxima + (entry->index * job->room),
                       job->maxima + (before->index * job->room),
                       job->counts[before->index] * sizeof(struct hbk_maximum));
                job->counts[entry->index] = job->counts[before->index];
                continue;
            }
            for (from = 0; differing != 0; from++) {
                differing >>= 1;
            }
        }
        for (size_t k = from; k-- > 0;) {
            step(worker, k, ((entry->key >> k) & 1) != 0);
        }
        answer(worker, entry->index);
    }
    return NULL;
}

static bool before(struct entry a, struct entry b)
{
    return a.key != b.key ? a.key < b.key : a.index < b.index;
}

static void sink(struct entry *heap, size_t n, size_t root)
{
    for (;;) {
        size_t child = (2 * root) + 1;
        if (child >= n) {
            return;
        }
        if (child + 1 < n && before(heap[child], heap[child + 1])) {
            child++;
        }
        if (!before(heap[root], heap[child])) {
            return;
        }
        const struct entry swap = heap[root];
        heap[root] = heap[child];
        heap[child] = swap;
        root = child;
    }
}

/* Heapsort: in place, and never slow; qsort may allocate. */
static void sort_entries(struct entry *entries, size_t n)
{
    for (size_t i = n / 2; i-- > 0;) {
        sink(entries, n, i);
    }
    for (size_t end = n; end-- > 1;) {
        const struct entry swap = entries[0];
        entries[0] = entries[end];
        entries[end] = swap;
        sink(entries, end, 0);
    }
}

static uint64_t key_of(const struct hbk_sections *sections, uint64_t word)
{
    uint64_t key = 0;
    for (size_t k = 0; k < sections->n_sites; k++) {
        key |= ((word >> sections->sites[k].site) & 1) << k;
    }
    return key;
}

/*
 * Runs the workers, the first in the caller's own thread. One that the system
 * will not start is run here instead.
 */
static void run_workers(struct hbk_walk *walk, size_t n)
{
    pthread_t threads[THREADS_MAX];
    bool started[THREADS_MAX] = {false};
    for (unsigned w = 0; w < walk->n_workers; w++) {
        struct worker *const worker = &walk->workers[w];
        worker->first = n * w / walk->n_workers;
        worker->last = n * (w + 1) / walk->n_workers;
        if (w > 0) {
            started[w] = pthread_create(&threads[w], NULL, work, worker) == 0;
        }
    }
    work(&walk->workers[0]);
    for (unsigned w = 1; w < walk->n_workers; w++) {
        if (started[w]) {
            (void)pthread_join(threads[w], NULL);
        } else {
            work(&walk->workers[w]);
        }
    }
}

enum hbk_status hbk_walk_run(struct hbk_walk *walk, size_t n,
                             const uint64_t words[], size_t room,
                             struct hbk_maximum maxima[], size_t counts[])
{
    if (n > walk->states_max || room == 0) {
        return HBK_ERR_DOMAIN;
    }
    for (size_t i = 0; i < n; i++) {
        walk->entries[i] = (struct entry){key_of(walk->sections, words[i]), i};
    }
    sort_entries(walk->entries, n);
    walk->job = (struct job){room, maxima, counts};
    run_workers(walk, n);
    return HBK_OK;
}

size_t hbk_walk_bytes(const struct hbk_walk *walk)
{
    return walk->bytes;
}

size_t hbk_walk_steps(const struct hbk_walk *walk)
{
    size_t steps = 0;
    for (unsigned w = 0; w < walk->n_workers; w++) {
        steps += walk->workers[w].steps;
    }
    return steps;
}
