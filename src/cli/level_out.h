#ifndef HBK_CLI_LEVEL_OUT_H
#define HBK_CLI_LEVEL_OUT_H

#include "base/text.h"
#include "solve/level.h"

/* A band brought to one level. */
struct hbk_level_view {
    double temperature_c;
    size_t n;
    const char *const *words; /* as the user named each horn */
    const struct hbk_level_member *members;
    struct hbk_level level;
    bool asked; /* the level was given, not found */
    const struct hbk_level_place *places;
};

/*
 * As text; as comma-separated values (RFC 4180), a row a horn; as JSON.
 */
void hbk_level_text(const struct hbk_level_view *view, struct hbk_text *out);
void hbk_level_csv(const struct hbk_level_view *view, struct hbk_text *out);
void hbk_level_json(const struct hbk_level_view *view, struct hbk_text *out);

#endif
