#ifndef HBK_TUNE_MUSICXML_MUSICXML_ANEW_H
#define HBK_TUNE_MUSICXML_MUSICXML_ANEW_H

#include "tune/melody/document.h"

/*
 * The tune written anew, its fingerings marked as hbk_tune_annotate() marks
 * them. `fingerings` may be NULL for those that the tune came with, which are
 * the user's own. Only the one line that was read is written.
 *
 * Returns HBK_OK; HBK_ERR_INPUT for a fingering that is not plain text;
 * HBK_ERR_DOMAIN when no common division of the beat fits the format.
 */
enum hbk_status hbk_tune_to_musicxml(
    const struct hbk_tune *tune, const struct hbk_tune_fingering *fingerings,
    struct hbk_text *out, struct hbk_faults *faults) HBK_MUST_CHECK;
enum hbk_status hbk_tune_to_mxl(const struct hbk_tune *tune,
                                const struct hbk_tune_fingering *fingerings,
                                struct hbk_text *out,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
