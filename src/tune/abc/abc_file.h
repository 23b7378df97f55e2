#ifndef HBK_TUNE_ABC_ABC_FILE_H
#define HBK_TUNE_ABC_ABC_FILE_H

#include "tune/abc/abc.h"
#include "tune/melody/document.h"

/* Finds the tune to read and its voices; false with an error recorded. */
bool hbk_abc_find_tune(struct hbk_abc *abc,
                       const struct hbk_tune_options *options);

/* How many tunes there are in a file of ABC. */
size_t hbk_abc_count_tunes(const char *bytes, size_t length);

#endif
