#include "base/arena.h"

#include <assert.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * One calloc per request: the documents are kilobytes, and the address
 * sanitizer then sees an overrun of a single object.
 */
struct hbk_arena_block {
    struct hbk_arena_block *older;
    max_align_t bytes[];
};

enum { EXIT_NO_MEMORY = 5 };

static void (*tidy_before_exit)(void);

void hbk_arena_on_exhaustion(void (*tidy)(void))
{
    tidy_before_exit = tidy;
}

_Noreturn void hbk_arena_exhausted(void)
{
    if (tidy_before_exit != NULL) {
        tidy_before_exit();
    }
    fputs("hornbook: out of memory\n", stderr);
    _Exit(EXIT_NO_MEMORY);
}

void *hbk_arena_zalloc(struct hbk_arena *arena, size_t count, size_t size)
{
    const size_t room = SIZE_MAX - sizeof(struct hbk_arena_block);
    if (size != 0 && count > room / size) {
        hbk_arena_exhausted();
    }
    struct hbk_arena_block *const block =
        calloc(1, sizeof(*block) + (count * size));
    if (block == NULL) {
        hbk_arena_exhausted();
    }
    block->older = arena->newest;
    arena->newest = block;
    return block->bytes;
}

void *hbk_arena_grow(struct hbk_arena *arena, void *items, size_t n,
                     size_t more, size_t *room, size_t size)
{
    enum { FIRST_BYTES = 256, FIRST_ITEMS = 4 };
    assert(n <= *room);
    if (more <= *room - n) {
        return items;
    }
    if (more > SIZE_MAX / 2 - n) {
        hbk_arena_exhausted();
    }
    const size_t first =
        FIRST_BYTES / size < FIRST_ITEMS ? FIRST_ITEMS : FIRST_BYTES / size;
    size_t wanted = *room == 0 ? first : *room;
    while (wanted < n + more) {
        wanted *= 2;
    }
    void *const larger = hbk_arena_zalloc(arena, wanted, size);
    if (n > 0) {
        memcpy(larger, items, n * size);
    }
    *room = wanted;
    return larger;
}

char *hbk_arena_copy(struct hbk_arena *arena, const char *bytes, size_t length)
{
    char *const copy = hbk_arena_zalloc(arena, length + 1, 1);
    if (length > 0) {
        memcpy(copy, bytes, length);
    }
    return copy;
}

char *hbk_arena_printf(struct hbk_arena *arena, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    va_list again;
    va_copy(again, args);
    const int length = vsnprintf(NULL, 0, fmt, args);
    va_end(args);
    const size_t size = length < 0 ? 1 : (size_t)length + 1;
    char *const text = hbk_arena_zalloc(arena, size, 1);
    (void)vsnprintf(text, size, fmt, again);
    va_end(again);
    return text;
}

void hbk_arena_finish(struct hbk_arena *arena)
{
    struct hbk_arena_block *block = arena->newest;
    while (block != NULL) {
        struct hbk_arena_block *const older = block->older;
        free(block);
        block = older;
    }
    arena->newest = NULL;
}
