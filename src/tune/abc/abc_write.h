#ifndef HBK_TUNE_ABC_ABC_WRITE_H
#define HBK_TUNE_ABC_ABC_WRITE_H

#include "base/text.h"
#include "tune/melody/document.h"

/* For hbk_tune_annotate() and hbk_tune_strip(). */
enum hbk_status hbk_abc_annotate(const struct hbk_tune_document *document,
                                 const struct hbk_tune_fingering *fingerings,
                                 const char *remark, struct hbk_text *out,
                                 struct hbk_faults *faults) HBK_MUST_CHECK;
enum hbk_status hbk_abc_strip(const struct hbk_tune_document *document,
                              struct hbk_text *out,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
