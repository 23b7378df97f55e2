#ifndef HBK_TUNE_MELODY_RAW_MARKS_H
#define HBK_TUNE_MELODY_RAW_MARKS_H

#include "base/fault.h"
#include "tune/melody/marks.h"

/*
 * The marks of a tune while a reader fills it, before times are known. The
 * readers add them in the order of the file; hbk_build_finish() finds their
 * places.
 */

enum { HBK_BUILD_MARKS_MAX = 100000, HBK_BUILD_LINES_MAX = 16 };

enum hbk_build_where {
    HBK_BUILD_AT_EVENT,
    HBK_BUILD_AT_TIME, /* in a bar, from its beginning */
    HBK_BUILD_AT_BAR_END
};

struct hbk_build_spot {
    enum hbk_build_where where;
    size_t event; /* under which the reader adds it; after the last, its end */
    size_t bar;   /* of the other two */
    struct hbk_ratio time;
};

struct hbk_build_mark {
    struct hbk_tune_mark mark; /* without its spots */
    struct hbk_build_spot at, end;
    bool is_open;    /* a hairpin or dashes without an end */
    unsigned number; /* of several that are open, as the source counts them */
    struct hbk_place place;
};

struct hbk_build_marks {
    size_t n, room;
    struct hbk_build_mark *items;
    size_t n_lines; /* whose end is still to come, the oldest first */
    size_t lines[HBK_BUILD_LINES_MAX];
    size_t room_syllables, room_stanzas, room_left_out;
    bool too_many; /* told */
};

#endif
