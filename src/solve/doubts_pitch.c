#include "solve/doubts_pitch.h"

#include "base/fault.h"
#include "base/messages.h"
#include "horn/horn.h"

#include <math.h>

/* Nearer than this nobody reads a slide. */
static const double same_place_m = 0.0005;

int hbk_stuck_off_pitch(const struct hbk_notes *notes)
{
    const struct hbk_horn *const horn = notes->horn;
    const struct hbk_stuck *const stuck = &notes->setting.stuck;
    const double left = notes->tuned.left_cents;
    if (fabs(left) < HBK_REST_ALARM_CENTS) {
        return -1;
    }
    for (size_t s = 0; s < horn->n_slides; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        const double out_m = stuck->slide_out_m[s];
        if (slide->valve < 0 && (stuck->slides >> s & 1U) != 0 &&
            (left < 0.0 ? out_m > same_place_m
                        : out_m < slide->travel_m - same_place_m)) {
            return (int)s;
        }
    }
    return -1;
}

void hbk_doubt_pitch(const struct hbk_notes *notes, struct hbk_faults *faults)
{
    const struct hbk_horn *const horn = notes->horn;
    const int s = hbk_stuck_off_pitch(notes);
    if (s < 0) {
        return;
    }
    const struct hbk_slide *const slide = &horn->slides[s];
    const double out_mm = 1000.0 * notes->setting.stuck.slide_out_m[s];
    const double stands_mm = 1000.0 * slide->stands_out_m;
    if (fabs(out_mm - stands_mm) < 1000.0 * same_place_m ||
        (out_mm > stands_mm) != (notes->tuned.left_cents < 0.0)) {
        return;
    }
    hbk_fault_warn(
        faults, hbk_whole_file(horn->path), HBK_H_STUCK_OFF_PITCH,
        "tuning: a4 is %g Hz, but slide %s is stuck %g mm out, and "
        "the lengths of the file hold with it %g mm out; so stuck "
        "the horn plays at A = %.1f Hz; if you read %g Hz from it as "
        "it is, write 'stands_out: %g' for that slide",
        notes->setting.a4_hz, slide->name, out_mm, stands_mm,
        notes->tuned.pitch_hz, notes->setting.a4_hz, out_mm);
}
