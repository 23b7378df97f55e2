#include "tune/musicxml/mxl.h"

#include "base/messages.h"
#include "tune/melody/build.h"
#include "tune/melody/source.h"
#include "tune/musicxml/musicxml.h"
#include "tune/musicxml/musicxml_anew.h"
#include "tune/musicxml/xml.h"
#include "tune/musicxml/zip.h"

#include <string.h>

static const char type[] = "application/vnd.recordare.musicxml";
static const char container_name[] = "META-INF/container.xml";

/* The path of the score in container.xml: its first rootfile. */
static const char *score_path(const char *name, const struct hbk_text *xml,
                              struct hbk_arena *arena,
                              struct hbk_faults *faults)
{
    xmlDoc *const tree =
        hbk_xml_parse(name, hbk_text_string(xml), xml->length, faults);
    if (tree == NULL) {
        return NULL;
    }
    const xmlNode *const root = xmlDocGetRootElement(tree);
    const xmlNode *const rootfile =
        hbk_xml_child(hbk_xml_child(root, "rootfiles"), "rootfile");
    const char *const path = hbk_xml_attribute(arena, rootfile, "full-path");
    const char *const media = hbk_xml_attribute(arena, rootfile, "media-type");
    const bool is_music =
        media == NULL || strncmp(media, type, strlen(type)) == 0;
    if (path == NULL || !is_music) {
        hbk_fault_add(faults, (struct hbk_place){.file = name}, HBK_H_ZIP_ROOT,
                      "the container does not say which of its files is the "
                      "score");
    }
    xmlFreeDoc(tree);
    return is_music ? path : NULL;
}

static enum hbk_status find_score(struct hbk_zip *zip, const char **score,
                                  struct hbk_arena *arena,
                                  struct hbk_faults *faults)
{
    enum { CONTAINER_MAX = 64 * 1024 };
    const struct hbk_zip_entry *const entry = hbk_zip_find(zip, container_name);
    if (entry == NULL) {
        hbk_fault_add(faults, (struct hbk_place){.file = zip->file},
                      HBK_H_ZIP_ROOT,
                      "this zip file is no MusicXML container: it has no %s",
                      container_name);
        return HBK_ERR_INPUT;
    }
    struct hbk_text xml = {.arena = arena};
    HBK_TRY(hbk_zip_unpack(zip, entry, CONTAINER_MAX, &xml, faults));
    *score = score_path(zip->file, &xml, arena, faults);
    return *score == NULL ? HBK_ERR_INPUT : HBK_OK;
}

enum hbk_status hbk_mxl_read(const char *name, const char *bytes, size_t length,
                             const struct hbk_tune_options *options,
                             struct hbk_tune_document *document,
                             struct hbk_faults *faults)
{
    struct hbk_arena *const arena = &document->arena;
    struct hbk_zip *const zip = HBK_ARENA_ARRAY(arena, struct hbk_zip, 1);
    HBK_TRY(hbk_zip_open(name, bytes, length, arena, zip, faults));
    const char *path = NULL;
    HBK_TRY(find_score(zip, &path, arena, faults));
    const struct hbk_zip_entry *const entry = hbk_zip_find(zip, path);
    if (entry == NULL) {
        hbk_fault_add(faults, (struct hbk_place){.file = name}, HBK_H_ZIP_ROOT,
                      "the score \"%.80s\" is not in the container", path);
        return HBK_ERR_INPUT;
    }
    struct hbk_text *const xml = HBK_ARENA_ARRAY(arena, struct hbk_text, 1);
    xml->arena = arena;
    HBK_TRY(hbk_zip_unpack(zip, entry, HBK_XML_BYTES_MAX, xml, faults));
    document->source->zip = zip;
    document->source->score = path;
    document->source->packed = xml;
    return hbk_musicxml_read(name, hbk_text_string(xml), xml->length, options,
                             document, faults);
}

enum hbk_status hbk_mxl_repack(const struct hbk_tune_document *document,
                               const struct hbk_text *score,
                               struct hbk_text *out, struct hbk_faults *faults)
{
    const struct hbk_zip *const zip = document->source->zip;
    const struct hbk_text *const old = document->source->packed;
    if (old->length == score->length &&
        memcmp(old->bytes, score->bytes, old->length) == 0) {
        hbk_text_put(out, zip->bytes, zip->length);
        return HBK_OK;
    }
    return hbk_zip_replace(zip, hbk_zip_find(zip, document->source->score), old,
                           score, out, faults);
}

void hbk_mxl_wrap(const struct hbk_text *score, struct hbk_text *out)
{
    static const char container[] =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<container>\n"
        "  <rootfiles>\n"
        "    <rootfile full-path=\"score.musicxml\" "
        "media-type=\"application/vnd.recordare.musicxml+xml\"/>\n"
        "  </rootfiles>\n"
        "</container>\n";
    const struct hbk_zip_entry entries[] = {
        hbk_zip_pack("mimetype", type, strlen(type), true, out->arena),
        hbk_zip_pack(container_name, container, strlen(container), false,
                     out->arena),
        hbk_zip_pack("score.musicxml", score->bytes, score->length, false,
                     out->arena),
    };
    hbk_zip_write(entries, sizeof(entries) / sizeof(entries[0]), out);
}

enum hbk_status hbk_tune_to_mxl(const struct hbk_tune *tune,
                                const struct hbk_tune_fingering *fingerings,
                                struct hbk_text *out, struct hbk_faults *faults)
{
    struct hbk_text score = {.arena = out->arena};
    HBK_TRY(hbk_tune_to_musicxml(tune, fingerings, &score, faults));
    hbk_mxl_wrap(&score, out);
    return HBK_OK;
}
