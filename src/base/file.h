#ifndef HBK_BASE_FILE_H
#define HBK_BASE_FILE_H

#include "base/arena.h"
#include "base/fault.h"

/*
 * Reads a whole file into the arena, with a NUL after its bytes. "-" is
 * standard input. A folder, or a file of more than `limit` bytes, is refused.
 *
 * path    borrowed; must outlive the faults that name it
 * bytes, length   results; untouched on failure
 *
 * Returns HBK_OK, or HBK_ERR_INPUT with the reason added to `faults`.
 */
enum hbk_status hbk_file_read(const char *path, size_t limit,
                              struct hbk_arena *arena, char **bytes,
                              size_t *length,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * Writes a file whole or not at all: into a temporary file in the same
 * folder, which is flushed to the disk and then takes the name. "-" is
 * standard output. An existing file that is not a regular one (a device, a
 * pipe) is written in place.
 *
 * Returns HBK_OK, or HBK_ERR_OUTPUT with the reason added to `faults`.
 */
enum hbk_status hbk_file_write(const char *path, const char *bytes,
                               size_t length,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/* Removes the temporary file that is being written, if any. Signal-safe. */
void hbk_file_tidy(void);

#endif
