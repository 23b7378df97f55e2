#ifndef HBK_NOTES_NOTATION_H
#define HBK_NOTES_NOTATION_H

#include "music/clef.h"
#include "music/pitch.h"

/*
 * How notes are put on paper for whoever reads them. Everything that is
 * computed keeps to the notes as the horn is written; only what is drawn and
 * named goes by the notation.
 */
struct hbk_notation {
    enum hbk_clef clef;
    int shift; /* semitones from the horn's written note to the one he reads */
    enum hbk_naming naming;
};

/* As the horn itself is written, in English names. */
struct hbk_notation hbk_notation_own(enum hbk_clef clef);

/* The note that this player reads for a written note of the horn. */
int hbk_notation_note(const struct hbk_notation *notation, int written);

/* The same spelled: hbk_spelling_moved(). */
struct hbk_spelling hbk_notation_spelling(const struct hbk_notation *notation,
                                          struct hbk_spelling written);

/*
 * What a player may be used to read.
 *
 * OWN      as the horn is written; what is meant where nothing is said
 * TREBLE   treble clef. A horn written in it is read as it stands. Any other
 *          is read as bands write low brass: written C is its open note
 * BASS     bass clef, every note as it sounds
 * TREBLE_BFLAT, TREBLE_EFLAT
 *          treble clef, as for a horn in that key: written C sounds B flat or
 *          E flat
 * CONCERT  every note as it sounds. A horn written so keeps its clef; any
 *          other is read in the treble or bass clef, whichever needs fewer
 *          ledger lines for its compass, of equals in the treble clef
 *
 * Where the octave is free (the three treble ones, but for a horn that is
 * written so) it is that in which the compass needs the fewest ledger lines;
 * of equals the lower. That is how bands write: a bass in E flat in the
 * octave of a cornet. What the horn is said to be written in, and the crook it
 * plays with, never change what a sounding note is fingered with.
 */
enum hbk_reads {
    HBK_READS_OWN,
    HBK_READS_TREBLE,
    HBK_READS_BASS,
    HBK_READS_TREBLE_BFLAT,
    HBK_READS_TREBLE_EFLAT,
    HBK_READS_CONCERT,
    HBK_READS_COUNT
};

/* "treble", "bass", "treble-bflat", ...; "own" for what nobody says. */
const char *hbk_reads_name(enum hbk_reads reads);
/* The words above but "own"; small and capital letters are one. */
bool hbk_reads_parse(const char *text, enum hbk_reads *reads);

/* What is to be known of a horn to find how it is read. */
struct hbk_writing {
    enum hbk_clef clef;
    int written_c4_sounds; /* with the crook that is in */
    /*
     * The written note that the open horn gives, in any octave: C of a horn
     * written in its own key. For TREBLE and other clefs only.
     */
    int open;
    int lowest, highest; /* written compass, for octave and clef */
};

struct hbk_notation hbk_notation_of(enum hbk_reads reads,
                                    enum hbk_naming naming,
                                    const struct hbk_writing *writing);

/* How many ledger lines a note, as it is usually spelled, needs in a clef. */
int hbk_ledger_lines(enum hbk_clef clef, int note);

#endif
