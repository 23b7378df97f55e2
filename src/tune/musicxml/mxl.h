#ifndef HBK_TUNE_MUSICXML_MXL_H
#define HBK_TUNE_MUSICXML_MXL_H

#include "tune/melody/document.h"

/* The container of compressed MusicXML (.mxl). */

enum hbk_status hbk_mxl_read(const char *name, const char *bytes, size_t length,
                             const struct hbk_tune_options *options,
                             struct hbk_tune_document *document,
                             struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The container that was read with this score in place of its own, and the
 * rest unchanged; all of it as it was when the score is.
 */
enum hbk_status hbk_mxl_repack(const struct hbk_tune_document *document,
                               const struct hbk_text *score,
                               struct hbk_text *out,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/* A new container of this score alone. */
void hbk_mxl_wrap(const struct hbk_text *score, struct hbk_text *out);

#endif
