#include "tune/document.h"

#include "base/file.h"
#include "base/messages.h"
#include "tune/abc/abc_besides.h"
#include "tune/abc/abc_export.h"
#include "tune/abc/abc_read.h"
#include "tune/abc/abc_write.h"
#include "tune/melody/build.h"
#include "tune/melody/source.h"
#include "tune/melody/write.h"
#include "tune/musicxml/musicxml.h"
#include "tune/musicxml/musicxml_besides.h"
#include "tune/musicxml/mxl.h"

#include <assert.h>
#include <string.h>

/* Whether an XML file is rather a page with an ABC tune in its text. */
static bool is_page(const char *bytes, size_t length)
{
    static const char *const signs[] = {"<!doctype html", "<html"};
    enum { LOOK = 512 };
    char begin[LOOK + 1] = "";
    const size_t n = length < LOOK ? length : LOOK;
    for (size_t i = 0; i < n; i++) {
        const char c = bytes[i];
        begin[i] = c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
        begin[i] = begin[i] == '\0' ? ' ' : begin[i];
    }
    return strstr(begin, signs[0]) != NULL || strstr(begin, signs[1]) != NULL;
}

static enum hbk_tune_format kind_of(const char *bytes, size_t length)
{
    if (length >= 4 && memcmp(bytes, "PK\3\4", 4) == 0) {
        return HBK_TUNE_MXL;
    }
    if (length >= 2 && (memcmp(bytes, "\xFE\xFF", 2) == 0 ||
                        memcmp(bytes, "\xFF\xFE", 2) == 0)) {
        return HBK_TUNE_MUSICXML; /* UTF-16, which ABC never is */
    }
    size_t at = strncmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    at += strspn(bytes + at, " \t\r\n");
    return bytes[at] == '<' && !is_page(bytes, length) ? HBK_TUNE_MUSICXML
                                                       : HBK_TUNE_ABC;
}

/* Whether it is text in UTF-16, with its mark or without, and no XML. */
static bool is_wide_text(const char *bytes, size_t length)
{
    if (length < 4) {
        return false;
    }
    const bool marked =
        memcmp(bytes, "\xFE\xFF", 2) == 0 || memcmp(bytes, "\xFF\xFE", 2) == 0;
    const char *const at = bytes + (marked ? 2 : 0);
    const bool wide = (at[0] == '\0') != (at[1] == '\0');
    return wide && at[0] != '<' && at[1] != '<';
}

static enum hbk_status read_kind(const char *name, const char *bytes,
                                 size_t length,
                                 const struct hbk_tune_options *options,
                                 struct hbk_tune_document *document,
                                 struct hbk_faults *faults)
{
    const enum hbk_tune_format format = kind_of(bytes, length);
    hbk_tune_document_begin(document, format, name);
    if (is_wide_text(bytes, length)) {
        hbk_fault_add(faults, (struct hbk_place){.file = name},
                      HBK_H_XML_SYNTAX,
                      "this is text in UTF-16; save it as UTF-8");
        return HBK_ERR_INPUT;
    }
    if (format == HBK_TUNE_MXL) {
        return hbk_mxl_read(name, bytes, length, options, document, faults);
    }
    if (format == HBK_TUNE_MUSICXML) {
        return hbk_musicxml_read(name, bytes, length, options, document,
                                 faults);
    }
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
    if (document->source != NULL) {
        hbk_musicxml_finish(document->source->musicxml);
    }
    document->source = NULL;
    hbk_arena_finish(&document->arena);
}

bool hbk_tune_holds(const struct hbk_tune_document *document,
                    enum hbk_tune_format format)
{
    const bool is_xml = document->format == HBK_TUNE_MUSICXML ||
                        document->format == HBK_TUNE_MXL;
    return is_xml ? format == HBK_TUNE_MUSICXML || format == HBK_TUNE_MXL
                  : format == HBK_TUNE_ABC;
}

void hbk_tune_count_besides(const struct hbk_tune_document *document,
                            struct hbk_arena *arena, struct hbk_tune *tune)
{
    struct hbk_lost lost = {.arena = arena};
    hbk_lost_count_left_out(&lost, tune);
    if (document->source->musicxml != NULL) {
        hbk_musicxml_count_besides(document, &lost);
    } else if (document->source->abc != NULL) {
        hbk_abc_count_besides(document, &lost);
    }
    tune->marks.left_out = lost.kinds;
    tune->marks.n_left_out = lost.n;
}

/* The score as a file of its own or in a container. */
static enum hbk_status write_score(const struct hbk_tune_document *document,
                                   enum hbk_tune_format format,
                                   const struct hbk_tune_fingering *fingerings,
                                   const char *remark, struct hbk_text *out,
                                   struct hbk_faults *faults)
{
    if (format == HBK_TUNE_MUSICXML) {
        return hbk_musicxml_write(document, fingerings, remark, out, faults);
    }
    struct hbk_text score = {.arena = out->arena};
    HBK_TRY(hbk_musicxml_write(document, fingerings, remark, &score, faults));
    if (document->format == HBK_TUNE_MXL) {
        return hbk_mxl_repack(document, &score, out, faults);
    }
    hbk_mxl_wrap(&score, out);
    return HBK_OK;
}

enum hbk_status hbk_tune_annotate(const struct hbk_tune_document *document,
                                  enum hbk_tune_format format,
                                  const struct hbk_tune_fingering *fingerings,
                                  const char *remark, struct hbk_text *out,
                                  struct hbk_faults *faults)
{
    assert(remark == NULL || strpbrk(remark, "0123456789") == NULL);
    assert(hbk_tune_holds(document, format));
    if (!hbk_write_check(&document->tune, fingerings, faults)) {
        return HBK_ERR_INPUT;
    }
    if (document->format == HBK_TUNE_RUN) {
        return hbk_tune_to_abc(&document->tune, fingerings, out, faults);
    }
    return format == HBK_TUNE_ABC
               ? hbk_abc_annotate(document, fingerings, remark, out, faults)
               : write_score(document, format, fingerings, remark, out, faults);
}

enum hbk_status hbk_tune_strip(const struct hbk_tune_document *document,
                               enum hbk_tune_format format,
                               struct hbk_text *out, struct hbk_faults *faults)
{
    assert(hbk_tune_holds(document, format));
    if (document->format == HBK_TUNE_RUN) {
        return hbk_tune_to_abc(&document->tune, NULL, out, faults);
    }
    return format == HBK_TUNE_ABC
               ? hbk_abc_strip(document, out, faults)
               : write_score(document, format, NULL, NULL, out, faults);
}
