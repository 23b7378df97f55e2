#include "horn/site.h"

bool hbk_site_state(const struct hbk_site *site, uint32_t pressed)
{
    for (size_t i = 0; i < site->n_terms; i++) {
        if ((site->terms[i] & ~pressed) == 0) {
            return !site->at_rest;
        }
    }
    return site->at_rest;
}
