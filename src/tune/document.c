#include "tune/document.h"

#include "base/file.h"
#include "tune/abc.h"
#include "tune/source.h"

#include <string.h>

void hbk_tune_document_begin(struct hbk_tune_document *document,
                             enum hbk_tune_format format, const char *file)
{
    document->format = format;
    document->tune = (struct hbk_tune){
        .file = file, .title = "", .composer = "", .part = "", .voice = ""};
    document->source =
        HBK_ARENA_ARRAY(&document->arena, struct hbk_tune_source, 1);
}

static enum hbk_status read_kind(const char *name, const char *bytes,
                                 size_t length,
                                 const struct hbk_tune_options *options,
                                 struct hbk_tune_document *document,
                                 struct hbk_faults *faults)
{
    hbk_tune_document_begin(document, HBK_TUNE_ABC, name);
    document->source->bytes = bytes;
    document->source->length = length;
    return hbk_abc_read(name, bytes, length, options, document, faults);
}

enum hbk_status hbk_tune_read(const char *path,
                              const struct hbk_tune_options *options,
                              struct hbk_tune_document *document,
                              struct hbk_faults *faults)
{
    enum { FILE_MAX = 16 * 1024 * 1024 };
    char *bytes = NULL;
    size_t length = 0;
    HBK_TRY(hbk_file_read(path, FILE_MAX, &document->arena, &bytes, &length,
                          faults));
    return read_kind(path, bytes, length, options, document, faults);
}

enum hbk_status hbk_tune_read_bytes(const char *name, const char *bytes,
                                    size_t length,
                                    const struct hbk_tune_options *options,
                                    struct hbk_tune_document *document,
                                    struct hbk_faults *faults)
{
    const char *const copy = hbk_arena_copy(&document->arena, bytes, length);
    return read_kind(name, copy, length, options, document, faults);
}

void hbk_tune_document_finish(struct hbk_tune_document *document)
{
    hbk_arena_finish(&document->arena);
}
