#ifndef HBK_TUNE_MUSICXML_ZIP_DEFLATE_H
#define HBK_TUNE_MUSICXML_ZIP_DEFLATE_H

#include "base/text.h"

#include <stdint.h>

/* What zlib does for zip files. */

/* How hard zlib tries: its level and its memory level. */
struct hbk_zip_way {
    int level, memory;
};

extern const struct hbk_zip_way hbk_zip_best;

uint32_t hbk_zip_crc(const char *bytes, size_t length);

/* False when zlib has no memory; `packed` is then empty. */
bool hbk_zip_deflate(const char *bytes, size_t length, struct hbk_zip_way way,
                     struct hbk_text *packed);

/*
 * The way in which zlib makes `packed` of the bytes, so that it can be gone
 * again; the best one when it is none of the usual.
 */
struct hbk_zip_way hbk_zip_way_of(const char *bytes, size_t length,
                                  const char *packed, size_t packed_size);

#endif
