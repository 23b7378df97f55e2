#ifndef HBK_TUNE_MELODY_SOURCE_H
#define HBK_TUNE_MELODY_SOURCE_H

#include "tune/melody/document.h"

/* The line in an ABC header that says which annotations are the program's. */
#define HBK_ABC_REMARK "% fingerings by hornbook:"

struct hbk_abc;
struct hbk_musicxml;
struct hbk_zip;

/* The file a document came from; one of the three readers is set. */
struct hbk_tune_source {
    struct hbk_abc *abc;
    struct hbk_musicxml *musicxml;
    struct hbk_zip *zip;           /* with musicxml */
    const char *score;             /* name of the score in the zip file */
    const struct hbk_text *packed; /* what it is, unpacked */
};

/* Sets what a reader may rely on: strings "", nothing NULL but by design. */
void hbk_tune_document_begin(struct hbk_tune_document *document,
                             enum hbk_tune_format format, const char *file);

#endif
