#ifndef HBK_TUNE_MELODY_WRITE_H
#define HBK_TUNE_MELODY_WRITE_H

#include "tune/melody/document.h"

/* What the writers of both formats share. */

/*
 * Whether every fingering that will be written is plain text: UTF-8 without
 * control characters, at most 80 bytes. Records an error for the first that
 * is not.
 */
bool hbk_write_check(const struct hbk_tune *tune,
                     const struct hbk_tune_fingering *fingerings,
                     struct hbk_faults *faults);

/*
 * The fingering of an event that is to be written, `main` NULL for none:
 * none for rests and the later pieces of tied notes; where `fingerings` is
 * NULL the one that came with the file.
 */
struct hbk_tune_fingering
hbk_write_fingering(const struct hbk_tune *tune,
                    const struct hbk_tune_fingering *fingerings, size_t event);

/* A number with at most six decimals, whatever the locale. */
void hbk_write_decimal(struct hbk_text *out, double value);

#endif
