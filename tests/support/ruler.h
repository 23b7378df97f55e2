#ifndef HBK_TESTS_RULER_H
#define HBK_TESTS_RULER_H

#include "page/mark.h"

#include <string.h>

/*
 * A ruler without fonts, so that layouts are the same on every machine: the
 * width of each character in ems, near those of a common sans serif; those
 * of a book face and of narrow figures are less, bold ones more.
 */
static inline double fixed_width_of(unsigned char first)
{
    if (first >= 0xC0) {
        return 0.60; /* any character beyond ASCII */
    }
    if (strchr("il|.,:;'!", first) != NULL) {
        return 0.30;
    }
    if (strchr("fjrt()-/ ", first) != NULL) {
        return 0.36;
    }
    if (strchr("mwMW+", first) != NULL) {
        return 0.88;
    }
    return first >= 'A' && first <= 'Z' ? 0.70 : 0.61;
}

static inline double fixed_text_width(const void *ctx, enum hbk_face face,
                                      double size, const char *text)
{
    (void)ctx;
    double width = 0.0;
    for (const char *at = text; *at != '\0'; at++) {
        const unsigned char byte = (unsigned char)*at;
        if ((byte & 0xC0) != 0x80) {
            width += fixed_width_of(byte);
        }
    }
    static const double widths[HBK_FACE_COUNT] = {[HBK_FACE_PLAIN] = 0.85,
                                                  [HBK_FACE_ITALIC] = 0.85,
                                                  [HBK_FACE_CAPS] = 1.0,
                                                  [HBK_FACE_BOLD] = 1.1,
                                                  [HBK_FACE_FIGURE] = 0.85};
    return width * size * widths[face];
}

static inline struct hbk_ruler fixed_ruler(void)
{
    const struct hbk_ruler ruler = {fixed_text_width, NULL};
    return ruler;
}

#endif
