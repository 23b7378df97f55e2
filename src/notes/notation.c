#include "notes/notation.h"

struct hbk_notation hbk_notation_own(enum hbk_clef clef)
{
    return (struct hbk_notation){.clef = clef, .naming = HBK_NAMES_ENGLISH};
}

int hbk_notation_note(const struct hbk_notation *notation, int written)
{
    return written + notation->shift;
}
