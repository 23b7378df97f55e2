#include "fit/known.h"

#include "horn/horn.h"

enum hbk_provenance hbk_known_site(const struct hbk_horn *horn, size_t site,
                                   enum hbk_part part)
{
    const size_t control = (size_t)__builtin_ctz(horn->sites[site].terms[0]);
    const enum hbk_provenance own = horn->controls[control].provenance;
    return own == HBK_UNSTATED ? horn->provenance[part] : own;
}

enum hbk_provenance hbk_known_hole(const struct hbk_horn *horn, size_t site)
{
    const bool is_stated = horn->provenance[HBK_PART_HOLES] != HBK_UNSTATED;
    return hbk_known_site(horn, site,
                          is_stated ? HBK_PART_HOLES : HBK_PART_KEYS);
}
