#include "base/jobs.h"

#include <pthread.h>
#include <unistd.h>

size_t hbk_jobs_threads(void)
{
    const long processors = sysconf(_SC_NPROCESSORS_ONLN);
    return processors < 1                 ? 1
           : processors > HBK_THREADS_MAX ? HBK_THREADS_MAX
                                          : (size_t)processors;
}

/* What the threads share; `next` and `finished` only under the lock. */
struct shared {
    const struct hbk_jobs *jobs;
    pthread_mutex_t lock;
    size_t next;
    size_t finished;
};

static bool take(struct shared *shared, size_t *i)
{
    (void)pthread_mutex_lock(&shared->lock);
    const bool more = shared->next < shared->jobs->n;
    if (more) {
        *i = shared->next++;
    }
    (void)pthread_mutex_unlock(&shared->lock);
    return more;
}

static void tell(struct shared *shared)
{
    (void)pthread_mutex_lock(&shared->lock);
    shared->finished++;
    if (shared->jobs->done != NULL) {
        shared->jobs->done(shared->jobs->ctx, shared->finished);
    }
    (void)pthread_mutex_unlock(&shared->lock);
}

static void *serve(void *argument)
{
    struct shared *const shared = argument;
    size_t i = 0;
    while (take(shared, &i)) {
        shared->jobs->work(shared->jobs->ctx, i);
        tell(shared);
    }
    return NULL;
}

void hbk_jobs_run(const struct hbk_jobs *jobs)
{
    struct shared shared = {.jobs = jobs, .lock = PTHREAD_MUTEX_INITIALIZER};
    const size_t asked = jobs->threads == 0                ? hbk_jobs_threads()
                         : jobs->threads > HBK_THREADS_MAX ? HBK_THREADS_MAX
                                                           : jobs->threads;
    const size_t useful = asked < jobs->n ? asked : jobs->n;
    pthread_t others[HBK_THREADS_MAX];
    size_t n_others = 0;
    while (n_others + 1 < useful &&
           pthread_create(&others[n_others], NULL, serve, &shared) == 0) {
        n_others++;
    }
    (void)serve(&shared);
    for (size_t i = 0; i < n_others; i++) {
        (void)pthread_join(others[i], NULL);
    }
    (void)pthread_mutex_destroy(&shared.lock);
}
