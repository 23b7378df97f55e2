#include "base/inputs.h"

#include "base/arena.h"

#include <pthread.h>

struct input {
    const struct input *next;
    dev_t device;
    ino_t inode;
};

/* Of the process, and so never released; under the lock alone. */
static struct {
    pthread_mutex_t lock;
    struct hbk_arena arena;
    const struct input *first;
} inputs = {.lock = PTHREAD_MUTEX_INITIALIZER};

static bool find(const struct stat *info)
{
    const struct input *at = inputs.first;
    while (at != NULL &&
           (at->device != info->st_dev || at->inode != info->st_ino)) {
        at = at->next;
    }
    return at != NULL;
}

void hbk_inputs_add(const struct stat *info)
{
    if (!S_ISREG(info->st_mode)) {
        return;
    }
    (void)pthread_mutex_lock(&inputs.lock);
    if (!find(info)) {
        struct input *const input =
            HBK_ARENA_ARRAY(&inputs.arena, struct input, 1);
        *input = (struct input){inputs.first, info->st_dev, info->st_ino};
        inputs.first = input;
    }
    (void)pthread_mutex_unlock(&inputs.lock);
}

bool hbk_inputs_have(const struct stat *info)
{
    (void)pthread_mutex_lock(&inputs.lock);
    const bool found = find(info);
    (void)pthread_mutex_unlock(&inputs.lock);
    return found;
}
