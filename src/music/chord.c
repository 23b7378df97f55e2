#include "music/chord.h"

#include "music/pitch.h"

#include <math.h>

enum { OCTAVE = 12 };

static const struct hbk_chord_kind kinds[] = {
    {"major", 3, {4, 5, 6}, {1, 3, 5}},
    {"minor", 3, {10, 12, 15}, {1, 3, 5}},
    {"diminished", 3, {5, 6, 7}, {1, 3, 5}},
    {"augmented", 3, {12, 15, 19}, {1, 3, 5}},
    {"dominant seventh", 4, {4, 5, 6, 7}, {1, 3, 5, 7}},
    {"minor seventh", 4, {10, 12, 15, 18}, {1, 3, 5, 7}},
    {"major seventh", 4, {8, 10, 12, 15}, {1, 3, 5, 7}},
    {"major sixth", 4, {12, 15, 18, 20}, {1, 3, 5, 6}},
    {"minor sixth", 4, {10, 12, 15, 17}, {1, 3, 5, 6}},
    {"half-diminished seventh", 4, {5, 6, 7, 9}, {1, 3, 5, 7}},
    {"diminished seventh", 4, {10, 12, 14, 17}, {1, 3, 5, 7}},
    {"minor with major seventh", 4, {10, 12, 15, 19}, {1, 3, 5, 7}},
    {"augmented seventh", 4, {12, 15, 19, 21}, {1, 3, 5, 7}},
    {"seventh with flat fifth", 4, {12, 15, 17, 21}, {1, 3, 5, 7}},
    {"major seventh with sharp fifth", 4, {12, 15, 19, 23}, {1, 3, 5, 7}},
    {"dominant ninth", 5, {4, 5, 6, 7, 9}, {1, 3, 5, 7, 9}},
};

/* Semitones above the root, within an octave. */
static int above(int note, int root)
{
    return (((note - root) % OCTAVE) + OCTAVE) % OCTAVE;
}

static double cents_of(const struct hbk_chord_kind *kind, size_t i)
{
    return hbk_cents((double)kind->partials[i], (double)kind->partials[0]);
}

/* The entry of the kind that lies so far above the root, or kind->n. */
static size_t entry_at(const struct hbk_chord_kind *kind, int semitones)
{
    size_t i = 0;
    while (i < kind->n &&
           (int)lround(cents_of(kind, i) / HBK_SEMITONE_CENTS) % OCTAVE !=
               semitones) {
        i++;
    }
    return i;
}

/* Which entries of the kind the notes fill; 0 when one does not belong. */
static unsigned filled(const struct hbk_chord_kind *kind, size_t n,
                       const int notes[], int root)
{
    unsigned mask = 0;
    for (size_t k = 0; k < n; k++) {
        const size_t i = entry_at(kind, above(notes[k], root));
        if (i == kind->n) {
            return 0;
        }
        mask |= 1U << i;
    }
    return mask;
}

/* The first kind that the notes fill, but for the fifth if that may lack. */
static bool read_on(size_t n, const int notes[], int root, bool without_fifth,
                    struct hbk_chord *chord)
{
    for (size_t k = 0; k < sizeof(kinds) / sizeof(kinds[0]); k++) {
        const struct hbk_chord_kind *const kind = &kinds[k];
        unsigned lacking =
            ((1U << kind->n) - 1U) & ~filled(kind, n, notes, root);
        for (size_t i = 0; without_fifth && kind->n > 3 && i < kind->n; i++) {
            lacking &= kind->degrees[i] == 5 ? ~(1U << i) : ~0U;
        }
        if (lacking == 0) {
            *chord = (struct hbk_chord){kind, root};
            return true;
        }
    }
    return false;
}

/* The next note upwards whose like was not seen yet, or `n`. */
static size_t next_root(size_t n, const int notes[], unsigned *seen)
{
    size_t lowest = n;
    for (size_t k = 0; k < n; k++) {
        const bool is_new = (*seen >> above(notes[k], 0) & 1U) == 0;
        if (is_new && (lowest == n || notes[k] < notes[lowest])) {
            lowest = k;
        }
    }
    if (lowest < n) {
        *seen |= 1U << above(notes[lowest], 0);
    }
    return lowest;
}

size_t hbk_chord_find(size_t n, const int notes[],
                      struct hbk_chord found[HBK_CHORD_READINGS])
{
    size_t n_found = 0;
    for (int pass = 0; pass < 2 && n_found == 0; pass++) {
        unsigned seen = 0;
        for (size_t k = 0; (k = next_root(n, notes, &seen)) < n;) {
            if (read_on(n, notes, notes[k], pass == 1, &found[n_found])) {
                n_found++;
            }
        }
    }
    return n_found;
}

bool hbk_chord_on(size_t n, const int notes[], int root,
                  struct hbk_chord *chord)
{
    for (size_t k = 0; k < sizeof(kinds) / sizeof(kinds[0]); k++) {
        if (filled(&kinds[k], n, notes, root) != 0) {
            *chord = (struct hbk_chord){&kinds[k], root};
            return true;
        }
    }
    return false;
}

unsigned hbk_chord_degree(const struct hbk_chord *chord, int note)
{
    const size_t i = entry_at(chord->kind, above(note, chord->root));
    return i < chord->kind->n ? chord->kind->degrees[i] : 0;
}

double hbk_chord_cents(const struct hbk_chord *chord, int note)
{
    const size_t i = entry_at(chord->kind, above(note, chord->root));
    if (i == chord->kind->n) {
        return 0.0;
    }
    const double cents = cents_of(chord->kind, i);
    return cents - (HBK_SEMITONE_CENTS * round(cents / HBK_SEMITONE_CENTS));
}
