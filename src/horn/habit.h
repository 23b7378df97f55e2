#ifndef HBK_HORN_HABIT_H
#define HBK_HORN_HABIT_H

/*
 * How whoever plays a horn sounds it, beside what its metal gives: so many
 * cents sharper on the tuning note, and so many more with every octave above
 * it (fewer with every octave below). It belongs to the player and the
 * mouthpiece at the lips, not to the horn: charts show it only when asked.
 */
struct hbk_habit {
    double offset_cents; /* on the tuning note */
    double slope_cents;  /* an octave upwards */
};

#endif
