/* Jobs in several processes: all answered, and a death costs one job. */
#include "support/check.h"

#include "base/pool.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { JOBS = 23, POISONED = 7, ALSO_POISONED = 19, LAST_WORDS = 5 };

struct tally {
    unsigned answers[JOBS];
    unsigned losses[JOBS];
    int code[JOBS];
    bool poisons;
    pid_t caller;
    bool elsewhere; /* some job ran in another process */
};

/* Answers with the square of its number, at a length that fills pipes. */
static void work(void *ctx, size_t job, struct hbk_text *answer)
{
    const struct tally *const tally = ctx;
    if (tally->poisons && (job == POISONED || job == ALSO_POISONED)) {
        _exit(LAST_WORDS);
    }
    hbk_text_addf(answer, "%zu %d ", job * job, getpid() != tally->caller);
    for (size_t i = 0; i < 5000 * job; i++) {
        hbk_text_add(answer, "abcdefgh");
    }
}

static void answered(void *ctx, size_t job, const char *bytes, size_t length)
{
    struct tally *const tally = ctx;
    size_t square = 0;
    int elsewhere = 0;
    assert_int_equal(sscanf(bytes, "%zu %d", &square, &elsewhere), 2);
    assert_int_equal(square, job * job);
    assert_true(length > 40000 * job);
    assert_int_equal(strlen(bytes), length);
    tally->answers[job]++;
    tally->elsewhere = tally->elsewhere || elsewhere != 0;
}

static void lost(void *ctx, size_t job, int code)
{
    struct tally *const tally = ctx;
    tally->losses[job]++;
    tally->code[job] = code;
}

static struct tally run(size_t workers, bool poisons)
{
    struct tally tally = {.poisons = poisons, .caller = getpid()};
    hbk_pool_run(&(struct hbk_pool){.n_jobs = JOBS,
                                    .n_workers = workers,
                                    .ctx = &tally,
                                    .work = work,
                                    .answered = answered,
                                    .lost = lost});
    return tally;
}

static void every_job_is_answered_once(void **state)
{
    (void)state;
    static const size_t workers[] = {1, 2, 5, 64};
    for (size_t i = 0; i < sizeof(workers) / sizeof(workers[0]); i++) {
        const struct tally tally = run(workers[i], false);
        for (size_t job = 0; job < JOBS; job++) {
            assert_int_equal(tally.answers[job], 1);
            assert_int_equal(tally.losses[job], 0);
        }
        assert_int_equal(tally.elsewhere, workers[i] > 1);
    }
}

/* Two workers die of two jobs: both are replaced, or nobody would be left. */
static void a_worker_that_dies_loses_its_own_job_only(void **state)
{
    (void)state;
    const struct tally tally = run(2, true);
    for (size_t job = 0; job < JOBS; job++) {
        const bool poisoned = job == POISONED || job == ALSO_POISONED;
        assert_int_equal(tally.answers[job], poisoned ? 0 : 1);
        assert_int_equal(tally.losses[job], poisoned ? 1 : 0);
        assert_int_equal(tally.code[job], poisoned ? LAST_WORDS : 0);
    }
}

static void no_jobs_are_done_at_once(void **state)
{
    (void)state;
    hbk_pool_run(&(struct hbk_pool){.n_jobs = 0, .n_workers = 3});
    hbk_pool_run(&(struct hbk_pool){.n_jobs = 0, .n_workers = 1});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_job_is_answered_once),
        cmocka_unit_test(a_worker_that_dies_loses_its_own_job_only),
        cmocka_unit_test(no_jobs_are_done_at_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
