#include "solve/mouthpiece.h"

#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/column.h"

enum { TUNED, OPEN, PRESSES };
enum { OWN, OTHER, PIECES };

/* Cents from the one to the other; 0 where either does not sound. */
static double between(const struct hbk_peak *above,
                      const struct hbk_peak *below)
{
    return above->hz > 0.0 && below->hz > 0.0 ? hbk_cents(above->hz, below->hz)
                                              : 0.0;
}

static double octave(const struct hbk_peak row[], unsigned low)
{
    return between(&row[2 * low], &row[low]);
}

enum hbk_status hbk_mouthpiece_compare(const struct hbk_horn *horn,
                                       const struct hbk_rig *rig,
                                       const struct hbk_tuned *tuned,
                                       uint32_t held,
                                       struct hbk_mouthpiece_change *change,
                                       struct hbk_faults *faults)
{
    const uint32_t presses[PRESSES] = {
        [TUNED] = tuned->press | held, [OPEN] = held};
    struct hbk_peak peaks[PIECES][PRESSES * HBK_PEAK_STRIDE];
    *change = (struct hbk_mouthpiece_change){0};
    for (int piece = OWN; piece < PIECES; piece++) {
        struct hbk_rig with = *rig;
        with.mouthpiece = piece == OWN ? 0 : rig->mouthpiece;
        HBK_TRY(hbk_column_peaks(horn, &with, PRESSES, presses, peaks[piece],
                                 faults));
    }
    change->pitch_cents =
        between(&peaks[OTHER][tuned->partial], &peaks[OWN][tuned->partial]);
    const struct hbk_peak *const own = &peaks[OWN][OPEN * HBK_PEAK_STRIDE];
    const struct hbk_peak *const other = &peaks[OTHER][OPEN * HBK_PEAK_STRIDE];
    for (unsigned low = 1; low <= 4; low *= 2) {
        if (low >= horn->partials.lowest && 2 * low <= horn->partials.highest &&
            octave(own, low) > 0.0 && octave(other, low) > 0.0) {
            change->octaves[change->n++] = (struct hbk_octave_change){
                .low = low,
                .high = 2 * low,
                .cents = octave(other, low) - octave(own, low)};
        }
    }
    return HBK_OK;
}
