#ifndef HBK_TUNE_MELODY_BUILD_H
#define HBK_TUNE_MELODY_BUILD_H

#include "tune/melody/raw_marks.h"
#include "tune/melody/tune.h"

enum {
    HBK_BUILD_EVENTS_MAX = 100000,
    HBK_BUILD_WARNINGS_MAX = 8,
    HBK_BUILD_TIMES_MAX = 64
};

/* A warning that many notes give; see tune/melody/build_often.h. */
struct hbk_build_often {
    unsigned number;
    struct hbk_place place; /* of the first */
    const char *one, *many; /* what is said of one note, and of several */
    size_t count;           /* notes */
    size_t n_bars, room_bars;
    size_t *bars;
    struct hbk_build_often *next;
};

/*
 * A tune while a reader fills it. The readers append in written order;
 * hbk_build_finish() then works out onsets, ties and what is drawn.
 */
struct hbk_build {
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    struct hbk_tune *tune;
    size_t room_events, room_bars, room_tuplets;
    size_t room_keys, room_meters, room_clefs, room_tempos;
    unsigned warnings;
    bool failed; /* an error was recorded */
    /*
     * The reader marks with CONTINUE what is joined to the note before, and
     * makes beams of that itself when the values are known.
     */
    bool beams_are_joins;
    /*
     * By event, once values are found: the number under which the reader
     * added it, HBK_TUNE_NONE for a later piece of a note that is written as
     * several. NULL where none is.
     */
    const size_t *old;
    bool needs_notes;    /* nothing but rests is an error */
    bool bars_to_number; /* the source does not number its bars */
    struct hbk_build_marks marks;
    struct hbk_build_often *often;
};

void hbk_build_error(struct hbk_build *build, struct hbk_place place,
                     unsigned number, const char *fmt, ...) HBK_PRINTF(4, 5);
/* Only the first few of a tune are told, so that errors find room. */
void hbk_build_warn(struct hbk_build *build, struct hbk_place place,
                    unsigned number, const char *fmt, ...) HBK_PRINTF(4, 5);

/* An event with nothing set that a zeroed struct would set wrong. */
struct hbk_tune_event hbk_build_blank(enum hbk_tune_kind kind,
                                      struct hbk_place place);

/* Appends to the bar that is open; false (with an error) when too many. */
bool hbk_build_add(struct hbk_build *build, struct hbk_tune_event event);

/* Opens a bar after the last event. */
struct hbk_tune_bar *hbk_build_open_bar(struct hbk_build *build,
                                        struct hbk_place place);
struct hbk_tune_bar *hbk_build_last_bar(struct hbk_build *build);

/*
 * The number of the last bar as things stand, for messages about it; "" when
 * so many warnings were given that no more will be shown.
 */
const char *hbk_build_bar_name(struct hbk_build *build);

size_t hbk_build_add_tuplet(struct hbk_build *build,
                            struct hbk_tune_tuplet tuplet);

/* Take effect at the next event; a later one there replaces an earlier. */
void hbk_build_set_key(struct hbk_build *build, struct hbk_tune_key key);
void hbk_build_set_meter(struct hbk_build *build, struct hbk_tune_meter meter);
void hbk_build_set_clef(struct hbk_build *build, struct hbk_tune_clef clef);
/*
 * From `quarters`, `beat` (0 for a quarter) and `words` (may be NULL). A beat
 * that no single note shows gives way to quarters.
 */
void hbk_build_set_tempo(struct hbk_build *build, struct hbk_tune_tempo tempo);

/* The signature of `fifths` sharps (negative flats), -7 to 7. */
struct hbk_tune_key hbk_build_key(int fifths, const char *mode);

/*
 * The written value of a length in a tuplet of `actual` in `normal` (both 1
 * outside): HBK_TUNE_NO_VALUE when no note with up to three dots shows it.
 */
int hbk_build_value(struct hbk_ratio length, unsigned actual, unsigned normal,
                    unsigned *dots);
/* The length of a written value with dots, out of a tuplet. */
struct hbk_ratio hbk_build_length(int value, unsigned dots);

/*
 * Finds how each length is written: values and dots; a length that no one
 * note shows becomes several that are tied; what only tuplets show is grouped
 * in tuplets. Onsets are known by then, ties are not yet.
 */
void hbk_build_values(struct hbk_build *build);

/*
 * The order in which the bars are played, into tune->order. Warns of signs that
 * contradict each other or lead nowhere, with the reading that is chosen, and
 * of bars that are never played.
 */
void hbk_build_order(struct hbk_build *build);

/* "1,3,4" for the bits of an ending. */
const char *hbk_build_ending_text(struct hbk_arena *arena, uint64_t passes);

/*
 * Onsets, ties, values, bar numbers and the checks that all readers share.
 * Returns HBK_OK, or HBK_ERR_INPUT when an error was recorded by now.
 */
enum hbk_status hbk_build_finish(struct hbk_build *build) HBK_MUST_CHECK;

#endif
