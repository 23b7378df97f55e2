#ifndef HBK_TUNE_MUSICXML_MUSICXML_H
#define HBK_TUNE_MUSICXML_MUSICXML_H

#include "tune/melody/document.h"

/*
 * The reader and writer of MusicXML 3.x and 4.0 (w3.org/2021/06/musicxml40),
 * partwise and timewise, for one voice of one part.
 */

struct hbk_musicxml; /* what is kept of a file (tune/musicxml/score.h) */

/* `bytes` is borrowed for as long as the document lives. */
enum hbk_status hbk_musicxml_read(const char *name, const char *bytes,
                                  size_t length,
                                  const struct hbk_tune_options *options,
                                  struct hbk_tune_document *document,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;
void hbk_musicxml_finish(struct hbk_musicxml *musicxml);

/*
 * The bytes that were read with fingerings, or (`fingerings` NULL) without
 * those that were written before, and otherwise as they were.
 */
enum hbk_status hbk_musicxml_write(const struct hbk_tune_document *document,
                                   const struct hbk_tune_fingering *fingerings,
                                   const char *remark, struct hbk_text *out,
                                   struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
