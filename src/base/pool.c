#include "base/pool.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

enum { NO_JOB = -1, CODE_UNKNOWN = -1 };

struct worker {
    pid_t pid; /* 0 for none */
    int orders;
    int answers;
    long job; /* that it is about, or NO_JOB */
};

struct run {
    const struct hbk_pool *pool;
    struct worker workers[HBK_POOL_WORKERS_MAX];
    size_t n;
    size_t next; /* job that nobody was given yet */
};

/* What stands before the bytes of an answer. */
struct header {
    size_t length;
};

static bool read_all(int fd, void *bytes, size_t length)
{
    char *at = bytes;
    while (length > 0) {
        const ssize_t got = read(fd, at, length);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got <= 0) {
            return false;
        }
        at += got;
        length -= (size_t)got;
    }
    return true;
}

static bool write_all(int fd, const void *bytes, size_t length)
{
    const char *at = bytes;
    while (length > 0) {
        const ssize_t put = write(fd, at, length);
        if (put < 0 && errno == EINTR) {
            continue;
        }
        if (put <= 0) {
            return false;
        }
        at += put;
        length -= (size_t)put;
    }
    return true;
}

/* The life of a worker: until the orders end, or nobody listens any more. */
_Noreturn static void serve(const struct hbk_pool *pool, int orders,
                            int answers)
{
    size_t job;
    while (read_all(orders, &job, sizeof(job))) {
        struct hbk_arena arena = {0};
        struct hbk_text answer = {.arena = &arena};
        pool->work(pool->ctx, job, &answer);
        const struct header header = {answer.length};
        const bool told = write_all(answers, &header, sizeof(header)) &&
                          write_all(answers, answer.bytes, answer.length);
        hbk_arena_finish(&arena);
        if (!told) {
            break;
        }
    }
    /* Not exit(): the buffers of the caller's files are not ours to write. */
    _exit(0);
}

/* A worker must not keep the others' pipes open: their ends would not end. */
static void close_others(const struct run *run)
{
    for (size_t i = 0; i < run->n; i++) {
        if (run->workers[i].pid != 0) {
            (void)close(run->workers[i].orders);
            (void)close(run->workers[i].answers);
        }
    }
}

static bool start(struct run *run, struct worker *worker)
{
    int orders[2];
    int answers[2];
    if (pipe(orders) != 0) {
        return false;
    }
    if (pipe(answers) != 0) {
        (void)close(orders[0]);
        (void)close(orders[1]);
        return false;
    }
    const pid_t pid = fork();
    if (pid == 0) {
        close_others(run);
        (void)close(orders[1]);
        (void)close(answers[0]);
        serve(run->pool, orders[0], answers[1]);
    }
    (void)close(orders[0]);
    (void)close(answers[1]);
    if (pid < 0) {
        (void)close(orders[1]);
        (void)close(answers[0]);
        return false;
    }
    *worker = (struct worker){pid, orders[1], answers[0], NO_JOB};
    return true;
}

/* Ends a worker that is idle or gone; returns its exit code, or -1. */
static int end(struct worker *worker)
{
    int state = 0;
    (void)close(worker->orders);
    (void)close(worker->answers);
    pid_t gone;
    do {
        gone = waitpid(worker->pid, &state, 0);
    } while (gone < 0 && errno == EINTR);
    worker->pid = 0;
    return gone > 0 && WIFEXITED(state) ? WEXITSTATUS(state) : CODE_UNKNOWN;
}

/* Gives an idle worker the next job; without one its place stays empty. */
static void give(struct run *run, struct worker *worker)
{
    if (run->next == run->pool->n_jobs) {
        (void)end(worker);
        return;
    }
    const size_t job = run->next++;
    worker->job = (long)job;
    /* A worker that is gone already shows when its answer is read. */
    (void)write_all(worker->orders, &job, sizeof(job));
}

/* Hears the answer of a worker, or that it ended, and gives the next job. */
static void hear(struct run *run, struct worker *worker)
{
    const struct hbk_pool *const pool = run->pool;
    const size_t job = (size_t)worker->job;
    struct hbk_arena arena = {0};
    struct header header;
    bool whole = read_all(worker->answers, &header, sizeof(header));
    char *bytes = NULL;
    if (whole) {
        bytes = hbk_arena_zalloc(&arena, header.length + 1, 1);
        whole = read_all(worker->answers, bytes, header.length);
    }
    if (whole) {
        pool->answered(pool->ctx, job, bytes, header.length);
    } else {
        pool->lost(pool->ctx, job, end(worker));
        if (run->next == pool->n_jobs || !start(run, worker)) {
            hbk_arena_finish(&arena);
            return;
        }
    }
    hbk_arena_finish(&arena);
    give(run, worker);
}

/* Waits until workers have something to say; false when none is left. */
static bool listen_to_all(struct run *run)
{
    struct pollfd polled[HBK_POOL_WORKERS_MAX];
    size_t of[HBK_POOL_WORKERS_MAX];
    nfds_t n = 0;
    for (size_t i = 0; i < run->n; i++) {
        if (run->workers[i].pid != 0) {
            of[n] = i;
            polled[n++] = (struct pollfd){.fd = run->workers[i].answers,
                                          .events = POLLIN};
        }
    }
    if (n == 0) {
        return false;
    }
    if (poll(polled, n, -1) > 0) {
        for (nfds_t i = 0; i < n; i++) {
            if (polled[i].revents != 0) {
                hear(run, &run->workers[of[i]]);
            }
        }
    }
    return true;
}

static void run_here(const struct hbk_pool *pool, size_t first)
{
    for (size_t job = first; job < pool->n_jobs; job++) {
        struct hbk_arena arena = {0};
        struct hbk_text answer = {.arena = &arena};
        pool->work(pool->ctx, job, &answer);
        pool->answered(pool->ctx, job, hbk_text_string(&answer), answer.length);
        hbk_arena_finish(&arena);
    }
}

void hbk_pool_run(const struct hbk_pool *pool)
{
    struct run run = {.pool = pool};
    /* To write to a worker that is gone must fail, not end the program. */
    struct sigaction before;
    const struct sigaction ignored = {.sa_handler = SIG_IGN};
    const bool kept = sigaction(SIGPIPE, &ignored, &before) == 0;
    const size_t most = pool->n_workers < HBK_POOL_WORKERS_MAX
                            ? pool->n_workers
                            : HBK_POOL_WORKERS_MAX;
    while (most > 1 && run.n < most && run.n < pool->n_jobs &&
           start(&run, &run.workers[run.n])) {
        run.n++;
    }
    for (size_t i = 0; i < run.n; i++) {
        give(&run, &run.workers[i]);
    }
    while (listen_to_all(&run)) {
    }
    if (run.next < pool->n_jobs) {
        run_here(pool, run.next);
    }
    if (kept) {
        (void)sigaction(SIGPIPE, &before, NULL);
    }
}
