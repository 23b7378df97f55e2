#include "tune/melody/source.h"

void hbk_tune_document_begin(struct hbk_tune_document *document,
                             enum hbk_tune_format format, const char *file)
{
    document->format = format;
    document->tune = (struct hbk_tune){
        .file = file,
        .title = "",
        .composer = "",
        .part = "",
        .voice = "",
        .subtitle = "",
        .lyricist = "",
        .arranger = "",
        .rights = "",
        .about = "",
    };
    document->source =
        HBK_ARENA_ARRAY(&document->arena, struct hbk_tune_source, 1);
}
