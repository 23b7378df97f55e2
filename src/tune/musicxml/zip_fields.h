#ifndef HBK_TUNE_MUSICXML_ZIP_FIELDS_H
#define HBK_TUNE_MUSICXML_ZIP_FIELDS_H

#include <stdint.h>

/* How zip files have their numbers, and how long their records are at least. */

enum {
    HBK_ZIP_END_SIZE = 22,
    HBK_ZIP_CENTRAL_SIZE = 46,
    HBK_ZIP_LOCAL_SIZE = 30
};

/* A number of two bytes, the low one first. */
static inline unsigned hbk_zip_two(const char *at)
{
    const unsigned char *const b = (const unsigned char *)at;
    return b[0] | ((unsigned)b[1] << 8);
}

/* A number of four bytes. */
static inline uint32_t hbk_zip_four(const char *at)
{
    return hbk_zip_two(at) | ((uint32_t)hbk_zip_two(at + 2) << 16);
}

#endif
