#ifndef HBK_TUNE_MELODY_MARKS_H
#define HBK_TUNE_MELODY_MARKS_H

#include "tune/melody/ratio.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * What is printed about a line of music besides its notes and the signs that
 * belong to one note (tune/melody/event.h): dynamics, hairpins, words, letters,
 * metronome marks, signs of the played order, and words that are sung. All of
 * it is as the source has it and each thing is there once: whoever draws the
 * marks of a tune draws all of it and needs none of bar.signs, bar.jump and
 * tune.tempos, which say how the tune is played.
 *
 * Everything lives in the arena of its tune; no string is NULL.
 */

/*
 * A place in the written tune. Marks stand at a note, within a long one, or at
 * the end of a bar.
 */
struct hbk_tune_spot {
    size_t bar;            /* in which it is drawn */
    struct hbk_ratio time; /* from the beginning of the tune, in whole notes;
                              from the bar's onset to its end, both included */
    /*
     * The event of that bar that begins at `time`, else the last that begins
     * before it; of a grace note and its note the note, unless the mark stands
     * at the grace note itself. In a bar without events bar.first, which is
     * no event of that bar and may be n_events.
     */
    size_t event;
};

enum hbk_tune_mark_kind {
    /* Letters of dynamics alone: "p", "mf", "sfz", "fp". */
    HBK_TUNE_MARK_DYNAMIC,
    HBK_TUNE_MARK_CRESCENDO,  /* a hairpin that opens, from `at` to `end` */
    HBK_TUNE_MARK_DIMINUENDO, /* one that closes */
    /*
     * Words about how to play: "dolce", "cresc.", "Solo", "più f". Dashes go on
     * to `end` where that is later than `at`.
     */
    HBK_TUNE_MARK_WORDS,
    /*
     * Words about how fast, a metronome mark, or both: "Allegro", "rit.". One
     * of `text` and `metronome` at least is there. Dashes as above.
     */
    HBK_TUNE_MARK_TEMPO,
    HBK_TUNE_MARK_REHEARSAL, /* a letter, number or name in a frame */
    HBK_TUNE_MARK_SEGNO,     /* the sign; `text` is empty */
    HBK_TUNE_MARK_CODA,      /* likewise */
    HBK_TUNE_MARK_JUMP,      /* "D.C. al Fine", "To Coda", "Fine" */
    HBK_TUNE_MARK_FERMATA,   /* over a bar line, at the end of its bar */
    HBK_TUNE_MARK_PLUS,      /* + over a note: stopped with the hand */
    HBK_TUNE_MARK_OPEN       /* a small ring over a note: not stopped */
};

/* Where the source wants it; FREE where it does not say. */
enum hbk_tune_side { HBK_TUNE_FREE, HBK_TUNE_ABOVE, HBK_TUNE_BELOW };

/* "dotted quarter = 96", "half = ca. 60", "quarter = dotted quarter". */
struct hbk_tune_metronome {
    struct hbk_ratio beat;   /* the note on the left, one note with its dots, in
                                wholes; 0 where there is no metronome mark */
    const char *count;       /* the number as printed; "" where a note stands */
    struct hbk_ratio equals; /* that note on the right, or 0 */
    bool in_parentheses;
};

struct hbk_tune_mark {
    enum hbk_tune_mark_kind kind;
    enum hbk_tune_side side;
    struct hbk_tune_spot at;
    struct hbk_tune_spot end; /* where it has a length; else the same as `at` */
    const char *text;         /* one line of UTF-8, or "" */
    bool to_nothing; /* of a hairpin: its closed end is a ring, "al niente" */
    struct hbk_tune_metronome metronome; /* of TEMPO */
};

/* One syllable under a note. */
struct hbk_tune_syllable {
    size_t event;     /* a note or grace note */
    unsigned verse;   /* 1 to tune.n_verses, from the top */
    const char *text; /* without its hyphen; may hold spaces; never "" */
    bool hyphen; /* the word goes on: a hyphen before the verse's next one */
    /*
     * The last note that is sung to it, `event` itself for one note. Where it
     * is later and there is no hyphen, a line is drawn up to it.
     */
    size_t last;
};

/* Something that the file holds and the model does not: how often. */
struct hbk_tune_left_out {
    const char *one, *many; /* "chord symbol", "chord symbols" */
    size_t count;
};

/* In order of time, at one time as in the file. */
struct hbk_tune_marks {
    size_t n;
    struct hbk_tune_mark *items;
    unsigned n_verses;
    size_t n_syllables; /* in order of event, then verse */
    struct hbk_tune_syllable *syllables;
    size_t n_stanzas; /* lines of words to stand below the music; "" parts */
    const char **stanzas;
    size_t n_left_out; /* told on reading; kept for whoever counts */
    struct hbk_tune_left_out *left_out;
};

bool hbk_mark_is_hairpin(const struct hbk_tune_mark *mark);

/* The first mark at or after an event, n if none. */
size_t hbk_tune_marks_from(const struct hbk_tune_marks *marks, size_t event);

/* The first syllable at or after an event, n_syllables if none. */
size_t hbk_tune_syllables_from(const struct hbk_tune_marks *marks,
                               size_t event);

#endif
