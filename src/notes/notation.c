#include "notes/notation.h"

#include <strings.h>

enum { OCTAVE = 12, FAR_OCTAVES = 6 };

struct hbk_notation hbk_notation_own(enum hbk_clef clef)
{
    return (struct hbk_notation){.clef = clef, .naming = HBK_NAMES_ENGLISH};
}

int hbk_notation_note(const struct hbk_notation *notation, int written)
{
    return written + notation->shift;
}

static int rest_of(int value, int by)
{
    return ((value % by) + by) % by;
}

struct hbk_spelling hbk_notation_spelling(const struct hbk_notation *notation,
                                          struct hbk_spelling written)
{
    return hbk_spelling_moved(written, notation->shift);
}

static const char *const reads_names[HBK_READS_COUNT] = {
    [HBK_READS_OWN] = "own",
    [HBK_READS_TREBLE] = "treble",
    [HBK_READS_BASS] = "bass",
    [HBK_READS_TREBLE_BFLAT] = "treble-bflat",
    [HBK_READS_TREBLE_EFLAT] = "treble-eflat",
    [HBK_READS_CONCERT] = "concert"};

const char *hbk_reads_name(enum hbk_reads reads)
{
    return reads_names[reads];
}

bool hbk_reads_parse(const char *text, enum hbk_reads *reads)
{
    for (int i = HBK_READS_OWN + 1; i < HBK_READS_COUNT; i++) {
        if (strcasecmp(text, reads_names[i]) == 0) {
            *reads = (enum hbk_reads)i;
            return true;
        }
    }
    return false;
}

int hbk_ledger_lines(enum hbk_clef clef, int note)
{
    enum { TOP_LINE = 8 };
    const int up = hbk_spelling_staff_step(hbk_note_usual(note)) -
                   hbk_clef_bottom_step(clef);
    return up < 0 ? -up / 2 : up > TOP_LINE ? (up - TOP_LINE) / 2 : 0;
}

/* Ledger lines of the whole compass, moved. */
static int ledgers(const struct hbk_writing *writing, enum hbk_clef clef,
                   int shift)
{
    int n = 0;
    for (int w = writing->lowest; w <= writing->highest; w++) {
        n += hbk_ledger_lines(clef, w + shift);
    }
    return n;
}

/* The shift by that or any octaves more or less that lies best. */
static int best_octave(const struct hbk_writing *writing, int shift)
{
    int best = rest_of(shift, OCTAVE) - FAR_OCTAVES * OCTAVE;
    for (int to = best; to <= FAR_OCTAVES * OCTAVE; to += OCTAVE) {
        if (ledgers(writing, HBK_TREBLE, to) <
            ledgers(writing, HBK_TREBLE, best)) {
            best = to;
        }
    }
    return best;
}

/* In treble clef; C is read for the written note `c` in some octave. */
static struct hbk_notation treble(const struct hbk_writing *writing, int c)
{
    const int shift = HBK_NOTE_C4 - c;
    const bool is_own =
        writing->clef == HBK_TREBLE && rest_of(shift, OCTAVE) == 0;
    return (struct hbk_notation){
        .clef = HBK_TREBLE, .shift = is_own ? 0 : best_octave(writing, shift)};
}

static struct hbk_notation concert(const struct hbk_writing *writing)
{
    const int shift = writing->written_c4_sounds - HBK_NOTE_C4;
    const bool is_low =
        ledgers(writing, HBK_BASS, shift) < ledgers(writing, HBK_TREBLE, shift);
    return (struct hbk_notation){.clef = shift == 0 ? writing->clef
                                         : is_low   ? HBK_BASS
                                                    : HBK_TREBLE,
                                 .shift = shift};
}

struct hbk_notation hbk_notation_of(enum hbk_reads reads,
                                    enum hbk_naming naming,
                                    const struct hbk_writing *writing)
{
    enum { B_FLAT = 10, E_FLAT = 3 };
    /* The written note that sounds C, and what lies above it. */
    const int c = HBK_NOTE_C4 - writing->written_c4_sounds;
    struct hbk_notation notation = hbk_notation_own(writing->clef);
    switch (reads) {
    case HBK_READS_TREBLE:
        notation = treble(writing, writing->clef == HBK_TREBLE ? HBK_NOTE_C4
                                                               : writing->open);
        break;
    case HBK_READS_BASS:
        notation = concert(writing);
        notation.clef = HBK_BASS;
        break;
    case HBK_READS_TREBLE_BFLAT:
        notation = treble(writing, c + B_FLAT);
        break;
    case HBK_READS_TREBLE_EFLAT:
        notation = treble(writing, c + E_FLAT);
        break;
    case HBK_READS_CONCERT:
        notation = concert(writing);
        break;
    case HBK_READS_OWN:
    case HBK_READS_COUNT:
        break;
    }
    notation.naming = naming;
    return notation;
}
