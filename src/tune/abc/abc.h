#ifndef HBK_TUNE_ABC_ABC_H
#define HBK_TUNE_ABC_ABC_H

#include "base/text.h"
#include "tune/melody/build.h"
#include "tune/melody/document.h"

/*
 * The ABC 2.1 reader (abcnotation.com, December 2011 with errata to 2013),
 * by hand: what a character means depends on what stands around it, and no
 * step over the file as a whole can settle that beforehand.
 */

enum { HBK_ABC_VOICE_SIZE = 21, HBK_ABC_VOICES_MAX = 32 };

/* How far a printed accidental reaches (section 11.3). */
enum hbk_abc_reach {
    HBK_ABC_REACH_PITCH,  /* to the end of the bar, in every octave */
    HBK_ABC_REACH_OCTAVE, /* to the end of the bar, in its own octave */
    HBK_ABC_REACH_NOT     /* only its own note */
};

struct hbk_abc_line {
    size_t begin, end; /* without the line end */
    size_t next;
    unsigned number; /* counted from 1 */
};

/* One quoted annotation that is drawn below ("_...") in the music. */
struct hbk_abc_note_text {
    size_t begin, end; /* with its quotes */
    bool is_heard;     /* stands in the chosen voice */
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

    bool bar_is_open;
    bool next_repeats;            /* the next bar begins a repeated section */
    struct hbk_tune_bar next_bar; /* its signs, before it is open */
    const char *next_ending;
    uint64_t next_passes;
    bool ending_is_open;
    unsigned endings; /* so far in this section */
    size_t section;   /* bar to which an end of repeat goes back */
    bool is_explicit; /* that bar carries a |: */
};

struct hbk_abc {
    struct hbk_build build;
    const char *file;
    const char *bytes;
    size_t length;
    bool strict;
    size_t start;      /* after a byte order mark */
    size_t header_end; /* of the file header, 0 without one */
    size_t begin, end; /* of the chosen tune */
    unsigned begin_line;
    size_t remark, remark_end; /* our remark in its header, or both 0 */
    size_t extras; /* fields and texts so far; see hbk_abc_count_extra */
    size_t n_texts, room_texts;
    struct hbk_abc_note_text *texts;

    char voices[HBK_ABC_VOICES_MAX][HBK_ABC_VOICE_SIZE];
    size_t n_voices;
    int chosen; /* index into voices, -1 where there are none */
    int current;
    bool in_body;

    struct hbk_ratio unit;
    bool unit_given;
    /* Q: in units, until L: is settled: `beat` counts them; or all 0 */
    struct hbk_tune_tempo unit_tempo;
    struct hbk_tune_meter meter;
    struct hbk_tune_key key;
    struct hbk_tune_clef clef;
    int octave; /* shift of the music code itself */
    int key_transpose, clef_transpose;
    bool transpose_told;
    enum hbk_abc_reach reach;
    const char *symbols[128]; /* decoration names by letter, NULL for none */
    bool skips_field;         /* the field before: its +: lines are skipped */

    struct hbk_abc_line line; /* being read */
    size_t at;                /* being read, a byte */
    struct hbk_abc_music music;
};

struct hbk_place hbk_abc_place(const struct hbk_abc *abc, size_t at);

/* The line that begins at byte `from`, ended by LF, CR LF or CR. */
struct hbk_abc_line hbk_abc_line_at(const char *bytes, size_t length,
                                    size_t from, unsigned number);

/*
 * Counts one more field or text in quotes; false, with an error recorded,
 * when no piece of music has so many.
 */
bool hbk_abc_count_extra(struct hbk_abc *abc);

/* Finds the tune to read and its voices; false with an error recorded. */
bool hbk_abc_find_tune(struct hbk_abc *abc,
                       const struct hbk_tune_options *options);

/*
 * One field: `letter`, and the text after its colon without the comment.
 * Returns whether the field is known.
 */
bool hbk_abc_field(struct hbk_abc *abc, char letter, const char *text);
/* A tempo whose `beat` counts unit lengths, at the unit that holds now. */
void hbk_abc_set_unit_tempo(struct hbk_abc *abc, struct hbk_tune_tempo tempo);
/* An I: field or %% line. */
void hbk_abc_instruction(struct hbk_abc *abc, const char *text);
/* K: with tonic, mode, signs and clef. */
void hbk_abc_key_field(struct hbk_abc *abc, const char *text);
/* Clef, octave= and transpose=, as in K: and V:; others are passed over. */
void hbk_abc_clef_words(struct hbk_abc *abc, const char *text);

