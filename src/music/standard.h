#ifndef HBK_MUSIC_STANDARD_H
#define HBK_MUSIC_STANDARD_H

#include <stddef.h>

/* A pitch that people agreed on, or that was common. */
struct hbk_standard {
    double a4_hz;
    const char *name;   /* "French diapason normal" */
    const char *source; /* where the figure is published */
};

/* All of them from the lowest; returns how many. */
size_t hbk_standards(const struct hbk_standard **list);

#endif
