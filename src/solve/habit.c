#include "solve/habit.h"

#include "horn/horn.h"
#include "music/pitch.h"

double hbk_habit_octaves(const struct hbk_horn *horn, double hz)
{
    const double tuning_hz = hbk_note_hz(
        horn->tuning_note + horn->written_c4_sounds - HBK_NOTE_C4, horn->a4_hz);
    return hbk_cents(hz, tuning_hz) / HBK_OCTAVE_CENTS;
}

double hbk_habit_cents(const struct hbk_horn *horn, double hz)
{
    return horn->habit.offset_cents +
           (horn->habit.slope_cents * hbk_habit_octaves(horn, hz));
}
