#include "render/play.h"

#include "page/paper.h"

#include <math.h>
#include <string.h>
#include <zlib.h>

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
    const uint32_t per_metre =
        (uint32_t)lround(dpi / (HBK_MM_PER_INCH / 1000.0));
    put_u32(chunk + 8, per_metre);
    put_u32(chunk + 12, per_metre);
    chunk[16] = 1; /* the unit is the metre */
    put_u32(chunk + 17, (uint32_t)crc32(0, chunk + 4, 13));
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

/*
 * A sheet has no colour, so that one channel holds it. The library writes a
 * surface of alpha alone as an image in greys.
 */
static cairo_surface_t *greys_of(cairo_surface_t *surface)
{
    const int width = cairo_image_surface_get_width(surface);
    const int height = cairo_image_surface_get_height(surface);
    cairo_surface_t *greys =
        cairo_image_surface_create(CAIRO_FORMAT_A8, width, height);
    const unsigned char *from = cairo_image_surface_get_data(surface);
    unsigned char *to = cairo_image_surface_get_data(greys);
    if (from == NULL || to == NULL) {
        return greys; /* its status says why */
    }
    const size_t from_stride = (size_t)cairo_image_surface_get_stride(surface);
    const size_t to_stride = (size_t)cairo_image_surface_get_stride(greys);
    for (size_t y = 0; y < (size_t)height; y++) {
        for (size_t x = 0; x < (size_t)width; x++) {
            uint32_t pixel;
            memcpy(&pixel, from + y * from_stride + 4 * x, sizeof(pixel));
            to[y * to_stride + x] = (unsigned char)(pixel & 0xFFu);
        }
    }
    cairo_surface_mark_dirty(greys);
    return greys;
}

cairo_status_t hbk_png_write(cairo_surface_t *surface, double dpi,
                             struct hbk_text *out)
{
    struct sink sink = {out, dpi, 0};
    cairo_surface_t *greys = greys_of(surface);
    const cairo_status_t status =
        cairo_surface_write_to_png_stream(greys, take, &sink);
    cairo_surface_destroy(greys);
    return status;
}
