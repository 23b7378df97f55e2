#include "solve/reads.h"

#include "base/messages.h"
#include "horn/horn.h"
#include "solve/column.h"

#include <math.h>

/* More ledger lines a note, on the average, are counted and not read. */
static const double far_ledgers = 3.0;

bool hbk_open_cents(const struct hbk_horn *horn, uint32_t press, double *cents)
{
    enum { LOW = 2, HIGH = 8 };
    const struct hbk_rig rig = {.temperature_c = horn->temperature_c,
                                .crook = -1};
    struct hbk_peak peaks[HBK_PEAK_STRIDE];
    struct hbk_faults unheard = {0}; /* told when the horn is solved */
    const double c4_hz = hbk_note_hz(horn->written_c4_sounds, horn->a4_hz);
    double off[HIGH];
    size_t n = 0;
    if (hbk_column_peaks(horn, &rig, 1, &press, peaks, &unheard) != HBK_OK) {
        return false;
    }
    for (unsigned p = LOW; p <= HIGH; p++) {
        if (peaks[p].hz <= 0.0) {
            continue;
        }
        const double value = hbk_cents_in_octave(peaks[p].hz / p, c4_hz);
        size_t at = n++;
        for (; at > 0 && off[at - 1] > value; at--) {
            off[at] = off[at - 1];
        }
        off[at] = value;
    }
    if (n > 0) {
        *cents = off[n / 2];
    }
    return n > 0;
}

/* Upwards from one to the other, less than an octave. */
static double rise_of(double from_cents, double to_cents)
{
    return to_cents < from_cents ? to_cents - from_cents + HBK_OCTAVE_CENTS
                                 : to_cents - from_cents;
}

/*
 * The written note that the open horn gives, C where that cannot be told. Where
 * every valve raises it, the shortest tube is what players count from.
 */
static int open_note(const struct hbk_horn *horn)
{
    double rest = 0.0;
    double most = 0.0;
    bool all_raise = horn->n_controls > 0;
    if (!hbk_open_cents(horn, 0, &rest)) {
        return HBK_NOTE_C4;
    }
    for (size_t i = 0; all_raise && i < horn->n_controls; i++) {
        double alone = 0.0;
        all_raise = horn->controls[i].kind == HBK_VALVE &&
                    hbk_open_cents(horn, UINT32_C(1) << i, &alone) &&
                    rise_of(rest, alone) > 0.0;
        most = fmax(most, rise_of(rest, alone));
    }
    return HBK_NOTE_C4 +
           (int)lround((rest + (all_raise ? most : 0.0)) / HBK_SEMITONE_CENTS);
}

/* That the notes need many ledger lines, and who would read fewer. */
static void warn_far(const struct hbk_notes *notes,
                     const struct hbk_writing *writing,
                     const struct hbk_notation *notation,
                     struct hbk_faults *faults)
{
    int all = 0;
    int most = 0;
    for (int w = writing->lowest; w <= writing->highest; w++) {
        const int n =
            hbk_ledger_lines(notation->clef, hbk_notation_note(notation, w));
        all += n;
        most = n > most ? n : most;
    }
    const struct hbk_notation other =
        hbk_notation_of(HBK_READS_CONCERT, notation->naming, writing);
    if (all < far_ledgers * (double)notes->n || other.clef == notation->clef) {
        return;
    }
    hbk_fault_warn(faults, hbk_whole_file(notes->horn->path), HBK_H_READS_FAR,
                   "in the %s clef this horn needs up to %d ledger lines; "
                   "'concert' has the same notes in the %s clef",
                   hbk_clef_name(notation->clef), most,
                   hbk_clef_name(other.clef));
}

struct hbk_notation hbk_notation_for(const struct hbk_notes *notes,
                                     struct hbk_faults *faults)
{
    const struct hbk_setting *const setting = &notes->setting;
    struct hbk_writing writing = {.clef = notes->horn->clef,
                                  .written_c4_sounds = notes->written_c4_sounds,
                                  .open = HBK_NOTE_C4,
                                  .lowest = notes->lowest,
                                  .highest = notes->highest};
    if (setting->reads == HBK_READS_TREBLE && writing.clef != HBK_TREBLE) {
        writing.open = open_note(notes->horn);
    }
    const struct hbk_notation notation =
        hbk_notation_of(setting->reads, setting->names, &writing);
    if (setting->reads == HBK_READS_BASS) {
        warn_far(notes, &writing, &notation, faults);
    }
    return notation;
}
