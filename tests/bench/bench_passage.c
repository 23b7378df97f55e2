/*
 * How long a passage takes, of the processor's time: figures to read, nothing
 * depends on them.
 *
 * The notes are random ones of a horn with about twelve fingerings each, in
 * semiquavers, so that every junction is looked at closely.
 */
#include "support/passages.h"

#include "passage/find.h"

#include <time.h>

enum { RUNS = 5 };

static double now_ms(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (1e3 * (double)t.tv_sec) + (1e-6 * (double)t.tv_nsec);
}

static size_t below(uint64_t *seed, size_t n)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (size_t)(((*seed * UINT64_C(2685821657736338717)) >> 33) % n);
}

/* Written notes from B4 to B5, with a repeat over the whole if asked. */
static const char *make_abc(size_t n, bool repeated, struct hbk_arena *arena)
{
    static const char *const names[] = {"=B", "=c", "^c", "=d", "^d", "=e",
                                        "=f", "^f", "=g", "^g", "=a", "_b"};
    struct hbk_text text = {.arena = arena};
    uint64_t seed = 42;
    hbk_text_add(&text, "X:1\nT:t\nM:4/4\nL:1/16\nQ:1/4=131\nK:C\n");
    hbk_text_add(&text, repeated ? "|:" : "");
    for (size_t i = 0; i < n; i++) {
        const char *const bar = i % 64 == 63 ? "|\n" : "|";
        hbk_text_addf(&text, "%s%s",
                      names[below(&seed, sizeof(names) / sizeof(names[0]))],
                      i % 16 == 15 && i + 1 < n ? bar : "");
    }
    hbk_text_add(&text, repeated ? ":|\n" : "|]\n");
    return hbk_text_string(&text);
}

struct result {
    double ms, choices;
    bool exact;
};

static struct result measure(struct played *p, size_t n, bool repeated,
                             size_t ways)
{
    struct hbk_arena arena = {0};
    struct result result = {.ms = INFINITY};
    played_read(p, make_abc(n, repeated, &arena));
    for (int run = 0; run < RUNS; run++) {
        struct hbk_arena scratch = {0};
        const struct hbk_passage_request request = {.notes = &p->horn.notes,
                                                    .keywork = &p->keywork,
                                                    .tune = &p->document.tune,
                                                    .quarters = (double)NAN,
                                                    .ways = ways};
        const double start = now_ms();
        const enum hbk_status status =
            hbk_passage_find(&request, &scratch, &p->passage);
        result.ms = fmin(result.ms, now_ms() - start);
        assert_int_equal(status, HBK_OK);
        size_t sum = 0;
        for (size_t i = 0; i < p->passage.n; i++) {
            sum += p->passage.notes[i].candidates->n;
        }
        result.choices = (double)sum / (double)p->passage.n;
        result.exact = p->passage.exact;
        hbk_arena_finish(&scratch);
    }
    hbk_arena_finish(&arena);
    return result;
}

int main(void)
{
    struct played p;
    played_horn(&p, "keyed-bugle-e-flat-bore");
    const struct result small = measure(&p, 1000, false, 1);
    const struct result large = measure(&p, 10000, false, 1);
    const struct result many = measure(&p, 10000, false, 9);
    const struct result twice = measure(&p, 10000, true, 1);
    printf("10,000 notes, %.1f choices a note: %.1f ms\n", large.choices,
           large.ms);
    printf("ten times the notes: %.1f times the time\n", large.ms / small.ms);
    printf("nine ways in place of one: %.2f times\n", many.ms / large.ms);
    printf("all of it repeated: %.2f times, %s\n", twice.ms / large.ms,
           twice.exact ? "exact" : "cut down");
    played_close(&p);
    return 0;
}
