#ifndef HBK_REPORT_SCREEN_H
#define HBK_REPORT_SCREEN_H

#include "base/text.h"

#include <stdbool.h>

/*
 * Where a text is read: a terminal, or a pipe or a file. Reports are composed
 * without regard to it, every line as long as it comes, with the signs of
 * sharp and flat and with these marks:
 */
#define HBK_HANG "\x1F"         /* further lines of this one begin here */
#define HBK_KEPT_BLANK "\u00A0" /* a blank at which no line ends */
#define HBK_HEAD "\x01"         /* the head of a table, up to HBK_PLAIN */
#define HBK_CAUTION "\x02"      /* what to be careful of, up to HBK_PLAIN */
#define HBK_PLAIN "\x03"

struct hbk_screen {
    size_t columns; /* no line is longer, but for a single word */
    bool has_signs; /* the signs of sharp and flat; else # and b */
    bool has_utf8;  /* else dashes, quotes and degrees in ASCII as well */
    bool has_color; /* escape sequences of ECMA-48 for the marks */
};

enum { HBK_SCREEN_COLUMNS = 80 };

/* Of a pipe or a file: 80 columns, # and b, no color. */
struct hbk_screen hbk_screen_of_file(void);

/*
 * Lays a report out: lines that are too long go on below, under the last
 * HBK_HANG or else under their first word, and the marks are gone. Other
 * control characters become "?", so that no file can steer a terminal.
 */
void hbk_screen_lay(const struct hbk_screen *screen, const char *report,
                    struct hbk_text *out);

#endif
