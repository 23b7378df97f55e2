#ifndef HBK_TUNE_MELODY_TUNE_H
#define HBK_TUNE_MELODY_TUNE_H

#include "base/arena.h"
#include "base/fault.h"
#include "music/pitch.h"
#include "tune/melody/ratio.h"

#include <stdint.h>

/*
 * One line of music as it is written, and the order in which it is played.
 * All times are exact and in whole notes (a quarter note is 1/4). Notes are
 * written notes as in music/pitch.h. Everything lives in one arena; strings
 * are UTF-8.
 */

#define HBK_TUNE_NONE SIZE_MAX /* no event, no tuplet */

enum hbk_tune_kind { HBK_TUNE_NOTE, HBK_TUNE_GRACE, HBK_TUNE_REST };

enum hbk_tune_beam {
    HBK_TUNE_BEAM_NONE,
    HBK_TUNE_BEAM_BEGIN,
    HBK_TUNE_BEAM_CONTINUE,
    HBK_TUNE_BEAM_END
};

/* Whether an accidental stands before the note in the source, and which. */
enum hbk_tune_accidental {
    HBK_TUNE_NOT_PRINTED,
    HBK_TUNE_PRINTED,
    HBK_TUNE_CAUTIONARY, /* a reminder, often in parentheses */
    HBK_TUNE_EDITORIAL   /* not in the source that the editor worked from */
};

/* Bits of hbk_tune_event.articulation. */
enum {
    HBK_TUNE_STACCATO = 1,
    HBK_TUNE_STACCATISSIMO = 2,
    HBK_TUNE_TENUTO = 4,
    HBK_TUNE_ACCENT = 8,
    HBK_TUNE_MARCATO = 16,
    HBK_TUNE_FERMATA = 32,
    HBK_TUNE_TRILL = 64,
    HBK_TUNE_BREATH = 128, /* a breath mark after the note */
    HBK_TUNE_TURN = 256,
    HBK_TUNE_INVERTED_TURN = 512,
    HBK_TUNE_MORDENT = 1024,       /* with a stroke: by the note below */
    HBK_TUNE_UPPER_MORDENT = 2048, /* without: by the note above */
    HBK_TUNE_ROLL = 4096,          /* the ~ of ABC, or another ornament */
    HBK_TUNE_ORNAMENT = 256 | 512 | 1024 | 2048 | 4096,
    HBK_TUNE_SIGN_SHARP = 8192, /* above the trill or ornament */
    HBK_TUNE_SIGN_FLAT = 16384,
    HBK_TUNE_SIGN_NATURAL = 32768,
    HBK_TUNE_TRILL_SIGN = 8192 | 16384 | 32768
};

enum { HBK_TUNE_NO_VALUE = 99 };

/* A written note, grace note or rest. */
struct hbk_tune_event {
    enum hbk_tune_kind kind;
    struct hbk_spelling spelling; /* of a note or grace note, as written */
    int note;                     /* its number; 0 to 127 */
    struct hbk_ratio onset;       /* in the written tune, from its beginning */
    struct hbk_ratio length;      /* as it sounds in its tuplet; grace: 0 */
    size_t bar;                   /* index into tune->bars */

    bool tie_start;        /* tied to the next note */
    bool tie_stop;         /* tied from the note before */
    size_t head;           /* first written piece of the tied note, or itself */
    struct hbk_ratio held; /* of the head: length of all pieces together */
    size_t main;           /* of a grace note: the event it ornaments */
    bool slash;            /* of a grace note: drawn with a stroke */

    unsigned slur_starts; /* how many slurs begin on this note */
    unsigned slur_stops;
    unsigned articulation; /* HBK_TUNE_STACCATO and so on */
    enum hbk_tune_accidental accidental;
    /*
     * The note as drawn: 0 whole, 1 half, 2 quarter, 3 eighth, ... -1 double
     * whole; HBK_TUNE_NO_VALUE when no notes together show this length.
     */
    int value;
    unsigned dots;
    size_t tuplet;           /* index into tune->tuplets, or HBK_TUNE_NONE */
    enum hbk_tune_beam beam; /* of the outermost beam, as in the source */
    bool whole_bar;          /* a rest that stands for its whole bar */
    bool hidden;             /* a rest that fills a gap and is not drawn */

    const char *fingering; /* already in the file at this note, or NULL */
    struct hbk_place place;
    size_t offset; /* ABC: byte of the file before which a fingering goes */
};

