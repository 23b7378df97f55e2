#ifndef HBK_TUNE_ABC_ABC_H
#define HBK_TUNE_ABC_ABC_H

#include "base/text.h"
#include "tune/abc/abc_source.h"
#include "tune/abc/abc_voiced.h"
#include "tune/melody/build.h"

/* The reader of ABC at work: what its files know of the tune so far. */

enum { HBK_ABC_VOICE_SIZE = 21, HBK_ABC_VOICES_MAX = 32, HBK_ABC_ENDS_MAX = 8 };

struct hbk_abc_voices {
    size_t n;
    char names[HBK_ABC_VOICES_MAX][HBK_ABC_VOICE_SIZE];
    int chosen; /* index into names, -1 where there are none */
    int current;
};

/* How far a printed accidental reaches (section 11.3). */
enum hbk_abc_reach {
    HBK_ABC_REACH_PITCH,  /* to the end of the bar, in every octave */
    HBK_ABC_REACH_OCTAVE, /* to the end of the bar, in its own octave */
    HBK_ABC_REACH_NOT     /* only its own note */
};

/* What the fields have said. */
struct hbk_abc_said {
    struct hbk_ratio unit;
    bool unit_given;
    /* Q: in units, until L: is settled: `beat` counts them; or all 0 */
    struct hbk_tune_tempo unit_tempo;
    struct hbk_tune_meter meter;
    struct hbk_tune_key key;
    struct hbk_tune_clef clef;
    int octave; /* shift of the music code itself */
    int key_transpose, clef_transpose;
    bool says_transpose, transpose_told;
    enum hbk_abc_reach reach;
    const char *symbols[128]; /* decoration names by letter, NULL for none */
    const char *tempo_words;  /* of Q: in the header, or NULL */
    bool tempo_given;         /* with a number */
    const char *order;        /* P: in the header, as written, or NULL */
};

/* One quoted annotation that is drawn below ("_...") in the music. */
struct hbk_abc_note_text {
    size_t begin, end; /* with its quotes */
    bool is_heard;     /* stands in the chosen voice */
};

struct hbk_abc_texts {
    size_t n, room;
    struct hbk_abc_note_text *items;
    /* What the remark says of texts by others, as far as it is read. */
    const char *others;
    size_t next_other; /* counted from 1; 0 for none */
};

/* Lines of words or of signs below the music, by note. */
struct hbk_abc_lane {
    size_t from, to; /* the events that the latest of them goes over */
    unsigned verse;  /* counted from 1 */
};

/* What the musical part remembers from note to note. */
struct hbk_abc_music {
    size_t last;      /* last note or rest of the chosen voice */
    bool is_joined;   /* no space or bar line since a note: a beam goes on */
    bool is_adjacent; /* the note has just ended: a tie sign may follow */
    int broken;       /* signs of broken rhythm waiting: > plus, < minus */
    unsigned tuplet_left;
    size_t tuplet;
    bool in_grace, grace_slash;
    unsigned slurs_open;
    unsigned slur_starts;      /* waiting for their note */
    unsigned decorations;      /* likewise */
    size_t point;              /* byte where those begin, or HBK_TUNE_NONE */
    const char *below, *above; /* annotations waiting for their note */
    int alter[7][12];          /* by step and octave + 1, where `marked` */
    bool marked[7][12];
    int latest[7]; /* octave + 1 last marked for a step, or -1 */
    bool reserved_told;
    size_t waiting; /* the first mark that may wait for its note */
    size_t target;  /* the event to which marks go, or HBK_TUNE_NONE */
    /* Marks that end where the music is now, before a note or bar line. */
    size_t n_ends, ends[HBK_ABC_ENDS_MAX];
    enum hbk_tune_accidental accidental; /* how the next sign is to be read */
};

/* What is remembered from bar to bar. */
struct hbk_abc_bars {
    bool is_open;
    bool next_repeats; /* the next bar begins a repeated section */
    const char *next_ending;
    uint64_t next_passes;
    bool ending_is_open;
    unsigned endings; /* so far in this section */
    size_t section;   /* bar to which an end of repeat goes back */
    size_t earlier;   /* that before a strong bar line with nothing after it */
    bool is_explicit; /* that bar carries a |: */
    bool repeat_is_open; /* since that |: no repeat has ended */
    unsigned signs; /* of the played order: their note or bar line is to come */
    const char *jump; /* the words of those, or NULL */
    char part;        /* likewise the letter of the part, or 0 */
    char last_part;   /* that of the part being read, or 0 */
};

struct hbk_abc {
    struct hbk_build build;
    struct hbk_abc_source source;
    struct hbk_abc_voices voices;
    struct hbk_abc_said said;
    bool in_body;
    bool keeps_about;      /* hbk_tune_options.keep_about */
    struct hbk_text about; /* tune.about so far */
    size_t extras; /* fields and texts so far; see hbk_abc_count_extra */
    struct hbk_abc_texts texts;
    struct hbk_abc_line line; /* being read */
    bool is_text_block;
    size_t block_end; /* of lines that are typeset as they stand, or 0 */
    bool no_blocks;   /* none more is closed */
    size_t at;        /* being read, a byte */
    struct hbk_abc_music music;
    struct hbk_abc_bars bars;
    struct hbk_abc_lane words, signs;
    size_t line_first; /* the event with which the last line of music begins */
    bool line_goes_on; /* the line before ended with a backslash */
    struct hbk_abc_chord chord;
    struct hbk_abc_voiced voiced;
};

struct hbk_place hbk_abc_place(const struct hbk_abc *abc, size_t at);

/* Whether music now belongs to the chosen voice. */
bool hbk_abc_is_heard(const struct hbk_abc *abc);

/*
 * Counts one more field or text in quotes; false, with an error recorded,
 * when no piece of music has so many.
 */
bool hbk_abc_count_extra(struct hbk_abc *abc);

/* A whole number at abc->at of at most `limit`; false for none or more. */
bool hbk_abc_digits(struct hbk_abc *abc, unsigned limit, unsigned *number);

/* The byte at abc->at + ahead, NUL at the end of the line. */
char hbk_abc_peek(const struct hbk_abc *abc, size_t ahead);

#endif
