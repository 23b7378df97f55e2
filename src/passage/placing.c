#include "passage/placing.h"

enum { OCTAVE = 12 };

const char *hbk_taken_name(enum hbk_taken taken)
{
    static const char *const names[] = {[HBK_TAKEN_WRITTEN] = "written",
                                        [HBK_TAKEN_SOUNDING] = "sounding",
                                        [HBK_TAKEN_STATED] = "stated"};
    return names[taken];
}

int hbk_placing_asked(const struct hbk_placing *placing)
{
    return (OCTAVE * placing->octaves) + placing->semitones;
}

int hbk_placing_moved(const struct hbk_placing *placing)
{
    return placing->for_horn + hbk_placing_asked(placing);
}