struct hbk_tune_tuplet {
    size_t first, count;     /* the events it spans, grace notes among them */
    unsigned actual, normal; /* 3 in the time of 2 */
};

enum hbk_tune_barline {
    HBK_TUNE_BAR_PLAIN,
    HBK_TUNE_BAR_DOUBLE,
    HBK_TUNE_BAR_FINAL, /* thin, thick */
    HBK_TUNE_BAR_THICK_THIN,
    HBK_TUNE_BAR_DOTTED,
    HBK_TUNE_BAR_INVISIBLE
};

struct hbk_tune_bar {
    const char *number; /* as the source numbers it; a token such as "12" */
    bool implicit;      /* a pickup, or the second half of a split bar */
    struct hbk_ratio onset, length;
    size_t first, count;         /* its events */
    enum hbk_tune_barline right; /* at its end */
    bool repeat_start;           /* a repeated section begins with it */
    unsigned repeat_end; /* how often the section that ends with it is played;
                            0 without a repeat, else 2 to 64 */
    const char *ending;  /* "1" or "1,3" if an ending begins with it, or NULL */
    uint64_t ending_passes; /* bit n - 1 set for the n-th time through */
    bool ending_stop;       /* an ending ends with it */
    bool segno, coda;       /* such a sign stands at its beginning */
    const char *jump;       /* "D.C. al Fine" or the like at its end; or NULL */
    struct hbk_place place;
};

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

/* A metronome mark: `quarters` says how fast, the rest how it is written. */
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

struct hbk_tune {
    const char *file; /* as named by the user; NULL for a typed run */
    const char *title, *composer, *part, *voice; /* "" where not given */
    int transpose; /* sounding minus written, in semitones */
    bool concert;  /* the file shows sounding notes instead of the part's */
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
};

/*
 * The note that shows a length, as event.value has it, with its dots; or
 * HBK_TUNE_NO_VALUE.
 */
int hbk_tune_value_of(struct hbk_ratio length, unsigned *dots);

/*
 * Gives a tune that has none at its beginning a tempo in quarter notes a
 * minute.
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

enum { HBK_TUNE_WHERE_SIZE = 128 };

/*
 * "bar 3, beat 2.5" or "bar 3, beat 2 1/3" for messages, exact as long as the
 * beat is parted into less than ten thousand; returns `text`.
 */
char *hbk_tune_where(const struct hbk_tune *tune, size_t event,
                     char text[HBK_TUNE_WHERE_SIZE]);

/* One sounding note, grace note or rest, ties merged, repeats as played. */
struct hbk_tune_played {
    size_t event;             /* the written event that carries a fingering */
    struct hbk_ratio onset;   /* in the played tune */
    struct hbk_ratio length;  /* with all tied pieces; grace note: 0 */
    double onset_s, length_s; /* at the tempo, in seconds */
};

struct hbk_tune_performance {
    size_t n;
    struct hbk_tune_played *items;
    bool tempo_assumed; /* the source says no tempo where the tune begins */
};

/*
 * Plays through repeats and endings. A D.C. or D.S. is not followed (the
 * readers warn of it).
 *
 * quarters   tempo in quarter notes a minute in place of the written ones,
 *            or NAN for the written ones
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when the repeats make more than
 * 500,000 events or the time does not fit; `out` is then unchanged.
 */
enum hbk_status
hbk_tune_unfold(const struct hbk_tune *tune, double quarters,
                struct hbk_arena *arena,
                struct hbk_tune_performance *out) HBK_MUST_CHECK;

/*
 * The semitones by which a part must be moved so that a horn whose written
 * C4 sounds `written_c4_sounds` plays the notes that were meant.
 *
 * from_sounding   the notes of the part are the sounding ones, whatever its
 *                 own transposition says
 */
int hbk_tune_shift_for(const struct hbk_tune *tune, int written_c4_sounds,
                       bool from_sounding);

/*
 * A copy of the tune moved by `semitones`, spelled in the key with the
 * fewest signs (flats where two are equal). Events keep their numbers, so
 * that fingerings of the copy belong to the original. The copy's `transpose`
 * is lessened by `semitones`: it sounds the same.
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN when a note would leave 0 to 127; `out`
 * is then unchanged.
 */
enum hbk_status hbk_tune_transposed(const struct hbk_tune *tune, int semitones,
                                    struct hbk_arena *arena,
                                    struct hbk_tune *out) HBK_MUST_CHECK;

#endif
