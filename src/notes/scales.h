#ifndef HBK_NOTES_SCALES_H
#define HBK_NOTES_SCALES_H

#include "music/pitch.h"
#include "notes/notes.h"

/*
 * How well each written key suits a horn. A key is judged by its scale: the
 * major scale, or the harmonic minor one, with its seventh raised up and
 * down, because that is the one whose seven notes make up the key's chords
 * and stay the same in both directions.
 *
 * A key is the notes under the hands, so that D flat and C sharp are one. It
 * has the name with fewer accidentals; with six either way it is spelled in
 * flats and both names are said.
 */
enum {
    HBK_FLATS_MOST = 6, /* of a signature; sharps reach to 5 */
    HBK_KEYS = 24,      /* twelve major, twelve minor */
    HBK_DEGREES = 7
};

/* One note of the scale within the compass. */
struct hbk_scale_note {
    int written;
    /* Of the easiest way through the scale; NULL: out of reach. */
    const struct hbk_fingering *taken;
};

/* A move between neighbours of the scale, up or down. */
struct hbk_scale_move {
    size_t from;      /* index of the lower note; the other follows it */
    unsigned reasons; /* of passage/move.h, both ways together */
    double least_s;   /* what the hands need, the slower way */
    const char *why;  /* what is awkward, up or down, whichever is slower */
};

/*
 * What is said first of a key, for who reads no further. Of each mode up to
 * HBK_SCALES_WELL keys lie well, but not more than half of those with a place,
 * and up to HBK_SCALES_BADLY others lie badly, the last of those with a place.
 */
enum { HBK_SCALES_WELL = 4, HBK_SCALES_BADLY = 2 };
enum hbk_scale_lie {
    HBK_LIES_BETWEEN,
    HBK_LIES_WELL,
    HBK_LIES_BADLY,
    HBK_LIES_NOT /* no whole octave without a gap: no place */
};

struct hbk_scale {
    int signature; /* sharps of the key, flats negative, -6 to 5 */
    bool minor;
    size_t n; /* notes of the scale within the compass, low to high */
    const struct hbk_scale_note *notes;
    size_t n_reached;
    /* The longest run of the scale without a gap; n_run notes from run on. */
    size_t run, n_run;
    unsigned octaves; /* whole ones within a run, tonic to tonic */
    /* Of the first choices, as the chart has them; NAN without any. */
    double rms_cents;
    double worst_cents; /* the largest deviation, with its sign */
    int worst;          /* the note it belongs to */
    double care_share;  /* of these that need care, 0 to 1 */
    size_t n_moves;     /* between neighbours that are both in reach */
    size_t n_awkward;
    const struct hbk_scale_move *awkward; /* the slowest first */
    double price; /* what the key costs a note, squared cents; less is better */
    /*
     * Among all keys and among those of its mode, from 1; equals share one.
     * 0 for a key of which the horn has no whole octave without a gap.
     */
    unsigned place, place_in_mode;
    enum hbk_scale_lie lies;
};

struct hbk_scales {
    struct hbk_scale keys[HBK_KEYS]; /* flats to sharps; major, then minor */
    size_t order[HBK_KEYS];          /* indices, the easiest key first */
    size_t n_placed;                 /* of them have a place */
};

/* What is said of a horn on which no key has a place. */
#define HBK_SCALES_NONE                                                        \
    "No scale can be played on this horn: no key has a whole octave without "  \
    "a "                                                                       \
    "gap."

/*
 * The key as whoever reads the horn's key: signature, name and spelling are
 * his, all that was found stays, and with it the written notes. Its notes are
 * spelled by hbk_scale_spelling() of the note that is read.
 */
struct hbk_scale hbk_scale_read(const struct hbk_scale *scale,
                                const struct hbk_notation *notation);

/* The degree of the scale that a note is of, from 0; HBK_DEGREES for none. */
size_t hbk_scale_degree(const struct hbk_scale *scale, int written);

/* The tonic, in octave 4. */
struct hbk_spelling hbk_scale_tonic(const struct hbk_scale *scale);
/* A note of the scale as it is spelled in the key: B♯3 for C4 in C sharp. */
struct hbk_spelling hbk_scale_spelling(const struct hbk_scale *scale,
                                       int written);

enum { HBK_KEY_NAME_SIZE = 40 };
/* "E♭ major", "E♭/D♯ minor", or in ASCII. Returns `name`. */
char *hbk_scale_name(const struct hbk_scale *scale, enum hbk_accidentals style,
                     char name[HBK_KEY_NAME_SIZE]);
/* In other names, the tonic alone and with its mode: "Es", "Es major". */
char *hbk_scale_tonics_called(const struct hbk_scale *scale,
                              enum hbk_naming naming,
                              enum hbk_accidentals style,
                              char name[HBK_KEY_NAME_SIZE]);
char *hbk_scale_called(const struct hbk_scale *scale, enum hbk_naming naming,
                       enum hbk_accidentals style,
                       char name[HBK_KEY_NAME_SIZE]);

#endif
