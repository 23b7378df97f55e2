#include "notes/trills.h"

struct hbk_spelling hbk_trill_lower(int note, int interval)
{
    return interval == 1 ? hbk_note_sharp(note) : hbk_note_flat(note);
}

struct hbk_spelling hbk_trill_upper(int note, int interval)
{
    return interval == 1 || hbk_note_is_black(note)
               ? hbk_note_flat(note + interval)
               : hbk_note_sharp(note + interval);
}

const char *hbk_trill_kind_name(enum hbk_trill_kind kind)
{
    switch (kind) {
    case HBK_TRILL_NONE:
        return "none";
    case HBK_TRILL_EASY:
        return "easy";
    case HBK_TRILL_AWKWARD:
        return "awkward";
    case HBK_TRILL_LIP:
        return "by lip";
    }
    return "";
}
