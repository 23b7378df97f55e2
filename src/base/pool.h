#ifndef HBK_BASE_POOL_H
#define HBK_BASE_POOL_H

#include "base/text.h"

/*
 * Jobs shared out over several processes, so that they run at once and one
 * that ends its process spoils no other. Each worker is a fork of the
 * caller: it sees what the caller had read, and what it does to memory stays
 * its own. Call it while the process has one thread.
 */
enum { HBK_POOL_WORKERS_MAX = 64 };

struct hbk_pool {
    size_t n_jobs;
    /* At most; with 1 the jobs run in the calling process, one by one. */
    size_t n_workers;
    void *ctx; /* handed to the functions untouched */
    /* In a worker: does a job and leaves its answer, any bytes. */
    void (*work)(void *ctx, size_t job, struct hbk_text *answer);
    /* In the caller, once a job, in the order in which they end. */
    void (*answered)(void *ctx, size_t job, const char *bytes, size_t length);
    /* In the caller: the worker ended first, with that exit code or -1. */
    void (*lost)(void *ctx, size_t job, int code);
};

/*
 * Runs every job; returns when each was answered or lost. Where no process
 * can be made the jobs run here.
 */
void hbk_pool_run(const struct hbk_pool *pool);

#endif
