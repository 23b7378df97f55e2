#ifndef HBK_BASE_JOBS_H
#define HBK_BASE_JOBS_H

#include <stdbool.h>
#include <stddef.h>

enum { HBK_THREADS_MAX = 64 };

/*
 * Work that falls into pieces which know nothing of each other. `work` is
 * called once for each piece, from several threads, in no order that can be
 * relied on: it writes only to what belongs to piece `i`, so that the result
 * is the same whatever the number of threads.
 */
struct hbk_jobs {
    size_t n;       /* pieces */
    size_t threads; /* at least 1; 0: as hbk_jobs_threads() says */
    void (*work)(void *ctx, size_t i);
    /*
     * Told how many pieces are done, after each, by one thread at a time;
     * NULL for nobody.
     */
    void (*done)(void *ctx, size_t count);
    void *ctx;
};

/* The processors this process may use, from 1 to HBK_THREADS_MAX. */
size_t hbk_jobs_threads(void);

/*
 * Does all of it and returns. Where the system gives no further thread, the
 * threads that there are do the rest.
 */
void hbk_jobs_run(const struct hbk_jobs *jobs);

#endif
