#ifndef HBK_MUSIC_MOVING_H
#define HBK_MUSIC_MOVING_H

#include <stdbool.h>

/*
 * Where a part is asked to be put: another octave, so far up or down, another
 * key. Words come in by options and by orders and mean the same in both.
 *
 * Keys and intervals lie on the line of fifths (... Bb F C G D ...; C is 0),
 * on which an interval is one number from whatever note it starts.
 */

enum { HBK_OCTAVES_MOST = 4, HBK_REACH_USUAL = 3, HBK_REACH_MOST = 6 };

/* Zero where nothing is asked. */
struct hbk_moving {
    bool any_octave; /* the best octave is to be found; `octaves` is 0 */
    int octaves;     /* up is positive */
    bool any_key;    /* the key that is easiest to play and to read, */
    int reach;       /* so many semitones up or down */
    bool to_key;     /* a key by its note, */
    int tonic;       /* on the line of fifths, -8 (Fb) to 12 (B#) */
    int semitones;   /* by so much, up is positive */
    bool spelled;    /* the interval has a name, */
    int fifths;      /* and is so many places on the line of fifths */
};

/*
 * Each reads a word, and says whether it is one; if not, nothing changes.
 *
 * octave      "auto", or -4 to 4, as in "-1" or "+1"
 * interval    semitones, -24 to 24, or a name: M2 for a major second up, m3 a
 *             minor third, P4, A4 (augmented), d5 (diminished), P8; with a
 *             minus down
 * key         "auto", "auto:3" with its reach 1 to 6, or the note of a key, as
 *             in "Bb" or "F#"
 */
bool hbk_moving_octave(const char *word, struct hbk_moving *moving);
bool hbk_moving_interval(const char *word, struct hbk_moving *moving);
bool hbk_moving_key(const char *word, struct hbk_moving *moving);

/* What each would take, to follow its name: "takes auto or ...". */
extern const char *const hbk_moving_takes_octave;
extern const char *const hbk_moving_takes_interval;
extern const char *const hbk_moving_takes_key;

/* Whether anything is asked that may move a part. */
bool hbk_moving_asked(const struct hbk_moving *moving);

#endif
