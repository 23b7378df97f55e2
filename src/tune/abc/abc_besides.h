#ifndef HBK_TUNE_ABC_ABC_BESIDES_H
#define HBK_TUNE_ABC_ABC_BESIDES_H

#include "tune/melody/document.h"
#include "tune/melody/lost.h"

/* For hbk_tune_count_besides(). */
void hbk_abc_count_besides(const struct hbk_tune_document *document,
                           struct hbk_lost *lost);

#endif
