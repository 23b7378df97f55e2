#ifndef HBK_PASSAGE_SCALE_H
#define HBK_PASSAGE_SCALE_H

#include "notes/notes.h"
#include "passage/move.h"

/*
 * How well each written key suits a horn. A key is judged by its scale: the
 * major scale, or the harmonic minor one, with its seventh raised up and
 * down, because that is the one whose seven notes make up the key's chords
 * and stay the same in both directions.
 */
enum {
    HBK_SIGNATURE_MOST = 7,                      /* sharps, or flats */
    HBK_KEYS = 2 * (2 * HBK_SIGNATURE_MOST + 1), /* major and minor */
    HBK_DEGREES = 7
};

/*
 * How long a note of a scale lasts when its moves are weighed: quavers of
 * 120 crotchets a minute. Our own choice, no source.
 */
#define HBK_SCALE_S 0.250

/*
 * What a note of the scale costs that the horn has not: as much as one that
 * is 60 cents off, the most a player is usually trusted to bend. Our own
 * choice, no source.
 */
#define HBK_PRICE_MISSING 3600.0

/* A move is awkward for any of these, in either direction. */
#define HBK_SCALE_AWKWARD                                                      \
    ((unsigned)HBK_MOVE_JUMPS | (unsigned)HBK_MOVE_SWAPS |                     \
     (unsigned)HBK_MOVE_CROSSED | (unsigned)HBK_MOVE_THUMBS)

/* One note of the scale within the compass. */
struct hbk_scale_note {
    int written;
    /* Of the easiest way through the scale; NULL: out of reach. */
    const struct hbk_fingering *taken;
};

/* A move between neighbours of the scale, up or down. */
struct hbk_scale_move {
    size_t from;      /* index of the lower note; the other follows it */
    unsigned reasons; /* of enum hbk_move_reason, both ways together */
    double least_s;   /* of the slower way */
};

struct hbk_scale {
    int signature; /* sharps of the key, flats negative, -7 to 7 */
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
    size_t n_moves;     /* between neighbours that are both in reach */
    size_t n_awkward;
    const struct hbk_scale_move *awkward; /* the slowest first */
    double price; /* what the key costs a note, squared cents; less is better */
    unsigned place; /* among all keys, from 1 */
};

struct hbk_scales {
    struct hbk_scale keys[HBK_KEYS]; /* flats to sharps; major, then minor */
    size_t order[HBK_KEYS];          /* indices, the easiest key first */
};

/*
 * Judges all thirty keys. The price of a key is the mean square of the
 * deviations of its first choices, with HBK_PRICE_MISSING for each note out
 * of reach, and the mean of hbk_pressed_price() of its moves. The moves are
 * those of the cheapest way through each run, an exact search over all
 * fingerings by their cost and the moves between them; of equal ways the one
 * with the better-ranked fingerings on the later note. Keys of equal price
 * stand by their number of accidentals, major before minor, flats before
 * sharps.
 *
 * arena   owns the lists; fingerings are borrowed from the notes
 */
void hbk_scales_of(const struct hbk_keywork *keywork,
                   const struct hbk_notes *notes, struct hbk_arena *arena,
                   struct hbk_scales *scales);

/* The tonic, in octave 4. */
struct hbk_spelling hbk_scale_tonic(const struct hbk_scale *scale);
/* A note of the scale as it is spelled in the key: B♯3 for C4 in C sharp. */
struct hbk_spelling hbk_scale_spelling(const struct hbk_scale *scale,
                                       int written);

/* "E♭ major", "C♯ minor", or in ASCII. Returns `name`. */
enum { HBK_KEY_NAME_SIZE = 32 };
char *hbk_scale_name(const struct hbk_scale *scale, enum hbk_accidentals style,
                     char name[HBK_KEY_NAME_SIZE]);

#endif
