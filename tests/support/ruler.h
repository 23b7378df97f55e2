#ifndef HBK_TESTS_RULER_H
#define HBK_TESTS_RULER_H

#include "page/mark.h"

#include <string.h>

/*
 * A ruler without fonts, so that layouts are the same on every machine: the
 * width of each character in ems, near those of a common sans serif; bold a
 * tenth wider, figures narrower.
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
    return width * size *
           (face == HBK_FACE_BOLD     ? 1.1
            : face == HBK_FACE_FIGURE ? 0.85
                                      : 1.0);
}

static inline struct hbk_ruler fixed_ruler(void)
{
    const struct hbk_ruler ruler = {fixed_text_width, NULL};
    return ruler;
}

#endif
