/*
 * The search against trying everything: several hundred random lattices of
 * up to seven nodes, with ties, barred choices and links that reach far
 * back, as repeats make them.
 */
#include "support/check.h"

#include "passage/lattice.h"

#include <stdlib.h>
#include <string.h>

enum { NODES_MAX = 7, CHOICES_MAX = 4, LINKS_MAX = 16, ALL_MAX = 16384 };

struct made {
    size_t n, n_links;
    size_t n_choices[NODES_MAX];
    int64_t own[NODES_MAX][CHOICES_MAX];
    const int64_t *costs[NODES_MAX];
    struct hbk_lattice_link links[LINKS_MAX];
    int64_t between[LINKS_MAX][CHOICES_MAX * CHOICES_MAX];
};

struct tried {
    int64_t cost;
    unsigned char pick[NODES_MAX];
};

/* xorshift64* (Vigna 2016, from memory): the same numbers everywhere. */
static uint64_t next_random(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (*seed * UINT64_C(2685821657736338717)) >> 33;
}

static size_t below(uint64_t *seed, size_t n)
{
    return (size_t)(next_random(seed) % n);
}

static void fill(const void *ctx, size_t link, int64_t out[])
{
    const struct made *const made = ctx;
    const size_t size = made->n_choices[made->links[link].from] *
                        made->n_choices[made->links[link].to];
    memcpy(out, made->between[link], size * sizeof(out[0]));
}

static void add_links(struct made *made, size_t to, uint64_t *seed)
{
    /* The chain, sometimes cut, and now and then a far link or two. */
    const size_t tries = below(seed, 8) == 0 ? 0 : 1 + (below(seed, 4) / 2);
    for (size_t t = 0; to > 0 && t < tries; t++) {
        const size_t from = t == 0 ? to - 1 : below(seed, to);
        made->links[made->n_links] =
            (struct hbk_lattice_link){.from = from, .to = to};
        for (size_t i = 0; i < CHOICES_MAX * CHOICES_MAX; i++) {
            made->between[made->n_links][i] = (int64_t)below(seed, 6);
        }
        made->n_links++;
    }
}

static void make(struct made *made, uint64_t *seed)
{
    *made = (struct made){.n = 1 + below(seed, NODES_MAX)};
    for (size_t i = 0; i < made->n; i++) {
        made->n_choices[i] = 1 + below(seed, CHOICES_MAX);
        for (size_t x = 0; x < made->n_choices[i]; x++) {
            const bool barred = x > 0 && below(seed, 5) == 0;
            made->own[i][x] =
                barred ? HBK_LATTICE_BARRED : (int64_t)below(seed, 5) - 1;
        }
        made->costs[i] = made->own[i];
        add_links(made, i, seed);
    }
}

static int64_t cost_of(const struct made *made, const unsigned char pick[])
{
    int64_t cost = 0;
    for (size_t i = 0; i < made->n; i++) {
        if (made->own[i][pick[i]] == HBK_LATTICE_BARRED) {
            return HBK_LATTICE_BARRED;
        }
        cost += made->own[i][pick[i]];
    }
    for (size_t l = 0; l < made->n_links; l++) {
        const struct hbk_lattice_link *const link = &made->links[l];
        cost +=
            made->between[l][(pick[link->from] * made->n_choices[link->to]) +
                             pick[link->to]];
    }
    return cost;
}

static int by_cost_and_picks(const void *a, const void *b)
{
    const struct tried *const x = a;
    const struct tried *const y = b;
    if (x->cost != y->cost) {
        return x->cost < y->cost ? -1 : 1;
    }
    return memcmp(x->pick, y->pick, NODES_MAX);
}

static size_t try_everything(const struct made *made, struct tried *all)
{
    size_t n = 0;
    unsigned char pick[NODES_MAX] = {0};
    for (;;) {
        const int64_t cost = cost_of(made, pick);
        if (cost != HBK_LATTICE_BARRED) {
            all[n].cost = cost;
            memcpy(all[n++].pick, pick, sizeof(pick));
        }
        size_t i = made->n;
        while (i > 0 && ++pick[i - 1] == made->n_choices[i - 1]) {
            pick[--i] = 0;
        }
        if (i == 0) {
            break;
        }
    }
    qsort(all, n, sizeof(*all), by_cost_and_picks);
    return n;
}

