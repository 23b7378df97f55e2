#include "notes/trills.h"

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
