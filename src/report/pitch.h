#ifndef HBK_REPORT_PITCH_H
#define HBK_REPORT_PITCH_H

#include "base/text.h"
#include "solve/common_pitch.h"

/* A band brought to one pitch. */
struct hbk_pitch_view {
    size_t n;                 /* at least 1; all at one temperature */
    const char *const *words; /* as the user named each horn */
    const struct hbk_pitch_member *members;
    struct hbk_common_pitch pitch;
    bool asked; /* the pitch was given, not found */
    const struct hbk_pitch_place *places;
};

/*
 * As text; as comma-separated values (RFC 4180), a row a horn; as JSON.
 */
void hbk_pitch_text(const struct hbk_pitch_view *view, struct hbk_text *out);
void hbk_pitch_csv(const struct hbk_pitch_view *view, struct hbk_text *out);
void hbk_pitch_json(const struct hbk_pitch_view *view, struct hbk_text *out);

#endif
