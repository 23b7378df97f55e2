#ifndef HBK_BASE_ARENA_H
#define HBK_BASE_ARENA_H

#include <stddef.h>

struct hbk_arena_block;

/* Zero-initialise to get an empty arena. Owns every block it handed out. */
struct hbk_arena {
    struct hbk_arena_block *newest;
};

/*
 * Zeroed memory for `count` objects of `size` bytes, aligned for any type.
 * Never NULL: on overflow or exhaustion the program ends with one line on
 * standard error, after the temporary output files are removed, and exit
 * code 5. Valid until hbk_arena_finish().
 */
void *hbk_arena_zalloc(struct hbk_arena *arena, size_t count, size_t size);

#define HBK_ARENA_ARRAY(arena, type, count)                                    \
    ((type *)hbk_arena_zalloc((arena), (count), sizeof(type)))

/*
 * An array that grows: `items` as they are while `room` has place for `more`
 * after the first n, else a copy with at least twice the room, zeroed behind
 * them, and `room` set. The old array stays in the arena, so that what points
 * into it stays valid. Start with NULL and no room.
 */
void *hbk_arena_grow(struct hbk_arena *arena, void *items, size_t n,
                     size_t more, size_t *room, size_t size);

/* Place for one more after the first n of `items`, an lvalue like `room`. */
#define HBK_ARENA_GROW(arena, items, n, room)                                  \
    ((items) =                                                                 \
         hbk_arena_grow((arena), (items), (n), 1, &(room), sizeof(*(items))))

/* A copy of `length` bytes of `bytes`, with a NUL after them. */
char *hbk_arena_copy(struct hbk_arena *arena, const char *bytes, size_t length);

/* A formatted string that lives in the arena. */
char *hbk_arena_printf(struct hbk_arena *arena, const char *fmt, ...)
    __attribute__((format(printf, 2, 3)));

/* Releases everything; the arena is empty again. An empty one is fine. */
void hbk_arena_finish(struct hbk_arena *arena);

/*
 * Called once before the program ends for want of memory; used by
 * base/file.c to remove its temporary file. NULL for none.
 */
void hbk_arena_on_exhaustion(void (*tidy)(void));

/* Ends the program so: for a library that could not get its memory. */
_Noreturn void hbk_arena_exhausted(void);

#endif
