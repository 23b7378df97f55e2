#ifndef HBK_TUNE_MUSICXML_MUSICXML_BESIDES_H
#define HBK_TUNE_MUSICXML_MUSICXML_BESIDES_H

#include "tune/melody/document.h"
#include "tune/melody/lost.h"

/* For hbk_tune_count_besides(). */
void hbk_musicxml_count_besides(const struct hbk_tune_document *document,
                                struct hbk_lost *lost);

#endif