/* The standard decorations by letter. */
void hbk_abc_default_symbols(struct hbk_abc *abc);
/* Adds the decoration of this name to the next note. */
void hbk_abc_decorate(struct hbk_abc *abc, const char *name, size_t length);

/* The decoration for words at the end of a bar, or NULL. */
const char *hbk_abc_jump_name(const char *words);

/* Reads one line of music. */
void hbk_abc_music_line(struct hbk_abc *abc);
/* At the end of the tune. */
void hbk_abc_music_end(struct hbk_abc *abc);
/* Whether music now belongs to the chosen voice. */
bool hbk_abc_is_heard(const struct hbk_abc *abc);

/* Bar lines, repeats and endings; `abc->at` is at the first sign. */
void hbk_abc_bar_line(struct hbk_abc *abc);
/* An ending: `abc->at` is at its first digit. */
void hbk_abc_ending(struct hbk_abc *abc);
/* Opens the bar that the next note is in, unless it is open. */
void hbk_abc_need_bar(struct hbk_abc *abc);
void hbk_abc_bars_end(struct hbk_abc *abc);

/* Notes and rests at `abc->at`. */
void hbk_abc_note(struct hbk_abc *abc);
void hbk_abc_rest(struct hbk_abc *abc);
/* A length at `abc->at`, 1 for none; false with an error recorded. */
bool hbk_abc_length(struct hbk_abc *abc, struct hbk_ratio *factor);
/* > and < after a note. */
void hbk_abc_broken(struct hbk_abc *abc);
void hbk_abc_tie(struct hbk_abc *abc);
/* ( before a digit, at `abc->at`. */
void hbk_abc_tuplet(struct hbk_abc *abc);
/* ), at `abc->at`. */
void hbk_abc_slur_end(struct hbk_abc *abc);
void hbk_abc_forget_accidentals(struct hbk_abc *abc);

/* Text with its escapes resolved, as UTF-8 in the arena. */
const char *hbk_abc_text(struct hbk_arena *arena, const char *bytes,
                         size_t length);

/* The text without the blanks and tabs at its beginning. */
const char *hbk_abc_skip_spaces(const char *text);
/* A to Z and a to z; ASCII only. */
bool hbk_abc_is_letter(char c);

/* A whole number at abc->at of at most `limit`; false for none or more. */
bool hbk_abc_digits(struct hbk_abc *abc, unsigned limit, unsigned *number);

/* The byte at abc->at + ahead, NUL at the end of the line. */
char hbk_abc_peek(const struct hbk_abc *abc, size_t ahead);

/* For hbk_tune_annotate(), hbk_tune_strip() and hbk_tune_to_abc(). */
enum hbk_status hbk_abc_annotate(const struct hbk_tune_document *document,
                                 const struct hbk_tune_fingering *fingerings,
                                 const char *remark, struct hbk_text *out,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;
enum hbk_status hbk_abc_strip(const struct hbk_tune_document *document,
                              struct hbk_text *out,
                              struct hbk_faults *faults) HBK_MUST_CHECK;
/* Adds the text with the signs escaped that mean something in ABC. */
void hbk_abc_escape(struct hbk_text *out, const char *text);
/* Adds the annotations of one note: its grace notes, main, alternates. */
void hbk_abc_put_fingering(struct hbk_text *out, const struct hbk_tune *tune,
                           const struct hbk_tune_fingering *fingerings,
                           size_t event);

/* How many annotations there are in nothing but annotations. */
size_t hbk_abc_count_texts(const char *text);
/*
 * The comment that counts the texts below the notes, without its line end:
 * `others` has the numbers of those that are not ours, NULL for none; the
 * remark, without digits, may be NULL.
 */
void hbk_abc_put_remark(struct hbk_text *out, size_t texts, const char *others,
                        const char *remark);

enum hbk_status hbk_abc_read(const char *name, const char *bytes, size_t length,
                             const struct hbk_tune_options *options,
                             struct hbk_tune_document *document,
                             struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
