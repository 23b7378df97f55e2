#include "tune/musicxml/mxl.h"

#include "base/messages.h"
#include "tune/melody/build.h"
#include "tune/melody/source.h"
#include "tune/musicxml/musicxml.h"
#include "tune/musicxml/musicxml_anew.h"
#include "tune/musicxml/xml.h"
#include "tune/musicxml/zip.h"

#include <string.h>

static const char type_name[] = "mimetype";
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
    struct hbk_text xml = {.arena = arena};
    HBK_TRY(hbk_zip_unpack(zip, entry, HBK_XML_BYTES_MAX, &xml, faults));
    document->source->zip = zip;
    document->source->score = path;
    return hbk_musicxml_read(name, hbk_text_string(&xml), xml.length, options,
                             document, faults);
}

static struct hbk_zip_entry pack_type(struct hbk_arena *arena)
{
    return hbk_zip_pack(type_name, type, strlen(type), true, arena);
}

void hbk_mxl_repack(const struct hbk_tune_document *document,
                    const struct hbk_text *score, struct hbk_text *out)
{
    const struct hbk_zip *const zip = document->source->zip;
    struct hbk_zip_entry *const entries =
        HBK_ARENA_ARRAY(out->arena, struct hbk_zip_entry, zip->n + 1);
    size_t n = 0;
    entries[n++] = pack_type(out->arena);
    for (size_t i = 0; i < zip->n; i++) {
        const struct hbk_zip_entry *const old = &zip->entries[i];
        if (strcmp(old->name, type_name) == 0) {
            continue;
        }
        entries[n++] = strcmp(old->name, document->source->score) == 0
                           ? hbk_zip_pack(old->name, hbk_text_string(score),
                                          score->length, false, out->arena)
                           : *old;
    }
    hbk_zip_write(entries, n, out);
}

enum hbk_status hbk_tune_to_mxl(const struct hbk_tune *tune,
                                const struct hbk_tune_fingering *fingerings,
                                struct hbk_text *out, struct hbk_faults *faults)
{
    static const char container[] =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<container>\n"
        "  <rootfiles>\n"
        "    <rootfile full-path=\"score.musicxml\" "
        "media-type=\"application/vnd.recordare.musicxml+xml\"/>\n"
        "  </rootfiles>\n"
        "</container>\n";
    struct hbk_text score = {.arena = out->arena};
    HBK_TRY(hbk_tune_to_musicxml(tune, fingerings, &score, faults));
    const struct hbk_zip_entry entries[] = {
        pack_type(out->arena),
        hbk_zip_pack(container_name, container, strlen(container), false,
                     out->arena),
        hbk_zip_pack("score.musicxml", score.bytes, score.length, false,
                     out->arena),
    };
    hbk_zip_write(entries, sizeof(entries) / sizeof(entries[0]), out);
    return HBK_OK;
}
