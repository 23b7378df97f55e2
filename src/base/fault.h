#ifndef HBK_BASE_FAULT_H
#define HBK_BASE_FAULT_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * A point in an input file, for whoever holds the text it lies in. Line and
 * column count from 1; 0 means unknown.
 */
struct hbk_place {
    const char *file; /* borrowed; NULL when not from a file */
    unsigned line;
    unsigned column;
};

/* A file as a whole. */
static inline struct hbk_place hbk_whole_file(const char *file)
{
    return (struct hbk_place){.file = file};
}

/*
 * Bytes of a file's name that a fault keeps, and of the line it becomes. Of a
 * longer name the end is kept, after three dots.
 */
enum { HBK_FAULT_FILE = 512, HBK_FAULT_LINE = 1024 };

/*
 * One thing wrong (or doubtful) with an input, in a sentence for its author.
 * Every word of it is its own, and none of it a pointer: the place it was
 * told of, and the arena of that place, may be gone when the fault is read.
 * `number` is one of base/messages.h: it never changes its meaning and is
 * never used again.
 */
struct hbk_fault {
    char file[HBK_FAULT_FILE]; /* empty when not from a file */
    unsigned line, column;     /* as in struct hbk_place */
    unsigned number;
    bool warning;
    char text[400]; /* one sentence, no final full stop or newline */
};

enum { HBK_FAULTS_MAX = 20 };

/*
 * What one run found wrong. Zero-initialise before use. Holds no heap
 * memory, so it can report anything and never needs freeing.
 */
struct hbk_faults {
    struct hbk_fault items[HBK_FAULTS_MAX];
    size_t count;
    size_t errors; /* how many faults were errors, kept or not */
    size_t beyond; /* how many faults found no room */
};

/*
 * Records an error (not the 21st and later, which are only counted). Place
 * and words are copied.
 */
void hbk_fault_add(struct hbk_faults *faults, struct hbk_place place,
                   unsigned number, const char *fmt, ...) HBK_PRINTF(4, 5);

/* Records something worth saying that does not make the input unusable. */
void hbk_fault_warn(struct hbk_faults *faults, struct hbk_place place,
                    unsigned number, const char *fmt, ...) HBK_PRINTF(4, 5);

/* Adds what one set of faults holds to another; counts are kept. */
void hbk_faults_hand_on(const struct hbk_faults *from, struct hbk_faults *to);

/*
 * Writes "file:line:column: error: text [H034]" into `line`, leaving out
 * the parts of the place that are unknown. Always ends with a NUL.
 */
void hbk_fault_format(const struct hbk_fault *fault, char *line, size_t size);

#endif
