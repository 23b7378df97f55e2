#include "render/play.h"

#include <math.h>

/* The checksum of PNG: CRC-32 as in ISO 3309, reflected. */
static uint32_t crc(const unsigned char *bytes, size_t n)
{
    uint32_t sum = 0xFFFFFFFFu;
    for (size_t i = 0; i < n; i++) {
        sum ^= bytes[i];
        for (int bit = 0; bit < 8; bit++) {
            sum = (sum >> 1) ^ (0xEDB88320u & (0u - (sum & 1u)));
        }
    }
    return ~sum;
}

static void put_u32(unsigned char *at, uint32_t value)
{
    for (int i = 0; i < 4; i++) {
        at[i] = (unsigned char)(value >> (24 - 8 * i));
    }
}

struct sink {
    struct hbk_text *out;
    double dpi;
    size_t taken;
};

/* Signature and IHDR, after which the dots per metre belong. */
enum { HEAD = 8 + 25, PHYS = 21 };

static void put_phys(struct hbk_text *out, double dpi)
{
    unsigned char chunk[PHYS] = {0, 0, 0, 9, 'p', 'H', 'Y', 's'};
    const uint32_t per_metre = (uint32_t)lround(dpi / 0.0254);
    put_u32(chunk + 8, per_metre);
    put_u32(chunk + 12, per_metre);
    chunk[16] = 1; /* the unit is the metre */
    put_u32(chunk + 17, crc(chunk + 4, 13));
    hbk_text_put(out, (const char *)chunk, PHYS);
}

static cairo_status_t take(void *closure, const unsigned char *data,
                           unsigned length)
{
    struct sink *sink = closure;
    size_t first = 0;
    if (sink->taken < HEAD && sink->taken + length >= HEAD) {
        first = HEAD - sink->taken;
        hbk_text_put(sink->out, (const char *)data, first);
        put_phys(sink->out, sink->dpi);
    }
    hbk_text_put(sink->out, (const char *)data + first, length - first);
    sink->taken += length;
    return CAIRO_STATUS_SUCCESS;
}

cairo_status_t hbk_png_write(cairo_surface_t *surface, double dpi,
                             struct hbk_text *out)
{
    struct sink sink = {out, dpi, 0};
    return cairo_surface_write_to_png_stream(surface, take, &sink);
}
