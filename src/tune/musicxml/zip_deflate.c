#include "tune/musicxml/zip_deflate.h"

#include <string.h>
#include <zlib.h>

const struct hbk_zip_way hbk_zip_best = {Z_BEST_COMPRESSION, 8};

uint32_t hbk_zip_crc(const char *bytes, size_t length)
{
    return (uint32_t)crc32(crc32(0, Z_NULL, 0), (const Bytef *)bytes,
                           (uInt)length);
}

/* Takes the packed bytes as they come; false when it wants no more. */
typedef bool taker(void *ctx, const char *bytes, size_t length);

/* False when zlib has no memory or the taker wanted no more. */
static bool deflate_to(const char *bytes, size_t length, struct hbk_zip_way way,
                       taker *take, void *ctx)
{
    z_stream stream = {.zalloc = Z_NULL};
    if (deflateInit2(&stream, way.level, Z_DEFLATED, -MAX_WBITS, way.memory,
                     Z_DEFAULT_STRATEGY) != Z_OK) {
        return false;
    }
    /* zlib only reads through next_in, but its type says otherwise. */
    union {
        const char *from;
        Bytef *to;
    } input = {.from = bytes};
    stream.next_in = input.to;
    stream.avail_in = (uInt)length;
    int result = Z_OK;
    while (result == Z_OK) {
        char buffer[16384];
        stream.next_out = (Bytef *)buffer;
        stream.avail_out = sizeof(buffer);
        result = deflate(&stream, Z_FINISH);
        if (!take(ctx, buffer, sizeof(buffer) - stream.avail_out)) {
            break;
        }
    }
    (void)deflateEnd(&stream);
    return result == Z_STREAM_END;
}

static bool take_all(void *ctx, const char *bytes, size_t length)
{
    hbk_text_put(ctx, bytes, length);
    return true;
}

bool hbk_zip_deflate(const char *bytes, size_t length, struct hbk_zip_way way,
                     struct hbk_text *packed)
{
    const size_t before = packed->length;
    const bool done = deflate_to(bytes, length, way, take_all, packed);
    packed->length = done ? packed->length : before;
    return done;
}

/* Packed bytes that are compared as they come. */
struct wanted {
    const char *at;
    size_t left;
};

static bool take_same(void *ctx, const char *bytes, size_t length)
{
    struct wanted *const wanted = ctx;
    if (length > wanted->left || memcmp(bytes, wanted->at, length) != 0) {
        wanted->left = SIZE_MAX; /* never used up */
        return false;
    }
    wanted->at += length;
    wanted->left -= length;
    return true;
}

struct hbk_zip_way hbk_zip_way_of(const char *bytes, size_t length,
                                  const char *packed, size_t packed_size)
{
    /* The likely ones first; whatever differs does so within a block. */
    static const struct hbk_zip_way ways[] = {{6, 8}, {9, 8}, {1, 8}, {6, 9},
                                              {9, 9}, {5, 8}, {7, 8}, {8, 8},
                                              {4, 8}, {3, 8}, {2, 8}};
    for (size_t i = 0; i < sizeof(ways) / sizeof(ways[0]); i++) {
        struct wanted wanted = {.at = packed, .left = packed_size};
        if (deflate_to(bytes, length, ways[i], take_same, &wanted) &&
            wanted.left == 0) {
            return ways[i];
        }
    }
    return hbk_zip_best;
}
