#ifndef HBK_MUSIC_PITCH_H
#define HBK_MUSIC_PITCH_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Notes are whole semitones with C4 (middle C) = 60, so that A4 = 69. The
 * same number serves written and sounding notes; names of variables say
 * which. Range of what can be named: C-1 (0) to G9 (127).
 */
enum { HBK_NOTE_C4 = 60, HBK_NOTE_A4 = 69, HBK_NOTE_MAX = 127 };

/* A note as it is spelled: E flat and D sharp are different spellings. */
struct hbk_spelling {
    int step;   /* 0 to 6 for C to B */
    int alter;  /* semitones, -2 to 2; sharp is positive */
    int octave; /* 4 starts at middle C */
};

enum hbk_accidentals {
    HBK_ASCII,  /* F#4, Bb3 */
    HBK_UNICODE /* F♯4, B♭3 */
};

enum { HBK_NAME_SIZE = 16 };

/*
 * Reads a note name that fills `text`: letter A-G, up to two # or b (or the
 * signs ♯ ♭), octave -1 to 9. Returns false for anything else.
 */
bool hbk_spelling_parse(const char *text, struct hbk_spelling *spelling);

/* The semitone number of a spelling. */
int hbk_spelling_note(struct hbk_spelling spelling);

/* As hbk_spelling_parse, for those who only want the number (0 to 127). */
bool hbk_note_parse(const char *text, int *note);

/* The usual sharp (F#) or flat (Gb) spelling of a black note. */
struct hbk_spelling hbk_note_sharp(int note);
struct hbk_spelling hbk_note_flat(int note);
bool hbk_note_is_black(int note);

/*
 * The one name a player expects of a note on its own: C#, Eb, F#, G#, Bb and
 * the naturals.
 */
struct hbk_spelling hbk_note_usual(int note);

/*
 * The note so many semitones away, by the letters of the interval: F sharp a
 * tone higher is G sharp, not A flat. Not with a second sign, unless the note
 * has two.
 */
struct hbk_spelling hbk_spelling_moved(struct hbk_spelling spelling,
                                       int semitones);

/* Writes the name with its octave, and returns `name`. */
char *hbk_spelling_name(struct hbk_spelling spelling,
                        enum hbk_accidentals style, char name[HBK_NAME_SIZE]);
/*
 * The name of a note on its own, by its usual spelling, "?" of what is none;
 * returns `name`.
 */
char *hbk_note_name(int note, enum hbk_accidentals style,
                    char name[HBK_NAME_SIZE]);
/* A spelling without the octave: "E flat" as Eb. */
char *hbk_spelling_letter(struct hbk_spelling spelling,
                          enum hbk_accidentals style, char name[HBK_NAME_SIZE]);

/* What notes are called where a player comes from. */
enum hbk_naming {
    HBK_NAMES_ENGLISH, /* C, F sharp, B flat, B */
    HBK_NAMES_GERMAN,  /* C, Fis, B, H */
    HBK_NAMES_SOLFEGE, /* do, fa sharp, si flat, si */
    HBK_NAMING_COUNT
};

/*
 * The name without the octave as it is called there: "F♯", "Fis", "fa♯". The
 * German endings are spelled out whatever the style.
 */
char *hbk_spelling_called(struct hbk_spelling spelling, enum hbk_naming naming,
                          enum hbk_accidentals style, char name[HBK_NAME_SIZE]);
/* The same with the octave figure that every naming shares: "Fis4", "fa♯4". */
char *hbk_spelling_said(struct hbk_spelling spelling, enum hbk_naming naming,
                        enum hbk_accidentals style, char name[HBK_NAME_SIZE]);
/* "english", "german", "solfege". */
const char *hbk_naming_name(enum hbk_naming naming);
/* Small and capital letters are one here; nothing else is a naming. */
bool hbk_naming_parse(const char *text, enum hbk_naming *naming);

/* Lines and spaces of the staff above C4: C4 0, D4 1, E5 9, B3 -1. */
int hbk_spelling_staff_step(struct hbk_spelling spelling);

/* A4 where nobody says another (ISO 16), Hz. */
#define HBK_A4_USUAL_HZ 440.0

/* Equal temperament: a4 * 2^((note - 69) / 12), in Hz. */
double hbk_note_hz(int note, double a4_hz);

#define HBK_OCTAVE_CENTS 1200.0
#define HBK_SEMITONE_CENTS 100.0
/* A cent as a share of a frequency or length: ln 2 / 1200. */
#define HBK_CENT_SHARE 0.00057762265046662

/* 1200 log2(hz / reference_hz): positive when `hz` is sharp. */
double hbk_cents(double hz, double reference_hz);
/* From the nearest octave of the reference, -600 to 600. */
double hbk_cents_in_octave(double hz, double reference_hz);
/* 2^(cents / 1200). */
double hbk_cents_ratio(double cents);

#endif