static struct hbk_lattice lattice_of(const struct made *made)
{
    return (struct hbk_lattice){.n = made->n,
                                .n_choices = made->n_choices,
                                .costs = made->costs,
                                .n_links = made->n_links,
                                .links = made->links,
                                .fill = fill,
                                .ctx = made};
}

static void as_good_as_trying_everything(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct tried *const all = HBK_ARENA_ARRAY(&arena, struct tried, ALL_MAX);
    size_t n_far = 0;
    for (uint64_t first = 1; first <= 600; first++) {
        uint64_t seed = first;
        struct made made;
        make(&made, &seed);
        const size_t n_all = try_everything(&made, all);
        const struct hbk_lattice lattice = lattice_of(&made);
        for (size_t k = 1; k <= 7; k += 2) {
            struct hbk_lattice_way ways[HBK_LATTICE_WAYS_MAX];
            bool exact = false;
            const size_t n =
                hbk_lattice_search(&lattice, k, &arena, ways, &exact);
            if (!exact) {
                n_far++;
                continue;
            }
            assert_int_equal(n, n_all < k ? n_all : k);
            for (size_t w = 0; w < n; w++) {
                if (ways[w].cost != all[w].cost ||
                    memcmp(ways[w].pick, all[w].pick, made.n) != 0) {
                    print_error("seed %u, %zu ways, way %zu\n", (unsigned)first,
                                k, w);
                }
                assert_int_equal(ways[w].cost, all[w].cost);
                assert_memory_equal(ways[w].pick, all[w].pick, made.n);
            }
        }
    }
    assert_int_equal(n_far, 0);
    hbk_arena_finish(&arena);
}

static void nothing_is_one_way(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_lattice none = {.n = 0};
    struct hbk_lattice_way ways[2];
    bool exact = false;
    assert_int_equal(hbk_lattice_search(&none, 2, &arena, ways, &exact), 1);
    assert_int_equal(ways[0].cost, 0);
    assert_true(exact);
    hbk_arena_finish(&arena);
}

/* Costs that depend on nothing but the indices, without ties. */
static void fill_tangle(const void *ctx, size_t link, int64_t out[])
{
    (void)ctx;
    for (size_t i = 0; i < 64; i++) {
        out[i] = (int64_t)(((i * 37) + (link * 101)) % 97);
    }
}

/* Every node linked with the one twenty before: no front holds that. */
static void a_tangle_is_cut_and_said(void **state)
{
    (void)state;
    enum { N = 60, CHOICES = 8, APART = 20 };
    struct hbk_arena arena = {0};
    size_t n_choices[N];
    const int64_t zero[CHOICES] = {3, 1, 4, 1, 5, 9, 2, 6};
    const int64_t *costs[N];
    struct hbk_lattice_link links[2 * N];
    size_t n_links = 0;
    for (size_t i = 0; i < N; i++) {
        n_choices[i] = CHOICES;
        costs[i] = zero;
        if (i >= APART) {
            links[n_links++] =
                (struct hbk_lattice_link){.from = i - APART, .to = i};
        }
        if (i > 0) {
            links[n_links++] =
                (struct hbk_lattice_link){.from = i - 1, .to = i};
        }
    }
    const struct hbk_lattice lattice = {.n = N,
                                        .n_choices = n_choices,
                                        .costs = costs,
                                        .n_links = n_links,
                                        .links = links,
                                        .fill = fill_tangle};
    struct hbk_lattice_way ways[3];
    bool exact = true;
    assert_int_equal(hbk_lattice_search(&lattice, 3, &arena, ways, &exact), 3);
    assert_false(exact);
    for (size_t w = 0; w < 3; w++) {
        int64_t cost = 0;
        for (size_t i = 0; i < N; i++) {
            cost += zero[ways[w].pick[i]];
        }
        for (size_t l = 0; l < n_links; l++) {
            int64_t of[64];
            fill_tangle(NULL, l, of);
            cost += of[(ways[w].pick[links[l].from] * CHOICES) +
                       ways[w].pick[links[l].to]];
        }
        assert_int_equal(ways[w].cost, cost); /* what it says it costs */
        assert_true(w == 0 || ways[w - 1].cost <= cost);
    }
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(as_good_as_trying_everything),
        cmocka_unit_test(nothing_is_one_way),
        cmocka_unit_test(a_tangle_is_cut_and_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
