/* Work shared between threads: each piece once, whatever their number. */
#include "support/check.h"

#include "base/jobs.h"

enum { PIECES = 200 };

struct work {
    int done[PIECES]; /* how often each piece was done */
    size_t told;      /* the last count that was told */
    bool in_turn;     /* each count one more than the last */
};

static void do_piece(void *ctx, size_t i)
{
    struct work *const work = ctx;
    work->done[i]++;
}

static void tell(void *ctx, size_t count)
{
    struct work *const work = ctx;
    work->in_turn = work->in_turn && count == work->told + 1;
    work->told = count;
}

static void every_piece_is_done_once(void **state)
{
    (void)state;
    static const size_t threads[] = {0, 1, 3, HBK_THREADS_MAX + 1};
    static const size_t pieces[] = {0, 1, 2, PIECES};
    for (size_t t = 0; t < sizeof(threads) / sizeof(threads[0]); t++) {
        for (size_t p = 0; p < sizeof(pieces) / sizeof(pieces[0]); p++) {
            struct work work = {.in_turn = true};
            struct hbk_jobs jobs = {.n = pieces[p],
                                    .threads = threads[t],
                                    .work = do_piece,
                                    .done = tell,
                                    .ctx = &work};
            hbk_jobs_run(&jobs);
            assert_int_equal(work.told, pieces[p]);
            assert_true(work.in_turn);
            jobs.done = NULL;
            hbk_jobs_run(&jobs);
            for (size_t i = 0; i < PIECES; i++) {
                assert_int_equal(work.done[i], i < pieces[p] ? 2 : 0);
            }
        }
    }
}

static void there_is_a_thread_at_least(void **state)
{
    (void)state;
    assert_in_range(hbk_jobs_threads(), 1, HBK_THREADS_MAX);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_piece_is_done_once),
        cmocka_unit_test(there_is_a_thread_at_least),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
