#ifndef HBK_TESTS_WRITTEN_H
#define HBK_TESTS_WRITTEN_H

#include "base/file.h"

/* Writes one file, which replaces none that was read. */
static inline enum hbk_status write_one(const char *path, const char *bytes,
                                        size_t length,
                                        struct hbk_faults *faults)
{
    const struct hbk_outgoing file = {
        .path = path, .bytes = bytes, .length = length};
    return hbk_files_write(&file, 1, faults);
}

#endif
