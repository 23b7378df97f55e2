#ifndef HBK_BASE_FILE_H
#define HBK_BASE_FILE_H

#include "base/arena.h"
#include "base/fault.h"

#include <stdio.h>

/*
 * Reads a whole file into the arena, with a NUL after its bytes. "-" is
 * standard input. A folder, a pipe, a device, or a file of more than `limit`
 * bytes, is refused. From then on no output of this process may replace the
 * file, unless it says that it does so on purpose.
 *
 * bytes, length   results; untouched on failure
 *
 * Returns HBK_OK, or HBK_ERR_INPUT with the reason added to `faults`.
 */
enum hbk_status hbk_file_read(const char *path, size_t limit,
                              struct hbk_arena *arena, char **bytes,
                              size_t *length,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Opens a file to look at its beginning; it does not count as read. NULL for
 * what is no regular file or cannot be opened. Never waits for a writer.
 */
FILE *hbk_file_peek(const char *path);

/*
 * Keeps a file from being replaced as if this process had read it: what
 * another process reads, or what was just written.
 */
void hbk_file_guard(const char *path);

/* What a file is to hold. */
struct hbk_outgoing {
    const char *path; /* "-" is standard output */
    const char *bytes;
    size_t length;
    /*
     * The one file among those read that may be replaced, since the bytes
     * are that file's own with something added or taken away; "-" is what
     * standard input comes from. NULL for none.
     */
    const char *over;
};

/*
 * Writes all files or none. Each is written whole into a temporary file in
 * the same folder and flushed to the disk; only when all are there do they
 * take their names, and when one cannot, all that was there before is there
 * again. Permissions of an older file are kept, symbolic links are followed.
 * What is no regular file (a device, a pipe) is written in place, before the
 * others take their names.
 *
 * Returns HBK_OK, or HBK_ERR_OUTPUT with the reason added to `faults`: a file
 * cannot be written, is one that was read, or stands for two of the outputs.
 */
enum hbk_status hbk_files_write(const struct hbk_outgoing *files, size_t n,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Whether a path is one that may be written, as far as that can be told
 * before: HBK_OK, or HBK_ERR_OUTPUT with the reason added to `faults`.
 */
enum hbk_status hbk_file_may_write(const char *path,
                                   struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Takes back what is being written: removes temporary files and puts older
 * ones back in their places. Signal-safe.
 */
void hbk_file_tidy(void);

#endif
