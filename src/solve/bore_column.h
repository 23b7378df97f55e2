#ifndef HBK_SOLVE_BORE_COLUMN_H
#define HBK_SOLVE_BORE_COLUMN_H

#include "base/fault.h"
#include "solve/peak.h"
#include "solve/rig.h"

#include <stdbool.h>

struct hbk_arena;

/*
 * The `bore` model: partial n of a press is the n-th resonance of the air
 * column of its chain (solve/bore_chain.h), a maximum of the modulus of the
 * input impedance, at the pitch that is heard there (acoustics/ear.h). A
 * resonance that does not show as a maximum is a partial that is not there.
 *
 * All presses are walked at once (acoustics/walk.h), on two threads where
 * there are many. Accuracy: 0.05 cent of the model; the model itself is good
 * to some 10 cents between notes of one horn, and no better than what is
 * assumed of its bore.
 */
enum hbk_status hbk_bore_peaks(const struct hbk_horn *horn,
                               const struct hbk_rig *rig, size_t n,
                               const uint32_t presses[], struct hbk_peak *peaks,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/* Up to where resonances are looked for, Hz: above the horn's compass. */
double hbk_bore_limit_hz(const struct hbk_horn *horn);

/*
 * The length that loops given as a share or in cents refer to: that of a
 * plain half wave as long as the resonance the open horn is tuned on. Only
 * computed for horns that have such loops; else the length of the axis.
 */
enum hbk_status hbk_bore_open_m(const struct hbk_horn *horn,
                                struct hbk_arena *arena, double *open_m,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * One press of a bored horn that is sounded again and again while its main
 * slides are moved and nothing else: everything but the slides is worked out
 * once, so that a sounding costs little more than the search for maxima. For
 * whoever tunes the horn (solve/tuning.h).
 *
 * Accuracy: that of hbk_bore_peaks(), which has the same resonances within
 * 0.001 cent.
 */
struct hbk_bore_slider;

/*
 * rig      where everything else is; its draws of the slides that move are
 *          not looked at. Its temperature, crook and bits stay.
 * press    what is held
 * sliding  bits of the main slides that will be moved
 * slider   result, to be finished with hbk_bore_slider_finish(); NULL when
 *          the horn has too many holes and slides for this
 *
 * Errors as hbk_bore_peaks().
 */
enum hbk_status hbk_bore_slider_make(const struct hbk_horn *horn,
                                     const struct hbk_rig *rig, uint32_t press,
                                     uint32_t sliding,
                                     struct hbk_bore_slider **slider,
                                     struct hbk_faults *faults) HBK_MUST_CHECK;

void hbk_bore_slider_finish(struct hbk_bore_slider *slider);

/*
 * The resonances with the slides drawn so. Returns false, with the row left as
 * it was, when one stands further in than in the file, which takes tube out of
 * the bore; hbk_bore_peaks() serves then.
 */
bool hbk_bore_slider_row(struct hbk_bore_slider *slider, const double draw_m[],
                         struct hbk_peak row[HBK_PEAK_STRIDE]);

#endif
