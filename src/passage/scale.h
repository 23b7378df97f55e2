#ifndef HBK_PASSAGE_SCALE_H
#define HBK_PASSAGE_SCALE_H

#include "notes/notes.h"
#include "passage/move.h"

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

/*
 * A deviation that the lip corrects without a thought: so much of the cents
 * of a first choice does not count. The fifth partial, 14 cents flat on any
 * tube, is within it, and no player complains of his open E. Our own choice,
 * no source.
 */
#define HBK_SCALE_LIP_CENTS 15.0

/*
 * What an awkward move costs beside its time, in squared cents; less between
 * the hands, which learn to take turns, more where ring or little finger
 * takes part or both thumbs do, much more where the right thumb and a finger
 * of its hand trade places, for that thumb also steadies the horn, and most
 * where a finger must jump or a held key goes over to another finger. Our own
 * choice, no source; the order is that of common practice.
 */
#define HBK_PRICE_AWKWARD 200.0
#define HBK_SCALE_HANDS 0.5
#define HBK_SCALE_WEAK 0.5     /* more */
#define HBK_SCALE_THUMBS 1.0   /* more */
#define HBK_SCALE_UNSTEADY 2.5 /* more */
#define HBK_SCALE_JUMP 4.0     /* more */

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

/*
 * Judges every key by what the horn can do as it stands: cents are from the
 * pitch it has, and what is stuck is not moved. The price of a key is the mean
 * square of what its first choices deviate beyond HBK_SCALE_LIP_CENTS, with
 * HBK_PRICE_MISSING for each note out of reach, and the mean of
 * hbk_scale_move_price() of its moves. The moves are those of the cheapest way
 * through each run, an exact search over all fingerings by their cost and the
 * price of the moves between them; of equal ways the one with the better-ranked
 * fingerings on the later note.
 *
 * Keys of which an octave lies on the horn without a gap stand before all
 * others. Keys of equal price share a place; they are listed by their number
 * of accidentals, major before minor, flats before sharps.
 *
 * arena   owns the lists; fingerings are borrowed from the notes
 */
void hbk_scales_of(const struct hbk_keywork *keywork,
                   const struct hbk_notes *notes, struct hbk_arena *arena,
                   struct hbk_scales *scales);

/* What is said of a horn on which no key has a place. */
#define HBK_SCALES_NONE                                                        \
    "No scale lies on this horn: of no key has it a whole octave without a "   \
    "gap."

/* What a move costs in a scale, in squared cents. */
double hbk_scale_move_price(const struct hbk_scale_move *move);

/* The tonic, in octave 4. */
struct hbk_spelling hbk_scale_tonic(const struct hbk_scale *scale);
/* A note of the scale as it is spelled in the key: B♯3 for C4 in C sharp. */
struct hbk_spelling hbk_scale_spelling(const struct hbk_scale *scale,
                                       int written);

enum { HBK_KEY_NAME_SIZE = 32 };
/* "E♭", "C♯", or in ASCII; with six accidentals "G♭/F♯". Returns `name`. */
char *hbk_scale_tonics(const struct hbk_scale *scale,
                       enum hbk_accidentals style,
                       char name[HBK_KEY_NAME_SIZE]);
/* The same with its mode: "E♭ major", "E♭/D♯ minor". */
char *hbk_scale_name(const struct hbk_scale *scale, enum hbk_accidentals style,
                     char name[HBK_KEY_NAME_SIZE]);

#endif
