#ifndef HBK_TUNE_MELODY_TUNE_H
#define HBK_TUNE_MELODY_TUNE_H

#include "base/arena.h"
#include "base/fault.h"
#include "music/clef.h"
#include "tune/melody/bar.h"
#include "tune/melody/event.h"
#include "tune/melody/line.h"
#include "tune/melody/marks.h"
#include "tune/melody/order.h"

#include <stdint.h>

/*
 * One line of music as it is written, and the order in which it is played.
 * All times are exact and in whole notes (a quarter note is 1/4). Notes are
 * written notes as in music/pitch.h. Everything lives in one arena; strings
 * are UTF-8.
 */

/* What follows governs from event number `event` (may be n_events) on. */
struct hbk_tune_key {
    size_t event;
    int fifths;       /* -7 (flats) to 7 (sharps) */
    int alter[7];     /* what the signature makes of C to B */
    bool traditional; /* `alter` is what `fifths` says */
    const char *mode; /* "major", "minor", "dorian", ...; "" unknown */
};

enum hbk_tune_meter_sign {
    HBK_TUNE_METER_NUMBERS,
    HBK_TUNE_METER_COMMON,
    HBK_TUNE_METER_CUT
};

struct hbk_tune_meter {
    size_t event;
    unsigned beats; /* 0 for free time */
    unsigned unit;  /* 4 for quarter notes */
    enum hbk_tune_meter_sign sign;
    const char *groups; /* "2+3+2" where the source says so, or NULL */
};

/*
 * How fast it goes: `quarters` says it for whoever plays, the rest how it is
 * written where it is written anew. What is printed stands in tune.marks.
 */
struct hbk_tune_tempo {
    size_t event;
    double quarters;       /* quarter notes a minute, > 0 */
    struct hbk_ratio beat; /* what is counted, in wholes: 3/8 for a dotted
                              quarter; always one note with its dots */
    double beats;          /* beats a minute: 4 beat beats = quarters */
    const char *words;     /* "Allegro" before the mark, or "" */
};

struct hbk_tune_clef {
    size_t event;
    char sign;  /* 'G', 'F', 'C', 'P' percussion, 'N' none */
    int line;   /* 1 is the lowest line */
    int octave; /* of a small 8 at the clef: -1, 0, 1 */
};

/* That clef, from the first event on. */
struct hbk_tune_clef hbk_tune_clef_of(enum hbk_clef clef);

struct hbk_tune {
    const char *file; /* as named by the user; NULL for a typed run */
    const char *title, *composer, *part, *voice; /* "" where not given */
    const char *subtitle; /* further titles, a line each, or "" */
    const char *lyricist, *arranger, *rights; /* likewise */
    const char *about; /* ABC: what its fields N:, S:, B: and the like say of
                          it, a line each, if that was asked for; or "" */
    struct hbk_tune_line line; /* which one of a divided part this is */
    int transpose;             /* sounding minus written, in semitones */
    bool says_transposition;   /* the file states one, be it none */
    bool concert; /* the file shows sounding notes instead of the part's */
    size_t n_events, n_bars, n_tuplets;
    struct hbk_tune_event *events; /* in written order */
    struct hbk_tune_bar *bars;
    struct hbk_tune_tuplet *tuplets;
    size_t n_keys, n_meters, n_clefs; /* at least 1 each, first at event 0 */
    size_t n_tempos;                  /* may be 0 */
    struct hbk_tune_key *keys;
    struct hbk_tune_meter *meters;
    struct hbk_tune_clef *clefs;
    struct hbk_tune_tempo *tempos;
    struct hbk_tune_marks marks; /* dynamics, words, lyrics, ... */
    const char *form; /* ABC: the parts in the order played, "ABA", or NULL */
    struct hbk_tune_order order; /* in which its bars are played */
};

/*
 * The note that shows a length, as event.value has it, with its dots; or
 * HBK_TUNE_NO_VALUE.
 */
int hbk_tune_value_of(struct hbk_ratio length, unsigned *dots);

/*
 * Gives a tune that has none at its beginning a tempo in quarter notes a
 * minute, and a metronome mark that says it.
 */
void hbk_tune_begin_at(struct hbk_tune *tune, double quarters,
                       struct hbk_arena *arena);

/* What governs at an event; never NULL. */
const struct hbk_tune_key *hbk_tune_key_at(const struct hbk_tune *tune,
                                           size_t event);
const struct hbk_tune_meter *hbk_tune_meter_at(const struct hbk_tune *tune,
                                               size_t event);
const struct hbk_tune_clef *hbk_tune_clef_at(const struct hbk_tune *tune,
                                             size_t event);

/* The tempo that the tune gives at an event; NULL before it gives any. */
const struct hbk_tune_tempo *hbk_tune_tempo_at(const struct hbk_tune *tune,
                                               size_t event);

/* Where neither the source nor the user gives a tempo: our own choice. */
enum { HBK_TUNE_ASSUMED_QUARTERS = 100 };

/*
 * The tempo at an event in quarter notes a minute: the one that is asked for,
 * for NAN the tune's own, before it gives any the assumed one.
 */
double hbk_tune_quarters_at(const struct hbk_tune *tune, size_t event,
                            double asked);

/* Whether neither says how fast the tune begins; `asked` as above. */
bool hbk_tune_is_tempo_assumed(const struct hbk_tune *tune, double asked);

/* Length of a full bar, 0 in free time. */
struct hbk_ratio hbk_tune_full_bar(const struct hbk_tune_meter *meter);

enum { HBK_TUNE_BEAT_SIZE = 72, HBK_TUNE_WHERE_SIZE = 128 };

/*
 * The beat on which an event begins, from 1: "2.5", "2 1/3"; exact as long as
 * the beat is parted into less than ten thousand; returns `text`.
 */
char *hbk_tune_beat(const struct hbk_tune *tune, size_t event,
                    char text[HBK_TUNE_BEAT_SIZE]);

/* The same with its bar, "bar 3, beat 2.5", for messages; returns `text`. */
char *hbk_tune_where(const struct hbk_tune *tune, size_t event,
                     char text[HBK_TUNE_WHERE_SIZE]);

#endif
