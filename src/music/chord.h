#ifndef HBK_MUSIC_CHORD_H
#define HBK_MUSIC_CHORD_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Where the notes of a chord lie when it sounds pure: as the partials of one
 * low note, major as 4:5:6, a dominant seventh as 4:5:6:7. Against equal
 * temperament, in cents to the root, that gives
 *
 *   1200 log2(partial / partial of the root) - 100 semitones.
 *
 * Source of the cents: Chord Adjustments in Just Intonation; Chords of Just
 * Intonation; Boldin 2010, In Tune Chords, which agree. Of triads with a pure
 * fifth and of the dominant seventh the ratios are those of any textbook; of
 * the others the lowest partials were taken that give the published cents.
 */

/* How a chord is made, root first. */
enum { HBK_CHORD_NOTES = 5, HBK_CHORD_READINGS = 12 };
struct hbk_chord_kind {
    const char *name;                   /* "major", "dominant seventh" */
    size_t n;                           /* 3 to HBK_CHORD_NOTES */
    unsigned partials[HBK_CHORD_NOTES]; /* relative frequencies, whole */
    unsigned degrees[HBK_CHORD_NOTES];  /* 1 root, 3 third ... 9 ninth */
};

/* A chord on its root, a note as in music/pitch.h. */
struct hbk_chord {
    const struct hbk_chord_kind *kind;
    int root;
};

/*
 * The chords that notes can be, in any octave and order, doubled or not;
 * `found` receives them, and their number is returned, 0 for none. There are
 * at least three different notes, the root among them; only the fifth of a
 * seventh or ninth may be missing, and such a reading counts only where no
 * complete one is found.
 *
 * The same notes can be two chords (a major sixth and a minor seventh), and
 * any note of an augmented triad or a diminished seventh can be its root. The
 * lowest note that can be a root stands first. That rule is ours.
 */
size_t hbk_chord_find(size_t n, const int notes[],
                      struct hbk_chord found[HBK_CHORD_READINGS]);

/*
 * The plainest chord on the root that has all the notes; they need neither
 * hold the root nor be complete. False when none has.
 */
bool hbk_chord_on(size_t n, const int notes[], int root,
                  struct hbk_chord *chord);

/* The degree of a note, or 0 when the chord has not that note. */
unsigned hbk_chord_degree(const struct hbk_chord *chord, int note);

/*
 * Where a note of the chord lies when it is pure, in cents from equal
 * temperament, with the root there; 0 for a note that the chord has not.
 */
double hbk_chord_cents(const struct hbk_chord *chord, int note);

#endif
